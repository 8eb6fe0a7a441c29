//! Bent tempos in figures: how they are printed, and what they do to the highest throw.
//!
//! A bend is the new tempo by the written one, less 1. Tempos are throws a minute, heights metres.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive};

use crate::time::{BeatPosition, Pace, Seconds};
use crate::timeline::{Bend, Timeline};

use super::height::{above_hand_m, highest};

/// How much the tempo of a section may bend that does not say so: 3 %, common practice, no source.
#[must_use]
pub fn usual_may_bend() -> BigRational {
    BigRational::new(BigInt::from(3), BigInt::from(100))
}

/// A tempo as sheets print it: `202.5`, at most two decimals, none where it is whole.
#[must_use]
pub fn tempo_text(per_minute: &BigRational) -> String {
    let text = tempo_figure(per_minute);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    text.to_owned()
}

/// A tempo in a column of them: `202.50`.
#[must_use]
pub fn tempo_figure(per_minute: &BigRational) -> String {
    format!("{:.2}", hundredths(per_minute))
}

/// A bend in per cent with its sign, to two decimals: `+1.25 %`.
#[must_use]
pub fn bend_text(bend: &BigRational) -> String {
    let per_cent = hundredths(&(bend * BigRational::from_integer(BigInt::from(100))));
    if per_cent == 0.0 { "0.00 %".to_owned() } else { format!("{per_cent:+.2} %") }
}

/// How much a tempo may bend, in per cent without a sign: `3 %`.
#[must_use]
pub fn may_bend_text(may_bend: &BigRational) -> String {
    tempo_text(&(may_bend * BigRational::from_integer(BigInt::from(100)))) + " %"
}

/// To hundredths, half away from zero.
fn hundredths(value: &BigRational) -> f64 {
    let hundred = BigRational::from_integer(BigInt::from(100));
    let whole = (value * hundred).round().to_integer();
    whole.to_f64().unwrap_or(f64::NAN) / 100.0
}

/// The least `may_bend`, in whole thousandths, that lets a tempo bend so far: `0.013`.
#[must_use]
pub fn may_bend_for(bend: &BigRational) -> String {
    let thousand = BigRational::from_integer(BigInt::from(1000));
    let thousandths = (bend.abs() * thousand).ceil().to_integer();
    let text = format!("{:.3}", thousandths.to_f64().unwrap_or(f64::NAN) / 1000.0);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A bent section: its tempos, and its highest throw before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Bent {
    /// The tempos and the cycles.
    pub bend: Bend,
    /// The highest throw above the hand in metres, at the written tempo and at the bent one;
    /// `None` when nothing is thrown.
    pub highest_m: Option<(f64, f64)>,
}

/// The throws a minute of an entry's own throws; `None` for a pause, on a ramp and where they
/// follow the music.
#[must_use]
pub fn per_minute(timeline: &Timeline, section: usize) -> Option<BigRational> {
    let juggle = timeline.sections.get(section)?.juggle.as_ref()?;
    let first = BeatPosition::from_integer(i64::from(juggle.own_first_beat));
    match &timeline.runs.get(juggle.run)?.tempo.piece_at(first)?.pace {
        Pace::Steady(tempo) => Some(tempo.clone()),
        Pace::Ramp { .. } | Pace::Music { .. } => None,
    }
}

/// What the bend of an entry of the score does; `None` where nothing bends.
#[must_use]
pub fn of_section(timeline: &Timeline, section: usize) -> Option<Bent> {
    let juggle = timeline.sections.get(section)?.juggle.as_ref()?;
    let bend = juggle.bend.clone()?;
    let tempo = &timeline.runs.get(juggle.run)?.tempo;
    let highest_m = highest(timeline, section).and_then(|highest| {
        // What of the flight is at the bent tempo would be longer or shorter by the bend.
        let whole = |beat: u32| BeatPosition::from_integer(i64::from(beat));
        let bent = tempo.piece_at(whole(juggle.own_first_beat))?;
        let caught = highest.action.caught(timeline.dwell)?;
        let from = whole(highest.action.beat.max(bent.first_beat)).min(caught);
        let to = caught.min(whole(bent.first_beat + bent.beats)).max(from);
        let at_bent = tempo.lasts(from, to);
        let as_written = &at_bent * &(&bend.per_minute / &bend.written);
        let before: Seconds = &(&highest.flight - &at_bent) + &as_written;
        Some((above_hand_m(&before), highest.above_hand_m))
    });
    Some(Bent { bend, highest_m })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fraction(numerator: i64, denominator: i64) -> BigRational {
        BigRational::new(BigInt::from(numerator), BigInt::from(denominator))
    }

    #[test]
    fn tempos_and_bends_are_printed_to_hundredths() {
        assert_eq!(tempo_text(&fraction(200, 1)), "200");
        assert_eq!(tempo_text(&fraction(405, 2)), "202.5");
        assert_eq!(tempo_text(&fraction(620, 3)), "206.67");
        assert_eq!(bend_text(&fraction(1, 80)), "+1.25 %");
        assert_eq!(bend_text(&fraction(-1, 30)), "-3.33 %");
        assert_eq!(bend_text(&fraction(-1, 1_000_000)), "0.00 %");
        assert_eq!(may_bend_for(&fraction(-1, 30)), "0.034");
        assert_eq!(may_bend_text(&fraction(3, 100)), "3 %");
        assert_eq!(may_bend_text(&fraction(1, 80)), "1.25 %");
        assert_eq!(may_bend_for(&fraction(1, 50)), "0.02");
    }
}
