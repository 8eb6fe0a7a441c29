//! Scores made at random: patterns of 3, 4 and 5 props in both notations, pauses between.

use std::fmt::Write;

use proptest::prelude::*;

use crate::written::{Written, score};

const THREE: [&str; 12] = [
    "3",
    "51",
    "441",
    "531",
    "423",
    "42",
    "522",
    "[23]1",
    "5520",
    "(4,2x)*",
    "(4,2x)(2x,4)",
    "(4x,2x)",
];
const FOUR: [&str; 12] = [
    "4",
    "53",
    "71",
    "633",
    "552",
    "[43]23",
    "[43]41",
    "(4,4)",
    "(4x,4x)",
    "(6x,2x)*",
    "(6,2)*",
    "([42],2)*",
];
const FIVE: [&str; 11] = [
    "5",
    "744",
    "66661",
    "[54]24",
    "[45]24",
    "726",
    "753",
    "(6,4x)*",
    "(6x,4)*",
    "([44x],2)*",
    "([4x4],2)*",
];

#[test]
fn the_patterns_of_each_list_have_its_number_of_props() {
    for (props, list) in [(3, &THREE[..]), (4, &FOUR), (5, &FIVE)] {
        for text in list {
            let read = throwbook::patterns::Pattern::read(text);
            let pattern = read.unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0;
            assert_eq!(pattern.props(), props, "{text}");
        }
    }
}

/// One section, or a pause.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub(crate) pattern: &'static str,
    pub(crate) cycles: u32,
    /// Beats less than the cycles, as far as that leaves any (an even number in pairs).
    pub(crate) cut: u32,
    pub(crate) twos_thrown: bool,
    pub(crate) pause_before: bool,
}

fn entry(patterns: &'static [&'static str]) -> impl Strategy<Value = Entry> {
    let cut = prop_oneof![3 => Just(0_u32), 1 => 0_u32..3];
    (0..patterns.len(), 1_u32..5, cut, prop::bool::weighted(0.2), prop::bool::weighted(0.3))
        .prop_map(|(pattern, cycles, cut, twos_thrown, pause_before)| Entry {
            pattern: patterns[pattern],
            cycles,
            cut,
            twos_thrown,
            pause_before,
        })
}

/// A routine of one set. All its transitions are `Auto`.
#[derive(Clone, Debug)]
pub(crate) struct RandomScore {
    pub(crate) set: u32,
    pub(crate) left_leads: bool,
    pub(crate) dwell: &'static str,
    pub(crate) entries: Vec<Entry>,
}

pub(crate) fn random_score() -> impl Strategy<Value = RandomScore> {
    let entries = prop_oneof![
        prop::collection::vec(entry(&THREE), 1..5).prop_map(|entries| (3, entries)),
        prop::collection::vec(entry(&FOUR), 1..5).prop_map(|entries| (4, entries)),
        prop::collection::vec(entry(&FIVE), 1..5).prop_map(|entries| (5, entries)),
    ];
    let dwell = prop::sample::select(vec!["0.5", "0.62", "0.75", "0.9"]);
    (entries, any::<bool>(), dwell).prop_map(|((set, entries), left_leads, dwell)| RandomScore {
        set,
        left_leads,
        dwell,
        entries,
    })
}

impl RandomScore {
    /// The routine, with what `transition` says of the section of that place among the juggled.
    pub(crate) fn written_with(&self, transition: impl Fn(usize) -> String) -> Written {
        let mut text = String::new();
        for (index, entry) in self.entries.iter().enumerate() {
            if entry.pause_before {
                let _ = writeln!(text, "Pause(name: \"p{index}\", lasts: For(\"0:05\")),");
            }
            let period = throwbook::patterns::Pattern::read(entry.pattern).unwrap().0.period();
            let most = entry.cycles * period;
            let pairs = entry.pattern.contains('(');
            let cut = if pairs { entry.cut / 2 * 2 } else { entry.cut };
            let beats = if cut < most { most - cut } else { most };
            let _ = writeln!(
                text,
                "Juggle(name: \"s{index}\", set: \"{}\", pattern: \"{}\", lasts: Beats({beats}), \
                 twos: {}, transition: {}),",
                self.set,
                entry.pattern,
                if entry.twos_thrown { "Thrown" } else { "Held" },
                transition(index),
            );
        }
        Written {
            lead: if self.left_leads { "Left" } else { "Right" },
            dwell: Some(self.dwell.to_owned()),
            ..score(&text)
        }
    }

    /// All transitions `Auto`.
    pub(crate) fn written(&self) -> Written {
        self.written_with(|_| "Auto".to_owned())
    }
}

#[test]
fn most_of_the_random_routines_compile() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let compiled = (0..100)
        .filter(|_| {
            let random = random_score().new_tree(&mut runner).unwrap().current();
            random.written().open().finished().is_some()
        })
        .count();
    assert!(compiled >= 80, "only {compiled} of 100");
}
