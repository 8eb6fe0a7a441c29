//! A recording that was decoded, kept as far as listening needs it.
//!
//! The number of frames is exact. The samples are mixed to one channel and thinned to about
//! 11 kHz, which holds every beat of a drum and an hour in 160 MB; loudness and silence are
//! measured on all channels before that.

use crate::time::Seconds;

use super::loudness::{Loudness, WINDOWS};

/// What is quieter than the highest peak by so many decibels counts as silence at the beginning.
pub const SILENCE_DB: f64 = 60.0;

/// Samples a second after thinning, at least, where the recording has so many.
const THINNED: u32 = 11_025;
/// Peaks that are kept in a second.
const PEAKS: u32 = 1000;

/// A decoded recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Recording {
    /// Frames a second.
    rate: u32,
    /// How many frames: a sample of every channel each.
    frames: u64,
    /// Frames that each of `samples` is the mean of.
    thinned: u32,
    samples: Vec<f32>,
    loudness: Loudness,
    /// The highest of each thousandth of a second.
    peaks: Vec<f32>,
    may_start_late: bool,
}

impl Recording {
    /// Its length: frames over rate, exactly.
    #[must_use]
    pub fn length(&self) -> Seconds {
        Seconds::fraction(i64::try_from(self.frames).unwrap_or(i64::MAX), i64::from(self.rate))
    }

    /// The silence at its beginning, to a thousandth of a second: how long it takes until
    /// anything comes within [`SILENCE_DB`] of its highest peak; the whole length where all of it
    /// is silent.
    #[must_use]
    pub fn silence(&self) -> Seconds {
        let highest = self.peaks.iter().copied().fold(0.0, f32::max);
        let threshold = f64::from(highest) * 10_f64.powf(-SILENCE_DB / 20.0);
        let first = self.peaks.iter().position(|&peak| peak > 0.0 && f64::from(peak) >= threshold);
        first.map_or_else(
            || self.length(),
            |first| Seconds::fraction(i64::try_from(first).unwrap_or(i64::MAX), i64::from(PEAKS)),
        )
    }

    /// Its loudness.
    #[must_use]
    pub fn loudness(&self) -> &Loudness {
        &self.loudness
    }

    /// Samples of all channels together, full scale being 1.
    #[must_use]
    pub fn samples(&self) -> &[f32] {
        &self.samples
    }

    /// Whether everything may come some hundredths of a second late: what the encoder put before
    /// the music is not known, so it was not left out.
    #[must_use]
    pub fn may_start_late(&self) -> bool {
        self.may_start_late
    }

    /// Seconds from one of [`Recording::samples`] to the next.
    #[must_use]
    pub fn sample_s(&self) -> f64 {
        f64::from(self.thinned) / f64::from(self.rate)
    }
}

/// Takes frames as they are decoded.
#[derive(Clone, Debug)]
pub struct Recorder {
    recording: Recording,
    /// Sum and count of the sample that is being made.
    sample: (f32, u32),
    /// Sum of squares and count of the loudness window that is being made.
    window: (f64, u64),
    /// See [`Recorder::skip`].
    skipped: u64,
}

impl Recorder {
    /// A recording of no frames yet. A rate of 0 is taken as 1.
    #[must_use]
    pub fn new(rate: u32) -> Recorder {
        let rate = rate.max(1);
        let recording = Recording {
            rate,
            frames: 0,
            thinned: (rate / THINNED).max(1),
            samples: Vec::new(),
            loudness: Loudness::default(),
            peaks: Vec::new(),
            may_start_late: false,
        };
        Recorder { recording, sample: (0.0, 0), window: (0.0, 0), skipped: 0 }
    }

    /// Leaves out so many of the frames to come: what an encoder put before the music.
    pub fn skip(&mut self, frames: u64) {
        self.skipped += frames;
    }

    /// Notes whether what an encoder put before the music could not be left out.
    pub fn starts_late(&mut self, may: bool) {
        self.recording.may_start_late = may;
    }

    /// How many frames were taken.
    #[must_use]
    pub fn frames(&self) -> u64 {
        self.recording.frames
    }

    /// Takes a frame: a sample of each channel. What is no number counts as 0.
    pub fn take(&mut self, frame: &[f32]) {
        if self.skipped > 0 {
            self.skipped -= 1;
            return;
        }
        let finite = |&sample: &f32| if sample.is_finite() { sample.clamp(-8.0, 8.0) } else { 0.0 };
        let (mut sum, mut squares, mut peak) = (0.0_f32, 0.0_f64, 0.0_f32);
        for sample in frame.iter().map(finite) {
            sum += sample;
            squares += f64::from(sample) * f64::from(sample);
            peak = peak.max(sample.abs());
        }
        let channels = frame.len().max(1) as f32;
        let recording = &mut self.recording;
        let index = |a_second: u32| {
            let index = recording.frames * u64::from(a_second) / u64::from(recording.rate);
            usize::try_from(index).unwrap_or(usize::MAX)
        };
        let (milli, window) = (index(PEAKS), index(WINDOWS));
        recording.peaks.resize(milli + 1, 0.0);
        if let Some(highest) = recording.peaks.last_mut() {
            *highest = highest.max(peak);
        }
        if window > recording.loudness.windows.len() {
            close(&mut self.window, &mut recording.loudness);
        }
        self.window.0 += squares / f64::from(channels);
        self.window.1 += 1;
        self.sample.0 += sum / channels;
        self.sample.1 += 1;
        if self.sample.1 == recording.thinned {
            recording.samples.push(self.sample.0 / recording.thinned as f32);
            self.sample = (0.0, 0);
        }
        recording.frames += 1;
    }

    /// The recording.
    #[must_use]
    pub fn finish(mut self) -> Recording {
        if self.window.1 > 0 {
            close(&mut self.window, &mut self.recording.loudness);
        }
        self.recording
    }
}

fn close(window: &mut (f64, u64), loudness: &mut Loudness) {
    let (squares, frames) = std::mem::take(window);
    let rms = if frames == 0 { 0.0 } else { (squares / frames as f64).sqrt() };
    loudness.windows.push(rms as f32);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn silence_ends_where_the_sound_comes_within_60_decibels_of_its_peak() {
        let mut recorder = Recorder::new(8000);
        for frame in 0..8000_u32 {
            let sample = match frame {
                0..2000 => 0.0004,
                2000..4000 => 0.0006,
                _ => -0.5,
            };
            recorder.take(&[sample, sample]);
        }
        let recording = recorder.finish();
        assert_eq!(recording.length(), Seconds::fraction(1, 1));
        assert_eq!(recording.silence(), Seconds::fraction(1, 4));
        assert_eq!(recording.loudness().windows.len(), 20);
        assert!((recording.loudness().loudest() - 0.5).abs() < 1e-6);
    }

    #[test]
    fn a_recording_of_nothing_is_silent_to_its_end() {
        let mut recorder = Recorder::new(44_100);
        for _ in 0..4_410 {
            recorder.take(&[0.0, f32::NAN]);
        }
        assert_eq!(recorder.finish().silence(), Seconds::fraction(1, 10));
        assert_eq!(Recorder::new(0).finish().length(), Seconds::zero());
    }

    #[test]
    fn what_an_encoder_put_before_the_music_is_left_out() {
        let mut recorder = Recorder::new(1000);
        recorder.skip(100);
        for frame in 0..300 {
            recorder.take(&[if frame < 150 { 0.0 } else { 1.0 }]);
        }
        let recording = recorder.finish();
        assert_eq!(recording.length(), Seconds::fraction(1, 5));
        assert_eq!(recording.silence(), Seconds::fraction(1, 20));
    }
}
