//! What each hand does: throws, hand-acrosses, holds, empty beats and releases.

use std::collections::BTreeMap;

use crate::notation::Throw;

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
    let _ = pattern;
    todo!()
}
