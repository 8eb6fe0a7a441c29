//! The props that the act brings: how many, how large, in which colours.

use crate::act::Act;
use crate::diagnostic::words::counted_as;
use crate::routine::{Hazard, PropKind, PropSet};

use super::super::words::{plain, quoted};
use super::Fact;

/// Centimetres in an inch (the international inch of 1959, exact).
const CENTIMETRES_IN_AN_INCH: f64 = 2.54;

/// A fact for each set, in the file's order.
pub(super) fn props(act: &Act) -> Vec<Fact> {
    let routine = &act.routine;
    let juggled = |index: usize| {
        let mut runs = act.with_encore().flat_map(|act| &act.timeline.runs);
        runs.any(|run| run.set == index) || act.with_encore().any(Act::hides_sets)
    };
    let line = |(index, set): (usize, &PropSet)| {
        let mut says = vec![in_words(set)];
        let dangers = Hazard::ALL.into_iter().filter(|hazard| set.is(*hazard));
        says.extend(dangers.map(|hazard| match hazard {
            Hazard::Fire => "FIRE: they burn.".to_owned(),
            Hazard::Blades => "BLADES: they cut.".to_owned(),
        }));
        if !juggled(index) {
            says.push("Not juggled in this act.".to_owned());
        }
        Fact::new(quoted(&set.name.value), says)
    };
    let mut facts: Vec<Fact> = routine.sets.iter().enumerate().map(line).collect();
    // A set that could not be read is missing here.
    if routine.hidden.sets || facts.is_empty() {
        facts.push(Fact::one("other props", None));
    }
    facts
}

/// As in `3 balls, 7.0 cm (2.8 in) across: 2 pearl, 1 coral`.
fn in_words(set: &PropSet) -> String {
    let props = set.colours.len();
    let kind = plain(&counted_as(props, set.kind.one(), set.kind.word()));
    let across = match set.kind {
        PropKind::Ball | PropKind::Ring => "across",
        PropKind::Club | PropKind::Torch | PropKind::Knife | PropKind::Other(_) => "long",
    };
    let centimetres = set.length * 100.0;
    let inches = centimetres / CENTIMETRES_IN_AN_INCH;
    let mut colours: Vec<(String, usize)> = Vec::new();
    for prop in 0..props {
        let name = plain(&set.name_of(prop));
        match colours.iter_mut().find(|(known, _)| *known == name) {
            Some((_, number)) => *number += 1,
            None => colours.push((name, 1)),
        }
    }
    let colours: Vec<String> =
        colours.into_iter().map(|(name, number)| format!("{number} {name}")).collect();
    format!("{kind}, {centimetres:.1} cm ({inches:.1} in) {across}: {}", colours.join(", "))
}
