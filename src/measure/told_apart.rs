//! Which colours a section asks its audience to tell apart.
//!
//! A colour of the set that `shows` asks for is told apart from every other colour of that set: an
//! effect of one colour is none for who sees two alike. A section without `shows` tells nothing
//! apart.

use crate::act::Act;
use crate::diagnostic::Place;
use crate::routine::{Juggle, Routine};
use crate::timeline::Timeline;

/// Two colours that a section tells apart, as indices into the routine's colours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToldApart {
    /// The colour that is asked for.
    pub shown: usize,
    /// Another colour of the set, under another name.
    pub other: usize,
    /// Where the first is asked for.
    pub at: Place,
}

/// What a section tells apart, each pair once: by what it asks for, then by the set's order.
#[must_use]
pub fn told_apart(act: &Act, section: usize) -> Vec<ToldApart> {
    let Act { routine, timeline, .. } = act;
    let mut told: Vec<ToldApart> = Vec::new();
    let Some(juggle) = routine.juggle(section) else {
        return told;
    };
    let Some(set) = set_of(timeline, section) else { return told };
    let colours = colours_of(routine, set);
    let every = |at| colours.iter().map(move |&c| (routine.colours[c].name.value.as_str(), at));
    let compared = compared_at(juggle).into_iter().flat_map(every);
    for (name, at) in asked_for(juggle).chain(compared) {
        let Some(&shown) =
            colours.iter().find(|&&colour| routine.colours[colour].name.value == name)
        else {
            continue;
        };
        for &other in colours.iter().filter(|&&other| other != shown) {
            let known = |one: &ToldApart| {
                (one.shown, one.other) == (shown, other) || (one.other, one.shown) == (shown, other)
            };
            if !told.iter().any(known) {
                told.push(ToldApart { shown, other, at: at.clone() });
            }
        }
    }
    told
}

/// The names of the colours that a section asks for, and where.
fn asked_for(juggle: &Juggle) -> impl Iterator<Item = (&str, &Place)> {
    let shown = juggle.seen.shows.iter().flat_map(|shown| &shown.colours);
    let caught = juggle.seen.caught.iter().map(|caught| &caught.colour);
    shown.chain(caught).map(|colour| (colour.value.as_str(), &colour.at))
}

/// Where a section asks for colours that are alike or different, whichever they are: so every one
/// of the set is told apart from the others.
fn compared_at(juggle: &Juggle) -> Option<&Place> {
    let seen = &juggle.seen;
    let two = seen.unlike.iter().chain(&seen.alike).map(|two| &two.at);
    seen.solid.iter().chain(two).next()
}

/// The set that a section is juggled with, as an index; `None` for a pause.
#[must_use]
pub fn set_of(timeline: &Timeline, section: usize) -> Option<usize> {
    let run = timeline.sections.get(section)?.juggle.as_ref()?.run;
    Some(timeline.runs.get(run)?.set)
}

/// The colours of a set, fronts and then backs, each name once, in the set's order, as indices into
/// the routine's colours.
#[must_use]
pub fn colours_of(routine: &Routine, set: usize) -> Vec<usize> {
    let mut colours: Vec<usize> = Vec::new();
    let set = routine.sets.get(set);
    for written in set.iter().flat_map(|set| set.colours.iter().chain(&set.backs)) {
        let known = routine.colours.iter().position(|one| one.name.value == written.value);
        colours.extend(known.filter(|colour| !colours.contains(colour)));
    }
    colours
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};

    #[test]
    fn a_colour_that_is_shown_is_told_apart_from_the_rest_of_its_set() {
        let quay = lantern_quay();
        let act = compiled(&quay);
        let name = |colour: usize| quay.colours[colour].name.value.as_str();
        let told = |section: &str| -> Vec<(&str, &str)> {
            told_apart(&act, quay.section(section).unwrap())
                .iter()
                .map(|told| (name(told.shown), name(told.other)))
                .collect()
        };
        assert_eq!(told("beam"), [("coral", "teal"), ("coral", "pearl")]);
        // Nothing is shown in the one, nothing is thrown in the other.
        assert_eq!(told("tide"), []);
        assert_eq!(told("bow"), []);
    }

    #[test]
    fn a_pair_that_is_asked_for_from_both_sides_is_told_apart_once() {
        let mut quay = lantern_quay();
        let beam = quay.section("beam").unwrap();
        let juggle = quay.juggle_mut(beam).unwrap();
        let mut second = juggle.seen.shows[0].clone();
        second.throw.value = 1;
        second.colours[0].value = "teal".to_owned();
        second.colours.push(juggle.seen.shows[0].colours[0].clone());
        juggle.seen.shows.push(second);
        let told = told_apart(&compiled(&quay), beam);
        let pairs: Vec<_> = told.iter().map(|told| (told.shown, told.other)).collect();
        assert_eq!(pairs, [(0, 1), (0, 2), (1, 2)]);
    }

    #[test]
    fn equal_props_of_a_set_are_one_colour() {
        let quay = lantern_quay();
        let five = quay.sets.iter().position(|set| set.name.value == "five").unwrap();
        // pearl, pearl, teal, teal, coral
        assert_eq!(colours_of(&quay, five), [2, 1, 0]);
    }
}
