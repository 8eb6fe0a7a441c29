//! A click track as WAV: 48,000 samples a second, 16 bits, one channel.
//!
//! The first sample of a click is the one nearest to its time, half away from zero. A click is a
//! tone that dies away within 40 ms: the right hand's is higher than the left's, an accent is an
//! octave higher and twice as loud. Clicks of one instant are mixed in equal parts, and a click ends
//! where the next begins, so that no sample is ever louder than [`PEAK`], 6 dB below full scale.
//!
//! Markers stand where sections start and cues go; an audio editor shows their labels.
//!
//! The tone is the answer of a damped resonator to one impulse, y(n) = 2r·cos θ·y(n−1) − r²·y(n−2),
//! which is rⁿ·sin((n+1)θ)/sin θ (A. Oppenheim, R. Schafer, Discrete-Time Signal Processing, second
//! order systems). Worked for 1,200 Hz, r = 383/384: 1, 1.970232, 2.887018. It needs no sine, so that
//! every machine writes the same bytes.

use std::collections::HashMap;
use std::io::Cursor;

use hound::{SampleFormat, WavSpec, WavWriter};

use crate::hand::Hand;
use crate::sheet::rehearsal::clicks::{Accent, Click, ClickOf, ClickTrack};
use crate::time::{Seconds, nearest, per_second};

use super::wav_markers::{Marker, with_markers};

/// Samples a second.
pub const RATE: u32 = 48_000;

/// The loudest sample: half of full scale, −6 dB.
pub const PEAK: i16 = 16_384;

/// The loudest sample of a click without an accent: −12 dB.
const QUIET: f64 = 8_192.0;

/// Samples of a click: 40 ms.
const LENGTH: usize = 1_920;

/// By how much a click dies away from sample to sample: to 1/e in 8 ms.
const DECAY: f64 = 1.0 - 1.0 / 384.0;

/// cos θ of each tone, θ = 2π·f/48,000.
mod cosine {
    /// 600 Hz, 4.5°: the count-in.
    pub(super) const HZ_600: f64 = 0.996_917_333_733_128;
    /// 800 Hz, 6°: the left hand.
    pub(super) const HZ_800: f64 = 0.994_521_895_368_273_3;
    /// 1,000 Hz, 7.5°: a music beat.
    pub(super) const HZ_1000: f64 = 0.991_444_861_373_810_4;
    /// 1,200 Hz, 9°: the right hand.
    pub(super) const HZ_1200: f64 = 0.987_688_340_595_137_8;
    /// 1,500 Hz, 11.25°: a bar.
    pub(super) const HZ_1500: f64 = 0.980_785_280_403_230_5;
    /// 1,600 Hz, 12°: a section, left hand.
    pub(super) const HZ_1600: f64 = 0.978_147_600_733_805_7;
    /// 2,400 Hz, 18°: a section, right hand.
    pub(super) const HZ_2400: f64 = 0.951_056_516_295_153_5;
}

/// The tone of a click and how loud its loudest sample is.
fn tone(of: ClickOf, accent: Accent) -> (f64, f64) {
    use cosine as hz;
    let plain = accent == Accent::None;
    let cosine = match (of, accent) {
        (ClickOf::CountIn, _) => hz::HZ_600,
        (ClickOf::Throw(Hand::Left), Accent::None) => hz::HZ_800,
        (ClickOf::Throw(Hand::Left), _) => hz::HZ_1600,
        (ClickOf::Throw(Hand::Right), Accent::None) => hz::HZ_1200,
        (ClickOf::Throw(Hand::Right), _) => hz::HZ_2400,
        (ClickOf::MusicBeat, Accent::None) => hz::HZ_1000,
        (ClickOf::MusicBeat, _) => hz::HZ_1500,
    };
    (cosine, if plain { QUIET } else { f64::from(PEAK) })
}

/// The samples of one click, from −[`PEAK`] to [`PEAK`].
fn samples(of: ClickOf, accent: Accent) -> Vec<f64> {
    let (cosine, loudness) = tone(of, accent);
    let (mut last, mut before) = (0.0_f64, 0.0_f64);
    let mut samples = Vec::with_capacity(LENGTH);
    for index in 0..LENGTH {
        let impulse = if index == 0 { 1.0 } else { 0.0 };
        let next = impulse + 2.0 * DECAY * cosine * last - DECAY * DECAY * before;
        (before, last) = (last, next);
        // To nothing at its end, so that it does not break off.
        samples.push(next * (LENGTH - index) as f64 / LENGTH as f64);
    }
    let loudest = samples.iter().fold(0.0_f64, |loudest, sample| loudest.max(sample.abs()));
    samples.iter().map(|sample| sample / loudest * loudness).collect()
}

/// The sample with which a click begins.
fn first_sample(click: &Click) -> usize {
    usize::try_from(nearest(&click.at, &per_second(RATE))).unwrap_or(0)
}

/// The click track as the bytes of a WAV file.
#[must_use]
pub fn wav(track: &ClickTrack) -> Vec<u8> {
    let bytes = written(track).unwrap_or_else(|_| {
        unreachable!("memory takes every write, and `clicks` refuses what a file cannot hold")
    });
    with_markers(bytes, &markers(track))
}

/// Where sections start and cues go, in order of time, sections before cues: as captions name them.
/// What comes before the zero is left out; what is under way there is marked at it.
fn markers(track: &ClickTrack) -> Vec<Marker> {
    let sections = track.media.sections.iter().filter_map(|section| {
        let from = section.seen_from()?;
        Some((from, section.name.clone()))
    });
    let cues = track.media.cues.iter().filter(|cue| !cue.at.is_negative()).map(|cue| {
        let early = if cue.is_certain { "" } else { "at the earliest: " };
        (cue.at.clone(), format!("{early}{}", cue.words))
    });
    let marker = |(at, label): (Seconds, String)| {
        let sample = nearest(&(&at + &track.lead_in), &per_second(RATE));
        Some(Marker { sample: u32::try_from(sample).ok()?, label })
    };
    let mut markers: Vec<Marker> = sections.chain(cues).filter_map(marker).collect();
    markers.sort_by_key(|marker| marker.sample);
    markers
}

/// The file without markers. hound writes its header; the samples are quiet into which the few
/// tones are copied, each made once.
fn written(track: &ClickTrack) -> Result<Vec<u8>, hound::Error> {
    let starts: Vec<usize> = track.clicks.iter().map(first_sample).collect();
    let last = starts.last().map_or(0, |start| start + LENGTH);
    let lasts = usize::try_from(nearest(&track.lasts, &per_second(RATE))).unwrap_or(0).max(last);
    let header = header()?;
    let mut bytes = vec![0_u8; header.len() + 2 * lasts];
    let (head, samples) = bytes.split_at_mut(header.len());
    head.copy_from_slice(&header);
    let length = |bytes: usize| u32::try_from(bytes).map(u32::to_le_bytes);
    let lengths = [length(head.len() + samples.len() - 8), length(samples.len())];
    let [Ok(of_file), Ok(of_samples)] = lengths else { return Err(hound::Error::TooWide) };
    // The length of the file less these eight bytes, and that of the samples in front of them.
    head[4..8].copy_from_slice(&of_file);
    head[header.len() - 4..].copy_from_slice(&of_samples);
    let mut tones = HashMap::new();
    let mut index = 0;
    while let Some(&start) = starts.get(index) {
        let together = starts[index..].iter().take_while(|&&other| other == start).count();
        let next = starts.get(index + together).copied().unwrap_or(lasts);
        let clicks = &track.clicks[index..index + together];
        let kinds: Vec<Kind> = clicks.iter().map(|click| (click.of, click.accent)).collect();
        let tone = tones.entry(kinds).or_insert_with_key(|kinds| mixed(kinds));
        let count = 2 * LENGTH.min(next - start);
        samples[2 * start..2 * start + count].copy_from_slice(&tone[..count]);
        index += together;
    }
    Ok(bytes)
}

/// The header of a file without samples: its last four bytes say how many bytes of them follow.
fn header() -> Result<Vec<u8>, hound::Error> {
    let spec = WavSpec {
        channels: 1,
        sample_rate: RATE,
        bits_per_sample: 16,
        sample_format: SampleFormat::Int,
    };
    let mut bytes = Cursor::new(Vec::new());
    WavWriter::new(&mut bytes, spec)?.finalize()?;
    Ok(bytes.into_inner())
}

/// A kind of click.
type Kind = (ClickOf, Accent);

/// Clicks of one instant, mixed in equal parts, as the bytes of their samples.
fn mixed(clicks: &[Kind]) -> Vec<u8> {
    let mut sum = vec![0.0; LENGTH];
    for &(of, accent) in clicks {
        for (sum, sample) in sum.iter_mut().zip(samples(of, accent)) {
            *sum += sample / clicks.len() as f64;
        }
    }
    sum.iter().flat_map(|sample| (sample.round() as i16).to_le_bytes()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms};
    use crate::sheet::rehearsal::Media;

    const ALL: [(ClickOf, Accent); 8] = [
        (ClickOf::CountIn, Accent::None),
        (ClickOf::CountIn, Accent::Section),
        (ClickOf::Throw(Hand::Left), Accent::None),
        (ClickOf::Throw(Hand::Left), Accent::Section),
        (ClickOf::Throw(Hand::Right), Accent::None),
        (ClickOf::Throw(Hand::Right), Accent::Section),
        (ClickOf::MusicBeat, Accent::None),
        (ClickOf::MusicBeat, Accent::Bar),
    ];

    #[test]
    fn every_click_begins_at_once_dies_away_and_keeps_to_its_level() {
        for (of, accent) in ALL {
            let samples = samples(of, accent);
            let loudest = samples.iter().fold(0.0_f64, |most, sample| most.max(sample.abs()));
            let (_, level) = tone(of, accent);
            assert!((loudest - level).abs() < 1e-6, "{of:?}");
            assert!(samples[0] > level / 20.0, "{of:?} begins with {}", samples[0]);
            assert!(samples[LENGTH - 1].abs() < 1.0, "{of:?}");
            let late = &samples[LENGTH / 2..];
            assert!(late.iter().all(|sample| sample.abs() < level / 8.0), "{of:?}");
        }
    }

    #[test]
    fn the_tones_are_those_that_they_are_called() {
        for (of, accent) in ALL {
            let (cosine, _) = tone(of, accent);
            let hz = cosine.acos() * f64::from(RATE) / std::f64::consts::TAU;
            assert!((hz - (hz / 100.0).round() * 100.0).abs() < 1e-6, "{of:?}: {hz} Hz");
        }
        let hz = |cosine: f64| cosine.acos() * f64::from(RATE) / std::f64::consts::TAU;
        assert!((hz(cosine::HZ_1200) - 1_200.0).abs() < 1e-6);
        assert!((hz(cosine::HZ_800) - 800.0).abs() < 1e-6);
    }

    #[test]
    fn clicks_of_one_instant_and_clicks_in_a_rush_are_never_louder() {
        let quay = lantern_quay();
        let media = Media::new(&compiled(&quay), None).unwrap();
        let click =
            |at: Seconds, hand| Click { at, of: ClickOf::Throw(hand), accent: Accent::Section };
        let mut clicks: Vec<Click> =
            (0..50).map(|index| click(Seconds::fraction(index, 3000), Hand::Left)).collect();
        clicks.push(click(ms(500), Hand::Left));
        clicks.push(click(ms(500), Hand::Right));
        let lasts = ms(600);
        let track = ClickTrack {
            media,
            lead_in: Seconds::zero(),
            clicks,
            lasts,
            no_room_for: None,
            left_out: Vec::new(),
        };
        let bytes = wav(&track);
        let mut reader = hound::WavReader::new(bytes.as_slice()).unwrap();
        let samples: Vec<i16> = reader.samples::<i16>().map(Result::unwrap).collect();
        assert_eq!(samples.len(), 28_800);
        assert!(samples.iter().all(|sample| sample.unsigned_abs() <= PEAK.unsigned_abs()));
        assert!(samples[24_000] != 0 && samples[23_999] == 0);
    }
}
