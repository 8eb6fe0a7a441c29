//! How the colours of each prop set look: beside each other, against the backdrop, and under the
//! lights in which the set is juggled.
//!
//! Figures are those of [`crate::appearance`]. A burning prop is seen by its own flame, so a set of
//! torches is judged under no light. The followspot lights props and not the backdrop. Colours are
//! indices into the routine's colours.

use std::collections::BTreeMap;

use crate::act::Act;
use crate::appearance::Rgb;
use crate::appearance::reading::Differences;
use crate::routine::Crew;

use super::lights::Lights;
use super::told_apart::{ToldApart, colours_of, set_of, told_apart};

/// A prop set and where it is seen.
#[derive(Clone, Debug, PartialEq)]
pub struct SetInUse {
    /// Index of the set in the routine.
    pub set: usize,
    /// Its colours, each name once, in the set's order.
    pub colours: Vec<usize>,
    /// The sections that it is juggled in.
    pub sections: Vec<usize>,
    /// What these tell apart, with the section; by section.
    pub told: Vec<(usize, ToldApart)>,
    /// The colours of light in which it is juggled, each once, by the first GO.
    pub lights: Vec<LightInUse>,
}

/// A colour of light in which a set is juggled.
#[derive(Clone, Debug, PartialEq)]
pub struct LightInUse {
    /// Its colour.
    pub light: Rgb,
    /// The cues that bring it up, and the sections that are juggled in it; at least one.
    pub cues: Vec<(usize, Vec<usize>)>,
    /// Whether it lights the backdrop, as all but the followspot do.
    pub on_backdrop: bool,
}

impl LightInUse {
    /// Whether a section is juggled in it.
    #[must_use]
    pub fn lights(&self, section: usize) -> bool {
        self.cues.iter().any(|(_, sections)| sections.contains(&section))
    }
}

/// The sets of a routine in the file's order, those that are never juggled without sections.
#[must_use]
pub fn sets(act: &Act) -> Vec<SetInUse> {
    let Act { routine, timeline, .. } = act;
    let mut sets: Vec<SetInUse> = (0..routine.sets.len())
        .map(|set| SetInUse {
            set,
            colours: colours_of(routine, set),
            sections: Vec::new(),
            told: Vec::new(),
            lights: Vec::new(),
        })
        .collect();
    for section in 0..timeline.sections.len() {
        let Some(found) = set_of(timeline, section).and_then(|set| sets.get_mut(set)) else {
            continue;
        };
        found.sections.push(section);
        let told = told_apart(act, section);
        found.told.extend(told.into_iter().map(|told| (section, told)));
    }
    let lights = Lights::of(act);
    for (cue, light) in lights.cues() {
        let on_backdrop = routine.cues.get(cue).is_some_and(|cue| cue.crew.value != Crew::Spot);
        let mut flown: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for section in lights.flown_in(cue) {
            if let Some(set) = set_of(timeline, section) {
                flown.entry(set).or_default().push(section);
            }
        }
        for (set, flown) in flown {
            if routine.sets.get(set).is_some_and(|set| !set.is_fire()) {
                add(&mut sets[set].lights, (cue, light), on_backdrop, flown);
            }
        }
    }
    sets
}

/// Adds a cue's light to those of a set.
fn add(
    lights: &mut Vec<LightInUse>,
    (cue, light): (usize, Rgb),
    on_backdrop: bool,
    flown: Vec<usize>,
) {
    let cue = (cue, flown);
    let same = |one: &LightInUse| (one.light, one.on_backdrop) == (light, on_backdrop);
    match lights.iter_mut().find(|one| same(one)) {
        Some(known) => known.cues.push(cue),
        None => lights.push(LightInUse { light, cues: vec![cue], on_backdrop }),
    }
}

/// How a prop differs from the backdrop under a light that falls on both.
#[must_use]
pub fn before_backdrop(light: &LightInUse, prop: Rgb, backdrop: Rgb) -> Option<Differences> {
    light.on_backdrop.then(|| Differences::under(light.light, prop, backdrop))
}
