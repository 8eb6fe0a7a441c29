//! What a section's requirements demand of the props that make its throws.

use crate::patterns::orbit::orbits;
use crate::routine::{Juggle, Moment, Routine, Twos};
use crate::timeline::{Action, Face, Prop};

use super::looks::{LookMask, Looks};

/// Something demanded of props, by their places.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Demand {
    /// A prop has one of these looks.
    Is(u8, LookMask),
    /// Two props look alike on a face.
    Alike(u8, u8, Face),
    /// Two props look different on a face.
    Unlike(u8, u8, Face),
}

impl Demand {
    /// Whether the props of a set, numbered as in it, meet the demand.
    pub(super) fn is_met(self, looks: &Looks) -> bool {
        let look = |prop: u8| looks.of_prop.get(usize::from(prop)).map_or(0, |&look| 1 << look);
        match self {
            Demand::Is(prop, shown) => look(prop) & shown != 0,
            Demand::Alike(one, other, face) => looks.alike(look(one), face) & look(other) != 0,
            Demand::Unlike(one, other, face) => looks.alike(look(one), face) & look(other) == 0,
        }
    }

    /// The props that it is about.
    pub(super) fn props(self) -> Vec<u8> {
        match self {
            Demand::Is(prop, _) => vec![prop],
            Demand::Alike(one, other, _) | Demand::Unlike(one, other, _) => vec![one, other],
        }
    }

    /// The same of props that are called otherwise.
    pub(super) fn at(self, place: impl Fn(u8) -> u8) -> Demand {
        match self {
            Demand::Is(prop, looks) => Demand::Is(place(prop), looks),
            Demand::Alike(one, other, face) => Demand::Alike(place(one), place(other), face),
            Demand::Unlike(one, other, face) => Demand::Unlike(place(one), place(other), face),
        }
    }
}

/// A demand and the throws that it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Asked {
    /// What is demanded, of props by their numbers in the run's set.
    pub(super) demand: Demand,
    /// The throw (of two, the later), as an index into the section's own actions.
    pub(super) action: usize,
}

/// One thing that a section asks to be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Requirement {
    /// The section that asks it, as an index into the score.
    pub section: usize,
    /// What it asks.
    pub wanted: Wanted,
}

/// What a section asks, as an index into its lists ([`crate::routine::Seen`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wanted {
    /// A throw in a colour.
    Shown(usize),
    /// Each orbit in one colour.
    Solid,
    /// Two throws alike.
    Alike(usize),
    /// Two throws unlike.
    Unlike(usize),
    /// A colour caught at a moment.
    Caught(usize),
}

/// Every requirement of a routine, in the order of the score.
pub fn requirements(routine: &Routine) -> Vec<Requirement> {
    let mut all = Vec::new();
    for (section, entry) in routine.score.iter().enumerate() {
        let Some(juggle) = entry.juggle() else { continue };
        let seen = &juggle.seen;
        let mut add = |wanted| all.push(Requirement { section, wanted });
        (0..seen.shows.len()).map(Wanted::Shown).for_each(&mut add);
        if seen.solid.is_some() {
            add(Wanted::Solid);
        }
        (0..seen.alike.len()).map(Wanted::Alike).for_each(&mut add);
        (0..seen.unlike.len()).map(Wanted::Unlike).for_each(&mut add);
        (0..seen.caught.len()).map(Wanted::Caught).for_each(&mut add);
    }
    all
}

/// The section whose own throws a requirement is about; `None` for a catch that no throw of one
/// section is named for.
pub(super) fn about(routine: &Routine, requirement: Requirement) -> Option<usize> {
    let Wanted::Caught(index) = requirement.wanted else { return Some(requirement.section) };
    let caught = routine.juggle(requirement.section)?.seen.caught.get(index)?;
    match &caught.moment.value {
        Moment::Catch(name, _) => routine.section(&name.value),
        _ => None,
    }
}

/// What a requirement demands of the props that make a section's own throws (`actions`, in order).
/// `juggle` is that section as it is juggled, `face` the one that its props show, `starts` the
/// colour with which each list begins.
pub(super) fn demands(
    routine: &Routine,
    requirement: Requirement,
    juggle: &Juggle,
    (looks, face): (&Looks, Face),
    actions: &[Action],
    starts: &[usize],
) -> Vec<Asked> {
    let Some(asking) = routine.juggle(requirement.section) else { return Vec::new() };
    let seen = &asking.seen;
    match requirement.wanted {
        Wanted::Shown(index) => seen.shows.get(index).map_or_else(Vec::new, |shown| {
            let start = starts.get(index).copied().unwrap_or(0);
            let colours = shown.colours.iter().cycle().skip(start);
            let made = made_by(actions, shown.throw.value);
            made.zip(colours)
                .filter_map(|((action, prop), c)| {
                    let mask = looks.showing(routine.colour(&c.value)?, face);
                    Some(Asked { demand: Demand::Is(prop.0, mask), action })
                })
                .collect()
        }),
        Wanted::Solid => solid(juggle, actions, face),
        Wanted::Alike(index) => seen.alike.get(index).map_or_else(Vec::new, |two| {
            pairs(juggle, actions, two.numbers, |a, b| Demand::Alike(a, b, face))
        }),
        Wanted::Unlike(index) => seen.unlike.get(index).map_or_else(Vec::new, |two| {
            pairs(juggle, actions, two.numbers, |a, b| Demand::Unlike(a, b, face))
        }),
        Wanted::Caught(index) => {
            let Some(caught) = seen.caught.get(index) else { return Vec::new() };
            let Moment::Catch(_, number) = &caught.moment.value else { return Vec::new() };
            let thrown =
                actions.iter().position(|a| a.number.is_some_and(|n| n.get() == number.value));
            let asked = thrown.and_then(|action| {
                let prop = actions[action].prop?;
                let mask = looks.showing(routine.colour(&caught.colour.value)?, face);
                Some(Asked { demand: Demand::Is(prop.0, mask), action })
            });
            asked.into_iter().collect()
        }
    }
}

/// The throws of a number, cycle by cycle: index of the action and its prop.
fn made_by(actions: &[Action], written: u32) -> impl Iterator<Item = (usize, Prop)> {
    let made = actions.iter().enumerate().filter(move |(_, action)| action.written == written);
    made.filter_map(|(index, action)| Some((index, action.prop?)))
}

/// All props that make throws of one orbit look alike.
fn solid(juggle: &Juggle, actions: &[Action], face: Face) -> Vec<Asked> {
    let mut asked = Vec::new();
    for orbit in orbits(&juggle.pattern.pattern, juggle.twos == Twos::Thrown) {
        let mut first: Option<Prop> = None;
        let mut known: Vec<Prop> = Vec::new();
        for (index, action) in actions.iter().enumerate() {
            let Some(prop) = action.prop.filter(|_| orbit.numbers.contains(&action.written)) else {
                continue;
            };
            if known.contains(&prop) {
                continue;
            }
            known.push(prop);
            match first {
                Some(first) => {
                    asked.push(Asked {
                        demand: Demand::Alike(first.0, prop.0, face),
                        action: index,
                    });
                }
                None => first = Some(prop),
            }
        }
    }
    asked
}

/// The props of two throws of one cycle, for every cycle that has both.
fn pairs(
    juggle: &Juggle,
    actions: &[Action],
    numbers: [u32; 2],
    demand: impl Fn(u8, u8) -> Demand,
) -> Vec<Asked> {
    let in_cycle = juggle.pattern.pattern.sequence().throws().count();
    let cycle = |action: &Action| {
        let number = action.number.map_or(0, |number| number.get() as usize);
        number.saturating_sub(action.written as usize) / in_cycle.max(1)
    };
    let [one, other] = numbers.map(|number| {
        let made = made_by(actions, number);
        made.map(|(index, prop)| (cycle(&actions[index]), index, prop)).collect::<Vec<_>>()
    });
    let mut asked: Vec<Asked> = Vec::new();
    let mut later = other.iter().peekable();
    for &(cycle, first, prop) in &one {
        while later.next_if(|(other, ..)| *other < cycle).is_some() {}
        if let Some(&(_, second, with)) = later.next_if(|(other, ..)| *other == cycle) {
            let demand = demand(prop.0, with.0);
            asked.push(Asked { demand, action: first.max(second) });
        }
    }
    asked
}
