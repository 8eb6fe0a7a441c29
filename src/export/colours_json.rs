//! The colour sheet as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Colours are names; each hand's props stand
//! in the order in which they leave; a list over throws has a throw at its number less one.

use serde::Serialize;

use crate::act::Act;
use crate::hand::Hand;
use crate::lineup::{Colours, Outcome};
use crate::sheet::colour_chart::{Made, OrbitProps, SectionChart, WayColours};
use crate::sheet::colours::{
    ChosenKind, ChosenLine, ColoursSheet, OtherLoadings, RepairLine, compose,
};
use crate::sheet::loading::{AtRest, Came, ColdStart, Gathered};
use crate::timeline::Joining;

use super::appearance_json;
use super::json::written;

#[derive(Serialize)]
struct Document<'a> {
    title: &'a str,
    draft: usize,
    unissued_changes: Option<bool>,
    possible: Option<bool>,
    outcome: &'static str,
    loading: Vec<Loading<'a>>,
    sections: Vec<Section<'a>>,
    unread: &'a [String],
    gathers: Vec<Gather<'a>>,
    asked: Vec<Asked<'a>>,
    chosen: Vec<ToldChoice<'a>>,
    unmet: Vec<Unmet<'a>>,
    clash: &'a [String],
    repairs: Vec<Repair<'a>>,
    other_loadings: Option<Vec<Others<'a>>>,
    appearance: appearance_json::Document,
    encore: Option<Box<Document<'a>>>,
}

#[derive(Serialize)]
struct Loading<'a> {
    before: &'a str,
    right: Option<Vec<&'a str>>,
    left: Option<Vec<&'a str>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    came: Option<&'static str>,
}

#[derive(Serialize)]
struct Section<'a> {
    name: &'a str,
    pattern: &'a str,
    begins: u32,
    transition: Option<Transition<'a>>,
    torn: bool,
    cycles: Vec<Vec<Option<&'a str>>>,
    repeats_every: Option<usize>,
    orbits: Vec<Orbit<'a>>,
}

#[derive(Serialize)]
struct Transition<'a> {
    throws: &'a str,
    waits: Option<&'static str>,
    colours: Vec<Option<&'a str>>,
}

#[derive(Serialize)]
struct Orbit<'a> {
    throws: &'a [String],
    numbers: &'a [u32],
    props: Vec<String>,
    colours: Vec<&'a str>,
}

#[derive(Serialize)]
struct Gather<'a> {
    after: &'a str,
    right: Option<Vec<&'a str>>,
    left: Option<Vec<&'a str>>,
    next: Option<&'a str>,
    next_came: Option<&'static str>,
    regrips: Vec<Regrip<'a>>,
}

#[derive(Serialize)]
struct Regrip<'a> {
    pause: &'a str,
    words: &'a str,
}

#[derive(Serialize)]
struct Asked<'a> {
    section: &'a str,
    what: &'a str,
    met: Option<bool>,
}

#[derive(Serialize)]
struct ToldChoice<'a> {
    section: &'a str,
    what: &'static str,
    words: &'a str,
}

#[derive(Serialize)]
struct Others<'a> {
    before: &'a str,
    loadings: Vec<OtherHands<'a>>,
    are_all: bool,
}

#[derive(Serialize)]
struct OtherHands<'a> {
    right: &'a [String],
    left: &'a [String],
}

#[derive(Serialize)]
struct Unmet<'a> {
    section: &'a str,
    throw: Option<u32>,
    what: &'a str,
    reason: &'a str,
}

#[derive(Serialize)]
struct Repair<'a> {
    what: &'a str,
    loading: Option<Loading<'a>>,
    beats: i64,
    adds_s: f64,
    flips_lead: bool,
    cues_that_move: &'a [String],
}

/// The colour sheet of a routine as one JSON object and a line end.
#[must_use]
pub fn json(act: &Act, colours: &Colours) -> String {
    of_sheet(&compose(act, colours))
}

/// A composed colour sheet as one JSON object and a line end.
#[must_use]
pub fn of_sheet(sheet: &ColoursSheet) -> String {
    written(&document(sheet))
}

fn others(of: &OtherLoadings) -> Others<'_> {
    let loadings = of.hands.iter().map(|[right, left]| OtherHands { right, left });
    Others { before: &of.before, loadings: loadings.collect(), are_all: of.are_all }
}

fn document(sheet: &ColoursSheet) -> Document<'_> {
    Document {
        title: &sheet.heading.title,
        draft: sheet.heading.errors,
        unissued_changes: sheet.heading.unissued,
        possible: sheet.all_possible(),
        outcome: match sheet.outcome {
            Outcome::AsWritten => "as_written",
            Outcome::Found => "found",
            Outcome::Impossible => "impossible",
            Outcome::TooMany(_) => "too_many",
        },
        loading: sheet.loadings.iter().map(loading).collect(),
        sections: sheet.sections.iter().map(|chart| section(sheet, chart)).collect(),
        unread: &sheet.unread,
        gathers: sheet.gathers.iter().map(gather).collect(),
        asked: sheet
            .asked
            .iter()
            .map(|one| Asked { section: &one.section, what: &one.what, met: one.met })
            .collect(),
        chosen: sheet.chosen.iter().map(told_choice).collect(),
        unmet: sheet
            .asked
            .iter()
            .filter_map(|one| {
                let unmet = one.unmet.as_ref()?;
                let (what, reason) = (&one.what, &unmet.reason);
                Some(Unmet { section: &one.section, throw: unmet.throw, what, reason })
            })
            .collect(),
        clash: &sheet.clash,
        repairs: sheet.repairs.iter().map(repair).collect(),
        other_loadings: sheet.others.as_deref().map(|all| all.iter().map(others).collect()),
        appearance: appearance_json::document(&sheet.appearance),
        encore: sheet.encore.as_deref().map(|encore| Box::new(document(encore))),
    }
}

fn came_word(came: Came) -> &'static str {
    match came {
        Came::Natural => "natural",
        Came::Written => "written",
        Came::Found => "found",
        Came::Kept => "kept",
        Came::Ordered => "ordered",
        Came::Regripped => "regripped",
    }
}

fn names(at_rest: &Option<AtRest>, hand: Hand) -> Option<Vec<&str>> {
    let props = at_rest.as_ref()?.in_hand(hand).iter();
    Some(props.map(|prop| prop.colour_name.as_str()).collect())
}

fn loading(start: &ColdStart) -> Loading<'_> {
    Loading {
        before: &start.before,
        right: names(&start.at_rest, Hand::Right),
        left: names(&start.at_rest, Hand::Left),
        came: Some(came_word(start.came)),
    }
}

fn gather(gathered: &Gathered) -> Gather<'_> {
    let next = gathered.next.as_ref();
    Gather {
        after: &gathered.after,
        right: names(&gathered.at_rest, Hand::Right),
        left: names(&gathered.at_rest, Hand::Left),
        next: next.map(|(name, _)| name.as_str()),
        next_came: next.map(|&(_, came)| came_word(came)),
        regrips: gathered.regrips.iter().map(|(pause, words)| Regrip { pause, words }).collect(),
    }
}

/// A colour's name; `None` for an empty hand and for a throw that is not made.
fn colour(sheet: &ColoursSheet, made: Made) -> Option<&str> {
    match made {
        Made::Colour(colour) => sheet.colours.get(colour).map(String::as_str),
        Made::Empty | Made::Not => None,
    }
}

fn section<'a>(sheet: &'a ColoursSheet, chart: &'a SectionChart) -> Section<'a> {
    let colours =
        |made: &'a [Made]| made.iter().map(|&made| colour(sheet, made)).collect::<Vec<_>>();
    let orbit = |orbit: &'a OrbitProps| Orbit {
        throws: &orbit.throws,
        numbers: &orbit.numbers,
        props: orbit.props.iter().map(|prop| prop.in_full()).collect(),
        colours: orbit.props.iter().map(|prop| prop.colour_name.as_str()).collect(),
    };
    let transition = |way: &'a WayColours| Transition {
        throws: &way.throws,
        waits: way.waits.map(Hand::word),
        colours: colours(&way.made),
    };
    Section {
        name: &chart.name,
        pattern: &chart.pattern,
        begins: chart.begins,
        transition: chart.way.as_ref().map(transition),
        torn: chart.joining == Joining::Torn,
        cycles: chart.cycles.iter().map(|cycle| colours(&cycle.made)).collect(),
        repeats_every: chart.is_known.then_some(chart.repeats),
        orbits: chart.orbits.iter().map(orbit).collect(),
    }
}

fn told_choice(chosen: &ChosenLine) -> ToldChoice<'_> {
    let what = match chosen.kind {
        ChosenKind::Loading => "loading",
        ChosenKind::StartingThrow => "starting_throw",
        ChosenKind::MultiplexOrder => "multiplex_order",
        ChosenKind::List => "list",
        ChosenKind::Way => "way",
    };
    ToldChoice { section: &chosen.section, what, words: &chosen.words }
}

fn repair(line: &RepairLine) -> Repair<'_> {
    Repair {
        what: &line.what,
        loading: line.loading.as_ref().map(|loading| Loading {
            before: &loading.before,
            right: Some(loading.right.iter().map(String::as_str).collect()),
            left: Some(loading.left.iter().map(String::as_str).collect()),
            came: None,
        }),
        beats: line.beats,
        adds_s: line.adds.to_f64(),
        flips_lead: line.flips_lead,
        cues_that_move: &line.cues_that_move,
    }
}
