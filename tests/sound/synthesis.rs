//! Music that the tests make: clicks on beats, drums, noise, silence. Samples in full scale 1.

use std::f64::consts::TAU;
use std::io::Cursor;

use rand_like::Random;
use throwbook::sound::{Recorder, Recording};

/// Samples a second of everything here.
pub(crate) const RATE: u32 = 16_000;

/// Music that is being made.
#[derive(Clone)]
pub(crate) struct Music {
    /// One channel.
    pub(crate) samples: Vec<f64>,
}

impl Music {
    /// Silence of so many seconds.
    pub(crate) fn silence(seconds: f64) -> Music {
        Music { samples: vec![0.0; (seconds * f64::from(RATE)).round() as usize] }
    }

    /// Adds a click: a decaying tone.
    pub(crate) fn click(&mut self, at: f64, loud: f64, pitch: f64) {
        self.tone(at, loud, pitch, 0.006);
    }

    /// Adds a tone that decays within so many seconds to a third.
    pub(crate) fn tone(&mut self, at: f64, loud: f64, pitch: f64, decay: f64) {
        let first = (at * f64::from(RATE)).round() as usize;
        let lasts = (decay * 6.0 * f64::from(RATE)) as usize;
        for (place, sample) in self.samples.iter_mut().skip(first).take(lasts).enumerate() {
            let time = place as f64 / f64::from(RATE);
            *sample += loud * (-time / decay).exp() * (TAU * pitch * time).sin();
        }
    }

    /// Adds a burst of noise that decays.
    pub(crate) fn hiss(&mut self, at: f64, loud: f64, decay: f64, random: &mut Random) {
        let first = (at * f64::from(RATE)).round() as usize;
        let lasts = (decay * 6.0 * f64::from(RATE)) as usize;
        for (place, sample) in self.samples.iter_mut().skip(first).take(lasts).enumerate() {
            let time = place as f64 / f64::from(RATE);
            *sample += loud * (-time / decay).exp() * random.either_way();
        }
    }

    /// Adds noise from beginning to end.
    pub(crate) fn noise(&mut self, loud: f64, random: &mut Random) {
        for sample in &mut self.samples {
            *sample += loud * random.either_way();
        }
    }

    /// As it would be decoded.
    pub(crate) fn recording(&self) -> Recording {
        let mut recorder = Recorder::new(RATE);
        for &sample in &self.samples {
            recorder.take(&[sample as f32]);
        }
        recorder.finish()
    }

    /// As the bytes of a WAV file of 16 bits.
    pub(crate) fn wav(&self) -> Vec<u8> {
        let spec = hound::WavSpec {
            channels: 1,
            sample_rate: RATE,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut bytes = Cursor::new(Vec::new());
        let mut writer = hound::WavWriter::new(&mut bytes, spec).unwrap();
        for sample in &self.samples {
            writer.write_sample((sample.clamp(-1.0, 1.0) * 32_767.0).round() as i16).unwrap();
        }
        writer.finalize().unwrap();
        bytes.into_inner()
    }
}

/// A click on every beat from `first` on, the first of every four stronger.
pub(crate) fn clicks(seconds: f64, bpm: f64, first: f64) -> Music {
    let mut music = Music::silence(seconds);
    for beat in 0_u32.. {
        let at = first + f64::from(beat) * 60.0 / bpm;
        if at >= seconds {
            return music;
        }
        let (loud, pitch) = if beat % 4 == 0 { (0.8, 1600.0) } else { (0.5, 1100.0) };
        music.click(at, loud, pitch);
    }
    unreachable!("the beats reach the end")
}

/// A drum kit: a low drum on the first and third beat, a hiss on the second and fourth, small
/// ones between the beats, late by `swing` of a beat, and a chord that changes with every bar.
pub(crate) fn band(seconds: f64, bpm: f64, first: f64, swing: f64, random: &mut Random) -> Music {
    let mut music = Music::silence(seconds);
    let beat_s = 60.0 / bpm;
    for beat in 0_u32.. {
        let at = first + f64::from(beat) * beat_s;
        if at >= seconds {
            return music;
        }
        if beat % 2 == 0 {
            music.tone(at, if beat % 4 == 0 { 0.8 } else { 0.6 }, 62.0, 0.06);
        } else {
            music.hiss(at, 0.35, 0.03, random);
        }
        music.hiss(at, 0.08, 0.01, random);
        music.hiss(at + beat_s * (0.5 + swing), 0.08, 0.01, random);
        if beat % 4 == 0 {
            let root = [220.0, 174.6, 130.8, 196.0][(beat / 4 % 4) as usize];
            for (pitch, loud) in [(root, 0.15), (root * 1.26, 0.1), (root * 1.5, 0.1)] {
                music.tone(at, loud, pitch, beat_s * 2.0);
            }
        }
    }
    unreachable!("the beats reach the end")
}

/// Numbers that look random and are the same in every run.
pub(crate) mod rand_like {
    /// Steele, Lea and Flood's SplitMix64 (2014).
    pub(crate) struct Random(pub(crate) u64);

    impl Random {
        /// Between 0 and 1.
        pub(crate) fn part(&mut self) -> f64 {
            self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut mixed = self.0;
            mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            ((mixed ^ (mixed >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
        }

        /// Between -1 and 1.
        pub(crate) fn either_way(&mut self) -> f64 {
            self.part() * 2.0 - 1.0
        }
    }
}
