//! How alike a recording's novelty is to itself some time later: its autocorrelation.

use realfft::RealFftPlanner;

use super::onset::Novelty;

/// Novelty is smoothed over so many seconds, so that a player's freedom counts little.
const SMOOTH_S: f64 = 0.020;

/// The likeness of the novelty to itself, by lag.
pub(super) struct Pulse {
    step_s: f64,
    /// 1 at lag 0; 0 where it is as alike as chance.
    likeness: Vec<f32>,
}

impl Pulse {
    /// The likeness at every lag up to two thirds of the whole.
    pub(super) fn new(novelty: &Novelty) -> Pulse {
        let count = novelty.values.len();
        let lags = count * 2 / 3;
        let smoothed = smoothed(&novelty.values, (SMOOTH_S / novelty.step_s).round() as usize);
        let mean =
            smoothed.iter().map(|&value| f64::from(value)).sum::<f64>() / count.max(1) as f64;
        let size = (count + lags + 1).next_power_of_two().max(4);
        let mut planner = RealFftPlanner::<f32>::new();
        let (forward, back) = (planner.plan_fft_forward(size), planner.plan_fft_inverse(size));
        let mut signal = forward.make_input_vec();
        for (place, value) in signal.iter_mut().zip(&smoothed) {
            *place = *value - mean as f32;
        }
        let mut spectrum = forward.make_output_vec();
        let fits = "the buffers were made for this transform";
        forward.process(&mut signal, &mut spectrum).unwrap_or_else(|_| unreachable!("{fits}"));
        for value in &mut spectrum {
            *value = realfft::num_complex::Complex::new(value.norm_sqr(), 0.0);
        }
        back.process(&mut spectrum, &mut signal).unwrap_or_else(|_| unreachable!("{fits}"));
        let whole = f64::from(signal[0]) / count.max(1) as f64;
        let likeness = signal.iter().take(lags).enumerate().map(|(lag, &product)| {
            let each = f64::from(product) / (count - lag) as f64;
            if whole > 0.0 { (each / whole) as f32 } else { 0.0 }
        });
        Pulse { step_s: novelty.step_s, likeness: likeness.collect() }
    }

    /// The longest lag that is known, in seconds.
    pub(super) fn longest(&self) -> f64 {
        self.likeness.len() as f64 * self.step_s
    }

    /// The greatest likeness within some seconds of a lag: its lag, exactly, and how much.
    pub(super) fn peak_near(&self, lag_s: f64, within_s: f64) -> Option<(f64, f64)> {
        let from = ((lag_s - within_s) / self.step_s).ceil().max(1.0) as usize;
        let after = ((lag_s + within_s) / self.step_s).floor().max(0.0) as usize + 1;
        let likeness = self.likeness.get(from..after.min(self.likeness.len()))?;
        let (place, &highest) =
            likeness.iter().enumerate().max_by(|one, other| one.1.total_cmp(other.1))?;
        let place = from + place;
        let (before, after) = (self.likeness.get(place - 1)?, self.likeness.get(place + 1)?);
        // The vertex of the parabola through three neighbours.
        let bend = f64::from(before - 2.0 * highest + after);
        let aside = if bend < 0.0 { 0.5 * f64::from(before - after) / bend } else { 0.0 };
        Some(((place as f64 + aside.clamp(-0.5, 0.5)) * self.step_s, f64::from(highest)))
    }
}

/// The mean of each value and so many around it, in all.
fn smoothed(values: &[f32], over: usize) -> Vec<f32> {
    let side = over / 2;
    let mean = |place: usize| {
        let near = &values[place.saturating_sub(side)..(place + side + 1).min(values.len())];
        near.iter().sum::<f32>() / near.len() as f32
    };
    (0..values.len()).map(mean).collect()
}
