//! Colour effects: what the throws of a pattern can show, whatever colours its props are in.
//!
//! An orbit of n props brings each of them back to the same throw after n cycles, and the others
//! one by one between. So each of its throws shows n colours in turn, and one colour for ever only
//! where one prop goes through the orbit, or all n are alike. Orbits share no prop, so whatever one
//! of them shows, the others are free.
//!
//! Worked: in `531` one prop keeps throw 2; two take throws 1 and 3 in turn, throw 3 showing what
//! throw 1 showed a cycle before.

use super::Pattern;
use super::orbit::Orbit;

/// What a pattern can show by one of its multiplex orders.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Effects {
    /// The numbers of the throws that one prop can keep for itself, ascending.
    pub keeps: Vec<u32>,
    /// The props of each orbit, in the order of the orbits. When every orbit is in one colour, so
    /// that no throw ever changes its colour, there are as many colours as orbits at most.
    pub solid: Vec<u32>,
    /// The cycles after which every throw is made by the same prop again, whichever hand leads;
    /// 1 without props.
    pub comes_round: u64,
}

impl Effects {
    /// What a pattern with these orbits can show.
    #[must_use]
    pub fn of(orbits: &[Orbit]) -> Effects {
        let kept = orbits.iter().filter(|orbit| orbit.props == 1);
        let mut keeps: Vec<u32> = kept.flat_map(|orbit| orbit.numbers.iter().copied()).collect();
        keeps.sort_unstable();
        let solid: Vec<u32> = orbits.iter().map(|orbit| orbit.props).collect();
        // 255 props at most, in whatever orbits, come round after fewer than 2^63 cycles.
        let comes_round = solid.iter().fold(1, |all, &props| common_multiple(all, props.into()));
        Effects { keeps, solid, comes_round }
    }
}

/// Which hand the props of an orbit make one of its throws from, cycle after cycle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HandOfThrow {
    /// The throw always comes from the same hand.
    Fixed,
    /// The throw changes hands from cycle to cycle, and so does every prop that makes it.
    Alternates,
    /// The throw changes hands from cycle to cycle, but a prop always makes it from the same one:
    /// each hand can show colours of its own, half of the props.
    EachItsOwn,
}

impl HandOfThrow {
    /// That of an orbit's throws.
    #[must_use]
    pub fn of(orbit: &Orbit, pattern: &Pattern) -> HandOfThrow {
        match (pattern.beats_to_repeat() == pattern.period(), orbit.props.is_multiple_of(2)) {
            (true, _) => HandOfThrow::Fixed,
            (false, true) => HandOfThrow::EachItsOwn,
            (false, false) => HandOfThrow::Alternates,
        }
    }
}

fn common_multiple(a: u64, b: u64) -> u64 {
    let (mut divisor, mut rest) = (a, b);
    while rest > 0 {
        (divisor, rest) = (rest, divisor % rest);
    }
    a / divisor * b
}

#[cfg(test)]
mod tests {
    use crate::patterns::orbit::orbits;

    use super::*;

    fn pattern(text: &str) -> Pattern {
        Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0
    }

    /// Common practice, no source.
    #[test]
    fn a_throw_keeps_its_prop_where_one_prop_goes_through_its_orbit() {
        let known: [(&str, &[u32], &[u32], u64); 12] = [
            ("531", &[2], &[2, 1], 2),
            ("423", &[3], &[2, 1], 2),
            ("441", &[], &[3], 3),
            ("3", &[], &[3], 3),
            ("51", &[], &[3], 3),
            ("40", &[], &[2], 2),
            ("20", &[1], &[1], 1),
            ("(4,2x)*", &[1, 2, 3, 4], &[1, 1, 1], 1),
            ("[54]24", &[], &[5], 5),
            ("[45]24", &[], &[3, 2], 6),
            ("[43]23", &[2, 4], &[2, 1, 1], 2),
            ("0", &[], &[], 1),
        ];
        for (text, keeps, solid, comes_round) in known {
            let effects = Effects::of(&orbits(&pattern(text), false));
            let found = (&effects.keeps[..], &effects.solid[..], effects.comes_round);
            assert_eq!(found, (keeps, solid, comes_round), "{text}");
        }
    }

    #[test]
    fn a_prop_comes_to_its_throw_from_one_hand_or_from_both() {
        for (text, hands) in [
            ("531", &[HandOfThrow::EachItsOwn, HandOfThrow::Alternates] as &[HandOfThrow]),
            ("441", &[HandOfThrow::Alternates]),
            ("51", &[HandOfThrow::Fixed]),
            ("(4,4)", &[HandOfThrow::Fixed, HandOfThrow::Fixed]),
        ] {
            let pattern = pattern(text);
            let orbits = orbits(&pattern, false);
            let found: Vec<HandOfThrow> =
                orbits.iter().map(|orbit| HandOfThrow::of(orbit, &pattern)).collect();
            assert_eq!(found, hands, "{text}");
        }
    }
}
