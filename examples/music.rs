//! Makes the music of the routines that ship, as WAV: our own, so that everything here can be
//! heard, measured and handed on.
//!
//! ```sh
//! cargo run --example music -- target
//! for act in night-ferry salt-flat; do
//!     ffmpeg -i target/$act.wav -map_metadata -1 -fflags +bitexact -flags:a +bitexact \
//!         -c:a libvorbis -q:a 0 routines/$act.ogg
//! done
//! ```

use std::f64::consts::TAU;
use std::path::PathBuf;

/// Samples a second.
const RATE: u32 = 8_000;

/// Music that is being made, one channel, full scale 1.
struct Music(Vec<f64>);

impl Music {
    fn new(seconds: f64) -> Music {
        Music(vec![0.0; (seconds * f64::from(RATE)).round() as usize])
    }

    /// A tone with its octave and fifth above, from `at` on, that rises within `rise` seconds and
    /// falls to a third within `fall`.
    fn tone(&mut self, at: f64, loud: f64, pitch: f64, rise: f64, fall: f64) {
        let first = (at * f64::from(RATE)).round() as usize;
        let lasts = ((rise + fall * 5.0) * f64::from(RATE)) as usize;
        for (place, sample) in self.0.iter_mut().skip(first).take(lasts).enumerate() {
            let time = place as f64 / f64::from(RATE);
            let shape = (time / rise).min(1.0) * (-(time - rise).max(0.0) / fall).exp();
            let wave = (TAU * pitch * time).sin()
                + 0.4 * (TAU * pitch * 2.0 * time).sin()
                + 0.2 * (TAU * pitch * 3.0 * time).sin();
            *sample += loud * shape * wave / 1.6;
        }
    }

    /// A beat every `60 / bpm` seconds from one time to another, the first of every four lower and
    /// louder, with a chord of `chords` in turn below each four.
    fn beats(&mut self, span: (f64, f64), bpm: f64, loud: f64, chords: &[[f64; 3]]) {
        let beat_s = 60.0 / bpm;
        for beat in 0_u32.. {
            let at = span.0 + f64::from(beat) * beat_s;
            if at >= span.1 - 1e-9 {
                return;
            }
            let is_strong = beat % 4 == 0;
            let pitch = if is_strong { 110.0 } else { 220.0 };
            self.tone(at, loud * if is_strong { 1.0 } else { 0.55 }, pitch, 0.002, 0.06);
            let chord = chords.get((beat / 4) as usize % chords.len().max(1));
            for &pitch in chord.into_iter().flatten().filter(|_| is_strong) {
                self.tone(at, loud * 0.14, pitch, 0.25, beat_s * 1.4);
            }
        }
    }

    /// Fades out over the last seconds.
    fn fade(&mut self, seconds: f64) {
        let over = (seconds * f64::from(RATE)) as usize;
        for (place, sample) in self.0.iter_mut().rev().take(over).enumerate() {
            *sample *= place as f64 / over as f64;
        }
    }

    fn write(&self, path: PathBuf) -> Result<(), hound::Error> {
        let spec = hound::WavSpec {
            channels: 1,
            sample_rate: RATE,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut writer = hound::WavWriter::create(path, spec)?;
        for sample in &self.0 {
            writer.write_sample((sample.clamp(-1.0, 1.0) * 32_767.0).round() as i16)?;
        }
        writer.finalize()
    }
}

/// 4:20 at 95 a minute: the ship's horn at 0:08, the engine from 1:34, the bell buoy at 3:02.
fn night_ferry() -> Music {
    const QUAY: [[f64; 3]; 4] = [
        [220.0, 261.6, 329.6],
        [174.6, 220.0, 261.6],
        [196.0, 246.9, 293.7],
        [164.8, 196.0, 246.9],
    ];
    let mut music = Music::new(260.0);
    let bar_s = 4.0 * 60.0 / 95.0;
    let bar = |number: f64| 1.0 + number * bar_s;
    music.beats((bar(0.0), bar(37.0)), 95.0, 0.22, &QUAY);
    music.tone(8.0, 0.5, 98.0, 0.15, 0.9);
    music.beats((bar(37.0), bar(71.0)), 95.0, 0.55, &QUAY);
    music.tone(94.0, 0.4, 65.4, 0.02, 0.8);
    music.beats((bar(71.0), 260.0), 95.0, 0.3, &QUAY);
    for ring in 0..4 {
        music.tone(182.0 + f64::from(ring) * 2.0 * bar_s, 0.35, 659.3, 0.004, 0.5);
    }
    music.fade(6.0);
    music
}

/// 2:06 at 100 a minute: a bell at 0:04.5 and another at 1:02.7.
fn salt_flat() -> Music {
    const DESERT: [[f64; 3]; 2] = [[146.8, 220.0, 293.7], [130.8, 196.0, 293.7]];
    let mut music = Music::new(126.0);
    music.beats((0.5, 62.7), 100.0, 0.25, &DESERT);
    music.beats((62.9, 126.0), 100.0, 0.45, &DESERT);
    for at in [4.5, 62.7] {
        music.tone(at, 0.5, 784.0, 0.004, 0.9);
    }
    music.fade(4.0);
    music
}

fn main() -> Result<(), hound::Error> {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| "target".to_owned()));
    night_ferry().write(folder.join("night-ferry.wav"))?;
    salt_flat().write(folder.join("salt-flat.wav"))
}
