//! Which prop is where, against a simulation of its own: every prop carries where it is and when
//! it came there, and each beat asks them all.

use std::cmp::Reverse;

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::notation::Step;
use throwbook::patterns::hands::ActionKind;
use throwbook::time::BeatPosition;
use throwbook::timeline::{Prop, Run, Timeline};

use super::compiled;
use super::written::{Written, score};

/// A prop and all that the rule of which prop leaves first asks of it.
#[derive(Clone, Debug)]
struct Simulated {
    hand: Hand,
    due: u32,
    /// The beat on which it came due in this hand, and the beat and order of its throw; `None`
    /// while it rests since the cold start.
    came: Option<(u32, u32, usize)>,
    /// Its place in the hand at the cold start, counted from the one that leaves first.
    rested: usize,
    /// Where it was last caught.
    caught: Option<BeatPosition>,
}

/// The beats at which hands wait in a run, each with its hand: found from what each section's
/// transition is and where its throws stand.
fn waits(timeline: &Timeline, run: &Run) -> Vec<(u32, Hand)> {
    let mut waits = Vec::new();
    for section in &timeline.sections[run.sections.clone()] {
        let span = section.juggle.as_ref().unwrap();
        let Some(taken) = &span.transition else { continue };
        let Some(hand) = taken.waits else { continue };
        // Between two notations the throws are those of the first, then of the second.
        let changes_from_pairs = span.lead.is_some();
        let before: u32 = taken
            .throws
            .steps
            .iter()
            .take_while(|step| matches!(step, Step::Pair(_)) == changes_from_pairs)
            .map(Step::beats)
            .sum();
        waits.push((span.first_beat + before, hand));
    }
    waits
}

/// Follows a run from its loading and says where its timeline differs.
fn follow(timeline: &Timeline, run: &Run) {
    let props = run.colours.len();
    let mut all: Vec<Option<Simulated>> = vec![None; props];
    // At rest each prop is due where the run's first calls for its hand come.
    let mut waits = waits(timeline, run);
    waits.reverse();
    let mut rest: Vec<Vec<Prop>> =
        Hand::BOTH.iter().map(|&hand| run.loading.in_hand(hand).to_vec()).collect();
    let mut index = 0;
    while index < run.actions.len() {
        let (beat, hand) = (run.actions[index].beat, run.actions[index].hand);
        while let Some(&(at, waiting)) = waits.last()
            && at <= beat
        {
            for prop in all.iter_mut().flatten().filter(|prop| prop.hand == waiting) {
                if prop.due >= at {
                    if let Some(came) = &mut prop.came
                        && came.0 == prop.due
                    {
                        came.0 += 1;
                    }
                    prop.due += 1;
                }
            }
            waits.pop();
        }
        let here = run.actions[index..]
            .iter()
            .take_while(|action| (action.beat, action.hand) == (beat, hand))
            .count();
        let actions = &run.actions[index..index + here];
        let wanted = actions.iter().filter(|action| action.throw.value > 0).count();
        let due = |all: &[Option<Simulated>]| -> Vec<usize> {
            let due = |prop: &Option<Simulated>| {
                prop.as_ref().is_some_and(|prop| prop.hand == hand && prop.due == beat)
            };
            (0..props).filter(|&prop| due(&all[prop])).collect()
        };
        // What has not landed comes from rest, in the order of leaving.
        while due(&all).len() < wanted {
            let old = run.loading.in_hand(hand).len() - rest[hand.index()].len();
            let prop = rest[hand.index()].remove(0);
            all[usize::from(prop.0)] =
                Some(Simulated { hand, due: beat, came: None, rested: old, caught: None });
        }
        let mut standing = due(&all);
        assert_eq!(standing.len(), wanted, "beat {beat}");
        standing.sort_by_key(|&prop| {
            let prop = all[prop].as_ref().unwrap();
            match prop.came {
                None => (0, 0, 0, prop.rested),
                Some((came, thrown, order)) => (1, came, thrown, order),
            }
        });
        let mut standing = standing.into_iter();
        // The order of a throw on its beat: the left hand's before the right's.
        let first_of_beat = run.actions.iter().position(|action| action.beat == beat).unwrap();
        for (place, action) in actions.iter().enumerate() {
            let taken = if action.throw.value == 0 { None } else { standing.next() };
            assert_eq!(
                action.prop.map(|prop| usize::from(prop.0)),
                taken,
                "beat {beat}: {action:?}"
            );
            let Some(taken) = taken else { continue };
            let prop = all[taken].as_mut().unwrap();
            prop.hand = action.to;
            prop.due = beat + u32::from(action.throw.value);
            if action.kind != ActionKind::Held {
                prop.came = Some((prop.due, beat, index + place - first_of_beat));
                prop.caught = action.caught(timeline.dwell);
            }
        }
        index += here;
    }
    for hand in Hand::BOTH {
        let mut held = Vec::new();
        for (prop, simulated) in all.iter().enumerate() {
            let Some(simulated) = simulated.as_ref().filter(|prop| prop.hand == hand) else {
                continue;
            };
            let order = match simulated.came {
                None => vec![simulated.rested],
                Some((came, thrown, order)) => vec![came as usize, thrown as usize, order],
            };
            held.push((simulated.caught.is_none(), Reverse(simulated.caught), order, prop));
        }
        held.sort();
        let mut expected: Vec<Prop> =
            held.iter().map(|&(.., prop)| Prop(u8::try_from(prop).unwrap())).collect();
        expected.extend(&rest[hand.index()]);
        assert_eq!(run.gather.hands.in_hand(hand), expected, "{hand} hand at the gather");
    }
}

const PATTERNS: [(u32, &[&str]); 3] = [
    (3, &["3", "531", "441", "423", "51", "(4,2x)*", "(4,2x)(2x,4)", "[32]1", "52512", "(2,4)"]),
    (4, &["4", "534", "552", "71", "(4,4)", "[43]23", "[41]3", "[14]3", "(6x,2x)*", "(4x,4x)"]),
    (
        5,
        &[
            "5",
            "744",
            "[54]24",
            "[45]24",
            "66661",
            "91",
            "(6x,4)*",
            "([44],2)",
            "([4x4],2)(2,[44x])",
        ],
    ),
];

fn act() -> impl Strategy<Value = Written> {
    let section = (0_usize..10, 1_u32..4, prop::bool::weighted(0.15), any::<bool>());
    (0..PATTERNS.len(), prop::collection::vec(section, 1..6)).prop_map(|(props, sections)| {
        let (props, patterns) = PATTERNS[props];
        let mut written = Vec::new();
        for (number, (pattern, cycles, pause, thrown)) in sections.into_iter().enumerate() {
            if pause {
                written.push(format!("Pause(name: \"p{number}\", lasts: For(\"0:02\"))"));
            }
            let set = if number == 0 { format!("set: \"{props}\", ") } else { String::new() };
            let twos = if thrown { "Thrown" } else { "Held" };
            written.push(format!(
                "Juggle(name: \"s{number}\", {set}pattern: \"{}\", lasts: Cycles({cycles}), \
                 transition: Auto, twos: {twos})",
                patterns[pattern % patterns.len()]
            ));
        }
        Written {
            transitions: "Within(highest: 9, at_once: 2, beats: 12)",
            ..score(&written.join(",\n"))
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_prop_is_where_an_independent_simulation_has_it(written in act()) {
        let opened = written.open();
        // A join that the bounds do not allow says so; nothing else may be wrong.
        for diagnostic in &opened.diagnostics {
            prop_assert_eq!(diagnostic.code, "no-transition", "{}", &diagnostic.message);
        }
        if let Some(timeline) = &opened.timeline {
            for run in &timeline.runs {
                follow(timeline, run);
            }
        }
    }
}

#[test]
fn the_shipped_acts_are_where_the_simulation_has_them() {
    for text in [
        include_str!("../../routines/night-ferry.ron"),
        include_str!("../../routines/paper-boats.ron"),
        include_str!("../../routines/salt-flat.ron"),
    ] {
        let timeline = throwbook::open(text).timeline.unwrap();
        assert!(!timeline.runs.is_empty());
        timeline.runs.iter().for_each(|run| follow(&timeline, run));
    }
}

#[test]
fn a_wait_moves_every_prop_of_its_hand_and_none_is_caught_later_for_it() {
    let (_, timeline) = compiled(&score(
        "Juggle(name: \"a\", set: \"4\", pattern: \"4\", lasts: Cycles(8)), \
         Juggle(name: \"b\", pattern: \"(4,4)\", lasts: Cycles(4)), \
         Pause(name: \"p\", lasts: For(\"0:01\"))",
    ));
    let run = &timeline.runs[0];
    let late: Vec<_> = run
        .actions
        .iter()
        .filter(|action| {
            action.beat < 8 && action.due > action.beat + u32::from(action.throw.value)
        })
        .collect();
    // The right hand was due on beat 8: its throws of beats 4 and 6 come one beat later.
    assert_eq!(late.iter().map(|action| action.beat).collect::<Vec<_>>(), [4, 6]);
    for action in late {
        assert_eq!(action.hand, Hand::Right);
        assert_eq!(action.due, action.beat + 5);
        let caught = action.caught(timeline.dwell).unwrap();
        assert_eq!(caught, BeatPosition::new(3 * i64::from(action.beat) + 8, 3));
    }
}
