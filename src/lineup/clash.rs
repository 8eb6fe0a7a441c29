//! The fewest requirements that are found not to be met together.

use crate::routine::{Loading, Routine};
use crate::timeline::{Loaded, compile_uncoloured};

use super::demand::{Requirement, requirements};
use super::search::{Budget, Choice, Search, all_variants};
use super::settle;
use super::written_out;

/// So many sets of requirements are tried, smallest first; then what can be left out is.
const MOST_SETS: usize = 300;

/// The fewest requirements that are found not to be met together, whatever the loadings: none where
/// other loadings would do, or where there is too much to go through. They are the fewest there are
/// unless more sets than [`MOST_SETS`] would have to be tried, or the budget is spent: what it does
/// not prove to clash is taken to be met.
pub(super) fn clash(written: &Routine) -> Vec<Requirement> {
    let open = with_open_loadings(written);
    let asked = requirements(&open);
    // Without other choices one timeline serves every set.
    if open.juggles().all(|juggle| juggle.free.is_empty()) {
        let compiled = compile_uncoloured(&open);
        return smallest(asked, |set| settle::settled_in(&open, &compiled, set).is_none());
    }
    let budget = Budget::explaining();
    let Ok(variants) = all_variants(&open) else { return Vec::new() };
    // What is made of the places for one set serves the others.
    let Ok(mut search) = Search::new(&open, &asked, &variants, &budget) else {
        return Vec::new();
    };
    smallest(asked.clone(), |set| {
        let settles = |choices: &[Choice]| {
            settle::settled(&written_out(&open, &variants, choices), set).is_some()
        };
        matches!(search.run(set, settles), Ok(None))
    })
}

/// The smallest set of requirements that clashes, as far as sets are tried.
fn smallest(
    asked: Vec<Requirement>,
    mut clashes: impl FnMut(&[Requirement]) -> bool,
) -> Vec<Requirement> {
    if !clashes(&asked) {
        return Vec::new();
    }
    let mut tried = 0;
    for size in 1..asked.len() {
        let mut places: Vec<usize> = (0..size).collect();
        loop {
            tried += 1;
            if tried > MOST_SETS {
                return without_what_can_go(asked, clashes);
            }
            let set: Vec<Requirement> = places.iter().map(|&place| asked[place]).collect();
            if clashes(&set) {
                return set;
            }
            if !next_set(&mut places, asked.len()) {
                break;
            }
        }
    }
    asked
}

/// A set that clashes no more once any one of it is left out.
fn without_what_can_go(
    mut set: Vec<Requirement>,
    mut clashes: impl FnMut(&[Requirement]) -> bool,
) -> Vec<Requirement> {
    let mut place = 0;
    while place < set.len() {
        let mut fewer = set.clone();
        fewer.remove(place);
        if clashes(&fewer) {
            set = fewer;
        } else {
            place += 1;
        }
    }
    set
}

/// The next set of as many places below `len`, in order; false after the last.
fn next_set(places: &mut [usize], len: usize) -> bool {
    let size = places.len();
    for at in (0..size).rev() {
        if places[at] < len - (size - at) {
            places[at] += 1;
            for later in at + 1..size {
                places[later] = places[later - 1] + 1;
            }
            return true;
        }
    }
    false
}

/// The routine with every loading that begins with props from outside to be found.
pub(super) fn with_open_loadings(written: &Routine) -> Routine {
    let mut open = written.clone();
    for run in &compile_uncoloured(written).timeline.runs {
        if matches!(run.loaded, Loaded::Natural | Loaded::Written) {
            open_loading(&mut open, run.sections.start);
        }
    }
    open
}

/// Lets the loading of a section be found.
pub(super) fn open_loading(routine: &mut Routine, section: usize) {
    if let Some(juggle) = routine.juggle_mut(section) {
        let end = juggle.pattern.at.end;
        let at = juggle.loading.as_ref().map_or_else(|| (end..end).into(), |l| l.at.clone());
        juggle.loading = Some(crate::diagnostic::Placed { value: Loading::Found, at });
    }
}
