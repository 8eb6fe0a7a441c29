//! Orbits: the throws that one prop goes through, by the rule of which prop leaves first.

use crate::notation::Throw;

use super::Pattern;

/// The throws that one prop goes through before it makes the first of them again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Orbit {
    /// In the order in which the prop makes them, from their greatest rotation.
    pub throws: Vec<Throw>,
    /// Their numbers in the written cycle, from 1, in the same order.
    pub numbers: Vec<u32>,
    /// How many props go through it: the sum of its values ÷ the cycle's beats.
    pub props: u32,
}

/// The orbits of a pattern whose uncrossed 2s are held, or thrown; greatest first. A 0 belongs to
/// none.
#[must_use]
pub fn orbits(pattern: &Pattern, twos_are_thrown: bool) -> Vec<Orbit> {
    let _ = (pattern, twos_are_thrown);
    todo!()
}
