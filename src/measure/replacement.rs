//! Which colour would read in place of one that does not.
//!
//! First from the routine's own colours, put into the set in place of the old one; then from a
//! small palette of CSS names ([`named::NAMES`]), as another look of the old one wherever it is juggled.
//! A colour is offered only when it reads beside every other colour of its sets and against the
//! backdrop to every vision, and, where there is such a one, also under their lights.

use crate::appearance::reading::{Differences, LOOK_ALIKE, READS};
use crate::appearance::{Rgb, named};
use crate::routine::Routine;

use super::appearance::{SetInUse, before_backdrop};

/// The most colours of the routine that are tried.
const MOST_TRIED: usize = 64;

/// A colour in place of another.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    /// The colour that goes.
    pub old: usize,
    /// What comes.
    pub by: By,
    /// Its least difference from what it must be told apart from, in white light, to any vision.
    pub least: f64,
    /// Whether it is told apart under every light of its sets too.
    pub under_lights: bool,
}

/// What comes in place of a colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// Another colour of the routine, in this set.
    Own(usize),
    /// Another look of the same colour, in every set: a CSS name.
    Named(&'static str, Rgb),
}

/// A colour of a set to put in place of one of `olds`; the first of them by preference.
#[must_use]
pub fn in_set(
    routine: &Routine,
    sets: &[SetInUse],
    set: &SetInUse,
    olds: &[usize],
) -> Option<Replacement> {
    [true, false].into_iter().find_map(|under_lights| {
        let own = olds.iter().find_map(|&old| own(routine, set, old, under_lights));
        own.or_else(|| olds.iter().find_map(|&old| named(routine, sets, set, old, under_lights)))
    })
}

/// Another look for a colour wherever it is juggled.
#[must_use]
pub fn look(
    routine: &Routine,
    sets: &[SetInUse],
    set: &SetInUse,
    old: usize,
) -> Option<Replacement> {
    [true, false].into_iter().find_map(|under_lights| named(routine, sets, set, old, under_lights))
}

/// The best of the routine's own colours.
fn own(routine: &Routine, set: &SetInUse, old: usize, under_lights: bool) -> Option<Replacement> {
    let unused = (0..routine.colours.len()).filter(|colour| !set.colours.contains(colour));
    let candidates = unused.take(MOST_TRIED).map(|colour| {
        let least = fit(routine, &[set], old, routine.colours[colour].rgb, under_lights);
        (By::Own(colour), least)
    });
    best(candidates).map(|(by, least)| Replacement { old, by, least, under_lights })
}

/// The best of the small palette.
fn named(
    routine: &Routine,
    sets: &[SetInUse],
    set: &SetInUse,
    old: usize,
    under_lights: bool,
) -> Option<Replacement> {
    let name = &routine.colours.get(old)?.name.value;
    if routine.backdrop.as_ref().is_some_and(|backdrop| backdrop.name.value == *name) {
        // The backdrop would change with it.
        return None;
    }
    let with_it: Vec<&SetInUse> = sets
        .iter()
        .filter(|one| one.set == set.set || !one.sections.is_empty())
        .filter(|one| one.colours.contains(&old))
        .collect();
    let candidates = named::colours()
        .map(|(name, rgb)| (By::Named(name, rgb), fit(routine, &with_it, old, rgb, under_lights)));
    best(candidates).map(|(by, least)| Replacement { old, by, least, under_lights })
}

/// Of equally good ones the first.
fn best(candidates: impl Iterator<Item = (By, Option<f64>)>) -> Option<(By, f64)> {
    let fitting = candidates.filter_map(|(by, least)| Some((by, least?)));
    fitting.fold(None, |best: Option<(By, f64)>, one| match best {
        Some(best) if best.1 >= one.1 => Some(best),
        _ => Some(one),
    })
}

/// How far a colour in place of `old` is from everything; `None` where it does not read.
fn fit(
    routine: &Routine,
    sets: &[&SetInUse],
    old: usize,
    candidate: Rgb,
    under_lights: bool,
) -> Option<f64> {
    let backdrop = routine.backdrop.as_ref().map(|backdrop| backdrop.rgb);
    let mut least = f64::INFINITY;
    for set in sets {
        let others = set.colours.iter().filter(|&&colour| colour != old);
        let others: Vec<Rgb> = others.map(|&colour| routine.colours[colour].rgb).collect();
        for beside in others.iter().chain(&backdrop) {
            least = least.min(Differences::between(candidate, *beside).least());
            if least < READS {
                return None;
            }
        }
        if !under_lights {
            continue;
        }
        for light in &set.lights {
            let beside = |&other| Differences::under(light.light, candidate, other);
            let before = backdrop.and_then(|behind| before_backdrop(light, candidate, behind));
            let mut all = others.iter().map(beside).chain(before);
            if all.any(|differences| differences.least() < LOOK_ALIKE) {
                return None;
            }
        }
    }
    Some(least)
}
