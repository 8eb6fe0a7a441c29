//! The tempo map: the one place where beats become seconds.
//!
//! Units: beats as exact fractions of the run's beat, tempo in throws a minute, time in seconds.

use num_bigint::BigInt;
use num_rational::{BigRational, Ratio};
use num_traits::{ToPrimitive, Zero};

use super::{Seconds, Stages, Time};

/// A place between beats: an exact number of beats from the start of a run.
pub type BeatPosition = Ratio<i64>;

/// Throws a minute: steady, a ramp that is linear in beats, or as the music goes.
#[derive(Clone, Debug, PartialEq)]
pub enum Pace {
    /// The same tempo on every beat.
    Steady(BigRational),
    /// From one tempo to another over the whole piece, linear in beats.
    Ramp {
        /// Throws a minute at the piece's first beat.
        from: BigRational,
        /// Throws a minute where the piece ends.
        to: BigRational,
    },
    /// So many throws a music beat, through the music's steps and ramps: its stages count the
    /// piece's own beats and seconds from 0, in throws a minute.
    Music {
        /// Throws a music beat.
        throws: BigRational,
        /// How fast they come.
        stages: Stages,
    },
}

/// A stretch of beats at one pace.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its first beat, counted in the run from 0.
    pub first_beat: u32,
    /// How many beats it spans.
    pub beats: u32,
    /// When its first beat falls.
    pub starts: Time,
    /// How fast.
    pub pace: Pace,
}

/// The pieces of one run, in order and without gaps. Past the last beat the map goes on at the
/// last tempo.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TempoMap {
    /// In order of time; at least one once the run has a section.
    pub pieces: Vec<Piece>,
}

impl Piece {
    /// How long `beats` from its start take; past its end at its last tempo.
    #[must_use]
    pub fn after(&self, beats: BeatPosition) -> Seconds {
        match &self.pace {
            Pace::Steady(tempo) => Seconds::Exact(wide(beats) * sixty() / tempo),
            Pace::Ramp { from, to } if from == to || self.beats == 0 => {
                Seconds::Exact(wide(beats) * sixty() / from)
            }
            Pace::Ramp { .. } => Seconds::Near(self.after_f64(to_f64(beats))),
            Pace::Music { stages, .. } => stages.time(&wide(beats)),
        }
    }

    /// As [`Piece::after`], in floating point: for drawings.
    #[must_use]
    pub fn after_f64(&self, beats: f64) -> f64 {
        match &self.pace {
            Pace::Steady(tempo) => beats * 60.0 / float(tempo),
            Pace::Ramp { from, to } => {
                let (from, to, span) = (float(from), float(to), f64::from(self.beats));
                if beats > span {
                    return ramp_s(from, to, span, span) + (beats - span) * 60.0 / to;
                }
                ramp_s(from, to, span, beats)
            }
            Pace::Music { stages, .. } => stages.time_f64(beats),
        }
    }

    /// The tempo at its start and where it ends, in throws a minute; the later is left in force.
    #[must_use]
    pub fn tempos(&self) -> (BigRational, BigRational) {
        match &self.pace {
            Pace::Steady(tempo) => (tempo.clone(), tempo.clone()),
            Pace::Ramp { from, to } => (from.clone(), to.clone()),
            Pace::Music { stages, .. } => {
                let last = BigRational::from_integer(self.beats.into());
                (stages.speed(&BigRational::zero()), stages.speed(&last))
            }
        }
    }

    /// The fastest that the music has it go, in throws a minute; `None` where another pace does.
    #[must_use]
    pub fn fastest(&self) -> Option<f64> {
        let Pace::Music { stages, .. } = &self.pace else { return None };
        let last = BigRational::from_integer(self.beats.into());
        let begins = stages.0.iter().filter(|stage| stage.first <= last);
        let ends = begins.clone().skip(1).map(|stage| &stage.first).chain([&last]);
        let speeds = begins.zip(ends).flat_map(|(stage, end)| {
            [stage.speed.at(&BigRational::zero()), stage.speed.at(&(end - &stage.first))]
        });
        speeds.filter_map(|speed| speed.to_f64()).reduce(f64::max)
    }

    /// A transition with so many own beats after it: one piece, at another tempo where it bends.
    /// Where only the own beats bend, two.
    #[must_use]
    pub fn lasting(self, own: u32, bent: Option<&BigRational>, own_only: bool) -> Vec<Piece> {
        let Some(bent) = bent else {
            return vec![Piece { beats: self.beats + own, ..self }];
        };
        let pace = Pace::Steady(bent.clone());
        if !own_only || self.beats == 0 {
            return vec![Piece { beats: self.beats + own, pace, ..self }];
        }
        let (first_beat, starts) = (self.first_beat + self.beats, self.ends());
        vec![self, Piece { first_beat, beats: own, starts, pace }]
    }

    /// When the piece ends.
    #[must_use]
    pub fn ends(&self) -> Time {
        &self.starts + &self.after(BeatPosition::from_integer(i64::from(self.beats)))
    }
}

/// Seconds after `beats` of a ramp from `from` to `to` throws a minute over `span` beats.
///
/// The integral of 60/v(b) for v linear in b: t(b) = 60/k · ln(1 + k·b/v0), k = (v1 − v0)/B.
/// Worked: 60 → 120 over 16 beats takes 16·ln 2 = 11.0904 s.
#[must_use]
pub fn ramp_s(from: f64, to: f64, span: f64, beats: f64) -> f64 {
    let slope = (to - from) / span;
    if slope == 0.0 || !slope.is_finite() {
        return beats * 60.0 / from;
    }
    60.0 / slope * (slope * beats / from).ln_1p()
}

impl TempoMap {
    /// The piece in which a place lies; the last one past the end, the first before the start.
    /// `None` for a map without pieces.
    #[must_use]
    pub fn piece_at(&self, position: BeatPosition) -> Option<&Piece> {
        let after = self.pieces.partition_point(|piece| {
            BeatPosition::from_integer(i64::from(piece.first_beat)) <= position
        });
        self.pieces.get(after.saturating_sub(1))
    }

    /// When a place in the run comes, on the clock of the pieces' starts.
    #[must_use]
    pub fn at(&self, position: BeatPosition) -> Time {
        self.piece_at(position).map_or_else(Time::zero, |piece| {
            let into = position - BeatPosition::from_integer(i64::from(piece.first_beat));
            &piece.starts + &piece.after(into)
        })
    }

    /// When a whole beat of the run comes.
    #[must_use]
    pub fn at_beat(&self, beat: u32) -> Time {
        self.at(BeatPosition::from_integer(i64::from(beat)))
    }

    /// How long it takes from one place in the run to another, in seconds: nothing that is open lies
    /// within a run.
    #[must_use]
    pub fn lasts(&self, from: BeatPosition, to: BeatPosition) -> Seconds {
        self.at(to).shortest() - self.at(from).shortest()
    }

    /// As [`TempoMap::at`], in floating point, all that is open at its shortest: to find the longest
    /// among many, and for drawings.
    #[must_use]
    pub fn about(&self, position: BeatPosition) -> f64 {
        self.at_f64(to_f64(position))
    }

    /// When a place that no fraction tells comes, in floating point: for drawings.
    #[must_use]
    pub fn at_f64(&self, position: f64) -> f64 {
        let after = self.pieces.partition_point(|piece| f64::from(piece.first_beat) <= position);
        self.pieces.get(after.saturating_sub(1)).map_or(0.0, |piece| {
            piece.starts.shortest().to_f64()
                + piece.after_f64(position - f64::from(piece.first_beat))
        })
    }
}

fn sixty() -> BigRational {
    BigRational::from_integer(BigInt::from(60))
}

/// A number of beats as a fraction of any size.
#[must_use]
pub fn wide(beats: BeatPosition) -> BigRational {
    BigRational::new(BigInt::from(*beats.numer()), BigInt::from(*beats.denom()))
}

fn to_f64(beats: BeatPosition) -> f64 {
    beats.to_f64().unwrap_or(f64::NAN)
}

fn float(tempo: &BigRational) -> f64 {
    debug_assert!(!tempo.is_zero(), "the reader refuses a tempo of 0");
    tempo.to_f64().unwrap_or(f64::NAN)
}
