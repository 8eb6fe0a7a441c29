//! A recording that was decoded, kept as far as somebody needs it.
//!
//! The number of frames is exact; loudness and silence are measured on all channels. For
//! [`listen`](super::listen) the first half hour is kept too, mixed to one channel and thinned to about
//! 11 kHz, which holds every beat of a drum: 80 MB, twice as much at rates just below 22 kHz.
//! Otherwise four hours are about a megabyte.

use crate::time::Seconds;

use super::loudness::{Loudness, WINDOWS};

/// What is quieter than the highest peak by so many decibels counts as silence at the beginning.
pub const SILENCE_DB: f64 = 60.0;

/// Samples a second after thinning, at least, where the recording has so many.
const THINNED: u32 = 11_025;
/// Seconds of which samples are kept.
const KEPT_S: u64 = 30 * 60;
/// Peaks that are looked at in a second.
const PEAKS: u32 = 1000;
/// Peaks in a window of loudness.
const PEAKS_OF_WINDOW: u64 = (PEAKS / WINDOWS) as u64;
/// Peaks are kept that are higher than all before them by this factor, a thousandth of a decibel:
/// so few that a long fade cannot fill the memory.
const HIGHER: f64 = 1.000_115;

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
    /// The thousandths of a second that are louder than all before them, and how high they reach.
    rises: Vec<(u64, f32)>,
    may_start_late: bool,
}

impl Recording {
    /// Its length: frames over rate, exactly.
    #[must_use]
    pub fn length(&self) -> Seconds {
        Seconds::fraction(i64::try_from(self.frames).unwrap_or(i64::MAX), i64::from(self.rate))
    }

    /// The silence at its beginning, to a thousandth of a second: how long it takes until
    /// anything comes within [`SILENCE_DB`] of its highest peak, judged to a thousandth of a
    /// decibel; the whole length where all of it is silent.
    #[must_use]
    pub fn silence(&self) -> Seconds {
        let highest = self.rises.last().map_or(0.0, |&(_, peak)| f64::from(peak));
        let threshold = highest * 10_f64.powf(-SILENCE_DB / 20.0) / HIGHER;
        let first = self.rises.iter().find(|&&(_, peak)| f64::from(peak) >= threshold);
        first.map_or_else(
            || self.length(),
            |&(at, _)| Seconds::fraction(i64::try_from(at).unwrap_or(i64::MAX), i64::from(PEAKS)),
        )
    }

    /// Its loudness.
    #[must_use]
    pub fn loudness(&self) -> &Loudness {
        &self.loudness
    }

    /// Samples of all channels together, full scale being 1, of its first half hour.
    #[must_use]
    pub fn samples(&self) -> &[f32] {
        &self.samples
    }

    /// How much of it [`Recording::samples`] hold, where that is not all of it.
    #[must_use]
    pub fn kept(&self) -> Option<Seconds> {
        let most = KEPT_S * u64::from(self.rate);
        (self.frames > most).then(|| Seconds::fraction(KEPT_S as i64, 1))
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
    /// Whether samples are kept.
    keeps: bool,
    /// Sum and count of the sample that is being made.
    sample: (f32, u32),
    /// The thousandth of a second that is being taken, how high it reaches, and with which frame
    /// the next one begins.
    milli: u64,
    peak: f32,
    next_milli: u64,
    /// Sum of the frames' mean squares, and count of frames, of the window of loudness that is being made.
    window: (f64, u64),
    /// See [`Recorder::skip`].
    skipped: u64,
}

impl Recorder {
    /// A recording of no frames yet, whose samples are kept to be listened to. A rate of 0 is taken
    /// as 1.
    #[must_use]
    pub fn new(rate: u32) -> Recorder {
        let rate = rate.max(1);
        let recording = Recording {
            rate,
            frames: 0,
            thinned: (rate / THINNED).max(1),
            samples: Vec::new(),
            loudness: Loudness::default(),
            rises: Vec::new(),
            may_start_late: false,
        };
        Recorder {
            recording,
            keeps: true,
            sample: (0.0, 0),
            milli: 0,
            peak: 0.0,
            next_milli: begins(1, rate),
            window: (0.0, 0),
            skipped: 0,
        }
    }

    /// The same without samples: only its length, its silence and its loudness are wanted.
    #[must_use]
    pub fn without_samples(rate: u32) -> Recorder {
        Recorder { keeps: false, ..Recorder::new(rate) }
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
        self.take_all(frame, frame.len());
    }

    /// Takes frames one after another, each a sample of so many channels.
    pub fn take_all(&mut self, interleaved: &[f32], channels: usize) {
        self.take_to(u64::MAX, interleaved, channels);
    }

    /// The same until there are so many frames; what comes after them is left out.
    pub fn take_to(&mut self, most: u64, interleaved: &[f32], channels: usize) {
        let channels = channels.max(1);
        let left = most.saturating_sub(self.recording.frames).saturating_add(self.skipped);
        let left = usize::try_from(left).unwrap_or(usize::MAX);
        let count = (interleaved.len() / channels).min(left);
        let skipped = usize::try_from(self.skipped).unwrap_or(usize::MAX).min(count);
        self.skipped -= skipped as u64;
        let mut rest = &interleaved[skipped * channels..count * channels];
        if self.keeps {
            self.keep(rest, channels);
        }
        while !rest.is_empty() {
            // Up to the next thousandth of a second, so that the inner loop counts nothing.
            let left = self.next_milli - self.recording.frames;
            let frames = usize::try_from(left).unwrap_or(usize::MAX).min(rest.len() / channels);
            let (now, later) = rest.split_at(frames * channels);
            let (squares, peak) = measured(now);
            self.window.0 += squares / channels as f64;
            self.window.1 += frames as u64;
            self.peak = self.peak.max(peak);
            self.recording.frames += frames as u64;
            while self.recording.frames >= self.next_milli {
                self.close_milli();
            }
            rest = later;
        }
    }

    /// Takes so many frames of silence.
    pub fn take_silence(&mut self, frames: u64) {
        let silence = [0.0; 1024];
        let mut left = frames;
        while left > 0 {
            let now = left.min(1024);
            self.take_all(&silence[..now as usize], 1);
            left -= now;
        }
    }

    /// Keeps frames for whoever listens.
    fn keep(&mut self, interleaved: &[f32], channels: usize) {
        let recording = &mut self.recording;
        let most = KEPT_S * u64::from(recording.rate);
        let left = most.saturating_sub(recording.frames);
        let frames = interleaved.chunks_exact(channels);
        for frame in frames.take(usize::try_from(left).unwrap_or(usize::MAX)) {
            let sum: f32 = frame.iter().copied().map(audible).sum();
            self.sample.0 += sum / channels as f32;
            self.sample.1 += 1;
            if self.sample.1 == recording.thinned {
                recording.samples.push(self.sample.0 / recording.thinned as f32);
                self.sample = (0.0, 0);
            }
        }
    }

    fn close_milli(&mut self) {
        self.close_peak();
        self.milli += 1;
        self.next_milli = begins(self.milli + 1, self.recording.rate);
        if self.milli.is_multiple_of(PEAKS_OF_WINDOW) {
            self.close_window();
        }
    }

    fn close_peak(&mut self) {
        let peak = std::mem::take(&mut self.peak);
        let highest = self.recording.rises.last().map_or(0.0, |&(_, peak)| f64::from(peak));
        if f64::from(peak) > highest * HIGHER {
            self.recording.rises.push((self.milli, peak));
        }
    }

    fn close_window(&mut self) {
        let (squares, frames) = std::mem::take(&mut self.window);
        let rms = if frames == 0 { 0.0 } else { (squares / frames as f64).sqrt() };
        self.recording.loudness.windows.push(rms as f32);
    }

    /// The recording.
    #[must_use]
    pub fn finish(mut self) -> Recording {
        self.close_peak();
        if self.window.1 > 0 {
            self.close_window();
        }
        self.recording
    }
}

/// The frame with which a thousandth of a second begins.
fn begins(milli: u64, rate: u32) -> u64 {
    (milli * u64::from(rate)).div_ceil(u64::from(PEAKS))
}

/// A sample as it counts: what is no number is 0, and nothing is louder than 8.
fn audible(sample: f32) -> f32 {
    if sample.is_finite() { sample.clamp(-8.0, 8.0) } else { 0.0 }
}

/// The sum of the squares of samples, and how high they reach.
fn measured(samples: &[f32]) -> (f64, f32) {
    /// Sums side by side, so that none waits for another.
    const LANES: usize = 8;
    let (mut squares, mut peaks) = ([0.0_f64; LANES], [0.0_f32; LANES]);
    for samples in samples.chunks(LANES) {
        for ((&sample, square), peak) in samples.iter().zip(&mut squares).zip(&mut peaks) {
            let sample = audible(sample);
            *square += f64::from(sample) * f64::from(sample);
            *peak = peak.max(sample.abs());
        }
    }
    (squares.iter().sum(), peaks.iter().copied().fold(0.0, f32::max))
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
    fn frames_are_measured_alike_one_by_one_and_all_at_once() {
        let sample = |place: u32| (f64::from(place) * 0.37).sin() as f32 * 0.3;
        for (rate, channels) in [(44_100, 2), (8_000, 1), (384_000, 3), (7, 1), (1_001, 2)] {
            let samples: Vec<f32> = (0..30_000).map(sample).collect();
            let [mut one, mut all] = [Recorder::new(rate), Recorder::new(rate)];
            one.skip(5);
            all.skip(5);
            samples.chunks_exact(channels).for_each(|frame| one.take(frame));
            for block in samples.chunks(channels * 1152) {
                all.take_all(block, channels);
            }
            let [one, all] = [one.finish(), all.finish()];
            let (at, rate) = (all.length().to_f64(), f64::from(rate));
            assert_eq!(at, (30_000 / channels - 5) as f64 / rate);
            let apart = one.loudness.windows.iter().zip(&all.loudness.windows);
            assert!(apart.map(|(one, all)| (one - all).abs()).fold(0.0, f32::max) < 1e-6);
            assert_eq!(one.loudness.windows.len(), (at * 20.0).ceil() as usize, "{rate}");
            assert_eq!((one.silence(), one.samples), (all.silence(), all.samples));
        }
    }

    #[test]
    fn a_long_fade_keeps_few_peaks_and_ends_its_silence_where_it_is_heard() {
        let mut recorder = Recorder::without_samples(1000);
        let frames = 1_000_000_u32;
        (0..frames).for_each(|frame| recorder.take(&[frame as f32 / frames as f32]));
        let recording = recorder.finish();
        assert!(recording.samples().is_empty() && recording.rises.len() < 130_000);
        let silence = recording.silence().to_f64();
        assert!((silence - 1.0).abs() < 0.002, "{silence}");
    }

    #[test]
    fn only_the_first_half_hour_is_kept_for_listening() {
        let mut recorder = Recorder::new(10);
        recorder.take_silence(18_000);
        assert_eq!(recorder.clone().finish().kept(), None);
        recorder.take_all(&[0.5; 5], 1);
        let recording = recorder.finish();
        assert_eq!(recording.samples().len(), 18_000);
        assert_eq!(recording.kept(), Some(Seconds::fraction(1800, 1)));
        assert_eq!(recording.silence(), Seconds::fraction(1800, 1));
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
