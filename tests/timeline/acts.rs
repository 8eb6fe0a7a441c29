//! Random acts: sections of some patterns for the same number of props, joined and started cold in
//! every way that a routine file has.

use std::fmt::Write;

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::timeline::Timeline;

use super::juggle;
use super::written::{Written, score};

/// An act of one or two sets.
#[derive(Clone, Debug)]
pub(crate) struct Act {
    pub(crate) lead: Hand,
    pub(crate) dwell: &'static str,
    pub(crate) sections: Vec<Section>,
}

/// A juggled section, with the pause before it if there is one.
#[derive(Clone, Debug)]
pub(crate) struct Section {
    pub(crate) pause: bool,
    /// Only after a pause, and in the first section.
    pub(crate) props: u32,
    pub(crate) pattern: String,
    pub(crate) length: Length,
    pub(crate) auto: bool,
    pub(crate) throws: Option<String>,
    pub(crate) lead: Option<Hand>,
    pub(crate) thrown: bool,
    /// In which of some orders each hand's props leave, where a loading is written.
    pub(crate) loading: Option<(Vec<u8>, Vec<u8>)>,
    /// What the pause before it puts into the right and the left hand.
    pub(crate) regrip: Option<(Vec<u8>, Vec<u8>)>,
}

/// Cycles, or cycles and so many steps of a cut one.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Length {
    pub(crate) cycles: u32,
    pub(crate) over: u32,
}

const PATTERNS: [(u32, &[&str]); 3] = [
    (
        3,
        &[
            "3",
            "531",
            "441",
            "423",
            "51",
            "(4,2x)*",
            "(4,2x)(2x,4)",
            "[32]1",
            "52512",
            "(2,4)",
            "[21]3",
            "([22],2)",
            "(2x,4x)",
            "5511",
            "(6,0)",
            "3",
            "450",
            "60",
        ],
    ),
    (
        4,
        &[
            "4",
            "534",
            "552",
            "71",
            "(4,4)",
            "[43]23",
            "[41]3",
            "[14]3",
            "(6x,2x)*",
            "(4x,4x)",
            "4",
            "5551",
            "53",
            "([24],2)*",
            "[22]",
        ],
    ),
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
            "5",
            "[32]",
            "[23]",
            "(4,6)",
        ],
    ),
];

/// Written transitions that a cold start may well be able to begin with.
const BEGINNINGS: [&str; 12] =
    ["3", "4", "2", "33", "(4,4)", "4(4,4)", "(4,4)4", "(2,2)", "1", "(4x,4x)33", "5", "[32]"];

fn hand() -> impl Strategy<Value = Hand> {
    prop_oneof![Just(Hand::Left), Just(Hand::Right)]
}

fn section(props: usize) -> impl Strategy<Value = Section> {
    let (props, patterns) = PATTERNS[props];
    let loading = || {
        let all = Just((1..=u8::try_from(props).unwrap()).collect::<Vec<_>>());
        (all.prop_shuffle(), 0..props).prop_map(|(props, right)| {
            let (right, left) = props.split_at(right as usize);
            (right.to_vec(), left.to_vec())
        })
    };
    (
        (prop::bool::weighted(0.25), 0..patterns.len(), 1_u32..4, 0_u32..4),
        prop::bool::weighted(0.9),
        prop::option::weighted(0.15, 0..BEGINNINGS.len()),
        prop::option::weighted(0.15, hand()),
        any::<bool>(),
        prop::option::weighted(0.1, loading()),
        prop::option::weighted(0.4, loading()),
    )
        .prop_map(
            move |((pause, pattern, cycles, over), auto, throws, lead, thrown, loading, regrip)| {
                let pattern = patterns[pattern].to_owned();
                Section {
                    pause,
                    props,
                    lead: lead.filter(|_| !pattern.contains('(')),
                    pattern,
                    length: Length { cycles, over: over.saturating_sub(2) },
                    auto,
                    throws: throws.map(|throws| BEGINNINGS[throws].to_owned()),
                    thrown,
                    loading,
                    regrip,
                }
            },
        )
}

/// Any act. Only a cold start has a beginning or a loading written, and only the first sections
/// of a run need be told which set they use. Only what was gathered is gripped anew.
pub(crate) fn act() -> impl Strategy<Value = Act> {
    let sections = |props, most| prop::collection::vec(section(props), 1..most);
    let two_sets = (0..PATTERNS.len(), 0..PATTERNS.len())
        .prop_flat_map(move |(one, two)| (sections(one, 6), sections(two, 3)));
    (hand(), prop::sample::select(vec!["0.5", "0.6", "0.75", "0.666", "0.9"]), two_sets).prop_map(
        |(lead, dwell, (mut sections, mut others))| {
            sections[0].pause = false;
            others[0].pause = true;
            sections.append(&mut others);
            let mut before = 0;
            for (index, section) in sections.iter_mut().enumerate() {
                let kept = std::mem::replace(&mut before, section.props) == section.props;
                section.regrip = section.regrip.take().filter(|_| section.pause && kept);
                let cold = section.pause || index == 0;
                section.loading = section.loading.take().filter(|_| cold);
                section.throws = section.throws.take().filter(|_| cold);
            }
            Act { lead, dwell, sections }
        },
    )
}

impl Act {
    /// The place in the score of a juggled section.
    pub(crate) fn index(&self, section: usize) -> usize {
        section + self.sections[..=section].iter().filter(|section| section.pause).count()
    }

    /// The act with what `Auto` found written as `Throws`, and every lead written.
    pub(crate) fn written_out(&self, timeline: &Timeline) -> Act {
        let mut out = self.clone();
        for (at, section) in out.sections.iter_mut().enumerate() {
            let span = juggle(timeline, self.index(at));
            let throws = span.transition.as_ref().map(|taken| taken.throws.to_string());
            section.auto = false;
            section.throws = throws.filter(|throws| !throws.is_empty());
            section.lead = span.lead;
        }
        out
    }

    /// The act as a file.
    pub(crate) fn written(&self) -> Written {
        let mut text = String::new();
        let hands = |(right, left): &(Vec<u8>, Vec<u8>)| {
            let [right, left] = [right, left].map(|props| {
                props.iter().map(|prop| format!("\"c{prop}\"")).collect::<Vec<_>>().join(", ")
            });
            format!("Hands(right: [{right}], left: [{left}])")
        };
        for (at, section) in self.sections.iter().enumerate() {
            if section.pause {
                let regrip = section.regrip.as_ref().map(hands);
                let regrip = regrip.map_or_else(String::new, |hands| format!(", regrip: {hands}"));
                let _ = writeln!(text, "Pause(name: \"p{at}\", lasts: For(\"0:02\"){regrip}),");
            }
            let _ = write!(text, "Juggle(name: \"s{at}\", pattern: \"{}\"", section.pattern);
            if at == 0 || section.pause {
                let _ = write!(text, ", set: \"{}\"", section.props);
            }
            let pattern = throwbook::patterns::Pattern::read(&section.pattern).unwrap().0;
            let unit = if section.pattern.contains('(') { 2 } else { 1 };
            let over = section.length.over * unit % pattern.period();
            let beats = section.length.cycles * pattern.period() + over;
            let _ = write!(text, ", lasts: Beats({beats})");
            match &section.throws {
                Some(throws) => _ = write!(text, ", transition: Throws(\"{throws}\")"),
                None if section.auto => text.push_str(", transition: Auto"),
                None => {}
            }
            match section.lead {
                Some(Hand::Left) => text.push_str(", lead: Left"),
                Some(Hand::Right) => text.push_str(", lead: Right"),
                None => {}
            }
            text.push_str(if section.thrown { ", twos: Thrown" } else { "" });
            if let Some(loading) = &section.loading {
                let _ = write!(text, ", loading: {}", hands(loading));
            }
            text.push_str("),\n");
        }
        Written {
            lead: if self.lead == Hand::Left { "Left" } else { "Right" },
            dwell: Some(self.dwell.to_owned()),
            // Holds alone throw nothing: there may be no first throw.
            zero: "Start(\"s0\")".to_owned(),
            transitions: "Within(highest: 9, at_once: 2, beats: 12)",
            ..score(&text)
        }
    }
}
