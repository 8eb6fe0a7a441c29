//! The colour sheet: how the props are loaded, what every throw shows, what the line-up chose, and
//! which colour requests are not met.
//!
//! Plain contents for the exporters. The loadings stand in [`super::loading`], the sections in
//! [`super::colour_chart`]; what is asked, why it fails and what mends it comes from
//! [`crate::lineup`].

use crate::act::Act;
use crate::diagnostic::Placed;
use crate::lineup::{
    Choosing, Chosen, Colours, Others, Outcome, Repair, Requirement, others, requirements,
    side_effects, words,
};
use crate::notation::{Sequence, Step, WrittenThrow};
use crate::routine::{HandColours, Juggle, Part, Routine};
use crate::strip;
use crate::time::Seconds;

use super::appearance::{self, AppearanceSheet};
use super::colour_chart::{SectionChart, charts};
use super::heading::{self, Heading};
use super::loading::{ColdStart, Gathered, cold_starts, gathers, section_name};
use super::words::plain;

/// The contents of the colour sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct ColoursSheet {
    /// Its head.
    pub heading: Heading,
    /// The names of the routine's colours, by their index.
    pub colours: Vec<String>,
    /// Where its clock reads zero, in words.
    pub zero: String,
    /// Each colour's letter on the strip.
    pub letters: Vec<String>,
    /// Whether everything that is asked comes about, the encore's left out; `None` where an error
    /// leaves that unknown.
    pub possible: Option<bool>,
    /// What came of the line-up.
    pub outcome: Outcome,
    /// Everything that is asked, in the order of the score.
    pub asked: Vec<AskedLine>,
    /// The smallest set of requests that cannot be met together, in words.
    pub clash: Vec<String>,
    /// What would bring everything about, cheapest first.
    pub repairs: Vec<RepairLine>,
    /// What the line-up chose, in the order of the score.
    pub chosen: Vec<ChosenLine>,
    /// The cold starts, one for each run.
    pub loadings: Vec<ColdStart>,
    /// Other loadings than the found ones; `None` where they are not asked for.
    pub others: Option<Vec<OtherLoadings>>,
    /// The sections that are juggled.
    pub sections: Vec<SectionChart>,
    /// The sections that may be juggled but could not be read.
    pub unread: Vec<String>,
    /// The gathers, one for each run.
    pub gathers: Vec<Gathered>,
    /// How the colours read.
    pub appearance: AppearanceSheet,
    /// That of the encore.
    pub encore: Option<Box<ColoursSheet>>,
}

/// Loadings that meet every request as the found one does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherLoadings {
    /// The section that starts cold.
    pub before: String,
    /// The right hand's colours and the left hand's, in order of leaving; those first that put the
    /// fewest props elsewhere.
    pub hands: Vec<[Vec<String>; 2]>,
    /// Whether these are all there are.
    pub are_all: bool,
}

impl ColoursSheet {
    /// The sheet with the other loadings of the act and of its encore.
    #[must_use]
    pub fn with_others(mut self, act: &Act, colours: &Colours) -> ColoursSheet {
        let names =
            |names: &[Placed<String>]| names.iter().map(|name| plain(&name.value)).collect();
        let told = |of: Others| OtherLoadings {
            before: section_name(&act.routine, of.section),
            hands: of.loadings.iter().map(|one| [names(&one.right), names(&one.left)]).collect(),
            are_all: of.are_all,
        };
        self.others = Some(others(act, &colours.choices).into_iter().map(told).collect());
        let encore = act.encore.as_deref().zip(colours.encore.as_deref());
        if let (Some(sheet), Some((act, colours))) = (self.encore.take(), encore) {
            self.encore = Some(Box::new(sheet.with_others(act, colours)));
        }
        self
    }
}

/// Something that is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AskedLine {
    /// The section that asks it.
    pub section: String,
    /// What, in words.
    pub what: String,
    /// Whether it comes about; `None` where an error leaves that unknown.
    pub met: Option<bool>,
    /// Why it is not met; `None` where it is.
    pub unmet: Option<UnmetLine>,
}

/// Why a request is not met.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnmetLine {
    /// The number of the throw that it is about, if there is one.
    pub throw: Option<u32>,
    /// One sentence without a full stop.
    pub reason: String,
}

/// A change that brings everything about.
#[derive(Clone, Debug, PartialEq)]
pub struct RepairLine {
    /// What to do, an imperative without a full stop.
    pub what: String,
    /// The loading that it brings.
    pub loading: Option<RepairLoading>,
    /// Beats that it adds, or takes away.
    pub beats: i64,
    /// Seconds that it adds, or takes away.
    pub adds: Seconds,
    /// Whether another hand leads a later section.
    pub flips_lead: bool,
    /// The cues that come at another time.
    pub cues_that_move: Vec<String>,
    /// What else it does, in words.
    pub side_effects: String,
}

/// A loading that a repair brings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RepairLoading {
    /// The section that starts cold with it.
    pub before: String,
    /// Colours in the right hand, in order of leaving.
    pub right: Vec<String>,
    /// Colours in the left hand, in order of leaving.
    pub left: Vec<String>,
}

/// A choice of the line-up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChosenLine {
    /// The section.
    pub section: String,
    /// What was chosen there.
    pub kind: ChosenKind,
    /// In words that go on from the section's name.
    pub words: String,
}

/// What was chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChosenKind {
    /// A loading.
    Loading,
    /// The throw with which the pattern begins.
    StartingThrow,
    /// The order of a multiplex's values.
    MultiplexOrder,
    /// The colour with which a list begins.
    List,
    /// The way into the section.
    Way,
}

/// Composes the colour sheet.
#[must_use]
pub fn compose(act: &Act, colours: &Colours) -> ColoursSheet {
    of_part(act, colours, act)
}

/// Composes that of the act, or of its encore; `whole` is the act.
fn of_part(act: &Act, colours: &Colours, whole: &Act) -> ColoursSheet {
    let Act { routine, .. } = act;
    let choices = &colours.choices;
    let verdict = &colours.verdict;
    let loadings = cold_starts(act, &choices.chosen);
    let judged = verdict.judged;
    let asked = |requirement: Requirement| {
        let unmet = verdict.unmet.iter().find(|unmet| unmet.requirement == requirement);
        AskedLine {
            section: section_name(routine, requirement.section),
            what: plain(&words(routine, requirement)),
            met: judged.then_some(unmet.is_none()),
            unmet: unmet
                .map(|unmet| UnmetLine { throw: unmet.throw, reason: plain(&unmet.reason) }),
        }
    };
    ColoursSheet {
        heading: Heading::of(act),
        colours: routine.colours.iter().map(|colour| plain(&colour.name.value)).collect(),
        zero: heading::zero(routine),
        letters: strip::letters(whole),
        possible: judged.then_some(verdict.unmet.is_empty()),
        outcome: choices.outcome,
        asked: requirements(routine).into_iter().map(asked).collect(),
        clash: verdict.clash.iter().map(|&one| plain(&words(routine, one))).collect(),
        repairs: verdict.repairs.iter().map(|repair| repair_line(routine, repair)).collect(),
        chosen: choices
            .chosen
            .iter()
            .filter_map(|chosen| chosen_line(routine, &loadings, chosen))
            .collect(),
        loadings,
        others: None,
        sections: charts(act),
        unread: unread(act),
        gathers: gathers(act, &choices.chosen),
        appearance: appearance::compose(act),
        encore: act
            .encore
            .as_deref()
            .zip(colours.encore.as_deref())
            .map(|(act, colours)| Box::new(of_part(act, colours, whole))),
    }
}

impl ColoursSheet {
    /// Whether everything that is asked comes about, in the encore too; `None` where an error
    /// leaves that unknown.
    #[must_use]
    pub fn all_possible(&self) -> Option<bool> {
        let of_encore = self.encore.as_ref().map_or(Some(true), |encore| encore.all_possible());
        Some(self.possible? && of_encore?)
    }
}

/// The sections that may be juggled but could not be read.
fn unread(act: &Act) -> Vec<String> {
    let hidden = act.sections().filter(|(.., span)| span.hides_throws);
    hidden.map(|(index, ..)| section_name(&act.routine, index)).collect()
}

fn repair_line(routine: &Routine, repair: &Repair) -> RepairLine {
    let names = |colours: &[Placed<String>]| {
        colours.iter().map(|colour| plain(&colour.value)).collect::<Vec<_>>()
    };
    let loading = |(section, hands): &(usize, HandColours)| RepairLoading {
        before: section_name(routine, *section),
        right: names(&hands.right),
        left: names(&hands.left),
    };
    RepairLine {
        what: plain(&repair.what),
        loading: repair.loading.as_ref().map(loading),
        beats: repair.beats,
        adds: repair.adds.clone(),
        flips_lead: repair.flips_lead,
        cues_that_move: repair.cues_that_move.iter().map(|cue| plain(cue)).collect(),
        side_effects: side_effects(repair),
    }
}

fn chosen_line(routine: &Routine, loadings: &[ColdStart], chosen: &Chosen) -> Option<ChosenLine> {
    let Part::Juggle(juggle) = &routine.score.get(chosen.section)?.part else { return None };
    let section = section_name(routine, chosen.section);
    let (kind, words) = match &chosen.what {
        Choosing::Loading => {
            let loading = loadings.iter().find(|loading| loading.before == section)?;
            let at_rest = loading.at_rest.as_ref()?;
            (ChosenKind::Loading, format!("start with {}", at_rest.in_words()))
        }
        Choosing::StartingThrow(_) => {
            (ChosenKind::StartingThrow, format!("begins with throw {}", first_number(juggle)))
        }
        Choosing::MultiplexOrder(_) => {
            let sequence = juggle.pattern.pattern.sequence();
            let written = as_numbered(sequence, false);
            let reordered = as_numbered(sequence, true);
            (ChosenKind::MultiplexOrder, format!("is thrown `{reordered}` instead of `{written}`"))
        }
        Choosing::List(throw, _) => {
            let list = juggle.seen.shows.iter().find(|shown| shown.throw.value == *throw)?;
            let first = plain(&list.colours.first()?.value);
            (ChosenKind::List, format!("starts the list of throw {throw} with {first}"))
        }
        Choosing::Way(throws) if throws.is_empty() => {
            (ChosenKind::Way, "is joined directly".to_owned())
        }
        Choosing::Way(throws) => (ChosenKind::Way, format!("is joined by `{throws}`")),
    };
    Some(ChosenLine { section, kind, words })
}

/// The number of the throw that a pattern begins with.
fn first_number(juggle: &Juggle) -> u32 {
    let first = juggle.pattern.pattern.sequence().steps.first();
    first.and_then(|step| step.throws().map(|one| one.number).min()).unwrap_or(1)
}

/// A sequence begun with its throw 1; unless `reordered`, with the values of each multiplex in the
/// order of their numbers, which is how they were written.
fn as_numbered(sequence: &Sequence, reordered: bool) -> Sequence {
    let mut steps = sequence.steps.clone();
    let first = steps.iter().position(|step| step.throws().any(|one| one.number == 1));
    steps.rotate_left(first.unwrap_or(0));
    let by_number = |throws: &mut Vec<WrittenThrow>| throws.sort_by_key(|one| one.number);
    for step in steps.iter_mut().filter(|_| !reordered) {
        match step {
            Step::Alternating(throws) => by_number(throws),
            Step::Pair(hands) => hands.iter_mut().for_each(by_number),
        }
    }
    Sequence { steps, starred: sequence.starred }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::Sequence;

    #[test]
    fn a_reordered_pattern_is_told_beside_what_was_written() {
        let (mut sequence, _) = Sequence::read("[54]24").unwrap();
        let Some(Step::Alternating(throws)) = sequence.steps.first_mut() else { panic!() };
        throws.swap(0, 1);
        sequence.steps.rotate_left(2);
        assert_eq!(sequence.to_string(), "4[45]2");
        assert_eq!(as_numbered(&sequence, true).to_string(), "[45]24");
        assert_eq!(as_numbered(&sequence, false).to_string(), "[54]24");
    }
}
