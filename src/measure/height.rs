//! Heights: how high a throw goes above the hand, and the clear height that it needs.
//!
//! An estimate, and sheets say so: air and the height difference between throw and catch play no
//! part. Units: metres, flight in seconds; [`metres_and_feet`] prints both.

use crate::act::Act;
use crate::patterns::hands::ActionKind;
use crate::routine::Room;
use crate::time::{BeatPosition, Seconds};
use crate::timeline::{Action, Run, Timeline};

use super::counts::actions_of;

/// Standard gravity in m/s² (3rd CGPM, 1901).
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// Metres in a foot (the international foot of 1959, exact).
const METRES_IN_A_FOOT: f64 = 0.3048;

/// The highest throw of a section.
#[derive(Clone, Debug, PartialEq)]
pub struct Highest {
    /// The first throw that flies longest.
    pub action: Action,
    /// How long it flies.
    pub flight: Seconds,
    /// How high above the hand.
    pub above_hand_m: f64,
}

/// How high above the hand a prop goes that flies for so long.
///
/// h = g·F²/8: g standard gravity, F the flight in seconds, caught at the height of the throw.
/// Worked: 1 s in the air is 1.2258 m.
#[must_use]
pub fn above_hand_m(flight: &Seconds) -> f64 {
    let flight = flight.to_f64();
    STANDARD_GRAVITY * flight * flight / 8.0
}

/// The clear height that a throw needs: hand height, height above the hand, and half the prop's
/// length.
#[must_use]
pub fn clear_height_m(room: &Room, above_hand_m: f64, prop_length_m: f64) -> f64 {
    room.hands_at + above_hand_m + prop_length_m / 2.0
}

/// The longest flight of an entry of the score, transition included, hand-acrosses left out.
/// `None` for a pause and where nothing is thrown.
#[must_use]
pub fn highest(timeline: &Timeline, section: usize) -> Option<Highest> {
    highest_of(timeline, section, |_| true)
}

/// The same, of some of its throws only.
#[must_use]
pub fn highest_of(
    timeline: &Timeline,
    section: usize,
    of: impl Fn(&Action) -> bool,
) -> Option<Highest> {
    let juggle = timeline.sections.get(section)?.juggle.as_ref()?;
    let run = timeline.runs.get(juggle.run)?;
    let mut best: Option<(f64, Action)> = None;
    for action in actions_of(timeline, section)? {
        if action.kind != ActionKind::Thrown || !of(action) {
            continue;
        }
        let about = about_s(run, action, action.caught(timeline.dwell)?);
        if best.is_none_or(|(longest, _)| about > longest + SAME_FLIGHT_S) {
            best = Some((about, *action));
        }
    }
    let (_, action) = best?;
    let flight = run.tempo.lasts(i64::from(action.beat).into(), action.caught(timeline.dwell)?);
    let above_hand_m = above_hand_m(&flight);
    Some(Highest { action, flight, above_hand_m })
}

/// Whether it is known how long the throws of a section fly.
#[must_use]
pub fn flights_known(act: &Act, index: usize) -> bool {
    let Act { routine, timeline, .. } = act;
    let juggle = timeline.sections.get(index).and_then(|span| span.juggle.as_ref());
    juggle.is_some_and(|juggle| {
        let run = timeline.runs.get(juggle.run);
        juggle.pace_known
            && !routine.hidden.dwell
            && run.is_some_and(|run| lands_at_known_pace(act, index, run))
    })
}

/// Whether it is known how fast it goes where a section's last throws land: in the next section.
fn lands_at_known_pace(act: &Act, index: usize, run: &Run) -> bool {
    let next = index + 1;
    if next < run.sections.end {
        let next = act.timeline.sections.get(next).and_then(|span| span.juggle.as_ref());
        return next.is_none_or(|next| next.pace_known);
    }
    let unread = act.routine.score.get(next).and_then(|next| next.unread());
    // At a tempo of its own what could not be read lets them fly longer, or shorter.
    let changes_tempo = unread.is_some_and(|one| one.tempo.is_some() || one.hides_tempo);
    !(run.breaks_off && changes_tempo)
}

/// Flights that differ by less are the same flight, of which the first counts: far below what a
/// ramp is judged to, far above what floating point loses in a day.
const SAME_FLIGHT_S: f64 = 1e-7;

/// How long a throw flies, in floating point: to find the longest among many.
fn about_s(run: &Run, action: &Action, caught: BeatPosition) -> f64 {
    run.tempo.about(caught) - run.tempo.at_f64(f64::from(action.beat))
}

/// A height in metres with feet beside it, as in `1.23 m (4.0 ft)`.
#[must_use]
pub fn metres_and_feet(metres: f64) -> String {
    format!("{metres:.2} m ({:.1} ft)", metres / METRES_IN_A_FOOT)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Place, Placed};
    use crate::hand::Hand;
    use crate::measure::by_hand::alternating;

    #[test]
    fn a_height_follows_from_the_time_in_the_air() {
        // Source: g of the 3rd CGPM (1901), h = g·t²/8; see the file's own column.
        let mut rows = csv::Reader::from_path("tests/data/ballistics.csv").unwrap();
        let mut checked = 0;
        for row in rows.records() {
            let row = row.unwrap();
            let number = |column: usize| row[column].parse::<f64>().unwrap();
            let height = above_hand_m(&Seconds::decimal(number(0)).unwrap());
            assert!((height - number(1)).abs() <= number(2), "{row:?}: {height}");
            checked += 1;
        }
        assert_eq!(checked, 3);
    }

    #[test]
    fn the_highest_throw_is_the_longest_flight_and_never_a_hand_across() {
        let timeline = alternating("531", Hand::Right, 60);
        let highest = highest(&timeline, 0).unwrap();
        assert_eq!(highest.action.throw.value, 5);
        assert_eq!(highest.flight, Seconds::fraction(11, 3));
        // With a long dwell a 1 is in flight for longer than a thrown 2: still the 2.
        let mut timeline = alternating("2111", Hand::Right, 60);
        timeline.dwell = num_rational::Ratio::new(9, 10);
        timeline.runs[0].actions[0].kind = ActionKind::Thrown;
        assert_eq!(super::highest(&timeline, 0).unwrap().action.throw.value, 2);
        assert_eq!(super::highest(&alternating("11", Hand::Right, 60), 0), None);
    }

    #[test]
    fn the_clear_height_adds_the_hands_and_half_a_prop() {
        let at = Place::default();
        let room = Room { clear_height: Placed { value: 4.5, at }, hands_at: 1.0, margin: 0.0 };
        assert!((clear_height_m(&room, 1.5, 0.52) - 2.76).abs() < 1e-12);
        assert_eq!(metres_and_feet(2.76), "2.76 m (9.1 ft)");
    }
}
