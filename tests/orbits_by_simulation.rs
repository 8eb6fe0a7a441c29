//! Orbits against labelled props: a cold start, thrown prop by prop for many cycles by the rule of
//! which prop leaves first. A prop at rest since the cold start stands before one that was held
//! meanwhile, so the first throws may go otherwise than they do for ever after: they are left out.

use std::collections::{BTreeMap, VecDeque};

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::patterns::Pattern;
use throwbook::patterns::hands::ActionKind;
use throwbook::patterns::orbit::orbits;
use throwbook::patterns::routing::Standing;

mod random_pattern;

/// A prop in flight or held: its label, where and when it is due, and how it stands there.
struct Due {
    prop: usize,
    hand: Hand,
    beat: u32,
    standing: Standing,
}

/// For each prop, the numbers of the throws that it makes, in order, once every prop that was at
/// rest has been thrown.
fn histories(pattern: &Pattern, twos_are_thrown: bool, beats: u32) -> Vec<Vec<u32>> {
    let mut label = 0;
    let mut at_rest = Hand::BOTH.map(|hand| {
        let props = pattern.schedule().in_hand(hand);
        let labels = label..label + props as usize;
        label = labels.end;
        labels.collect::<VecDeque<usize>>()
    });
    let mut histories = vec![Vec::new(); label];
    let mut called = [0_u32; 2];
    let mut waiting: Vec<Due> = Vec::new();
    let mut beat = 0;
    while beat < beats {
        for step in &pattern.sequence().steps {
            let mut thrown = Vec::new();
            let mut place = 0;
            for (hand, throws) in step.by_hand(Hand::Right.after(beat)) {
                let props = throws.iter().filter(|one| one.throw.value > 0).count();
                let (mut here, others): (Vec<Due>, Vec<Due>) =
                    waiting.into_iter().partition(|due| due.beat == beat && due.hand == hand);
                waiting = others;
                while here.len() < props {
                    let prop = at_rest[hand.index()].pop_front().expect("a prop is at rest");
                    let standing = Standing::at_rest(called[hand.index()]);
                    called[hand.index()] += 1;
                    here.push(Due { prop, hand, beat, standing });
                }
                assert_eq!(here.len(), props, "beat {beat}");
                here.sort_by_key(|due| due.standing);
                for (due, written) in here.into_iter().zip(throws) {
                    if beat >= pattern.schedule().span() {
                        histories[due.prop].push(written.number);
                    }
                    let throw = written.throw;
                    let lands = beat + u32::from(throw.value);
                    let held = ActionKind::of(throw, twos_are_thrown) == ActionKind::Held;
                    let fresh = Standing {
                        came: i64::from(lands),
                        thrown: i64::from(beat),
                        written: place,
                    };
                    place += 1;
                    thrown.push(Due {
                        prop: due.prop,
                        hand: throw.to(hand, step.kind()),
                        beat: lands,
                        standing: if held { due.standing } else { fresh },
                    });
                }
            }
            waiting.extend(thrown);
            beat += step.beats();
        }
    }
    histories
}

fn orbits_are_what_labelled_props_go_through(text: &str) {
    let pattern = Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0;
    for twos_are_thrown in [false, true] {
        let orbits = orbits(&pattern, twos_are_thrown);
        let mut next = BTreeMap::new();
        let mut orbit_of = BTreeMap::new();
        for (index, orbit) in orbits.iter().enumerate() {
            for (place, &number) in orbit.numbers.iter().enumerate() {
                next.insert(number, orbit.numbers[(place + 1) % orbit.numbers.len()]);
                assert_eq!(orbit_of.insert(number, index), None, "{text}: throw {number}");
            }
        }
        let mut props = vec![0; orbits.len()];
        let histories = histories(&pattern, twos_are_thrown, 40 * pattern.period().max(4));
        for history in &histories {
            for pair in history.windows(2) {
                assert_eq!(next.get(&pair[0]), Some(&pair[1]), "{text}: {history:?}");
            }
            props[orbit_of[&history[0]]] += 1;
        }
        let expected: Vec<u32> = orbits.iter().map(|orbit| orbit.props).collect();
        assert_eq!(props, expected, "{text}, 2s thrown: {twos_are_thrown}");
    }
}

#[test]
fn known_patterns_route_their_props_as_labelled_props_go() {
    for text in [
        "3",
        "423",
        "531",
        "441",
        "552",
        "[54]24",
        "[45]24",
        "[41]3",
        "[14]3",
        "[32]",
        "[23]",
        "[22]2",
        "[24]",
        "[42]",
        "[222]",
        "[322]",
        "[232]",
        "[223]",
        "2",
        "0",
        "[43]23",
        "24[54]",
        "(4,2x)*",
        "([44],2)",
        "([24],2)(2,2)",
        "([4x2],2x)",
        "([22],[22])",
        "([2x4],2x)*",
    ] {
        orbits_are_what_labelled_props_go_through(text);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..Default::default() })]

    #[test]
    fn any_pattern_routes_its_props_as_labelled_props_go(text in random_pattern::any_pattern()) {
        orbits_are_what_labelled_props_go_through(&text);
    }
}
