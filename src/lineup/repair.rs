//! The changes that would bring the colours about, each with its side effects, cheapest first.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::act::Act;
use crate::diagnostic::words::counted;
use crate::diagnostic::{Place, Placed};
use crate::hand::Hand;
use crate::routine::{
    Cue, Freedom, HandColours, Juggle, Length, Loading, Part, Routine, Transition,
};
use crate::time::{Seconds, Time};
use crate::timeline::{Loaded, Timeline};

use super::clash::open_loading;
use super::search::Budget;
use super::settle::{Chain, chains};
use super::verdict::{Failure, Repair, failures};
use super::{Choosing, LineUp, Outcome, choose, requirements};

/// So many sections before the one that asks are looked at.
const NEAR_SECTIONS: usize = 6;

/// For so many sections repairs are looked for.
const MOST_ASKING: usize = 4;

/// So many repairs are told.
const MOST_REPAIRS: usize = 6;

/// The repairs of a routine: `written` as it is in the file, `routine` with its choices, and what
/// came of compiling that.
pub(super) fn repairs(written: &Routine, act: &Act, failed: &[Failure]) -> Vec<Repair> {
    let chains = chains(&act.timeline.runs);
    let budget = Budget::explaining();
    let mut found: Vec<Repair> = Vec::new();
    let mut asking: Vec<(usize, usize)> = failed
        .iter()
        .filter_map(|failure| Some((failure.chain?, failure.requirement.section)))
        .collect();
    asking.sort_unstable();
    asking.dedup();
    let mut loaded = None;
    for (place, asks) in asking.into_iter().take(MOST_ASKING) {
        let chain = &chains[place];
        let bench = Bench { written, before: act, chain, asks, budget: &budget };
        // One loading serves the whole chain.
        if loaded.replace(place) != Some(place) {
            found.extend(bench.loadings());
        }
        found.extend(bench.beginnings());
        found.extend(bench.lengths());
        found.extend(bench.transitions());
    }
    let cost = |repair: &Repair| {
        let longer = repair.adds.abs().to_f64();
        (longer.to_bits(), repair.beats.abs(), repair.flips_lead, repair.cues_that_move.len())
    };
    found.sort_by_key(cost);
    let mut told = BTreeSet::new();
    found.retain(|repair| told.insert(repair.what.clone()));
    found.truncate(MOST_REPAIRS);
    found
}

/// Where repairs of one chain of runs are tried out.
struct Bench<'a> {
    written: &'a Routine,
    before: &'a Act,
    chain: &'a Chain<'a>,
    /// The first section that asks for what does not come about.
    asks: usize,
    budget: &'a Budget,
}

/// A change that was tried out and brings everything about.
struct Tried {
    line_up: LineUp,
    act: Act,
}

impl Bench<'_> {
    /// Tries a changed routine; nothing where it cannot be compiled or does not meet everything
    /// that is asked of the chain, or meets less elsewhere.
    fn tried(&self, changed: &Routine) -> Option<Tried> {
        let free = changed.juggles().any(|juggle| !juggle.free.is_empty())
            || super::settle::is_open(changed);
        let line_up = match free {
            true => choose(changed, &requirements(changed), self.budget).ok()??,
            false => super::line_up(changed),
        };
        if matches!(line_up.choices.outcome, Outcome::Impossible | Outcome::TooMany) {
            return None;
        }
        let act = self.before.changed_to(&line_up.routine);
        let sections = self.chain_sections();
        let left = failures(&act.routine, &act.timeline);
        let elsewhere = failures(&self.before.routine, &self.before.timeline);
        let known = |failure: &Failure| {
            elsewhere.iter().any(|other| other.requirement == failure.requirement)
        };
        let fine = act.props_known()
            && lists_are_reached(&act)
            && left
                .iter()
                .all(|failure| !sections.contains(&failure.requirement.section) && known(failure));
        fine.then_some(Tried { line_up, act })
    }

    fn chain_sections(&self) -> Range<usize> {
        let first = self.chain.runs.first().map_or(0, |run| run.sections.start);
        let last = self.chain.runs.last().map_or(first, |run| run.sections.end);
        first..last
    }

    /// The sections of the run that asks, up to the one that does, the nearest last.
    fn sections_before(&self) -> Range<usize> {
        let run = self.chain.runs.iter().find(|run| run.sections.contains(&self.asks));
        let first = run.map_or(self.asks, |run| run.sections.start);
        first.max(self.asks.saturating_sub(NEAR_SECTIONS))..self.asks + 1
    }

    /// Another loading: two props swapped, or whatever does.
    fn loadings(&self) -> Vec<Repair> {
        if !matches!(self.chain.loaded, Loaded::Natural | Loaded::Written) {
            return Vec::new();
        }
        let Some(run) = self.chain.runs.first() else { return Vec::new() };
        let section = run.sections.start;
        let Some(set) = self.written.sets.get(run.set) else { return Vec::new() };
        let of = |hand| -> Vec<String> {
            let props = run.loading.in_hand(hand).iter();
            props.map(|prop| set.name_of(usize::from(prop.0))).collect()
        };
        let present = [of(Hand::Right), of(Hand::Left)];
        let loaded_so = |[right, left]: &[Vec<String>; 2]| {
            let mut changed = self.written.clone();
            open_loading(&mut changed, section);
            let Some(juggle) = juggle_mut(&mut changed, section) else { return changed };
            if let Some(loading) = &mut juggle.loading {
                let at = loading.at.clone();
                let placed = |names: &Vec<String>| {
                    names
                        .iter()
                        .map(|name| Placed { value: name.clone(), at: at.clone() })
                        .collect()
                };
                let hands = HandColours { right: placed(right), left: placed(left) };
                loading.value = Loading::Hands(hands);
            }
            changed
        };
        let places: Vec<(usize, usize)> = present
            .iter()
            .enumerate()
            .flat_map(|(hand, props)| (0..props.len()).map(move |place| (hand, place)))
            .collect();
        for (at, &(hand, place)) in places.iter().enumerate() {
            for &(other_hand, other) in &places[at + 1..] {
                if present[hand][place] == present[other_hand][other] {
                    continue;
                }
                let mut swapped = present.clone();
                let moved = swapped[hand][place].clone();
                swapped[hand][place] = std::mem::replace(&mut swapped[other_hand][other], moved);
                let changed = loaded_so(&swapped);
                if let Some(tried) = self.tried(&changed) {
                    let said = |hand: usize| if hand == 0 { "right" } else { "left" };
                    let (first, second) = (&present[hand][place], &present[other_hand][other]);
                    let what = format!(
                        "swap two props in the loading before {:?}: the {} hand's {first} and the \
                         {} hand's {second}",
                        self.name(section),
                        said(hand),
                        said(other_hand)
                    );
                    return vec![self.loading_repair(what, section, &swapped, &tried)];
                }
            }
        }
        let mut changed = self.written.clone();
        open_loading(&mut changed, section);
        let Some(tried) = self.tried(&changed) else { return Vec::new() };
        let found = tried.line_up.routine.juggle(section);
        let Some(hands) = found.and_then(|juggle| juggle.written_loading()) else {
            return Vec::new();
        };
        let names = |props: &[Placed<String>]| props.iter().map(|p| p.value.clone()).collect();
        let hands: [Vec<String>; 2] = [names(&hands.right), names(&hands.left)];
        let what = format!("load the props otherwise before {:?}", self.name(section));
        vec![self.loading_repair(what, section, &hands, &tried)]
    }

    fn loading_repair(
        &self,
        what: String,
        section: usize,
        hands: &[Vec<String>; 2],
        tried: &Tried,
    ) -> Repair {
        let listed = |names: &[String]| {
            let quoted: Vec<String> = names.iter().map(|name| format!("{name:?}")).collect();
            quoted.join(", ")
        };
        let written =
            format!("Hands(right: [{}], left: [{}])", listed(&hands[0]), listed(&hands[1]));
        let juggle = self.written.juggle(section);
        let edit = juggle.map(|juggle| match &juggle.loading {
            Some(loading) => (loading.at.clone(), written.clone()),
            None => (behind_pattern(juggle), format!(", loading: {written}")),
        });
        let placed = |names: &[String]| {
            let placed = |name: &String| Placed { value: name.clone(), at: Place::default() };
            names.iter().map(placed).collect()
        };
        let loading = HandColours { right: placed(&hands[0]), left: placed(&hands[1]) };
        Repair {
            loading: Some((section, loading)),
            ..self.repair(what, edit.into_iter().collect(), tried)
        }
    }

    /// The pattern that asks begun at another of its throws.
    fn beginnings(&self) -> Vec<Repair> {
        let Some(juggle) = self.written.juggle(self.asks) else { return Vec::new() };
        if juggle.is_free(Freedom::StartingThrow) || juggle.pattern.pattern.period() == 1 {
            return Vec::new();
        }
        let mut changed = self.written.clone();
        free(&mut changed, self.asks, Freedom::StartingThrow);
        let Some(tried) = self.tried(&changed) else { return Vec::new() };
        let mut told = Vec::new();
        for chosen in tried.line_up.choices.chosen.iter().filter(|c| c.section == self.asks) {
            match &chosen.what {
                Choosing::StartingThrow(number) => told.push(format!("with its throw {number}")),
                Choosing::List(throw, start) => {
                    let list = juggle.seen.shows.iter().find(|shown| shown.throw.value == *throw);
                    let colour = list.and_then(|list| list.colours.get(*start));
                    if let Some(colour) = colour {
                        told.push(format!("with {} on throw {throw}", colour.value));
                    }
                }
                _ => {}
            }
        }
        if told.is_empty() {
            return Vec::new();
        }
        let what = format!("begin {:?} {}", self.name(self.asks), told.join(" and "));
        vec![self.repair(what, vec![freeing(juggle, "StartingThrow")], &tried)]
    }

    /// A section before it one throw, or one cycle, longer or shorter.
    fn lengths(&self) -> Vec<Repair> {
        let mut found = Vec::new();
        for section in self.sections_before().rev().skip(1) {
            let Some(juggle) = self.written.juggle(section) else { continue };
            let period = juggle.pattern.pattern.period();
            let step = juggle.pattern.pattern.sequence().steps.first().map_or(1, |s| s.beats());
            let name = self.name(section);
            let mut tries: Vec<(Length, String, String)> = Vec::new();
            match juggle.lasts.value {
                Length::Beats(beats) => {
                    let throw = if step == 2 { "pair" } else { "throw" };
                    let mut lasts = |beats: u32, what: String| {
                        tries.push((Length::Beats(beats), format!("Beats({beats})"), what));
                    };
                    lasts(beats + step, format!("let {name:?} go on for one {throw} more"));
                    if beats > step {
                        lasts(beats - step, format!("let {name:?} end one {throw} earlier"));
                    }
                    if period > step {
                        lasts(beats + period, format!("let {name:?} go on for one cycle more"));
                    }
                    if period > step && beats > period {
                        lasts(beats - period, format!("let {name:?} end one cycle earlier"));
                    }
                }
                Length::Cycles(cycles) => {
                    let mut lasts = |cycles: u32, what: String| {
                        tries.push((Length::Cycles(cycles), format!("Cycles({cycles})"), what));
                    };
                    lasts(cycles + 1, format!("let {name:?} go on for one cycle more"));
                    if cycles > 1 {
                        lasts(cycles - 1, format!("let {name:?} end one cycle earlier"));
                    }
                }
                _ => {}
            }
            for (length, insert, what) in tries {
                let mut changed = self.written.clone();
                if let Some(juggle) = juggle_mut(&mut changed, section) {
                    juggle.lasts.value = length;
                }
                if let Some(tried) = self.tried(&changed) {
                    let edits = vec![(juggle.lasts.at.clone(), insert)];
                    found.push(self.repair(what, edits, &tried));
                }
            }
        }
        found
    }

    /// A transition that brings the props into another order.
    fn transitions(&self) -> Vec<Repair> {
        let mut found = Vec::new();
        let sections = self.sections_before();
        let first = self.chain.runs.iter().map(|run| run.sections.start).collect::<Vec<_>>();
        for section in sections.rev().filter(|section| !first.contains(section)) {
            let Some(juggle) = self.written.juggle(section) else { continue };
            if juggle.is_free(Freedom::Transition) {
                continue;
            }
            let mut changed = self.written.clone();
            if let Some(juggle) = juggle_mut(&mut changed, section) {
                juggle.transition.value = Transition::Auto;
            }
            free(&mut changed, section, Freedom::Transition);
            let Some(tried) = self.tried(&changed) else { continue };
            let ways = &tried.line_up.choices.chosen;
            let way = ways.iter().find_map(|chosen| match &chosen.what {
                Choosing::Way(way) if chosen.section == section => Some(way.clone()),
                _ => None,
            });
            let Some(way) = way.filter(|way| !way.is_empty()) else { continue };
            let what = format!("join {:?} by `{way}`", self.name(section));
            // Beside pairs the same throws may be led by either hand.
            let alone = self.with_throws(section, &tried);
            let fails = alone.is_none_or(|alone| self.tried(&alone).is_none());
            let lead = match fails && juggle.lead.is_none() {
                true => span_lead(&tried, section).map_or("", |hand| match hand {
                    Hand::Left => ", lead: Left",
                    Hand::Right => ", lead: Right",
                }),
                false => "",
            };
            let written = format!("Throws(\"{way}\"){lead}");
            let at = juggle.transition.at.clone();
            let edit = match at.start < at.end {
                true => (at, written),
                false => (behind_pattern(juggle), format!(", transition: {written}")),
            };
            found.push(self.repair(what, vec![edit], &tried));
        }
        found
    }

    /// The routine with the throws written that were found for a section, and nothing said of the
    /// hand that leads it; `None` where that is said already.
    fn with_throws(&self, section: usize, tried: &Tried) -> Option<Routine> {
        let found = tried.line_up.routine.juggle(section)?;
        let mut changed = self.written.clone();
        let juggle = juggle_mut(&mut changed, section)?;
        juggle.transition.value = found.transition.value.clone();
        Some(changed)
    }

    fn name(&self, section: usize) -> &str {
        self.written.score.get(section).map_or("", |section| section.name.value.as_str())
    }

    /// A repair with its side effects.
    fn repair(&self, what: String, edits: Vec<(Place, String)>, tried: &Tried) -> Repair {
        let (before, after) = (&self.before.timeline, &tried.act.timeline);
        let beats = |timeline: &Timeline| -> i64 {
            timeline.runs.iter().map(|run| i64::from(run.beats)).sum()
        };
        let lasts = |timeline: &Timeline| {
            let ends = timeline.sections.last().map(|last| &last.ends);
            let starts = timeline.sections.first().map(|first| &first.starts);
            ends.zip(starts).map_or_else(Time::zero, |(ends, starts)| ends - starts)
        };
        let leads = |timeline: &Timeline| {
            let spans = timeline.sections.iter();
            spans.map(|span| span.juggle.as_ref().and_then(|j| j.lead)).collect::<Vec<_>>()
        };
        let moved = self.before.calls.calls.iter().filter_map(|call| {
            let same = tried.act.calls.of_cue(call.cue)?;
            let moved = (&same.go - &call.go).certain() != Some(&Seconds::zero());
            moved.then(|| cue_name(self.written.cues.get(call.cue)?).into()).flatten()
        });
        Repair {
            what,
            edits,
            loading: None,
            beats: beats(after) - beats(before),
            adds: (&lasts(after) - &lasts(before)).shortest().clone(),
            flips_lead: leads(before) != leads(after),
            cues_that_move: moved.collect(),
        }
    }
}

/// Whether every section makes its throws as often as their lists have colours.
fn lists_are_reached(act: &Act) -> bool {
    let Act { routine, timeline, .. } = act;
    let spans = timeline.sections.iter().enumerate();
    spans.filter_map(|(index, span)| Some((routine.juggle(index)?, span.juggle.as_ref()?))).all(
        |(juggle, span)| {
            let own = timeline.own_actions(span);
            juggle.seen.shows.iter().all(|shown| {
                let made = own.iter().filter(|action| action.written == shown.throw.value).count();
                made == 0 || made >= shown.colours.len()
            })
        },
    )
}

/// A cue by its crew and number.
fn cue_name(cue: &Cue) -> String {
    let crew = format!("{:?}", cue.crew.value);
    match &cue.number {
        Some(number) => format!("{crew} {}", number.value),
        None => crew,
    }
}

/// The hand that leads a section.
fn span_lead(tried: &Tried, section: usize) -> Option<Hand> {
    tried.act.timeline.sections.get(section)?.juggle.as_ref()?.lead
}

fn juggle_mut(routine: &mut Routine, section: usize) -> Option<&mut Juggle> {
    match &mut routine.score.get_mut(section)?.part {
        Part::Juggle(juggle) => Some(juggle),
        Part::Pause(_) | Part::Unread(_) => None,
    }
}

/// Lets the line-up choose something more in a section.
fn free(routine: &mut Routine, section: usize, freedom: Freedom) {
    if let Some(juggle) = juggle_mut(routine, section) {
        let at = Place::default();
        juggle.free.push(Placed { value: freedom, at });
    }
}

/// Behind the pattern, where a field can be added.
fn behind_pattern(juggle: &Juggle) -> Place {
    let end = juggle.pattern.at.end;
    Place { start: end, end }
}

/// The change that frees something in a section.
fn freeing(juggle: &Juggle, freedom: &str) -> (Place, String) {
    match (juggle.free.last(), &juggle.free_at) {
        (Some(last), _) => (Place { start: last.at.end, end: last.at.end }, format!(", {freedom}")),
        (None, Some(at)) => (at.clone(), format!("[{freedom}]")),
        (None, None) => (behind_pattern(juggle), format!(", free: [{freedom}]")),
    }
}

/// What a repair costs, in words: "no time", "2 beats, 0.6 s more; the lead flips".
#[must_use]
pub fn side_effects(repair: &Repair) -> String {
    let seconds = repair.adds.to_f64();
    let mut said = Vec::new();
    if repair.beats == 0 && seconds == 0.0 {
        said.push("costs no time".to_owned());
    } else {
        let beats = counted(repair.beats.unsigned_abs(), "beat");
        let sign = if seconds < 0.0 || repair.beats < 0 { "takes away" } else { "adds" };
        let seconds = crate::time::seconds_text(&repair.adds.abs());
        said.push(format!("{sign} {beats}, {seconds}"));
    }
    if repair.flips_lead {
        said.push("flips a lead hand".to_owned());
    }
    if !repair.cues_that_move.is_empty() {
        said.push(format!("moves the cues {}", repair.cues_that_move.join(", ")));
    }
    said.join("; ")
}
