//! Orbits: the throws that one prop goes through, by the rule of which prop leaves first.

use std::cmp::Reverse;

use crate::notation::Throw;

use super::Pattern;
use super::hands::ActionKind;
use super::landing::{Landings, Toss};

/// The throws that one prop goes through before it makes the first of them again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Orbit {
    /// In the order in which the prop makes them, from their greatest rotation.
    pub throws: Vec<Throw>,
    /// Their numbers in the written cycle, from 1, in the same order.
    pub numbers: Vec<u32>,
    /// The cycles in which a prop makes them, in the same order: 0 is the cycle of the first. It
    /// makes the first again, and begins the same round, in cycle `props`.
    pub cycles: Vec<u32>,
    /// How many props go through it: the sum of its values ÷ the cycle's beats.
    pub props: u32,
}

/// The orbits of a pattern whose uncrossed 2s are held, or thrown; greatest first. A 0 belongs to
/// none.
#[must_use]
pub fn orbits(pattern: &Pattern, twos_are_thrown: bool) -> Vec<Orbit> {
    let landings = Landings::of(pattern.sequence(), pattern.kind());
    let tosses = landings.tosses();
    let next = next_throws(&landings, twos_are_thrown);
    let mut orbits = Vec::new();
    let mut followed = vec![false; tosses.len()];
    for first in 0..tosses.len() {
        let mut path = Vec::new();
        let mut toss = first;
        while tosses[toss].throw.value > 0 && !followed[toss] {
            followed[toss] = true;
            path.push(tosses[toss]);
            toss = next[toss];
        }
        if !path.is_empty() {
            orbits.push(orbit(path, landings.period()));
        }
    }
    orbits.sort_by(|a, b| b.throws.cmp(&a.throws).then_with(|| a.numbers.cmp(&b.numbers)));
    orbits
}

/// For each throw, the throw that its prop makes next; meaningless for a 0.
///
/// In a pattern that has run for ever the standing of the props in a slot needs no looking back:
/// a prop that was held came before every prop that lands on this very beat; several that were
/// held were written in the order in which they stood, so they stand in it still; those that land
/// now stand by the beat on which they were thrown, then as written.
fn next_throws(landings: &Landings, twos_are_thrown: bool) -> Vec<usize> {
    let tosses = landings.tosses();
    let slots = landings.excess().len();
    let mut leaving: Vec<Vec<usize>> = vec![Vec::new(); slots];
    let mut arriving: Vec<Vec<usize>> = vec![Vec::new(); slots];
    for (index, &toss) in tosses.iter().enumerate().filter(|(_, toss)| toss.throw.value > 0) {
        leaving[landings.slot(toss.beat, toss.hand)].push(index);
        arriving[landings.slot(landings.lands_on(toss), landings.lands_in(toss))].push(index);
    }
    let mut next = vec![0; tosses.len()];
    for (leaving, mut arriving) in leaving.into_iter().zip(arriving) {
        arriving.sort_by_key(|&index| {
            let throw = tosses[index].throw;
            let held = ActionKind::of(throw, twos_are_thrown) == ActionKind::Held;
            // The higher value was thrown earlier.
            (!held, Reverse(throw.value), index)
        });
        for (arrived, leaves) in arriving.into_iter().zip(leaving) {
            next[arrived] = leaves;
        }
    }
    next
}

/// One orbit, from its greatest rotation on.
fn orbit(mut path: Vec<Toss>, period: u32) -> Orbit {
    let sum: u32 = path.iter().map(|toss| u32::from(toss.throw.value)).sum();
    let greatest = greatest_rotation(&path);
    path.rotate_left(greatest);
    let mut beat = path[0].beat;
    let mut cycles = Vec::with_capacity(path.len());
    for toss in &path {
        cycles.push(beat / period);
        beat += u32::from(toss.throw.value);
    }
    Orbit {
        throws: path.iter().map(|toss| toss.throw).collect(),
        numbers: path.iter().map(|toss| toss.number).collect(),
        cycles,
        props: sum / period,
    }
}

/// Where the greatest rotation begins; the first place, if there are several. Two candidates are
/// compared throw by throw, and the one that loses skips all that the comparison has ruled out, so
/// the time grows with the length only.
fn greatest_rotation(path: &[Toss]) -> usize {
    let throw = |place: usize| path[place % path.len()].throw;
    let (mut best, mut other, mut same) = (0, 1, 0);
    while other < path.len() && best < path.len() && same < path.len() {
        match throw(best + same).cmp(&throw(other + same)) {
            std::cmp::Ordering::Equal => {
                same += 1;
                continue;
            }
            std::cmp::Ordering::Greater => other += same + 1,
            std::cmp::Ordering::Less => best += same + 1,
        }
        if best == other {
            other += 1;
        }
        same = 0;
    }
    best.min(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each orbit's throws, its numbers and its props.
    fn written(text: &str, twos_are_thrown: bool) -> Vec<String> {
        let pattern = Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0;
        orbits(&pattern, twos_are_thrown)
            .iter()
            .map(|orbit| {
                let throws: Vec<String> = orbit.throws.iter().map(Throw::to_string).collect();
                format!("{} {:?} {}", throws.join(" "), orbit.numbers, orbit.props)
            })
            .collect()
    }

    #[test]
    fn an_orbit_is_what_one_prop_goes_through() {
        for (text, orbits) in [
            ("3", &["3 [1] 3"] as &[&str]),
            ("423", &["4 2 [1, 2] 2", "3 [3] 1"]),
            ("531", &["5 1 [1, 3] 2", "3 [2] 1"]),
            ("441", &["4 4 1 [1, 2, 3] 3"]),
            ("414", &["4 4 1 [3, 1, 2] 3"]),
            ("552", &["5 5 2 [2, 1, 3] 4"]),
            ("255", &["5 5 2 [3, 2, 1] 4"]),
            ("(4,2x)*", &["4 [1] 1", "4 [3] 1", "2x 2x [2, 4] 1"]),
            ("(4,4)(4,0)", &["4 [1] 1", "4 [2] 1", "4 [3] 1"]),
            ("20", &["2 [1] 1"]),
            ("0", &[]),
        ] {
            assert_eq!(written(text, false), orbits, "{text}");
        }
    }

    #[test]
    fn an_orbit_knows_the_cycles_in_which_its_throws_are_made() {
        let known: [(&str, &[&[u32]]); 6] = [
            ("3", &[&[0]]),
            ("531", &[&[0, 1], &[0]]),
            ("441", &[&[0, 1, 2]]),
            ("414", &[&[0, 2, 3]]),
            ("51", &[&[0, 2]]),
            ("(4,2x)*", &[&[0], &[0], &[0, 0]]),
        ];
        for (text, cycles) in known {
            let pattern = Pattern::read(text).unwrap_or_else(|why| panic!("{text}: {why:?}")).0;
            let found: Vec<_> = orbits(&pattern, false).into_iter().map(|one| one.cycles).collect();
            assert_eq!(found, cycles, "{text}");
        }
    }

    #[test]
    fn the_written_order_of_a_multiplex_routes_its_props() {
        for (text, orbits) in [
            ("[54]24", &["5 4 4 2 [1, 4, 2, 3] 5"] as &[&str]),
            ("[45]24", &["5 4 [2, 4] 3", "4 2 [1, 3] 2"]),
            ("[41]3", &["4 [1] 2", "3 1 [3, 2] 2"]),
            ("[14]3", &["4 1 3 [2, 1, 3] 4"]),
        ] {
            let found = written(text, false);
            assert_eq!(found, orbits, "{text}");
        }
    }

    #[test]
    fn a_held_prop_stands_before_those_that_land_beside_it() {
        // Held for ever where the 2 is written first; let go the next time where it is not.
        assert_eq!(written("[23]", false), ["3 [2] 3", "2 [1] 2"]);
        assert_eq!(written("[32]", false), ["3 2 [1, 2] 5"]);
        assert_eq!(written("[22]2", false), ["2 [1] 1", "2 [2] 1", "2 [3] 1"]);
        // A thrown 2 lands like any other throw, and the 3 was thrown before it.
        assert_eq!(written("[23]", true), ["3 2 [2, 1] 5"]);
        assert_eq!(written("[32]", true), ["3 [1] 3", "2 [2] 2"]);
    }
}
