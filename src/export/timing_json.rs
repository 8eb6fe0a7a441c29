//! The timing sheet and the list of moves as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Times are seconds on the show clock, the
//! nearest double to the exact time; heights are metres.

use num_traits::ToPrimitive;
use serde::Serialize;

use crate::act::Act;
use crate::hand::Hand;
use crate::measure::moves::Makes;
use crate::measure::moves_in_time::Cut as CutMove;
use crate::patterns::hands::HandCount;
use crate::routine::{AddsUp, Declares, Edge};
use crate::sheet::clocks::ClockLine;
use crate::sheet::limits::{BurnLine, LimitLine};
use crate::sheet::moves::{self, ListedLine, MovesRule as MovesRuleLine, MovesSheet};
use crate::sheet::regrip::{MoveLine, RegripLine};
use crate::sheet::slot::SlotLine;
use crate::sheet::timing::{ActLine, JuggledLine, SectionLine, TimingSheet, compose};
use crate::time::Seconds;
use crate::timeline::{Face, Joining};

use super::json::written;
use super::judged_json::Judged;
use super::made_json::{self, MadeHands};
use super::stamped_json::{Ranged, Stamped, timecode};

#[derive(Serialize)]
struct Document<'a> {
    title: &'a str,
    draft: usize,
    unissued_changes: Option<bool>,
    zero: &'a str,
    sections: Vec<Section<'a>>,
    act: WholeAct<'a>,
    counts: Option<Hands>,
    limits: Vec<Limit<'a>>,
    crossings: Option<u32>,
    made: Option<MadeHands>,
    clocks: Vec<Clock<'a>>,
    burns: Vec<Burn<'a>>,
    slot: Vec<Slot>,
    encore: Option<Encore<'a>>,
}

#[derive(Serialize)]
struct Burn<'a> {
    set: &'a str,
    #[serde(flatten)]
    starts: Ranged,
    #[serde(flatten)]
    stops: Ranged,
    #[serde(flatten)]
    in_use: Ranged,
    shortest_s: f64,
    #[serde(flatten)]
    left: Ranged,
}

#[derive(Serialize)]
struct Slot {
    part: &'static str,
    #[serde(flatten)]
    starts: Ranged,
    #[serde(flatten)]
    ends: Ranged,
}

#[derive(Serialize)]
struct Encore<'a> {
    zero: &'a str,
    sections: Vec<Section<'a>>,
    act: WholeAct<'a>,
    counts: Option<Hands>,
    burns: Vec<Burn<'a>>,
    clocks: Vec<Clock<'a>>,
}

#[derive(Serialize)]
struct Section<'a> {
    name: &'a str,
    kind: Option<&'static str>,
    pattern: Option<&'a str>,
    props: Option<u32>,
    lead: Option<&'static str>,
    beats: Option<u32>,
    cycles: Option<u32>,
    beats_over: Option<u32>,
    transition: Option<Transition<'a>>,
    torn: Option<bool>,
    #[serde(flatten)]
    starts: Stamped<'a>,
    timecode: Option<String>,
    timecode_latest: Option<String>,
    #[serde(flatten)]
    ends: Stamped<'a>,
    #[serde(flatten)]
    last_catch: Stamped<'a>,
    counts: Option<Hands>,
    catches: Option<u32>,
    own_catches: Option<u32>,
    join_catches: Option<u32>,
    empty_hands_s: Option<f64>,
    highest: Option<Highest<'a>>,
    per_minute: Option<f64>,
    bend: Option<f64>,
    by_value: Option<SplitHands>,
    face: Option<&'static str>,
    other_face: Option<bool>,
    regrip: Option<Regrip<'a>>,
    lands: Option<&'a str>,
    place: Option<&'a str>,
    pick_up_s: Vec<f64>,
    crossings: Option<u32>,
    made: Option<MadeHands>,
}

#[derive(Serialize)]
struct Regrip<'a> {
    right: &'a [String],
    left: &'a [String],
    moves: Vec<Moved<'a>>,
    reordered: Vec<&'static str>,
}

#[derive(Serialize)]
struct Moved<'a> {
    colour: &'a str,
    from: &'static str,
    to: &'static str,
    leaves: usize,
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
pub(super) struct Hands {
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
struct WholeAct<'a> {
    #[serde(flatten)]
    first_throw: Stamped<'a>,
    #[serde(flatten)]
    last_catch: Stamped<'a>,
    #[serde(flatten)]
    juggled: Ranged,
}

/// The act as one clock reads it.
#[derive(Serialize)]
struct Clock<'a> {
    clock: &'a str,
    zero: &'a str,
    #[serde(flatten)]
    begins: Ranged,
    #[serde(flatten)]
    first_throw: Ranged,
    #[serde(flatten)]
    last_catch: Ranged,
    #[serde(flatten)]
    ends: Ranged,
}

#[derive(Serialize)]
struct Limit<'a> {
    rule: &'a str,
    #[serde(rename = "starts")]
    starts_words: &'a str,
    #[serde(flatten)]
    starts: Stamped<'a>,
    #[serde(rename = "stops")]
    stops_words: &'a str,
    #[serde(flatten)]
    stops: Stamped<'a>,
    adds_up: &'static str,
    counts_encore: bool,
    at_least_s: Option<f64>,
    at_most_s: Option<f64>,
    grace_s: f64,
    grace_under_s: f64,
    margin_s: f64,
    moves_at_least: Option<u32>,
    moves: Option<u32>,
    moves_most: Option<u32>,
    cut: Vec<Cut<'a>>,
    #[serde(flatten)]
    counted: Ranged,
    #[serde(flatten)]
    worst: Judged<'a>,
    #[serde(flatten)]
    best: Judged<'a>,
    #[serde(flatten)]
    also: Judged<'a>,
}

#[derive(Serialize)]
struct Cut<'a> {
    name: &'a str,
    #[serde(flatten)]
    begins: Ranged,
    surely: bool,
}

#[derive(Serialize)]
struct Moves<'a> {
    title: &'a str,
    draft: usize,
    unissued_changes: Option<bool>,
    moves: Vec<Move<'a>>,
    rules: Vec<MovesRule<'a>>,
}

#[derive(Serialize)]
struct MovesRule<'a> {
    rule: &'a str,
    moves_at_least: u32,
    moves: Option<u32>,
    moves_most: Option<u32>,
}

#[derive(Serialize)]
struct Move<'a> {
    number: usize,
    name: &'a str,
    pattern: Option<&'a str>,
    props: Option<u32>,
    kind: Option<String>,
    #[serde(flatten)]
    starts: Stamped<'a>,
    catches: Option<u32>,
    own_catches: Option<u32>,
    join_catches: Option<u32>,
    throws: Option<u32>,
    declares: Option<&'static str>,
    declared: Option<u32>,
    kept: Option<bool>,
    flash_at: Option<u32>,
    qualify_at: Option<u32>,
}

/// The timing sheet of a routine as JSON.
#[must_use]
pub fn json(act: &Act) -> String {
    of_sheet(&compose(act))
}

/// A composed timing sheet as JSON.
#[must_use]
pub fn of_sheet(sheet: &TimingSheet) -> String {
    written(&document(sheet))
}

/// The list of moves of a routine as JSON.
#[must_use]
pub fn moves_json(act: &Act) -> String {
    of_moves(&moves::compose(act))
}

/// A composed list of moves as JSON.
#[must_use]
pub fn of_moves(sheet: &MovesSheet) -> String {
    let line = |(index, line): (usize, _)| {
        let ListedLine { name, starts, listed }: &ListedLine = line;
        let listed = listed.as_ref();
        let makes = listed.and_then(|one| one.makes);
        Move {
            number: index + 1,
            kind: listed.and_then(|one| one.kind.as_ref()).map(|kind| kind.word().to_owned()),
            starts: Stamped("starts", Some(starts)),
            own_catches: makes.map(|makes| makes.own_catches),
            join_catches: makes.map(|makes| makes.join_catches),
            throws: makes.map(|makes| makes.throws),
            declares: listed.and_then(|one| one.declared).map(|declared| match declared {
                Declares::Catches(_) => "catches",
                Declares::Throws(_) => "throws",
                Declares::Flash => "flash",
                Declares::Qualify => "qualify",
            }),
            kept: listed.and_then(crate::measure::moves::Move::keeps_its_word),
            name,
            pattern: listed.map(|one| one.pattern.as_str()),
            props: listed.map(|one| one.props),
            catches: listed.and_then(|one| one.catches()),
            declared: listed.and_then(|one| one.asked()),
            flash_at: listed.map(|one| one.flash()),
            qualify_at: listed.map(|one| one.qualify()),
        }
    };
    let rule = |rule| {
        let line: &MovesRuleLine = rule;
        MovesRule {
            rule: &line.rule,
            moves_at_least: line.at_least,
            moves: line.fewest(),
            moves_most: line.most(),
        }
    };
    let moves = sheet.moves.iter().enumerate().map(line).collect();
    let rules = sheet.rules.iter().map(rule).collect();
    written(&Moves {
        title: &sheet.heading.title,
        draft: sheet.heading.errors,
        unissued_changes: sheet.heading.unissued,
        moves,
        rules,
    })
}

fn document(sheet: &TimingSheet) -> Document<'_> {
    Document {
        title: &sheet.heading.title,
        draft: sheet.heading.errors,
        unissued_changes: sheet.heading.unissued,
        zero: &sheet.zero,
        sections: sheet.sections.iter().map(section).collect(),
        act: act(sheet),
        counts: sheet.counts.as_ref().map(|counts| hands(&counts.hands)),
        limits: sheet.limits.iter().map(limit).collect(),
        crossings: sheet.crossings,
        made: sheet.made.as_ref().map(made_json::hands),
        clocks: sheet.clocks.iter().map(clock).collect(),
        burns: sheet.burns.iter().map(burn).collect(),
        slot: sheet.slot.iter().map(slot).collect(),
        encore: sheet.encore.as_ref().map(|encore| Encore {
            zero: &encore.zero,
            sections: encore.sections.iter().map(section).collect(),
            act: act(encore),
            counts: encore.counts.as_ref().map(|counts| hands(&counts.hands)),
            burns: encore.burns.iter().map(burn).collect(),
            clocks: encore.clocks.iter().map(clock).collect(),
        }),
    }
}

fn act(sheet: &TimingSheet) -> WholeAct<'_> {
    let ActLine { first_throw, last_catch, juggled, .. } = &sheet.act;
    WholeAct {
        first_throw: Stamped("first_throw", first_throw.as_ref()),
        last_catch: Stamped("last_catch", last_catch.as_ref()),
        juggled: Ranged("juggled", Some(juggled.clone())),
    }
}

fn burn(line: &BurnLine) -> Burn<'_> {
    Burn {
        set: &line.set,
        starts: Ranged("starts", Some(line.from.1.clone())),
        stops: Ranged("stops", Some(line.to.1.clone())),
        in_use: Ranged("in_use", Some(line.lasts.clone())),
        shortest_s: line.shortest.to_f64(),
        left: Ranged("left", Some(line.left.clone())),
    }
}

fn slot(line: &SlotLine) -> Slot {
    Slot {
        part: line.part,
        starts: Ranged("starts", Some(line.starts.clone())),
        ends: Ranged("ends", Some(line.ends.clone())),
    }
}

fn section(section: &SectionLine) -> Section<'_> {
    let juggled = section.juggled.as_ref();
    let counts = juggled.and_then(|juggled| juggled.counts.as_ref());
    Section {
        name: &section.name,
        kind: kind(section),
        pattern: juggled.map(|juggled| juggled.listed.pattern.as_str()),
        props: juggled.map(|juggled| juggled.listed.props),
        lead: juggled.and_then(|juggled| juggled.lead).map(Hand::word),
        beats: juggled.and_then(|juggled| juggled.beats),
        cycles: juggled.and_then(|juggled| juggled.cycles).map(|(whole, _)| whole),
        beats_over: juggled.and_then(|juggled| juggled.cycles).map(|(_, over)| over),
        transition: juggled.and_then(transition),
        torn: juggled.and_then(|juggled| match juggled.joining {
            Joining::Fits => Some(false),
            Joining::Torn => Some(true),
            Joining::Unknown => None,
        }),
        starts: Stamped("starts", Some(&section.starts)),
        timecode: timecode(&section.starts).0,
        timecode_latest: timecode(&section.starts).1,
        ends: Stamped("ends", Some(&section.ends)),
        last_catch: Stamped("last_catch", juggled.and_then(|one| one.last_catch.as_ref())),
        counts: counts.map(|counts| hands(&counts.hands)),
        catches: juggled.and_then(|juggled| juggled.listed.catches()),
        own_catches: makes(juggled).map(|makes| makes.own_catches),
        join_catches: makes(juggled).map(|makes| makes.join_catches),
        empty_hands_s: juggled.and_then(|juggled| Some(juggled.empty_hands.as_ref()?.to_f64())),
        highest: juggled
            .and_then(|juggled| juggled.highest.as_ref())
            .map(|highest| Highest { value: &highest.value, above_hand_m: highest.above_hand_m }),
        per_minute: juggled.and_then(|juggled| juggled.per_minute.as_ref()?.to_f64()),
        bend: juggled.and_then(|juggled| juggled.bent.as_ref()?.bent.bend.bend().to_f64()),
        by_value: counts.map(|counts| SplitHands {
            right: split(&counts.hands[Hand::Right.index()]),
            left: split(&counts.hands[Hand::Left.index()]),
        }),
        face: juggled.and_then(|juggled| juggled.face).map(Face::word),
        other_face: juggled
            .filter(|juggled| juggled.face_known)
            .map(|juggled| juggled.other_face.is_some()),
        regrip: section.regrip.as_ref().map(regrip),
        lands: section.lands.as_deref(),
        place: section.place.as_deref(),
        pick_up_s: section.pick_up.iter().map(Seconds::to_f64).collect(),
        crossings: juggled.and_then(|juggled| juggled.crossings),
        made: juggled.and_then(|juggled| juggled.made.as_ref()).map(made_json::hands),
    }
}

fn makes(juggled: Option<&JuggledLine>) -> Option<Makes> {
    juggled?.listed.makes
}

/// What a section is, where that is known.
fn kind(section: &SectionLine) -> Option<&'static str> {
    let is_juggled = match &section.unread {
        Some(unread) => unread.is_juggled?,
        None => section.juggled.is_some(),
    };
    Some(if is_juggled { "juggle" } else { "pause" })
}

fn regrip(line: &RegripLine) -> Regrip<'_> {
    let moved = |moved| {
        let MoveLine { colour, from, to, leaves }: &MoveLine = moved;
        Moved { colour, from: from.word(), to: to.word(), leaves: *leaves }
    };
    Regrip {
        right: &line.right,
        left: &line.left,
        moves: line.moves.iter().map(moved).collect(),
        reordered: line.reordered.iter().map(|hand| hand.word()).collect(),
    }
}

fn transition(juggled: &JuggledLine) -> Option<Transition<'_>> {
    juggled.transition.as_ref().map(|taken| Transition {
        throws: &taken.throws,
        beats: taken.beats,
        waits: taken.waits.map(Hand::word),
    })
}

pub(super) fn hands(counts: &[HandCount; 2]) -> Hands {
    let figures = |hand: Hand| {
        let count = &counts[hand.index()];
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
    let judged = line.judged.as_ref();
    let LimitLine { rule, starts_at, stops_at, starts, stops, limit, .. } = line;
    let edge = |edge| limit.edge(edge).map(|edge| edge.value.to_f64());
    Limit {
        rule,
        starts_words: starts,
        starts: Stamped("starts", Some(starts_at)),
        stops_words: stops,
        stops: Stamped("stops", Some(stops_at)),
        adds_up: match limit.adds_up {
            AddsUp::Everything => "everything",
            AddsUp::Juggling => "juggling",
            AddsUp::SetUpAndStrike => "set-up and strike",
        },
        counts_encore: limit.counts_encore(),
        at_least_s: edge(Edge::AtLeast),
        at_most_s: edge(Edge::AtMost),
        grace_s: limit.grace.to_f64(),
        grace_under_s: limit.grace_under.to_f64(),
        margin_s: limit.margin.to_f64(),
        moves_at_least: limit.moves.as_ref().map(|moves| moves.value),
        moves: line.moves.as_ref().and_then(MovesRuleLine::fewest),
        moves_most: line.moves.as_ref().and_then(MovesRuleLine::most),
        cut: line
            .cut
            .iter()
            .map(|CutMove { name, begins, surely }| Cut {
                name,
                begins: Ranged("begins", Some(begins.clone())),
                surely: *surely,
            })
            .collect(),
        counted: Ranged("counted", line.counted.clone()),
        worst: Judged("", judged.map(|one| &one.worst)),
        best: Judged("best_", judged.map(|one| &one.best)),
        also: Judged("also_", judged.and_then(|judged| judged.other_side.as_ref())),
    }
}

fn clock(line: &ClockLine) -> Clock<'_> {
    Clock {
        clock: &line.clock,
        zero: &line.zero,
        begins: Ranged("begins", line.begins.clone()),
        first_throw: Ranged("first_throw", line.first_throw.clone()),
        last_catch: Ranged("last_catch", line.last_catch.clone()),
        ends: Ranged("ends", line.ends.clone()),
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json as value};

    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms, placed};

    fn quay() -> Value {
        let quay = lantern_quay();
        serde_json::from_str(&json(&compiled(&quay))).unwrap()
    }

    #[test]
    fn the_worked_example_has_the_figures_that_were_worked_by_hand() {
        let document = quay();
        let starts: Vec<&Value> =
            document["sections"].as_array().unwrap().iter().map(|one| &one["starts_s"]).collect();
        // The last catch is 5 beats of 240 a minute less twice the dwell after beat 49's throw:
        // 37.1 + 12.25 + 11/12.
        let end: f64 = 37.1 + 12.25 + 11.0 / 12.0;
        let expected: [f64; 9] =
            [-6.0, 0.0, 7.5, 15.3, 22.5, 28.8, 31.1, 37.1, 50.266_666_666_666_666];
        assert_eq!(starts, expected.map(|start| value!(start)).iter().collect::<Vec<_>>());
        assert!((expected[8] - end).abs() < 1e-12);
        assert_eq!(document["sections"][5]["last_catch_s"], value!(31.1));
        assert_eq!(document["sections"][4]["last_catch_s"], value!(null));
        assert_eq!(document["act"]["first_throw_s"], value!(7.5));
        assert_eq!(document["act"]["last_catch_s"], value!(754.0 / 15.0));
        // 23.6 + 13.1666…
        assert_eq!(document["act"]["juggled_s"], value!(1103.0 / 30.0));
        let limit = &document["limits"][0];
        assert_eq!(limit["verdict"], value!("inside"));
        assert_eq!(limit["by_s"], value!(146.0 / 15.0));
    }

    #[test]
    fn a_juggled_section_has_the_fields_of_the_contract_in_their_order() {
        let quay = lantern_quay();
        let text = json(&compiled(&quay));
        let wake = &text[text.find("\"wake\"").unwrap()..text.find("\"ebb\"").unwrap()];
        let fields = [
            "kind",
            "pattern",
            "props",
            "lead",
            "beats",
            "transition",
            "throws",
            "beats",
            "waits",
            "starts_s",
            "timecode",
            "ends_s",
            "last_catch_s",
            "counts",
            "right",
            "thrown",
            "handed_across",
            "held",
            "empty",
            "releases",
            "left",
            "catches",
            "empty_hands_s",
            "highest",
            "value",
            "above_hand_m",
            "by_value",
            "face",
            "other_face",
            "regrip",
        ];
        let mut at = 0;
        for field in fields {
            let next = wake[at..].find(&format!("\"{field}\":"));
            at += next.unwrap_or_else(|| panic!("{field} is missing or out of order: {wake}"));
        }
        let wake = &serde_json::from_str::<Value>(&text).unwrap()["sections"][4];
        // The right hand's 4, then ten 51s led by the left.
        assert_eq!(wake["transition"], value!({"throws": "4", "beats": 1, "waits": null}));
        assert_eq!((&wake["lead"], &wake["beats"]), (&value!("left"), &value!(20)));
        assert_eq!((&wake["cycles"], &wake["beats_over"]), (&value!(10), &value!(0)));
        let right =
            value!({"thrown": 1, "handed_across": 10, "held": 0, "empty": 0, "releases": 11});
        let left =
            value!({"thrown": 10, "handed_across": 0, "held": 0, "empty": 0, "releases": 10});
        assert_eq!(wake["counts"], value!({"right": right, "left": left}));
        assert_eq!(wake["catches"], value!(21));
        assert_eq!(wake["highest"]["value"], value!("5"));
        // A 5 at 200 a minute and dwell 2/3 flies 11/3 beats: 1.1 s; g/8 · 1.21.
        let height = wake["highest"]["above_hand_m"].as_f64().unwrap();
        assert!((height - 1.483_255_812_5).abs() < 1e-9, "{height}");
    }

    #[test]
    fn a_pause_is_null_where_nothing_applies() {
        let pause = &quay()["sections"][0];
        assert_eq!(pause["kind"], value!("pause"));
        for field in [
            "pattern",
            "props",
            "lead",
            "beats",
            "transition",
            "last_catch_s",
            "counts",
            "catches",
            "empty_hands_s",
            "highest",
            "face",
            "other_face",
            "regrip",
        ] {
            assert!(pause.as_object().unwrap().contains_key(field), "{field}");
            assert_eq!(pause[field], value!(null), "{field}");
        }
        assert_eq!((&pause["starts_s"], &pause["ends_s"]), (&value!(-6.0), &value!(0.0)));
    }

    #[test]
    fn the_counts_of_the_sections_add_up_to_the_whole() {
        let document = quay();
        for hand in ["right", "left"] {
            for field in ["thrown", "handed_across", "held", "empty", "releases"] {
                let sections = document["sections"].as_array().unwrap().iter();
                let sum: u64 = sections.filter_map(|one| one["counts"][hand][field].as_u64()).sum();
                assert_eq!(document["counts"][hand][field], value!(sum), "{hand} {field}");
            }
            assert_eq!(document["counts"][hand].as_object().unwrap().len(), 5);
        }
    }

    #[test]
    fn a_limit_over_its_grace_costs_its_steps_from_the_limit() {
        let mut quay = lantern_quay();
        quay.limits[0].at_most = Some(placed(ms(40_000)));
        let text = json(&compiled(&quay));
        let limit = &serde_json::from_str::<Value>(&text).unwrap()["limits"][0];
        // 10.26666… s over: two steps of 8 s or part of one.
        assert_eq!(limit["verdict"], value!("over"));
        assert_eq!(limit["penalty_points"], value!(2.0));
        assert_eq!(limit["by_s"], value!(154.0 / 15.0));
    }
}
