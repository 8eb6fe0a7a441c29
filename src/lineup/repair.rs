//! Changes that may bring the colours about. What else each does is seen once it is made: the
//! offers are tried on the file itself ([`crate::offer`]).

use std::collections::BTreeSet;
use std::ops::Range;

use crate::act::Act;
use crate::diagnostic::{Edit, Place, Placed};
use crate::hand::Hand;
use crate::routine::{Freedom, HandColours, Juggle, Length, Loading, Routine, Transition};
use crate::timeline::Loaded;

use super::clash::open_loading;
use super::demand::Requirement;
use super::search::Budget;
use super::settle::{Chain, chains};
use super::verdict::{Failure, failures};
use super::{Choosing, LineUp, choose, requirements};

/// So many sections before the one that asks are looked at.
const NEAR_SECTIONS: usize = 6;

/// For so many sections changes are looked for.
const MOST_ASKING: usize = 4;

/// Each section of a change that is tried costs about as much as so many nodes of a search.
const SECTION: usize = 10;

/// So many changes are told.
const MOST_CANDIDATES: usize = 10;

/// A change that meets what is asked of a chain of runs.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    /// The section that asks, an index into the score.
    pub(crate) asks: usize,
    /// What to do, an imperative without a full stop.
    pub(crate) what: String,
    /// The changes of the file.
    pub(crate) edits: Vec<Edit>,
    /// The loading that it brings, with the section that starts cold with it.
    pub(crate) loading: Option<(usize, HandColours)>,
    /// Beats that it puts in or takes out where it is made; the fewer, the sooner it is tried.
    beats: u32,
}

/// Changes that meet what is asked: `written` is the routine as it is in the file, the act has its
/// choices.
pub(crate) fn candidates(written: &Routine, act: &Act) -> Vec<Candidate> {
    let failed = failures(&act.routine, &act.timeline);
    let chains = chains(&act.timeline.runs);
    let budget = Budget::explaining();
    let mut found: Vec<Candidate> = Vec::new();
    let mut asking: Vec<(usize, usize)> = failed
        .iter()
        .filter_map(|failure| Some((failure.chain?, failure.requirement.section)))
        .collect();
    asking.sort_unstable();
    asking.dedup();
    let mut loaded = None;
    for (place, asks) in asking.into_iter().take(MOST_ASKING) {
        let chain = &chains[place];
        let bench = Bench { written, failed: &failed, place, chain, asks, budget: &budget };
        // One loading serves the whole chain.
        if loaded.replace(place) != Some(place) {
            found.extend(bench.loadings());
        }
        found.extend(bench.beginnings());
        found.extend(bench.lengths());
        found.extend(bench.transitions());
    }
    found.sort_by_key(|candidate| candidate.beats);
    let mut told = BTreeSet::new();
    found.retain(|candidate| told.insert(candidate.what.clone()));
    found.truncate(MOST_CANDIDATES);
    found
}

/// Where changes are looked for that serve one chain of runs.
struct Bench<'a> {
    written: &'a Routine,
    failed: &'a [Failure],
    /// The chain's place among the chains.
    place: usize,
    chain: &'a Chain<'a>,
    /// The first section with a request that is not met.
    asks: usize,
    budget: &'a Budget,
}

impl Bench<'_> {
    /// The line-up of a changed routine; nothing where it cannot be compiled or does not meet
    /// every request of the chain, or meets less elsewhere.
    fn lined_up(&self, changed: &Routine) -> Option<LineUp> {
        let elsewhere = |requirement: &Requirement| {
            let mut failed = self.failed.iter();
            failed.any(|one| one.chain != Some(self.place) && one.requirement == *requirement)
        };
        let mut asked = requirements(changed);
        asked.retain(|requirement| !elsewhere(requirement));
        self.budget.spend(changed.score.len() * SECTION).ok()?;
        choose(changed, &asked, self.budget).ok()?
    }

    /// The sections of the run that asks, up to the one that does, the nearest last.
    fn sections_before(&self) -> Range<usize> {
        let run = self.chain.runs.iter().find(|run| run.sections.contains(&self.asks));
        let first = run.map_or(self.asks, |run| run.sections.start);
        first.max(self.asks.saturating_sub(NEAR_SECTIONS))..self.asks + 1
    }

    /// Another loading: two props swapped, or whatever does.
    fn loadings(&self) -> Vec<Candidate> {
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
            let Some(juggle) = changed.juggle_mut(section) else { return changed };
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
                if self.lined_up(&changed).is_some() {
                    let said = |hand: usize| if hand == 0 { "right" } else { "left" };
                    let (first, second) = (&present[hand][place], &present[other_hand][other]);
                    let what = format!(
                        "swap two props in the loading before {:?}: the {} hand's {first} and the \
                         {} hand's {second}",
                        self.name(section),
                        said(hand),
                        said(other_hand)
                    );
                    return vec![self.loading_of(what, section, &swapped)];
                }
            }
        }
        let mut changed = self.written.clone();
        open_loading(&mut changed, section);
        let Some(line_up) = self.lined_up(&changed) else { return Vec::new() };
        let found = line_up.routine.juggle(section);
        let Some(hands) = found.and_then(|juggle| juggle.written_loading()) else {
            return Vec::new();
        };
        let names = |props: &[Placed<String>]| props.iter().map(|p| p.value.clone()).collect();
        let hands: [Vec<String>; 2] = [names(&hands.right), names(&hands.left)];
        let what = format!("load the props in another way before {:?}", self.name(section));
        vec![self.loading_of(what, section, &hands)]
    }

    fn loading_of(&self, what: String, section: usize, hands: &[Vec<String>; 2]) -> Candidate {
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
        let edits = edit.into_iter().map(|(at, insert)| Edit { at, insert }).collect();
        Candidate { asks: self.asks, what, edits, loading: Some((section, loading)), beats: 0 }
    }

    fn change(&self, what: String, (at, insert): (Place, String), beats: u32) -> Candidate {
        let edits = vec![Edit { at, insert }];
        Candidate { asks: self.asks, what, edits, loading: None, beats }
    }

    /// The pattern that asks begun at another of its throws.
    fn beginnings(&self) -> Vec<Candidate> {
        let Some(juggle) = self.written.juggle(self.asks) else { return Vec::new() };
        if juggle.is_free(Freedom::StartingThrow) || juggle.pattern.pattern.period() == 1 {
            return Vec::new();
        }
        let mut changed = self.written.clone();
        free(&mut changed, self.asks, Freedom::StartingThrow);
        let Some(line_up) = self.lined_up(&changed) else { return Vec::new() };
        let mut told = Vec::new();
        for chosen in line_up.choices.chosen.iter().filter(|c| c.section == self.asks) {
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
        vec![self.change(what, freeing(juggle, "StartingThrow"), 0)]
    }

    /// A section before it one throw, or one cycle, longer or shorter.
    fn lengths(&self) -> Vec<Candidate> {
        let mut found = Vec::new();
        for section in self.sections_before().rev().skip(1) {
            let Some(juggle) = self.written.juggle(section) else { continue };
            let period = juggle.pattern.pattern.period();
            let step = juggle.pattern.pattern.sequence().steps.first().map_or(1, |s| s.beats());
            let name = self.name(section);
            let mut tries: Vec<(Length, u32, String, String)> = Vec::new();
            match juggle.lasts.value {
                Length::Beats(beats) => {
                    let throw = if step == 2 { "pair" } else { "throw" };
                    let mut lasts = |other: u32, what: String| {
                        let written = format!("Beats({other})");
                        tries.push((Length::Beats(other), other.abs_diff(beats), written, what));
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
                        let written = format!("Cycles({cycles})");
                        tries.push((Length::Cycles(cycles), period, written, what));
                    };
                    lasts(cycles + 1, format!("let {name:?} go on for one cycle more"));
                    if cycles > 1 {
                        lasts(cycles - 1, format!("let {name:?} end one cycle earlier"));
                    }
                }
                _ => {}
            }
            for (length, beats, insert, what) in tries {
                let mut changed = self.written.clone();
                if let Some(juggle) = changed.juggle_mut(section) {
                    juggle.lasts.value = length;
                }
                if self.lined_up(&changed).is_some() {
                    found.push(self.change(what, (juggle.lasts.at.clone(), insert), beats));
                }
            }
        }
        found
    }

    /// A transition that brings the props into another order.
    fn transitions(&self) -> Vec<Candidate> {
        let mut found = Vec::new();
        let sections = self.sections_before();
        let first = self.chain.runs.iter().map(|run| run.sections.start).collect::<Vec<_>>();
        for section in sections.rev().filter(|section| !first.contains(section)) {
            let Some(juggle) = self.written.juggle(section) else { continue };
            if juggle.is_free(Freedom::Transition) {
                continue;
            }
            let mut changed = self.written.clone();
            if let Some(juggle) = changed.juggle_mut(section) {
                juggle.transition.value = Transition::Auto;
            }
            free(&mut changed, section, Freedom::Transition);
            let Some(line_up) = self.lined_up(&changed) else { continue };
            let ways = &line_up.choices.chosen;
            let way = ways.iter().find_map(|chosen| match &chosen.what {
                Choosing::Way(way) if chosen.section == section => Some(way.clone()),
                _ => None,
            });
            let Some(way) = way.filter(|way| !way.is_empty()) else { continue };
            let what = format!("join {:?} by `{way}`", self.name(section));
            let found_way = line_up.routine.juggle(section);
            // Beside pairs the same throws may be led by either hand.
            let alone = found_way.and_then(|found_way| self.with_throws(section, found_way));
            let fails = alone.is_none_or(|alone| self.lined_up(&alone).is_none());
            let lead = match found_way.and_then(|found_way| found_way.lead.as_ref()) {
                Some(lead) if fails && juggle.lead.is_none() => match lead.value {
                    Hand::Left => ", lead: Left",
                    Hand::Right => ", lead: Right",
                },
                _ => "",
            };
            let written = format!("Throws(\"{way}\"){lead}");
            let at = juggle.transition.at.clone();
            let edit = match at.start < at.end {
                true => (at, written),
                false => (behind_pattern(juggle), format!(", transition: {written}")),
            };
            let beats = found_way.map_or(0, |found_way| match &found_way.transition.value {
                Transition::Throws(written) => written.throws.beats(),
                Transition::Direct | Transition::Auto => 0,
            });
            found.push(self.change(what, edit, beats));
        }
        found
    }

    /// The routine with the throws written that were found for a section, and nothing said of the
    /// hand that leads it; `None` where that is said already.
    fn with_throws(&self, section: usize, found: &Juggle) -> Option<Routine> {
        let mut changed = self.written.clone();
        let juggle = changed.juggle_mut(section)?;
        juggle.transition.value = found.transition.value.clone();
        Some(changed)
    }

    fn name(&self, section: usize) -> &str {
        self.written.score.get(section).map_or("", |section| section.name.value.as_str())
    }
}

/// Lets the line-up choose something more in a section.
fn free(routine: &mut Routine, section: usize, freedom: Freedom) {
    if let Some(juggle) = routine.juggle_mut(section) {
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
