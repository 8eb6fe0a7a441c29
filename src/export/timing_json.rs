//! The timing sheet and the list of moves as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Times are seconds on the show clock, the
//! nearest double to the exact time; heights are metres.

use serde::Serialize;

use crate::hand::Hand;
use crate::measure::counts::Counts;
use crate::measure::moves;
use crate::patterns::hands::HandCount;
use crate::routine::Routine;
use crate::sheet::timing::{JuggledLine, LimitLine, SectionLine, TimingSheet, compose};
use crate::sheet::words::plain;
use crate::time::Seconds;
use crate::timeline::Timeline;

#[derive(Serialize)]
struct Document<'a> {
    title: &'a str,
    zero: &'a str,
    sections: Vec<Section<'a>>,
    act: Act,
    counts: Hands,
    limits: Vec<Limit<'a>>,
}

#[derive(Serialize)]
struct Section<'a> {
    name: &'a str,
    kind: &'static str,
    pattern: Option<&'a str>,
    props: Option<u32>,
    lead: Option<&'static str>,
    beats: Option<u32>,
    transition: Option<Transition<'a>>,
    starts_s: f64,
    ends_s: f64,
    last_catch_s: Option<f64>,
    counts: Option<Hands>,
    catches: Option<u32>,
    empty_hands_s: Option<f64>,
    highest: Option<Highest<'a>>,
    by_value: Option<SplitHands>,
}

#[derive(Serialize)]
struct Transition<'a> {
    throws: &'a str,
    beats: u32,
    waits: Option<&'static str>,
}

#[derive(Serialize)]
struct Highest<'a> {
    value: &'a str,
    above_hand_m: f64,
}

#[derive(Serialize)]
struct Hands {
    right: HandFigures,
    left: HandFigures,
}

#[derive(Serialize)]
struct HandFigures {
    thrown: u32,
    handed_across: u32,
    held: u32,
    empty: u32,
    releases: u32,
}

#[derive(Serialize)]
struct SplitHands {
    right: Vec<Split>,
    left: Vec<Split>,
}

#[derive(Serialize)]
struct Split {
    value: String,
    times: u32,
}

#[derive(Serialize)]
struct Act {
    first_throw_s: Option<f64>,
    last_catch_s: Option<f64>,
    juggled_s: f64,
}

#[derive(Serialize)]
struct Limit<'a> {
    rule: &'a str,
    starts_s: f64,
    stops_s: f64,
    counted_s: f64,
    verdict: &'static str,
    by_s: Option<f64>,
    penalty_points: f64,
}

#[derive(Serialize)]
struct Moves<'a> {
    title: String,
    moves: Vec<Move<'a>>,
}

#[derive(Serialize)]
struct Move<'a> {
    name: String,
    pattern: &'a str,
    props: u32,
    catches: u32,
    declared: Option<u32>,
    flash_at: u32,
    qualify_at: u32,
}

/// The timing sheet of a routine as JSON.
#[must_use]
pub fn json(routine: &Routine, timeline: &Timeline) -> String {
    let sheet = compose(routine, timeline);
    written(&document(&sheet))
}

/// The list of moves of a routine as JSON.
#[must_use]
pub fn moves_json(routine: &Routine, timeline: &Timeline) -> String {
    let moves = moves::moves(routine, timeline);
    let moves = moves.iter().map(|one| Move {
        name: plain(&one.name),
        pattern: &one.pattern,
        props: one.props,
        catches: one.catches,
        declared: one.declared,
        flash_at: one.flash(),
        qualify_at: one.qualify(),
    });
    written(&Moves { title: plain(&routine.title.value), moves: moves.collect() })
}

fn document(sheet: &TimingSheet) -> Document<'_> {
    Document {
        title: &sheet.title,
        zero: &sheet.zero,
        sections: sheet.sections.iter().map(section).collect(),
        act: Act {
            first_throw_s: double(sheet.act.first_throw.as_ref()),
            last_catch_s: double(sheet.act.last_catch.as_ref()),
            juggled_s: sheet.act.juggled.to_f64(),
        },
        counts: hands(&sheet.counts),
        limits: sheet.limits.iter().map(limit).collect(),
    }
}

fn section(section: &SectionLine) -> Section<'_> {
    let juggled = section.juggled.as_ref();
    Section {
        name: &section.name,
        kind: if juggled.is_some() { "juggle" } else { "pause" },
        pattern: juggled.map(|juggled| juggled.listed.pattern.as_str()),
        props: juggled.map(|juggled| juggled.listed.props),
        lead: juggled.and_then(|juggled| juggled.lead).map(Hand::word),
        beats: juggled.map(|juggled| juggled.beats),
        transition: juggled.and_then(transition),
        starts_s: section.starts.to_f64(),
        ends_s: section.ends.to_f64(),
        last_catch_s: juggled.and_then(|juggled| double(juggled.last_catch.as_ref())),
        counts: juggled.map(|juggled| hands(&juggled.counts)),
        catches: juggled.map(|juggled| juggled.counts.catches),
        empty_hands_s: juggled.map(|juggled| juggled.empty_hands.to_f64()),
        highest: juggled
            .and_then(|juggled| juggled.highest.as_ref())
            .map(|highest| Highest { value: &highest.value, above_hand_m: highest.above_hand_m }),
        by_value: juggled.map(|juggled| SplitHands {
            right: split(&juggled.counts.hands[Hand::Right.index()]),
            left: split(&juggled.counts.hands[Hand::Left.index()]),
        }),
    }
}

fn transition(juggled: &JuggledLine) -> Option<Transition<'_>> {
    juggled.transition.as_ref().map(|taken| Transition {
        throws: &taken.throws,
        beats: taken.beats,
        waits: taken.waits.map(Hand::word),
    })
}

fn hands(counts: &Counts) -> Hands {
    let figures = |hand: Hand| {
        let count = &counts.hands[hand.index()];
        HandFigures {
            thrown: count.thrown,
            handed_across: count.handed_across,
            held: count.held,
            empty: count.empty,
            releases: count.releases,
        }
    };
    Hands { right: figures(Hand::Right), left: figures(Hand::Left) }
}

fn split(count: &HandCount) -> Vec<Split> {
    let split = |(throw, times): (&crate::notation::Throw, &u32)| Split {
        value: throw.to_string(),
        times: *times,
    };
    count.by_value.iter().map(split).collect()
}

fn limit(line: &LimitLine) -> Limit<'_> {
    let judgement = &line.judged.judgement;
    Limit {
        rule: &line.rule,
        starts_s: line.judged.starts.to_f64(),
        stops_s: line.judged.stops.to_f64(),
        counted_s: line.judged.counted.to_f64(),
        verdict: judgement.verdict.word(),
        by_s: double(judgement.by.as_ref()),
        penalty_points: judgement.penalty_points,
    }
}

fn double(time: Option<&Seconds>) -> Option<f64> {
    time.map(Seconds::to_f64)
}

/// A document in JSON with a line end after it.
pub(super) fn written(document: &impl Serialize) -> String {
    let text = serde_json::to_string_pretty(document)
        .unwrap_or_else(|_| unreachable!("a document has text keys only and no writer to fail"));
    text + "\n"
}
