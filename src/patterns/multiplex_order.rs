//! The multiplex orders of a pattern, or of other throws: the multiplexes with their values written
//! in other orders.
//!
//! The written order says which prop leaves with which value ([`super::standing`]), so `[54]24` and
//! `[45]24` are thrown alike and carry colours otherwise. Equal values stay as they are; both
//! halves of a starred pattern change together.

use crate::hand::Hand;
use crate::notation::{Sequence, Step, Throw, WrittenThrow};

use super::Pattern;

/// More multiplex orders than this are not counted.
const MOST_COUNTED: u32 = 1_000_000;

impl Pattern {
    /// The pattern with the values of its multiplexes in every order that differs: as written
    /// first, then from all highest first to all lowest first, the last multiplex changing
    /// fastest. At most so many (and at least the one that is written).
    ///
    /// Each throw keeps the `number` and the place `at` that it was written with, whatever its
    /// place in its multiplex: in the multiplex order `[45]24` of `[54]24` the 4 is still throw 2 and
    /// stands first. Of equal values the one with the lower number stays first. Props, period and
    /// schedule are the same in all of them.
    #[must_use]
    pub fn multiplex_orders(&self, at_most: usize) -> Vec<Pattern> {
        let others = self.sequence().other_multiplex_orders(at_most.saturating_sub(1));
        let others = others.into_iter().map(|order| self.with_steps(order.steps));
        std::iter::once(self.clone()).chain(others).collect()
    }

    /// How many multiplex orders there are; `None`: more than a million.
    #[must_use]
    pub fn multiplex_order_count(&self) -> Option<u32> {
        let hands = written_steps(self.sequence()).iter().flat_map(hands_of);
        hands.map(throws_of).try_fold(1, |count: u32, mut throws| {
            throws.sort_unstable();
            let mut count = u64::from(count);
            // Of so many throws, of which so many are equal: one more throw in front multiplies
            // the orders by the throws and divides them by the equals.
            let (mut placed, mut equal) = (0_u64, 0_u64);
            for (place, throw) in throws.iter().enumerate() {
                placed += 1;
                equal = if place > 0 && throws[place - 1] == *throw { equal + 1 } else { 1 };
                count = count * placed / equal;
                if count > u64::from(MOST_COUNTED) {
                    return None;
                }
            }
            u32::try_from(count).ok()
        })
    }
}

impl Sequence {
    /// These throws with the values of the multiplexes in every other order that differs, as
    /// [`Pattern::multiplex_orders`]; at most so many.
    #[must_use]
    pub fn other_multiplex_orders(&self, at_most: usize) -> Vec<Sequence> {
        let half = written_steps(self);
        let mut orders: Vec<Vec<Throw>> = half.iter().flat_map(hands_of).map(throws_of).collect();
        let as_written = orders.clone();
        for order in &mut orders {
            order.sort_unstable_by(|a, b| b.cmp(a));
        }
        let mut others = Vec::new();
        while others.len() < at_most {
            if orders != as_written {
                others.push(Sequence { steps: reordered(self, &orders), ..*self });
            }
            if !orders.iter_mut().rev().any(|order| next_lower(order)) {
                break;
            }
        }
        others
    }
}

/// The steps that stand in the text: half of those of a starred sequence.
fn written_steps(sequence: &Sequence) -> &[Step] {
    let written = sequence.steps.len() / if sequence.starred { 2 } else { 1 };
    &sequence.steps[..written]
}

/// What each hand throws at once, left before right.
fn hands_of(step: &Step) -> impl Iterator<Item = &[WrittenThrow]> {
    step.by_hand(Hand::Right).map(|(_, throws)| throws)
}

fn throws_of(written: &[WrittenThrow]) -> Vec<Throw> {
    written.iter().map(|one| one.throw).collect()
}

/// The next order of the same throws, from highest first to lowest first; after the last it begins
/// again with the first and says so with `false`.
fn next_lower(order: &mut [Throw]) -> bool {
    let Some(change) = (1..order.len()).rev().find(|&place| order[place - 1] > order[place]) else {
        order.reverse();
        return false;
    };
    let lower = (change..order.len()).rev().find(|&place| order[place] < order[change - 1]);
    order.swap(change - 1, lower.unwrap_or(change));
    order[change..].reverse();
    true
}

/// The sequence with the throws of each hand in these orders, hand by hand of the written steps.
fn reordered(sequence: &Sequence, orders: &[Vec<Throw>]) -> Vec<Step> {
    let half = written_steps(sequence).len();
    let mut steps = sequence.steps.clone();
    let (first, second) = steps.split_at_mut(half);
    let mut orders = orders.iter();
    for (place, step) in first.iter_mut().enumerate() {
        match step {
            Step::Alternating(throws) => {
                if let Some(order) = orders.next() {
                    reorder(throws, order);
                }
            }
            Step::Pair(hands) => {
                for hand in Hand::BOTH {
                    let Some(order) = orders.next() else { continue };
                    reorder(&mut hands[hand.index()], order);
                    if let Some(Step::Pair(mirrored)) = second.get_mut(place) {
                        reorder(&mut mirrored[hand.other().index()], order);
                    }
                }
            }
        }
    }
    steps
}

/// Puts the throws of one hand into this order, equal ones in the order of their numbers.
fn reorder(throws: &mut Vec<WrittenThrow>, order: &[Throw]) {
    let mut left = std::mem::take(throws);
    left.sort_by_key(|written| written.number);
    for &throw in order {
        if let Some(place) = left.iter().position(|written| written.throw == throw) {
            throws.push(left.remove(place));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pattern(text: &str) -> Pattern {
        Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0
    }

    /// Every multiplex order as text.
    fn multiplex_orders(text: &str, at_most: usize) -> Vec<String> {
        let multiplex_orders = pattern(text).multiplex_orders(at_most);
        multiplex_orders.iter().map(|order| order.sequence().to_string()).collect()
    }

    #[test]
    fn the_values_of_each_multiplex_stand_in_every_order() {
        for (text, expected) in [
            ("531", &["531"] as &[&str]),
            ("0", &["0"]),
            ("[33]", &["[33]"]),
            ("[54]24", &["[54]24", "[45]24"]),
            ("[45]24", &["[45]24", "[54]24"]),
            ("[345]", &["[345]", "[543]", "[534]", "[453]", "[435]", "[354]"]),
            ("[334]", &["[334]", "[433]", "[343]"]),
            ("[53][31]", &["[53][31]", "[53][13]", "[35][31]", "[35][13]"]),
            ("([24],2)(2,2)", &["([24],2)(2,2)", "([42],2)(2,2)"]),
            ("([2x4],2x)*", &["([2x4],2x)*", "([42x],2x)*"]),
        ] {
            assert_eq!(multiplex_orders(text, 100), expected, "{text}");
            assert_eq!(
                pattern(text).multiplex_order_count(),
                Some(expected.len() as u32),
                "{text}"
            );
        }
    }

    #[test]
    fn numbers_and_places_stay_with_their_throws() {
        let numbered = |pattern: &Pattern| -> Vec<String> {
            let throws = pattern.sequence().throws();
            throws.map(|one| format!("{} {} {:?}", one.number, one.throw, one.at)).collect()
        };
        let [_, other] = &pattern("[54]24").multiplex_orders(9)[..] else { panic!("two orders") };
        assert_eq!(numbered(other), ["2 4 2..3", "1 5 1..2", "3 2 4..5", "4 4 5..6"]);
        // The second half of a starred pattern changes with the first, in the other hand.
        let [_, other] = &pattern("([2x4],2x)*").multiplex_orders(9)[..] else {
            panic!("two orders")
        };
        let numbers: Vec<u32> = other.sequence().throws().map(|one| one.number).collect();
        assert_eq!(numbers, [2, 1, 3, 6, 5, 4]);
    }

    #[test]
    fn multiplex_orders_are_bounded_and_counted_without_being_made() {
        let many = "[987654321]".to_owned() + &"[987654321]".repeat(8);
        assert_eq!(multiplex_orders(&many, 7).len(), 7);
        assert_eq!(pattern(&many).multiplex_order_count(), None);
        assert_eq!(pattern("[987654321]").multiplex_order_count(), Some(362_880));
        assert_eq!(multiplex_orders("[54]24", 0), ["[54]24"]);
    }
}
