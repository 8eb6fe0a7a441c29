//! One pattern explained: what a juggler asks of it before it goes into a routine.
//!
//! Plain contents for the exporters, taken from [`crate::patterns`]. Beats are the pattern's own;
//! arrays over hands hold left, then right.

use crate::diagnostic::{Diagnostic, Place};
use crate::hand::Hand;
use crate::notation::{Fault, Kind};
use crate::patterns::Pattern;
use crate::patterns::effect::{Effects, HandOfThrow};
use crate::patterns::hands::{self, HandCount};
use crate::patterns::orbit::{self, Orbit};

/// What there is to know of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PatternSheet {
    /// The text, as it came.
    pub written: String,
    /// The pattern, as throwbook writes it.
    pub pattern: String,
    /// Alternating hands or pairs.
    pub kind: Kind,
    /// How many props it needs.
    pub props: u32,
    /// Beats of one cycle.
    pub period: u32,
    /// Props due before its first throw: for alternating hands one figure a beat, the right hand's
    /// first; for pairs left and right of each pair. Trailing empty entries are left out.
    pub schedule: Vec<Vec<u8>>,
    /// Whether that schedule is ground; if not, it is excited.
    pub ground: bool,
    /// Props in each hand at a cold start that the right hand leads.
    pub start: [u32; 2],
    /// Props in each hand at a cold start that the left hand leads; `None` for pairs, which have
    /// no lead.
    pub start_led_by_left: Option<[u32; 2]>,
    /// Its orbits, 2s held, greatest first.
    pub orbits: Vec<Orbit>,
    /// Its multiplex orders with what they can show, the written one first: the first of them, at most
    /// [`MOST_ORDERS`], fewer of a long pattern.
    pub multiplex_orders: Vec<MultiplexOrder>,
    /// How many multiplex orders there are; `None`: more than are counted.
    pub multiplex_orders_in_all: Option<u32>,
    /// What each hand does until hands and throws repeat, 2s held.
    pub hands: [HandCount; 2],
    /// The beats after which hands and throws both repeat.
    pub beats_to_repeat: u32,
}

/// The most multiplex orders that a sheet carries.
pub const MOST_ORDERS: usize = 100;

/// All multiplex orders of a sheet together have so many throws at most, the written one apart.
const MOST_THROWS: usize = 20_000;

/// One order in which the values of each multiplex are written, and what it can show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MultiplexOrder {
    /// The pattern so written.
    pub pattern: String,
    /// Its 2s held.
    pub held: Shown,
    /// Its 2s thrown, where that gives other orbits.
    pub thrown: Option<Shown>,
}

/// What the props go through by a multiplex order, and what they can show so. Throws have the numbers of
/// the pattern as it was written first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Greatest first, each with the hand that its throws are made from.
    pub orbits: Vec<(Orbit, HandOfThrow)>,
    /// The colour effects.
    pub effects: Effects,
}

/// Explains a written pattern; beside it stand the reader's questions.
///
/// # Errors
/// Every fault of the text, warnings among them.
pub fn compose(written: &str) -> Result<(PatternSheet, Vec<Fault>), Vec<Fault>> {
    let (pattern, questions) = Pattern::read(written)?;
    Ok((sheet(written, &pattern), questions))
}

fn sheet(written: &str, pattern: &Pattern) -> PatternSheet {
    let schedule = pattern.schedule();
    let kind = pattern.kind();
    let in_hands = |lead| {
        let schedule = pattern.schedule_led_by(lead);
        Hand::BOTH.map(|hand| schedule.in_hand(hand))
    };
    let due = match kind {
        Kind::Async => (0..schedule.span())
            .map(|beat| vec![schedule.due(Hand::Right.after(beat), beat)])
            .collect(),
        Kind::Sync => (0..schedule.span())
            .step_by(2)
            .map(|beat| Hand::BOTH.map(|hand| schedule.due(hand, beat)).to_vec())
            .collect(),
    };
    PatternSheet {
        written: written.to_owned(),
        pattern: pattern.sequence().to_string(),
        kind,
        props: pattern.props(),
        period: pattern.period(),
        schedule: due,
        ground: schedule.is_ground(kind),
        start: in_hands(Hand::Right),
        start_led_by_left: (kind == Kind::Async).then(|| in_hands(Hand::Left)),
        orbits: orbit::orbits(pattern, false),
        multiplex_orders: multiplex_orders(pattern),
        multiplex_orders_in_all: pattern.multiplex_order_count(),
        hands: hands::counts(pattern),
        beats_to_repeat: pattern.beats_to_repeat(),
    }
}

fn multiplex_orders(pattern: &Pattern) -> Vec<MultiplexOrder> {
    let throws = pattern.sequence().throws().count();
    let at_most = MOST_ORDERS.min(MOST_THROWS / throws.max(1));
    let order = |reordered: &Pattern| {
        let [held, thrown] = [false, true].map(|thrown| orbit::orbits(reordered, thrown));
        let thrown = (thrown != held).then(|| shown(reordered, thrown));
        MultiplexOrder {
            pattern: reordered.sequence().to_string(),
            held: shown(reordered, held),
            thrown,
        }
    };
    pattern.multiplex_orders(at_most).iter().map(order).collect()
}

fn shown(pattern: &Pattern, orbits: Vec<Orbit>) -> Shown {
    let effects = Effects::of(&orbits);
    let with_hand = |orbit: Orbit| {
        let hand = HandOfThrow::of(&orbit, pattern);
        (orbit, hand)
    };
    Shown { orbits: orbits.into_iter().map(with_hand).collect(), effects }
}

/// The faults of a text that stands alone, on a command line, as diagnostics on that text.
#[must_use]
pub fn diagnostics(written: &str, faults: &[Fault]) -> Vec<Diagnostic> {
    let mut starts: Vec<usize> = written.char_indices().map(|(start, _)| start).collect();
    starts.push(written.len());
    let byte = |character: usize| starts.get(character).copied().unwrap_or(written.len());
    faults
        .iter()
        .map(|fault| {
            Diagnostic::of_fault(fault, |at| Place { start: byte(at.start), end: byte(at.end) })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn explained(written: &str) -> PatternSheet {
        compose(written).unwrap_or_else(|faults| panic!("{written}: {faults:?}")).0
    }

    #[test]
    fn the_schedule_stands_beat_by_beat_or_pair_by_pair() {
        for (written, schedule, start) in [
            ("531", vec![vec![1], vec![1], vec![1]], [1, 2]),
            ("[54]24", vec![vec![2], vec![1], vec![1], vec![1]], [2, 3]),
            ("51", vec![vec![1], vec![1], vec![0], vec![1]], [2, 1]),
            ("(4,2x)*", vec![vec![1, 1], vec![0, 1]], [1, 2]),
            ("(6,2)(2,6)", vec![vec![1, 1], vec![1, 0], vec![0, 1]], [2, 2]),
            ("00", vec![], [0, 0]),
        ] {
            let sheet = explained(written);
            assert_eq!((sheet.schedule, sheet.start), (schedule, start), "{written}");
        }
    }

    #[test]
    fn a_start_led_by_the_left_has_the_hands_exchanged() {
        assert_eq!(explained("51").start_led_by_left, Some([1, 2]));
        assert_eq!(explained("(4,2x)*").start_led_by_left, None);
    }

    /// Common practice, no source.
    #[test]
    fn a_pattern_of_a_multiplex_and_a_crossing_3_begins_with_two_props_in_each_hand() {
        let sheet = explained("3[43]2");
        assert_eq!((sheet.start, sheet.props), ([2, 2], 4));
        assert_eq!(sheet.orbits.iter().map(|orbit| orbit.props).sum::<u32>(), 4);
    }

    #[test]
    fn a_sheet_carries_every_multiplex_order_of_a_pattern_that_has_few() {
        let sheet = explained("[54]24");
        let multiplex_orders: Vec<_> =
            sheet.multiplex_orders.iter().map(|one| one.pattern.as_str()).collect();
        assert_eq!(
            (multiplex_orders, sheet.multiplex_orders_in_all),
            (vec!["[54]24", "[45]24"], Some(2))
        );
        // A held 2 stands first, a thrown one behind the 4 that was thrown before it.
        let props = |shown: &Shown| shown.effects.solid.clone();
        assert_eq!(props(&sheet.multiplex_orders[0].held), [5]);
        assert_eq!(sheet.multiplex_orders[0].thrown.as_ref().map(props), Some(vec![3, 2]));
        assert_eq!(explained("531").multiplex_orders[0].thrown, None);
    }

    #[test]
    fn a_sheet_of_a_long_pattern_carries_few_multiplex_orders() {
        let sheet = explained(&"[54]24".repeat(1_000));
        assert_eq!((sheet.multiplex_orders.len(), sheet.multiplex_orders_in_all), (5, None));
        assert_eq!(explained(&"3".repeat(20_000)).multiplex_orders.len(), 1);
    }

    #[test]
    fn a_fault_points_at_bytes_of_the_text() {
        let written = "é 5B";
        let Err(faults) = compose(written) else { panic!("a capital letter is no throw") };
        let places: Vec<_> = diagnostics(written, &faults)
            .iter()
            .map(|one| written[one.at.start..one.at.end].to_owned())
            .collect();
        assert_eq!(places, ["é", "B"]);
    }
}
