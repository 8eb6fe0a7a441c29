//! Onsets: where something new begins to sound.
//!
//! Spectral flux: the energy of short windows in bands of pitch, compressed as the ear does, and
//! of what grows from one window to the next the sum (common practice of music information
//! retrieval). Times are seconds from the first sample.

use std::ops::Range;

use realfft::RealFftPlanner;
use realfft::num_complex::Complex;

use super::Recording;

/// A window in seconds, about.
const WINDOW_S: f64 = 0.046;
/// From one window to the next in seconds, about.
const STEP_S: f64 = 0.005;
/// Growth is measured over so many steps.
const OVER: usize = 4;
/// The lowest band of pitch begins here, in hertz.
const LOWEST_HZ: f64 = 40.0;
/// From one band to the next, as a ratio of pitches.
const BAND: f64 = 1.3;
/// A magnitude of 1/`COMPRESSION` of full scale is where the ear's compression begins.
const COMPRESSION: f32 = 300.0;
/// No two onsets are closer, in seconds.
const GAP_S: f64 = 0.060;
/// The mean around a place reaches so far to either side, in seconds.
const AROUND_S: f64 = 0.4;
/// An onset rises above the mean around it by this part of the strongest onsets.
const RISE: f32 = 0.12;

/// How much is new at each moment of a recording.
pub(super) struct Novelty {
    /// Seconds from one value to the next.
    pub(super) step_s: f64,
    /// From the first sample on; 0 or above.
    pub(super) values: Vec<f32>,
}

/// Something begins to sound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Onset {
    /// When.
    pub(super) at: f64,
    /// How much is new.
    pub(super) strength: f64,
    /// How much louder it makes its first tenth of a second: a root mean square.
    pub(super) loud: f64,
}

impl Onset {
    /// How much it says about where the beats lie: what is new and loud says most.
    pub(super) fn weight(&self) -> f64 {
        self.strength * self.loud
    }
}

/// How much is new at each moment.
pub(super) fn novelty(recording: &Recording) -> Novelty {
    let samples = recording.samples();
    let sample_s = recording.sample_s();
    let step = ((STEP_S / sample_s).round() as usize).max(1);
    let window = ((WINDOW_S / sample_s) as usize).next_power_of_two().max(16);
    let step_s = step as f64 * sample_s;
    let peak = samples.iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs()));
    if peak <= 0.0 {
        return Novelty { step_s, values: vec![0.0; samples.len() / step] };
    }
    let transform = RealFftPlanner::<f32>::new().plan_fft_forward(window);
    let shape: Vec<f32> = (0..window)
        .map(|place| {
            let angle = std::f64::consts::TAU * (place as f64 + 0.5) / window as f64;
            // A Hann window, scaled so that a sine of full scale has magnitude 1.
            ((0.5 - 0.5 * cosine(angle)) * 4.0 / window as f64) as f32 / peak
        })
        .collect();
    let mut input = transform.make_input_vec();
    let mut spectrum = transform.make_output_vec();
    let mut scratch = transform.make_scratch_vec();
    let bands = bands(1.0 / (window as f64 * sample_s), spectrum.len());
    let mut before: Vec<Vec<f32>> = vec![vec![0.0; bands.len()]; OVER];
    let mut flux = Vec::with_capacity(samples.len() / step + 1);
    for (index, middle) in (0..samples.len()).step_by(step).enumerate() {
        for (place, (value, shape)) in input.iter_mut().zip(&shape).enumerate() {
            let sample = (middle + place).checked_sub(window / 2).and_then(|at| samples.get(at));
            *value = sample.copied().unwrap_or(0.0) * shape;
        }
        transform
            .process_with_scratch(&mut input, &mut spectrum, &mut scratch)
            .unwrap_or_else(|_| unreachable!("the buffers were made for this transform"));
        let old = &mut before[index % OVER];
        let mut grown = 0.0;
        for (old, band) in old.iter_mut().zip(&bands) {
            let value = loud(spectrum.get(band.clone()).unwrap_or_default());
            grown += (value - *old).max(0.0);
            *old = value;
        }
        flux.push(grown);
    }
    Novelty { step_s, values: above_mean(&flux, (AROUND_S / step_s) as usize) }
}

/// The bands of pitch as places in a spectrum whose places are so many hertz apart.
fn bands(hertz: f64, places: usize) -> Vec<Range<usize>> {
    let mut bands = Vec::new();
    let (mut from, mut edge) = (1, LOWEST_HZ);
    while from < places {
        edge *= BAND;
        let after = (edge / hertz).ceil().max(1.0) as usize;
        if after > from {
            bands.push(from..after.min(places));
            from = after;
        }
    }
    bands
}

/// How loud a band is to the ear.
fn loud(band: &[Complex<f32>]) -> f32 {
    let energy: f32 = band.iter().map(Complex::norm_sqr).sum();
    (COMPRESSION * energy.sqrt()).ln_1p()
}

/// The cosine, from its series: the same bytes on every platform.
fn cosine(angle: f64) -> f64 {
    let x = (angle + std::f64::consts::PI).rem_euclid(std::f64::consts::TAU) - std::f64::consts::PI;
    let square = x * x;
    let (mut term, mut sum) = (1.0, 1.0);
    for order in 1..16 {
        term *= -square / f64::from((2 * order - 1) * (2 * order));
        sum += term;
    }
    sum
}

/// What rises above the mean around it.
fn above_mean(values: &[f32], around: usize) -> Vec<f32> {
    let mut sums = Vec::with_capacity(values.len() + 1);
    sums.push(0.0_f64);
    for &value in values {
        sums.push(sums[sums.len() - 1] + f64::from(value));
    }
    let rise = |(place, &value): (usize, &f32)| {
        let (from, after) = (place.saturating_sub(around), (place + around + 1).min(values.len()));
        let mean = (sums[after] - sums[from]) / (after - from) as f64;
        (value - mean as f32).max(0.0)
    };
    values.iter().enumerate().map(rise).collect()
}

/// The onsets in order, each placed where the sound itself rises.
pub(super) fn onsets(recording: &Recording, novelty: &Novelty) -> Vec<Onset> {
    let values = &novelty.values;
    let mut sorted: Vec<f32> = values.iter().copied().filter(|&value| value > 0.0).collect();
    sorted.sort_by(f32::total_cmp);
    let Some(&strongest) = sorted.get(sorted.len().saturating_sub(1 + sorted.len() / 50)) else {
        return Vec::new();
    };
    let gap = (GAP_S / novelty.step_s).round() as usize;
    let mut found: Vec<(usize, f32)> = Vec::new();
    for (place, &value) in values.iter().enumerate() {
        let near = &values[place.saturating_sub(gap / 2)..(place + gap / 2 + 1).min(values.len())];
        if value <= RISE * strongest || near.iter().any(|&other| other > value) {
            continue;
        }
        match found.last_mut() {
            Some(last) if place - last.0 < gap => {
                if value > last.1 {
                    *last = (place, value);
                }
            }
            _ => found.push((place, value)),
        }
    }
    found
        .into_iter()
        .map(|(place, value)| {
            let at = rise_near(recording, place as f64 * novelty.step_s);
            Onset { at, strength: f64::from(value), loud: loud_after(recording, at) }
        })
        .collect()
}

/// How much louder a tenth of a second after a time is than half of one before it: the root of
/// the difference of their mean squares, 0 where it is quieter. Where the recording begins there is
/// nothing before it: what stays on after a while is no beat but the beginning itself.
fn loud_after(recording: &Recording, at: f64) -> f64 {
    let (samples, sample_s) = (recording.samples(), recording.sample_s());
    let place = |at: f64| ((at / sample_s).round().max(0.0) as usize).min(samples.len());
    let square = |from: f64, to: f64| {
        let samples = &samples[place(from)..place(to)];
        let squares: f64 = samples.iter().map(|&sample| f64::from(sample).powi(2)).sum();
        squares / samples.len().max(1) as f64
    };
    let before =
        if at < 0.06 { square(at + 0.1, at + 0.2) } else { square(at - 0.055, at - 0.005) };
    (square(at, at + 0.1) - before).max(0.0).sqrt()
}

/// Where, within a few hundredths of a second, the sound rises most: the energy of the 8 ms after
/// a place against that of the 8 ms before it.
fn rise_near(recording: &Recording, near: f64) -> f64 {
    /// How far it is looked for to either side, in seconds.
    const REACH_S: f64 = 0.035;
    /// What is compared on either side, in seconds.
    const SIDE_S: f64 = 0.008;
    let (samples, sample_s) = (recording.samples(), recording.sample_s());
    let side = ((SIDE_S / sample_s) as usize).max(2);
    let place = |at: f64| (at / sample_s).round().max(0.0) as usize;
    let (from, after) = (place(near - REACH_S), place(near + REACH_S).min(samples.len()));
    let energy = |from: usize, after: usize| {
        let range = from.min(samples.len())..after.min(samples.len());
        samples[range].iter().map(|&sample| f64::from(sample).powi(2)).sum::<f64>()
    };
    let all = energy(from.saturating_sub(side), after + side);
    // A floor, so that a whisper into silence is not the greatest of all rises.
    let floor = all * side as f64 / ((after + side).saturating_sub(from).max(1)) as f64 * 0.02;
    let mut best = (near, 0.0);
    for place in (from..after).step_by((side / 8).max(1)) {
        let before = energy(place.saturating_sub(side), place);
        let rise = (energy(place, place + side) + floor) / (before + floor).max(f64::MIN_POSITIVE);
        if rise > best.1 {
            best = (place as f64 * sample_s, rise);
        }
    }
    best.0
}
