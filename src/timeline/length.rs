//! How many of its own beats a section lasts, where its length is given in time.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;

use crate::routine::{Accent, Juggle, Tempo};
use crate::time::{BeatPosition, Pace, Piece, Seconds, Time};

/// No section lasts longer: far past any performance, far below what would exhaust memory.
pub(super) const MOST_BEATS: u32 = 1_000_000;

/// The two numbers of beats nearest to a length that is no whole number of them.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Nearest {
    /// Own beats just below, if there is at least one, and the error in seconds (negative).
    pub(super) below: Option<(u32, Seconds)>,
    /// Own beats just above, and the error in seconds.
    pub(super) above: (u32, Seconds),
}

/// As many beats as were asked for, or the nearest two numbers of them.
pub(super) type Beats = Result<u32, Box<Nearest>>;

/// The beats that fill `duration` exactly: `lead_in` beats of transition, then own beats, a
/// multiple of `unit` (2 for pairs).
pub(super) fn own_beats(pace: &Pace, duration: &Seconds, lead_in: u32, unit: u32) -> Beats {
    let units = ((beats_in(pace, duration) - f64::from(lead_in)) / f64::from(unit))
        .clamp(0.0, f64::from(MOST_BEATS / unit));
    let error = |own: u32| &lasting(pace, lead_in + own) - duration;
    let nearest = whole(units.round()) * unit;
    if nearest > 0 && error(nearest) == Seconds::zero() {
        return Ok(nearest);
    }
    let mut below = whole(units.floor()) * unit;
    if below > 0 && error(below) > Seconds::zero() {
        below -= unit;
    }
    let above = below + unit;
    let below = (below > 0).then(|| (below, error(below)));
    Err(Box::new(Nearest { below, above: (above, error(above)) }))
}

/// The tempo in force where a section starts.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum InForce {
    /// Throws a minute; `None` where that hangs on a length that is not known yet.
    PerMinute(Option<BigRational>),
    /// As the music goes.
    Music(MusicTempo),
}

/// A tempo as the music goes.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct MusicTempo {
    /// Throws a music beat.
    pub(super) throws: BigRational,
    /// What falls on the music.
    pub(super) accent: Accent,
    /// The throws a minute that a ramp without a beginning starts from.
    pub(super) reached: Option<BigRational>,
}

/// How fast a section is.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Wanted {
    /// At a pace of its own.
    Pace(Pace),
    /// As the music goes.
    Music(MusicTempo),
    /// It starts from a tempo that hangs on a length that is not known yet.
    NotYet,
}

/// How fast a section is where `before` is in force; `None` where it says nothing and nothing is.
pub(super) fn wanted(juggle: &Juggle, before: Option<&InForce>) -> Option<Wanted> {
    Some(match juggle.tempo.as_ref().map(|tempo| &tempo.value) {
        Some(Tempo::PerMinute(tempo)) => Wanted::Pace(Pace::Steady(tempo.clone())),
        Some(Tempo::Ramp { from, to }) => {
            let reached = match before {
                _ if from.is_some() => from.clone(),
                Some(InForce::PerMinute(None)) => return Some(Wanted::NotYet),
                Some(InForce::PerMinute(reached)) => reached.clone(),
                Some(InForce::Music(music)) => music.reached.clone(),
                None => None,
            };
            Wanted::Pace(Pace::Ramp { from: reached?, to: to.clone() })
        }
        Some(Tempo::PerMusicBeat { throws, accent }) => {
            Wanted::Music(MusicTempo { throws: throws.clone(), accent: *accent, reached: None })
        }
        None => match before? {
            InForce::PerMinute(None) => Wanted::NotYet,
            InForce::PerMinute(Some(tempo)) => Wanted::Pace(Pace::Steady(tempo.clone())),
            InForce::Music(music) => Wanted::Music(music.clone()),
        },
    })
}

/// How long the first `beats` of a section take whose pace spans exactly those beats.
pub(super) fn lasting(pace: &Pace, beats: u32) -> Seconds {
    lasting_but(pace, beats, BeatPosition::from_integer(0))
}

/// The same, so many beats left out at their end; below zero so many more at the last tempo.
pub(super) fn lasting_but(pace: &Pace, beats: u32, short: BeatPosition) -> Seconds {
    let piece = Piece { first_beat: 0, beats, starts: Time::zero(), pace: pace.clone() };
    piece.after(BeatPosition::from_integer(i64::from(beats)) - short)
}

/// The beats that fill a duration, whole or not.
fn beats_in(pace: &Pace, duration: &Seconds) -> f64 {
    let steady = |tempo: &BigRational| {
        let factor = tempo / BigRational::from_integer(BigInt::from(60));
        (duration * &factor).to_f64()
    };
    match pace {
        Pace::Steady(tempo) => steady(tempo),
        Pace::Ramp { from, to } if from == to => steady(from),
        Pace::Ramp { from, to } => {
            // t(B) = 60·B/(v1 − v0)·ln(v1/v0), solved for B.
            let (from, to) = (from.to_f64().unwrap_or(1.0), to.to_f64().unwrap_or(1.0));
            duration.to_f64() * (to - from) / (60.0 * (to / from).ln())
        }
        Pace::Music { stages, .. } => stages.beat(duration).to_f64().unwrap_or(0.0),
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped before")]
fn whole(units: f64) -> u32 {
    units as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steady(tempo: i64) -> Pace {
        Pace::Steady(BigRational::from_integer(BigInt::from(tempo)))
    }

    #[test]
    fn a_length_is_a_whole_number_of_beats_or_lies_between_two() {
        let third = Seconds::fraction(78, 10);
        assert_eq!(own_beats(&steady(200), &third, 0, 1), Ok(26));
        assert_eq!(own_beats(&steady(200), &third, 1, 1), Ok(25));
        assert_eq!(own_beats(&steady(200), &third, 0, 2), Ok(26));
        let off = own_beats(&steady(200), &Seconds::fraction(79, 10), 0, 1).unwrap_err();
        assert_eq!(off.below, Some((26, Seconds::fraction(-1, 10))));
        assert_eq!(off.above, (27, Seconds::fraction(2, 10)));
        let short = own_beats(&steady(200), &Seconds::fraction(1, 10), 0, 1).unwrap_err();
        assert_eq!(short.below, None);
        assert_eq!(short.above.0, 1);
    }

    #[test]
    fn a_length_under_a_ramp_is_judged_to_a_microsecond() {
        let whole = |tempo: i64| BigRational::from_integer(BigInt::from(tempo));
        let ramp = Pace::Ramp { from: whole(60), to: whole(120) };
        let sixteen = Seconds::Near(16.0 * std::f64::consts::LN_2);
        assert_eq!(own_beats(&ramp, &sixteen, 0, 1), Ok(16));
        assert!(own_beats(&ramp, &Seconds::fraction(11_091, 1000), 0, 1).is_err());
    }
}
