//! Other loadings than the found one that meet every colour request too: what else is chosen stays.

use std::collections::BTreeSet;

use crate::act::Act;
use crate::diagnostic::Placed;
use crate::routine::{HandColours, Loading, Routine};
use crate::timeline::compile;

use super::verdict::failures;
use super::{Choices, Choosing};

/// The most other loadings that are told.
pub const MOST_TOLD: usize = 20;

/// The most loadings that are tried; each is a whole act compiled.
const MOST_TRIED: usize = 3_000;

/// Sets with more ways to be loaded are not gone through.
const MOST_WAYS: usize = 50_000;

/// The loadings of a cold start beside the one that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Others {
    /// The section that starts cold, as an index into the score.
    pub section: usize,
    /// The loadings, those first that put the fewest props elsewhere; at most [`MOST_TOLD`].
    pub loadings: Vec<HandColours>,
    /// Whether these are all there are.
    pub are_all: bool,
}

/// The other loadings of every cold start whose loading was found. Nothing is told of an act with
/// an error.
#[must_use]
pub fn others(act: &Act, choices: &Choices) -> Vec<Others> {
    if act.errors > 0 {
        return Vec::new();
    }
    let found = choices.chosen.iter().filter(|chosen| chosen.what == Choosing::Loading);
    found.filter_map(|chosen| of_section(&act.routine, chosen.section)).collect()
}

fn of_section(routine: &Routine, section: usize) -> Option<Others> {
    let Loading::Hands(hands) = &routine.juggle(section)?.loading.as_ref()?.value else {
        return None;
    };
    let names: Vec<&Placed<String>> = hands.right.iter().chain(&hands.left).collect();
    let texts: Vec<&str> = names.iter().map(|name| name.value.as_str()).collect();
    let mut ways = BTreeSet::new();
    let went_through = arrange(&mut texts.clone(), 0, &mut ways);
    let moved = |way: &[&str]| way.iter().zip(&texts).filter(|(one, other)| one != other).count();
    let mut ways: Vec<Vec<&str>> = ways.into_iter().filter(|way| moved(way) > 0).collect();
    ways.sort_by_key(|way| moved(way));
    let mut others = Others { section, loadings: Vec::new(), are_all: went_through };
    let mut trial = routine.clone();
    for (tried, way) in ways.iter().enumerate() {
        if tried >= MOST_TRIED || others.loadings.len() >= MOST_TOLD {
            others.are_all = false;
            break;
        }
        let mut placed = way
            .iter()
            .zip(&names)
            .map(|(name, old)| Placed { value: (*name).to_owned(), at: old.at.clone() });
        let right = placed.by_ref().take(hands.right.len()).collect();
        let loading = HandColours { right, left: placed.collect() };
        let written = trial.juggle_mut(section)?.loading.as_mut()?;
        written.value = Loading::Hands(loading.clone());
        let compiled = compile(&trial);
        if compiled.troubles.is_empty() && failures(&trial, &compiled.timeline).is_empty() {
            others.loadings.push(loading);
        }
    }
    Some(others)
}

/// Every different order of names, from a place on; false where there are too many.
fn arrange<'n>(names: &mut Vec<&'n str>, from: usize, ways: &mut BTreeSet<Vec<&'n str>>) -> bool {
    if from == names.len() {
        ways.insert(names.clone());
        return ways.len() < MOST_WAYS;
    }
    let mut used = BTreeSet::new();
    for place in from..names.len() {
        if used.insert(names[place]) {
            names.swap(from, place);
            let goes_on = arrange(names, from + 1, ways);
            names.swap(from, place);
            if !goes_on {
                return false;
            }
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    fn act(shows: &str) -> String {
        format!(
            "Routine(title: \"T\", tempo: PerMinute(200), lead: Right,
            colours: {{ \"coral\": \"#ec6a5c\", \"teal\": \"#0f5b6d\", \"pearl\": \"#f4f1e6\" }},
            sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \
             \"pearl\"]) }},
            score: [
                Juggle(name: \"tide\", set: \"three\", pattern: \"531\", lasts: Cycles(4),
                    loading: Found, shows: {shows}),
                Pause(name: \"bow\", lasts: For(\"0:04\")),
            ])"
        )
    }

    fn of(shows: &str) -> Vec<Others> {
        let opened = crate::open(&act(shows));
        let act = opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
        others(act, &opened.colours.as_ref().unwrap().choices)
    }

    #[test]
    fn every_other_loading_that_meets_the_requests_is_told() {
        // The 3 is teal: its place is fixed, the other two may change places.
        let told = of("{ 2: [\"teal\"] }");
        let [one] = &told[..] else { panic!("{told:?}") };
        assert_eq!((one.section, one.loadings.len(), one.are_all), (0, 1, true));
        // The 5 and the 1 change colours in turn: asked, they fix every place.
        let told = of("{ 1: [\"coral\", \"pearl\"] }");
        assert_eq!(told[0].loadings, []);
        assert!(told[0].are_all);
    }

    #[test]
    fn orders_are_all_different_and_all_there() {
        let mut ways = BTreeSet::new();
        assert!(arrange(&mut vec!["a", "b", "a", "c"], 0, &mut ways));
        assert_eq!(ways.len(), 12);
    }
}
