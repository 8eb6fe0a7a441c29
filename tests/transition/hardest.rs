//! The hunt for the hardest query: `cargo test --release --test transition hunt -- --ignored
//! --nocapture`. Its finds stand in `benches/transition.rs`.
//!
//! From many random pairs of schedules of 12 props within 20 beats, some packed near and some
//! packed far, each pair is changed step by step (one prop moved to another beat, in the origin or
//! in the goal) as long as the search takes longer for it. Alternating hands, pairs, and both
//! ways between them.

use std::time::{Duration, Instant};

use throwbook::hand::Hand;
use throwbook::notation::Kind;
use throwbook::transition::{Bounds, Entry, Origin, ways_into};

use super::Side;

/// Numbers that look random and are the same in every run (the constants of Knuth's MMIX).
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % sides
    }
}

const PROPS: u8 = 12;
const HIGHEST: usize = 20;

fn random_side(dice: &mut Dice, kind: Kind, at_once: u8) -> Side {
    let mut due = vec![0; HIGHEST];
    let window = 12 + dice.below(9);
    let start = if dice.below(2) == 0 { 0 } else { HIGHEST - window };
    let mut left = PROPS;
    while left > 0 {
        let place = start + dice.below(window);
        if due[place] < at_once {
            due[place] += 1;
            left -= 1;
        }
    }
    Side { kind, due }
}

fn moved(dice: &mut Dice, side: &Side, at_once: u8) -> Side {
    let mut side = side.clone();
    loop {
        let (from, to) = (dice.below(HIGHEST), dice.below(HIGHEST));
        if from != to && side.due[from] > 0 && side.due[to] < at_once {
            side.due[from] -= 1;
            side.due[to] += 1;
            return side;
        }
    }
}

fn time(from: &Side, to: &Side, at_once: u8) -> (Duration, u32, usize) {
    let (schedule, uses) = (from.schedule(), (0, 0));
    let origin = match from.kind {
        Kind::Async => Origin::Alternating { schedule, next: Hand::Right, uses },
        Kind::Sync => Origin::Pairs { schedule, uses },
    };
    let (schedule, preferred) = (to.schedule(), Hand::Right);
    let entry = Entry { kind: to.kind, schedule, uses, lead: None, preferred };
    let bounds = Bounds { highest: 20, at_once, beats: 60 };
    // The least of three: what the machine does beside must not look like a hard query.
    let times = (0..3).map(|_| {
        let start = Instant::now();
        let found = ways_into(&origin, &entry, bounds, 20);
        (start.elapsed(), found.first().map_or(0, |way| way.beats), found.len())
    });
    times.min().unwrap()
}

#[test]
#[expect(clippy::print_stdout, reason = "the hunt prints what it finds")]
#[ignore = "takes minutes and is for a release build"]
fn hunt_for_the_hardest_query() {
    for at_once in [1, 2] {
        for from_kind in [Kind::Async, Kind::Sync] {
            for to_kind in [Kind::Async, Kind::Sync] {
                let mut dice = Dice(12);
                let mut hardest = (Duration::ZERO, 0, 0, String::new());
                for _ in 0..60 {
                    let mut from = random_side(&mut dice, from_kind, at_once);
                    let mut to = random_side(&mut dice, to_kind, at_once);
                    let mut slowest = time(&from, &to, at_once);
                    for _ in 0..120 {
                        let (mut other_from, mut other_to) = (from.clone(), to.clone());
                        match dice.below(2) {
                            0 => other_from = moved(&mut dice, &from, at_once),
                            _ => other_to = moved(&mut dice, &to, at_once),
                        }
                        let other = time(&other_from, &other_to, at_once);
                        if other > slowest {
                            (slowest, from, to) = (other, other_from, other_to);
                        }
                    }
                    if slowest.0 > hardest.0 {
                        let pair = format!("{:?} to {:?}", from.due, to.due);
                        hardest = (slowest.0, slowest.1, slowest.2, pair);
                    }
                }
                let (time, beats, ways, pair) = hardest;
                println!(
                    "{at_once} at once, {from_kind:?} to {to_kind:?}: {time:?}, {beats} beats, \
                     {ways} ways, {pair}"
                );
                assert!(ways > 0);
            }
        }
    }
}
