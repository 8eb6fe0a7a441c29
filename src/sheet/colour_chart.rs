//! The colour chart of a section: cycle by cycle and throw by throw, and which prop each orbit
//! carries.
//!
//! A throw stands at its number as written, from 1, whichever throw the pattern begins with.
//! Colours are indices into the routine's colours.

use crate::act::Act;
use crate::hand::Hand;
use crate::notation::Kind;
use crate::patterns::Pattern;
use crate::patterns::orbit::orbits;
use crate::routine::{Juggle, Twos};
use crate::timeline::{Action, Joining, JuggleSpan, Run};

use super::loading::{PropName, colours_known, prop_names, section_name};
use super::regrip::other_face_words;
use super::words::plain;

/// A section's colours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SectionChart {
    /// Its name.
    pub name: String,
    /// Its pattern, as it is juggled.
    pub pattern: String,
    /// Index of its run.
    pub run: usize,
    /// Whether its props come as it needs them.
    pub joining: Joining,
    /// Whether it is known what it shows; where an error leaves that unknown it has no cycles and no
    /// orbits.
    pub is_known: bool,
    /// The number of the throw that it begins with.
    pub begins: u32,
    /// The throws of a cycle, number and value, in the order in which they are made; those made
    /// together by their numbers.
    pub throws: Vec<(u32, String)>,
    /// What it does to the faces of its props, if it shows the other ones.
    pub other_face: Option<String>,
    /// What was put before it.
    pub way: Option<WayColours>,
    /// One for each cycle begun; the last may be cut.
    pub cycles: Vec<CycleColours>,
    /// How many of them are whole.
    pub whole: usize,
    /// After how many cycles the colours repeat; the number of cycles, where they do not.
    pub repeats: usize,
    /// Whether hands and colours change places each time they repeat.
    pub changes_hands: bool,
    /// Its orbits, greatest first.
    pub orbits: Vec<OrbitProps>,
}

/// A transition or a wait, with the colours of its throws.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WayColours {
    /// As the notation writes it; empty for a mere wait.
    pub throws: String,
    /// The hand that waits.
    pub waits: Option<Hand>,
    /// What each throw shows, in order.
    pub made: Vec<Made>,
}

/// One cycle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CycleColours {
    /// The hand of its first throw; `None` for pairs.
    pub hand: Option<Hand>,
    /// What each throw shows, by its number less one; those after the last that is made left out.
    pub made: Vec<Made>,
}

/// What a throw shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made {
    /// It is not made in this cycle, which is cut.
    Not,
    /// An empty hand.
    Empty,
    /// A colour.
    Colour(usize),
}

/// An orbit and what goes through it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrbitProps {
    /// Its throws as written, in the order in which a prop makes them.
    pub throws: Vec<String>,
    /// Their numbers.
    pub numbers: Vec<u32>,
    /// The props that make them in this section, in the order in which they first do.
    pub props: Vec<PropName>,
}

/// The charts of all sections that are juggled, in the order of the score.
#[must_use]
pub fn charts(act: &Act) -> Vec<SectionChart> {
    let Act { timeline, .. } = act;
    let of = |(section, span): (usize, &crate::timeline::SectionSpan)| {
        chart(act, section, span.juggle.as_ref()?)
    };
    timeline.sections.iter().enumerate().filter_map(of).collect()
}

/// The chart of one section.
pub(super) fn chart(act: &Act, section: usize, span: &JuggleSpan) -> Option<SectionChart> {
    let Act { routine, timeline, .. } = act;
    let juggle = routine.juggle(section)?;
    let run = timeline.runs.get(span.run)?;
    let pattern = &juggle.pattern.pattern;
    let sequence = pattern.sequence();
    let mut throws: Vec<(u32, String)> = Vec::new();
    for step in &sequence.steps {
        let mut together: Vec<(u32, String)> =
            step.throws().map(|one| (one.number, one.throw.to_string())).collect();
        together.sort_unstable();
        throws.append(&mut together);
    }
    let own = timeline.own_actions(span);
    let is_known = colours_known(act, section);
    let cycles = match is_known {
        true => cycles(run, pattern, &own, throws.len()),
        false => Vec::new(),
    };
    let names = prop_names(routine, run, run.face_at(span.own_first_beat));
    let whole = usize::try_from(span.cycles.0).unwrap_or(usize::MAX).min(cycles.len());
    let repeats = period(&cycles, whole);
    let beats = u64::from(pattern.period()) * u64::try_from(repeats).unwrap_or(u64::MAX);
    Some(SectionChart {
        name: section_name(routine, section),
        pattern: plain(&juggle.pattern.text),
        run: span.run,
        joining: span.joining,
        begins: throws.first().map_or(1, |&(number, _)| number),
        throws,
        other_face: other_face_words(timeline, section),
        way: way(run, span),
        whole,
        repeats,
        changes_hands: pattern.kind() == Kind::Async && !beats.is_multiple_of(2),
        orbits: match is_known {
            true => orbit_props(juggle, &own, &names),
            false => Vec::new(),
        },
        is_known,
        cycles,
    })
}

/// The colour that a throw shows.
fn made(run: &Run, action: &Action) -> Made {
    run.colour(action).map_or(Made::Empty, Made::Colour)
}

fn cycles(run: &Run, pattern: &Pattern, own: &[Action], in_cycle: usize) -> Vec<CycleColours> {
    let mut cycles: Vec<CycleColours> = Vec::new();
    for action in own {
        let number = action.number.map_or(0, |number| number.get() as usize);
        let place = (action.written as usize).saturating_sub(1);
        let cycle = number.saturating_sub(place + 1) / in_cycle.max(1);
        while cycles.len() <= cycle {
            let hand = (pattern.kind() == Kind::Async).then_some(action.hand);
            cycles.push(CycleColours { hand, made: Vec::new() });
        }
        let made_then = &mut cycles[cycle].made;
        if made_then.len() <= place {
            made_then.resize(place + 1, Made::Not);
        }
        made_then[place] = made(run, action);
    }
    cycles
}

/// The least number of cycles after which the colours repeat, to the end: the length of the whole
/// cycles less that of their longest border. All of them where a cut cycle breaks off otherwise.
fn period(cycles: &[CycleColours], whole: usize) -> usize {
    let colours = |cycle: usize| &cycles[cycle].made;
    let mut borders = vec![0_usize; whole];
    for cycle in 1..whole {
        let mut border = borders[cycle - 1];
        while border > 0 && colours(border) != colours(cycle) {
            border = borders[border - 1];
        }
        borders[cycle] = border + usize::from(colours(border) == colours(cycle));
    }
    let period = whole - borders.last().copied().unwrap_or(0);
    let goes_on = |cut: &CycleColours| {
        let before = whole.checked_sub(period).filter(|&before| before < whole);
        before.is_some_and(|before| {
            let pairs = cut.made.iter().zip(colours(before));
            pairs.into_iter().all(|(made, same)| *made == Made::Not || made == same)
        })
    };
    if cycles[whole..].iter().all(goes_on) { period } else { cycles.len() }
}

fn way(run: &Run, span: &JuggleSpan) -> Option<WayColours> {
    let taken = span.transition.as_ref().filter(|_| span.way_known)?;
    let actions = run.actions.get(span.actions.clone()).unwrap_or_default();
    let thrown = actions.iter().filter(|action| action.number.is_none());
    Some(WayColours {
        throws: taken.throws.to_string(),
        waits: taken.waits,
        made: thrown.map(|action| made(run, action)).collect(),
    })
}

fn orbit_props(juggle: &Juggle, own: &[Action], names: &[PropName]) -> Vec<OrbitProps> {
    let all = orbits(&juggle.pattern.pattern, juggle.twos == Twos::Thrown);
    let of = |orbit: crate::patterns::orbit::Orbit| {
        let mut props = Vec::new();
        let in_it = own.iter().filter(|action| orbit.numbers.contains(&action.written));
        for prop in in_it.filter_map(|action| action.prop) {
            if props.len() == orbit.props as usize {
                break;
            }
            if !props.contains(&prop) {
                props.push(prop);
            }
        }
        let name = |prop: &crate::timeline::Prop| names.get(usize::from(prop.0)).cloned();
        OrbitProps {
            throws: orbit.throws.iter().map(ToString::to_string).collect(),
            numbers: orbit.numbers,
            props: props.iter().filter_map(name).collect(),
        }
    };
    all.into_iter().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};

    #[test]
    fn the_worked_example_shows_its_colours_throw_by_throw() {
        let quay = lantern_quay();
        let charts = charts(&compiled(&quay));
        let beam = charts.iter().find(|chart| chart.name == "beam").unwrap();
        assert_eq!(beam.throws.iter().map(|(number, _)| *number).collect::<Vec<_>>(), [1, 2, 3]);
        assert_eq!((beam.whole, beam.cycles.len(), beam.repeats), (8, 8, 2));
        // One prop makes the 3 for ever, two take turns at 5 and 1.
        let [first, second] = [&beam.cycles[0].made, &beam.cycles[1].made];
        assert_eq!((first[1], first[0], first[2]), (second[1], second[2], second[0]));
        assert_eq!(beam.orbits[0].props.len(), 2);
        assert_eq!(beam.orbits[1].props.len(), 1);
        assert!(!beam.changes_hands);
        let tide = charts.iter().find(|chart| chart.name == "tide").unwrap();
        assert_eq!((tide.repeats, tide.changes_hands), (3, true));
        let wake = charts.iter().find(|chart| chart.name == "wake").unwrap();
        let way = wake.way.as_ref().unwrap();
        assert_eq!((way.throws.as_str(), way.made.len()), ("4", 1));
    }

    #[test]
    fn colours_repeat_after_the_least_number_of_cycles() {
        let cycles = |colours: &[usize]| -> Vec<CycleColours> {
            let of =
                |&colour: &usize| CycleColours { hand: None, made: vec![Made::Colour(colour)] };
            colours.iter().map(of).collect()
        };
        for (colours, whole, expected) in [
            (&[] as &[usize], 0, 0),
            (&[1], 1, 1),
            (&[1, 1, 1], 3, 1),
            (&[1, 2, 1, 2, 1], 5, 2),
            (&[1, 2, 1, 1], 4, 3),
            (&[1, 2, 3], 3, 3),
            (&[1, 2, 1], 2, 2),
            (&[1, 2, 3], 2, 3),
            (&[1, 2, 1, 2, 1], 4, 2),
            (&[1, 2, 1, 2, 2], 4, 5),
        ] {
            assert_eq!(period(&cycles(colours), whole), expected, "{colours:?} {whole}");
        }
    }
}
