//! What each hand does: throws, hand-acrosses, holds, empty beats and releases.

use std::collections::BTreeMap;

use crate::hand::Hand;
use crate::notation::{Throw, WrittenThrow};

use super::Pattern;

/// What a written throw amounts to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ActionKind {
    /// In the air: values 3 and up, and thrown 2s.
    Thrown,
    /// Handed across: a 1, or a crossing 2 of a pair.
    HandedAcross,
    /// Held: the prop never leaves the hand.
    Held,
    /// The hand is empty.
    Empty,
}

impl ActionKind {
    /// What a throw amounts to, where an uncrossed 2 is thrown or held.
    #[must_use]
    pub fn of(throw: Throw, twos_are_thrown: bool) -> ActionKind {
        match (throw.value, throw.crossing) {
            (0, _) => ActionKind::Empty,
            (1, _) | (2, true) => ActionKind::HandedAcross,
            (2, false) if !twos_are_thrown => ActionKind::Held,
            _ => ActionKind::Thrown,
        }
    }
}

/// What one hand did over some stretch of beats.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HandCount {
    /// Props thrown: values 3 and up, and thrown 2s; each prop of a multiplex counts.
    pub thrown: u32,
    /// Props handed across: 1s and crossing 2s of a pair.
    pub handed_across: u32,
    /// Props held: 2s.
    pub held: u32,
    /// Beats on which the hand was empty.
    pub empty: u32,
    /// Hand actions that let a prop go: a multiplex is one, a held 2 and a 0 are none.
    pub releases: u32,
    /// How often each throw was made, lowest first; a 0 is left out.
    pub by_value: BTreeMap<Throw, u32>,
}

/// What each hand (left, then right) does in one stretch after which hands and throws repeat: the
/// written cycle or, if that is odd, twice it. Alternating hands are led by the right.
#[must_use]
pub fn counts(pattern: &Pattern) -> [HandCount; 2] {
    let mut counts = [HandCount::default(), HandCount::default()];
    let mut beat = 0;
    while beat < pattern.beats_to_repeat() {
        for step in &pattern.sequence().steps {
            for (hand, throws) in step.by_hand(Hand::Right.after(beat)) {
                counts[hand.index()].add(throws);
            }
            beat += step.beats();
        }
    }
    counts
}

impl HandCount {
    /// Counts what a hand does on one beat; its 2s are held.
    fn add(&mut self, throws: &[WrittenThrow]) {
        let mut releases = 0;
        for throw in throws.iter().map(|written| written.throw) {
            match ActionKind::of(throw, false) {
                ActionKind::Thrown => {
                    self.thrown += 1;
                    releases = 1;
                }
                ActionKind::HandedAcross => {
                    self.handed_across += 1;
                    releases = 1;
                }
                ActionKind::Held => self.held += 1,
                ActionKind::Empty => self.empty += 1,
            }
            if throw.value > 0 {
                *self.by_value.entry(throw).or_default() += 1;
            }
        }
        self.releases += releases;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Thrown, handed across, held, empty, releases: of the left, then of the right.
    fn counted(text: &str) -> [[u32; 5]; 2] {
        let pattern = Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0;
        counts(&pattern)
            .map(|hand| [hand.thrown, hand.handed_across, hand.held, hand.empty, hand.releases])
    }

    #[test]
    fn each_hand_is_counted_until_hands_and_throws_repeat() {
        for (text, left, right) in [
            ("3", [1, 0, 0, 0, 1], [1, 0, 0, 0, 1]),
            // An odd cycle is counted twice, so that both hands have had each throw.
            ("531", [2, 1, 0, 0, 3], [2, 1, 0, 0, 3]),
            // An even one stays uneven: the right has every 5, the left every 1.
            ("51", [0, 1, 0, 0, 1], [1, 0, 0, 0, 1]),
            ("40", [0, 0, 0, 1, 0], [1, 0, 0, 0, 1]),
            // A multiplex is one release, a held 2 is none.
            ("[54]24", [3, 0, 1, 0, 2], [3, 0, 1, 0, 2]),
            ("[32]", [1, 0, 1, 0, 1], [1, 0, 1, 0, 1]),
            ("(4,2x)*", [1, 1, 0, 0, 2], [1, 1, 0, 0, 2]),
            ("(4,2)", [1, 0, 0, 0, 1], [0, 0, 1, 0, 0]),
            ("0", [0, 0, 0, 1, 0], [0, 0, 0, 1, 0]),
        ] {
            assert_eq!(counted(text), [left, right], "{text}");
        }
    }

    #[test]
    fn the_split_by_value_leaves_the_empty_hand_out() {
        let pattern = Pattern::read("(4,2x)(2x,4)").map(|read| read.0);
        let by_value = pattern.map(|pattern| counts(&pattern)[0].by_value.clone());
        let expected = BTreeMap::from([(Throw::straight(4), 1), (Throw::crossing(2), 1)]);
        assert_eq!(by_value, Ok(expected));
        let empty = Pattern::read("0").map(|read| counts(&read.0)[1].by_value.len());
        assert_eq!(empty, Ok(0));
    }
}
