//! Why a requirement is not met, in words.

use std::collections::BTreeSet;

use crate::act::Act;
use crate::diagnostic::Place;
use crate::diagnostic::words::{all_of, counted};
use crate::patterns::orbit::orbits;
use crate::routine::{Juggle, Routine, Twos};
use crate::timeline::{Action, Face, Prop, Timeline};

use super::demand::{Asked, Demand, Requirement, Wanted, about};
use super::looks::Looks;
use super::settle::{CaughtAt, Chain, caught_at, chains};
use super::verdict::{Failure, Unmet};

/// A failure with its reason; `clash` is the smallest set that cannot be met together, whatever the
/// loadings.
pub(super) fn unmet(act: &Act, failure: &Failure, clash: &[Requirement]) -> Unmet {
    let Act { routine, timeline, .. } = act;
    let requirement = failure.requirement;
    let teller = Teller { routine, timeline };
    let made = failure.first.and_then(|first| teller.action(requirement, first));
    let throw = match requirement.wanted {
        Wanted::Shown(index) => teller.shown(requirement, index).map(|(number, _)| number),
        _ => made.map(|action| action.written),
    };
    let reason = match clash.iter().position(|&one| one == requirement) {
        Some(_) if clash.len() == 1 => teller.alone(requirement),
        Some(place) => {
            let other = clash[if place == 0 { 1 } else { 0 }];
            let together = || {
                let others = clash.iter().filter(|&&one| one != requirement);
                let others: Vec<String> = others.map(|&one| words(routine, one)).collect();
                format!("no loading meets it together with {}", all_of(&others))
            };
            match clash.len() {
                2 => teller.against(requirement, other).unwrap_or_else(together),
                _ => together(),
            }
        }
        None => teller.seen_instead(failure, made),
    };
    Unmet { requirement, throw, at: place(routine, requirement), reason }
}

/// Where a requirement is written.
pub(super) fn place(routine: &Routine, requirement: Requirement) -> Place {
    let Some(juggle) = routine.juggle(requirement.section) else { return Place::default() };
    let seen = &juggle.seen;
    let at = match requirement.wanted {
        Wanted::Shown(index) => seen.shows.get(index).map(|shown| shown.throw.at.clone()),
        Wanted::Solid => seen.solid.clone(),
        Wanted::Alike(index) => seen.alike.get(index).map(|two| two.at.clone()),
        Wanted::Unlike(index) => seen.unlike.get(index).map(|two| two.at.clone()),
        Wanted::Caught(index) => seen.caught.get(index).map(|caught| caught.at.clone()),
    };
    at.unwrap_or_default()
}

/// A requirement in words, such as "throw 2 of \"beam\" in coral".
#[must_use]
pub fn words(routine: &Routine, requirement: Requirement) -> String {
    let name = |section: usize| {
        routine.score.get(section).map_or_else(String::new, |s| format!("{:?}", s.name.value))
    };
    let of = name(requirement.section);
    let Some(juggle) = routine.juggle(requirement.section) else { return of };
    let seen = &juggle.seen;
    let two = |numbers: [u32; 2], how: &str| {
        format!("throws {} and {} of {of} {how}", numbers[0], numbers[1])
    };
    match requirement.wanted {
        Wanted::Shown(index) => seen.shows.get(index).map_or_else(String::new, |shown| {
            let colours: Vec<String> = shown.colours.iter().map(|c| c.value.clone()).collect();
            let turn = if colours.len() > 1 { " in turn" } else { "" };
            format!("throw {} of {of} in {}{turn}", shown.throw.value, all_of(&colours))
        }),
        Wanted::Solid => format!("each orbit of {of} in one colour"),
        Wanted::Alike(index) => {
            seen.alike.get(index).map_or_else(String::new, |t| two(t.numbers, "alike"))
        }
        Wanted::Unlike(index) => {
            seen.unlike.get(index).map_or_else(String::new, |t| two(t.numbers, "unlike"))
        }
        Wanted::Caught(index) => seen.caught.get(index).map_or_else(String::new, |caught| {
            format!("{} caught as {of} asks", caught.colour.value)
        }),
    }
}

/// What the reasons are taken from.
struct Teller<'a> {
    routine: &'a Routine,
    timeline: &'a Timeline,
}

impl Teller<'_> {
    fn shown(&self, requirement: Requirement, index: usize) -> Option<(u32, Vec<String>)> {
        let shown = self.routine.juggle(requirement.section)?.seen.shows.get(index)?;
        let colours = shown.colours.iter().map(|colour| colour.value.clone()).collect();
        Some((shown.throw.value, colours))
    }

    /// The throw of a demand.
    fn action(&self, requirement: Requirement, asked: Asked) -> Option<Action> {
        let section = about(self.routine, requirement)?;
        let span = self.timeline.sections.get(section)?.juggle.as_ref()?;
        self.timeline.own_actions(span).get(asked.action).copied()
    }

    /// What a requirement demands, chain by chain.
    fn demands(&self, requirement: Requirement) -> Vec<(usize, Looks, Vec<Asked>)> {
        let chains = chains(&self.timeline.runs);
        let of = |(index, chain): (usize, &Chain<'_>)| {
            let looks = Looks::of(self.routine, chain.set);
            let asked = chain.demands(self.routine, self.timeline, requirement, &looks).0;
            (index, looks, asked)
        };
        let all = chains.iter().enumerate().map(of);
        all.filter(|(.., asked)| !asked.is_empty()).collect()
    }

    /// Why a requirement cannot be met even alone, whatever the loading.
    fn alone(&self, requirement: Requirement) -> String {
        let demands = self.demands(requirement);
        let asked = demands.iter().flat_map(|(.., asked)| asked);
        let props: BTreeSet<u8> = asked.flat_map(|asked| asked.demand.props()).collect();
        let props = u32::try_from(props.len()).unwrap_or(u32::MAX);
        let juggle = self.routine.juggle(requirement.section);
        let Some(juggle) = juggle else { return "it cannot be seen".to_owned() };
        let pattern = &juggle.pattern;
        let all = pattern.pattern.props();
        match requirement.wanted {
            Wanted::Shown(index) => {
                let Some((number, colours)) = self.shown(requirement, index) else {
                    return "it cannot be seen".to_owned();
                };
                let of_one = orbit_of(juggle, number);
                let shares = of_one.is_some_and(|orbit| orbit == all) && all > 1;
                let face = self.face_of(requirement);
                let set = self.props_of(&demands, &colours[0], face);
                let set_has = are_of(set, &colours[0], face);
                if colours.len() == 1 && shares && set < all {
                    return format!(
                        "in `{}` all {all} props share one orbit: every prop makes every throw, \
                         and {set_has}",
                        pattern.text,
                    );
                }
                if colours.len() == 1 {
                    let text = &pattern.text;
                    let who = match props {
                        1 => format!("1 prop makes throw {number} of `{text}` in every cycle"),
                        more => format!("{more} props take turns at throw {number} of `{text}`"),
                    };
                    return format!("{who}, and {set_has}");
                }
                let period = of_one.unwrap_or(props);
                format!(
                    "the same prop comes back to throw {number} of `{}` after {}, so its colours \
                     cannot be {} in turn with the props of the set",
                    pattern.text,
                    counted(u64::from(period), "cycle"),
                    all_of(&colours)
                )
            }
            Wanted::Solid => {
                let orbits = orbits(&pattern.pattern, juggle.twos == Twos::Thrown);
                let needs: Vec<String> = orbits
                    .iter()
                    .filter(|orbit| orbit.props > 0)
                    .map(|orbit| orbit.props.to_string())
                    .collect();
                format!(
                    "the orbits of `{}` have {} props, and the colours of the set are not on as \
                     many",
                    pattern.text,
                    all_of(&needs)
                )
            }
            Wanted::Alike(_) => format!(
                "those throws are made by {} that would all have one colour, but the set does \
                 not have that many of one colour",
                counted(u64::from(props), "prop")
            ),
            Wanted::Unlike(_) => {
                "those throws are made by one prop in some cycle, or by more props than the set \
                 has colours for"
                    .to_owned()
            }
            Wanted::Caught(_) => self.nothing_caught(requirement).unwrap_or_else(|| {
                "the prop that is caught then cannot have that colour".to_owned()
            }),
        }
    }

    /// The face that the props of what is asked show then; `None` where they have but one.
    fn face_of(&self, requirement: Requirement) -> Option<Face> {
        let section = about(self.routine, requirement)?;
        self.timeline.sections.get(section)?.juggle.as_ref()?.face
    }

    /// How many props of the sets that are asked show a colour on a face; the most of one set.
    fn props_of(
        &self,
        demands: &[(usize, Looks, Vec<Asked>)],
        colour: &str,
        face: Option<Face>,
    ) -> u32 {
        let Some(colour) = self.routine.colour(colour) else { return 0 };
        let of = |looks: &Looks| {
            let shown = looks.showing(colour, face.unwrap_or_default());
            let all = looks.count.iter().enumerate().filter(|(look, _)| shown >> look & 1 == 1);
            all.map(|(_, &count)| u32::from(count)).sum()
        };
        demands.iter().map(|(_, looks, _)| of(looks)).max().unwrap_or(0)
    }

    /// Why two requirements cannot be met together, where one prop tells it.
    fn against(&self, one: Requirement, other: Requirement) -> Option<String> {
        let (first, second) = if one <= other { (one, other) } else { (other, one) };
        let (of_first, of_second) = (self.demands(first), self.demands(second));
        for (chain, _, asked) in &of_first {
            let Some((.., also)) = of_second.iter().find(|(other, ..)| other == chain) else {
                continue;
            };
            for early in asked {
                let Demand::Is(prop, shown) = early.demand else { continue };
                let clashes = |late: &&Asked| matches!(late.demand, Demand::Is(same, looks) if same == prop && looks & shown == 0);
                let Some(late) = also.iter().find(clashes) else { continue };
                return self.one_prop((first, *early), (second, *late));
            }
        }
        None
    }

    /// "coral is needed on throw 2 of \"beam\" and, 26 beats later, by the same prop as teal on
    /// throw 1 of \"mid\"".
    fn one_prop(
        &self,
        (first, early): (Requirement, Asked),
        (second, late): (Requirement, Asked),
    ) -> Option<String> {
        let (before, after) = (self.action(first, early)?, self.action(second, late)?);
        let section = |action: Action| {
            let section = self.routine.score.get(action.section as usize)?;
            Some(format!("throw {} of {:?}", action.written, section.name.value))
        };
        let run = |action: Action| {
            let spans = &self.timeline.sections;
            Some(spans.get(action.section as usize)?.juggle.as_ref()?.run)
        };
        let apart = match (run(before)? == run(after)?, after.beat.checked_sub(before.beat)) {
            (true, Some(0)) => "on the same beat".to_owned(),
            (true, Some(beats)) => format!("{} later", counted(u64::from(beats), "beat")),
            (true, None) => {
                let beats = before.beat - after.beat;
                format!("{} earlier", counted(u64::from(beats), "beat"))
            }
            (false, _) => "after the props are gathered".to_owned(),
        };
        Some(format!(
            "{} is needed on {} and, {apart}, by the same prop as {} on {}",
            self.colour_asked(first, early)?,
            section(before)?,
            self.colour_asked(second, late)?,
            section(after)?,
        ))
    }

    /// The colour that a requirement asks of a throw.
    fn colour_asked(&self, requirement: Requirement, asked: Asked) -> Option<&str> {
        let seen = &self.routine.juggle(requirement.section)?.seen;
        match requirement.wanted {
            Wanted::Shown(index) => {
                let shown = seen.shows.get(index)?;
                let Demand::Is(_, mask) = asked.demand else { return None };
                let section = about(self.routine, requirement)?;
                let span = self.timeline.sections.get(section)?.juggle.as_ref()?;
                let set = self.timeline.runs.get(span.run)?.set;
                let looks = Looks::of(self.routine, set);
                let face = span.face.unwrap_or_default();
                let named = |name: &str| self.routine.colour(name).map(|c| looks.showing(c, face));
                let mut colours = shown.colours.iter().map(|colour| colour.value.as_str());
                colours.find(|name| named(name) == Some(mask))
            }
            Wanted::Caught(index) => Some(seen.caught.get(index)?.colour.value.as_str()),
            Wanted::Solid | Wanted::Alike(_) | Wanted::Unlike(_) => None,
        }
    }

    /// What is seen instead, where another loading would do.
    fn seen_instead(&self, failure: &Failure, made: Option<Action>) -> String {
        let requirement = failure.requirement;
        let Some(action) = made else {
            return self.nothing_caught(requirement).unwrap_or_else(|| "it is not met".to_owned());
        };
        let colour = |prop: u8| {
            let span = self.timeline.sections.get(action.section as usize)?;
            let run = self.timeline.runs.get(span.juggle.as_ref()?.run)?;
            let shown = run.colour_of(Prop(prop), run.face_at(action.beat))?;
            let colour = self.routine.colours.get(shown)?;
            Some(colour.name.value.as_str())
        };
        let juggle = self.routine.juggle(action.section as usize);
        let in_cycle =
            juggle.map_or(1, |juggle| juggle.pattern.pattern.sequence().throws().count()).max(1);
        let number = action.number.map_or(0, |number| number.get() as usize);
        let cycle = number.saturating_sub(action.written as usize) / in_cycle + 1;
        let throw = format!("throw {} (the {}) in cycle {cycle}", action.written, action.throw);
        match failure.first.map(|first| first.demand) {
            Some(Demand::Is(prop, _)) => format!(
                "{throw} shows {}, not {}",
                colour(prop).unwrap_or("nothing"),
                failure.first.and_then(|f| self.colour_asked(requirement, f)).unwrap_or("that")
            ),
            Some(Demand::Alike(one, other, _)) => format!(
                "{throw} shows {}, and what it must be like shows {}",
                colour(other).unwrap_or("nothing"),
                colour(one).unwrap_or("nothing")
            ),
            Some(Demand::Unlike(_, other, _)) => format!(
                "{throw} shows {}, and so does what it must differ from",
                colour(other).unwrap_or("nothing")
            ),
            None => "it is not met".to_owned(),
        }
    }

    /// Why nothing can be told of a catch.
    fn nothing_caught(&self, requirement: Requirement) -> Option<String> {
        let Wanted::Caught(index) = requirement.wanted else { return None };
        let caught = self.routine.juggle(requirement.section)?.seen.caught.get(index)?;
        let at = caught_at(self.routine, self.timeline, &caught.moment.value, caught.hand);
        match at {
            CaughtAt::Nothing => Some("nothing is caught at that moment".to_owned()),
            CaughtAt::Both => {
                Some("more than one prop is caught at that moment: say by which hand".to_owned())
            }
            CaughtAt::One { run, action, prop } => {
                let run = self.timeline.runs.get(run)?;
                let thrown = run.actions.get(action)?;
                let colour = run.colour_of(prop, run.face_at(thrown.beat))?;
                let colour = &self.routine.colours.get(colour)?.name.value;
                let hand = thrown.to;
                Some(format!("the {hand} hand catches {colour} then"))
            }
        }
    }
}

/// "1 prop of the set is coral", "no prop of the set is coral on its back".
fn are_of(props: u32, colour: &str, face: Option<Face>) -> String {
    let on = |whose: &str, s: &str| {
        face.map_or_else(String::new, |face| format!(" on {whose} {}{s}", face.word()))
    };
    match props {
        0 => format!("no prop of the set is {colour}{}", on("its", "")),
        1 => format!("1 prop of the set is {colour}{}", on("its", "")),
        more => format!("{more} props of the set are {colour}{}", on("their", "s")),
    }
}

/// How many props the orbit of a throw has.
fn orbit_of(juggle: &Juggle, number: u32) -> Option<u32> {
    let orbits = orbits(&juggle.pattern.pattern, juggle.twos == Twos::Thrown);
    orbits.iter().find(|orbit| orbit.numbers.contains(&number)).map(|orbit| orbit.props)
}
