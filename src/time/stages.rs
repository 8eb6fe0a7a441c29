//! Beats that come at one speed after another: what a stretch of music does, and a pattern that
//! follows it.
//!
//! Units: beats as exact fractions (music beats of a track, or throws of a section), speeds in
//! beats a minute, time in seconds. Steady stages are exact; a ramp is floating point.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero};

use super::{Seconds, exact_decimal, ramp_s};

/// Beats a minute.
#[derive(Clone, Debug, PartialEq)]
pub enum Speed {
    /// The same on every beat; above 0.
    Steady(BigRational),
    /// Linear in beats; both ends above 0.
    Ramp {
        /// At the first beat.
        from: f64,
        /// After `over` beats, and held from there.
        to: f64,
        /// How many beats it takes; above 0.
        over: f64,
    },
}

/// A stage: beats at one speed, up to the next stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// The beat with which it begins.
    pub first: BigRational,
    /// When that is.
    pub starts: Seconds,
    /// How fast.
    pub speed: Speed,
}

/// Stages in order; the last one goes on for ever.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stages(pub Vec<Stage>);

impl Speed {
    /// How long the first `beats` take, in seconds.
    #[must_use]
    pub fn after(&self, beats: &BigRational) -> Seconds {
        match self {
            Speed::Steady(tempo) => Seconds::Exact(beats * sixty() / tempo),
            Speed::Ramp { .. } => Seconds::Near(self.after_f64(float(beats))),
        }
    }

    /// As [`Speed::after`], in floating point.
    #[must_use]
    pub fn after_f64(&self, beats: f64) -> f64 {
        match self {
            Speed::Steady(tempo) => beats * 60.0 / float(tempo),
            Speed::Ramp { from, to, over } if beats > *over => {
                ramp_s(*from, *to, *over, *over) + (beats - over) * 60.0 / to
            }
            Speed::Ramp { from, to, over } => ramp_s(*from, *to, *over, beats),
        }
    }

    /// How many beats pass in so many seconds: the inverse of [`Speed::after`].
    #[must_use]
    pub fn beats_in(&self, time: &Seconds) -> BigRational {
        match self {
            Speed::Steady(tempo) => rational(&(time * &(tempo / sixty()))),
            Speed::Ramp { from, to, over } => {
                let (time, slope) = (time.to_f64(), (to - from) / over);
                let whole = ramp_s(*from, *to, *over, *over);
                let beats = if time > whole {
                    over + (time - whole) * to / 60.0
                } else if slope == 0.0 {
                    time * from / 60.0
                } else {
                    // t = 60/k · ln(1 + k·b/v0), solved for b.
                    from / slope * (slope * time / 60.0).exp_m1()
                };
                near(beats)
            }
        }
    }

    /// Beats a minute after so many beats.
    #[must_use]
    pub fn at(&self, beats: &BigRational) -> BigRational {
        match self {
            Speed::Steady(tempo) => tempo.clone(),
            Speed::Ramp { from, to, over } => {
                let share = (float(beats) / over).clamp(0.0, 1.0);
                near(from + (to - from) * share)
            }
        }
    }

    /// What is left of it after `beats`, where each beat counts `factor` times.
    fn rest(&self, beats: &BigRational, factor: &BigRational) -> Speed {
        match self {
            Speed::Steady(tempo) => Speed::Steady(tempo * factor),
            Speed::Ramp { to, over, .. } => {
                let (left, times) = (over - float(beats), float(factor));
                if left <= 1e-9 {
                    return Speed::Steady(near(to * times));
                }
                let from = float(&self.at(beats)) * times;
                Speed::Ramp { from, to: to * times, over: left * times }
            }
        }
    }
}

impl Stages {
    /// When a beat comes; the first stage is carried on backwards before its start.
    #[must_use]
    pub fn time(&self, beat: &BigRational) -> Seconds {
        let after = self.0.partition_point(|stage| stage.first <= *beat);
        self.0.get(after.saturating_sub(1)).map_or_else(Seconds::zero, |stage| {
            &stage.starts + &stage.speed.after(&(beat - &stage.first))
        })
    }

    /// As [`Stages::time`], in floating point.
    #[must_use]
    pub fn time_f64(&self, beat: f64) -> f64 {
        let after = self.0.partition_point(|stage| float(&stage.first) <= beat);
        self.0.get(after.saturating_sub(1)).map_or(0.0, |stage| {
            stage.starts.to_f64() + stage.speed.after_f64(beat - float(&stage.first))
        })
    }

    /// The beat, whole or not, that a time falls on.
    #[must_use]
    pub fn beat(&self, time: &Seconds) -> BigRational {
        let after = self.0.partition_point(|stage| stage.starts <= *time);
        self.0.get(after.saturating_sub(1)).map_or_else(BigRational::zero, |stage| {
            &stage.first + stage.speed.beats_in(&(time - &stage.starts))
        })
    }

    /// Beats a minute at a beat.
    #[must_use]
    pub fn speed(&self, beat: &BigRational) -> BigRational {
        let after = self.0.partition_point(|stage| stage.first <= *beat);
        self.0
            .get(after.saturating_sub(1))
            .map_or_else(BigRational::zero, |stage| stage.speed.at(&(beat - &stage.first)))
    }

    /// From the beat of a time on, counted from 0 beat and 0 seconds, with `factor` beats of the
    /// new count to each of these.
    #[must_use]
    pub fn followed(&self, from: &Seconds, factor: &BigRational) -> Stages {
        let begin = self.beat(from);
        let here = self.0.partition_point(|stage| stage.first <= begin).saturating_sub(1);
        let stages = self.0.iter().skip(here).map(|stage| {
            if stage.first <= begin {
                let speed = stage.speed.rest(&(&begin - &stage.first), factor);
                return Stage { first: BigRational::zero(), starts: Seconds::zero(), speed };
            }
            Stage {
                first: (&stage.first - &begin) * factor,
                starts: &stage.starts - from,
                speed: stage.speed.rest(&BigRational::zero(), factor),
            }
        });
        let mut stages = Stages(stages.collect());
        // Before the first stage nothing is followed: its speed is carried on.
        if let Some(first) = stages.0.first_mut()
            && !first.first.is_zero()
        {
            let early = first.speed.after(&first.first);
            first.starts = &first.starts - &early;
            first.first = BigRational::zero();
        }
        stages
    }
}

fn sixty() -> BigRational {
    BigRational::from_integer(BigInt::from(60))
}

fn float(number: &BigRational) -> f64 {
    number.to_f64().unwrap_or(f64::NAN)
}

/// The fraction of what a [`Seconds`] counts, to a billionth where it is floating point.
fn rational(number: &Seconds) -> BigRational {
    match number {
        Seconds::Exact(exact) => exact.clone(),
        Seconds::Near(float) => near(*float),
    }
}

fn near(number: f64) -> BigRational {
    exact_decimal((number * 1e9).round() / 1e9).unwrap_or_else(BigRational::zero)
}
