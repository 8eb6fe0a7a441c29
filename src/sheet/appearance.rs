//! How the colours read: every pair of a set, each colour against the backdrop, and both under the
//! lights in which the set is juggled.
//!
//! Plain contents for the exporters; figures come from [`crate::measure::appearance`]. Differences
//! are CIEDE2000 to each vision, estimates all of them.

use crate::act::Act;
use crate::appearance::Rgb;
use crate::appearance::contrast::contrast;
use crate::appearance::reading::Differences;
use crate::measure::appearance::{LightInUse, SetInUse, before_backdrop, sets};
use crate::routine::{Cue, Routine};

use super::heading::Heading;
use super::words::plain;

/// The contents of the sheet of colours.
#[derive(Clone, Debug, PartialEq)]
pub struct AppearanceSheet {
    /// Its head.
    pub heading: Heading,
    /// The backdrop, if it is written: as it is called, and what it looks like.
    pub backdrop: Option<ColourLine>,
    /// Whether it is known under which lights the sets are juggled.
    pub lights_known: bool,
    /// The sets in the file's order.
    pub sets: Vec<SetLine>,
}

/// A colour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ColourLine {
    /// What it is called.
    pub name: String,
    /// What it looks like.
    pub rgb: Rgb,
}

/// A prop set.
#[derive(Clone, Debug, PartialEq)]
pub struct SetLine {
    /// Its name.
    pub name: String,
    /// Whether its props burn, and are judged under no light.
    pub burns: bool,
    /// Whether it is juggled at all, or may be where a section could not be read.
    pub is_juggled: bool,
    /// Its colours, each once.
    pub colours: Vec<ColourLine>,
    /// Every pair of them in white light.
    pub pairs: Vec<PairLine>,
    /// Each against the backdrop in white light; empty without a backdrop.
    pub against: Vec<AgainstLine>,
    /// The coloured lights in which it is juggled, by their first GO.
    pub lights: Vec<LightLine>,
}

/// Two colours beside each other.
#[derive(Clone, Debug, PartialEq)]
pub struct PairLine {
    /// One.
    pub first: String,
    /// The other.
    pub second: String,
    /// How they differ.
    pub differences: Differences,
    /// The sections that tell them apart; under a light, those that are juggled in it.
    pub told_apart_in: Vec<String>,
}

/// A colour in front of the backdrop.
#[derive(Clone, Debug, PartialEq)]
pub struct AgainstLine {
    /// The colour.
    pub colour: String,
    /// How it differs from the backdrop.
    pub differences: Differences,
    /// The contrast ratio of the two in white light, 1 to 21; `None` under a coloured one.
    pub contrast: Option<f64>,
}

/// A coloured light.
#[derive(Clone, Debug, PartialEq)]
pub struct LightLine {
    /// The cues that bring it up, as in `LX 30`.
    pub cues: Vec<String>,
    /// Its colour.
    pub light: ColourLine,
    /// The sections that are juggled in it.
    pub sections: Vec<String>,
    /// Every pair of the set under it.
    pub pairs: Vec<PairLine>,
    /// Each colour against the backdrop under it; empty without a backdrop, or where it does not
    /// light one.
    pub against: Vec<AgainstLine>,
}

/// Composes the sheet of colours of an act and its encore.
#[must_use]
pub fn compose(act: &Act) -> AppearanceSheet {
    let Act { routine, .. } = act;
    let lines = |act: &Act| {
        let sets = sets(act);
        sets.iter().map(|set| set_line(act, set)).collect::<Vec<SetLine>>()
    };
    let mut sets = lines(act);
    for encore in act.with_encore().skip(1) {
        sets.iter_mut().zip(lines(encore)).for_each(|(set, more)| set.add(more));
    }
    let backdrop = routine.backdrop.as_ref();
    AppearanceSheet {
        heading: Heading::of(act),
        lights_known: act.with_encore().all(lights_known),
        backdrop: backdrop
            .map(|backdrop| ColourLine { name: plain(&backdrop.name.value), rgb: backdrop.rgb }),
        sets,
    }
}

impl SetLine {
    /// Adds where the encore uses the set.
    fn add(&mut self, encore: SetLine) {
        self.is_juggled |= encore.is_juggled;
        for (pair, more) in self.pairs.iter_mut().zip(encore.pairs) {
            pair.told_apart_in.extend(more.told_apart_in);
        }
        self.lights.extend(encore.lights);
    }
}

/// Whether it is known when which set is juggled.
fn lights_known(act: &Act) -> bool {
    let Act { routine, timeline, .. } = act;
    act.times_known && timeline.runs.iter().all(|run| run.set < routine.sets.len())
}

fn set_line(act: &Act, set: &SetInUse) -> SetLine {
    let routine = &act.routine;
    let colours: Vec<(usize, ColourLine)> = set
        .colours
        .iter()
        .map(|&index| {
            let colour = &routine.colours[index];
            (index, ColourLine { name: plain(&colour.name.value), rgb: colour.rgb })
        })
        .collect();
    let backdrop = routine.backdrop.as_ref().map(|backdrop| backdrop.rgb);
    let against = colours.iter().filter_map(|(_, colour)| {
        let behind = backdrop?;
        Some(AgainstLine {
            colour: colour.name.clone(),
            differences: Differences::between(colour.rgb, behind),
            contrast: Some(contrast(colour.rgb, behind)),
        })
    });
    let written = &routine.sets[set.set];
    let lights = set.lights.iter().filter(|_| lights_known(act));
    SetLine {
        name: plain(&written.name.value),
        burns: written.is_fire(),
        is_juggled: !set.sections.is_empty() || act.hides_sets(),
        pairs: pairs(routine, set, &colours, |_| true, Differences::between),
        against: against.collect(),
        lights: lights.map(|light| light_line(routine, set, &colours, light)).collect(),
        colours: colours.into_iter().map(|(_, colour)| colour).collect(),
    }
}

/// Every pair of a set's colours, with the sections of those asked for that tell it apart.
fn pairs(
    routine: &Routine,
    set: &SetInUse,
    colours: &[(usize, ColourLine)],
    asked: impl Fn(usize) -> bool,
    differences: impl Fn(Rgb, Rgb) -> Differences,
) -> Vec<PairLine> {
    let mut pairs = Vec::new();
    for (place, (first, one)) in colours.iter().enumerate() {
        for (second, two) in &colours[place + 1..] {
            let told = set.told.iter().filter(|(section, told)| {
                let pair = [told.shown, told.other];
                pair.contains(first) && pair.contains(second) && asked(*section)
            });
            pairs.push(PairLine {
                first: one.name.clone(),
                second: two.name.clone(),
                differences: differences(one.rgb, two.rgb),
                told_apart_in: told.filter_map(|(section, _)| name(routine, *section)).collect(),
            });
        }
    }
    pairs
}

fn light_line(
    routine: &Routine,
    set: &SetInUse,
    colours: &[(usize, ColourLine)],
    light: &LightInUse,
) -> LightLine {
    let cues = || light.cues.iter().filter_map(|(cue, _)| routine.cues.get(*cue));
    let written = cues().find_map(|cue| cue.light.as_ref());
    let against = colours.iter().filter_map(|(_, colour)| {
        let behind = routine.backdrop.as_ref()?.rgb;
        let differences = before_backdrop(light, colour.rgb, behind)?;
        Some(AgainstLine { colour: colour.name.clone(), differences, contrast: None })
    });
    let in_it = set.sections.iter().filter(|&&section| light.lights(section));
    LightLine {
        cues: cues().map(Cue::label).collect(),
        light: ColourLine {
            name: written.map_or_else(String::new, |written| plain(&written.name.value)),
            rgb: light.light,
        },
        sections: in_it.filter_map(|&section| name(routine, section)).collect(),
        pairs: pairs(
            routine,
            set,
            colours,
            |section| light.lights(section),
            |one, two| Differences::under(light.light, one, two),
        ),
        against: against.collect(),
    }
}

fn name(routine: &Routine, section: usize) -> Option<String> {
    routine.score.get(section).map(|entry| plain(&entry.name.value))
}
