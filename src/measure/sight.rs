//! What an operator sees at a moment: which hand lets go of which prop, or catches it.
//!
//! A cue that is taken by eye and says no more than its moment gets its words from here. Hands and
//! colours only; the wording is the cue sheet's.

use crate::act::Act;
use crate::hand::Hand;
use crate::routine::Moment;
use crate::timeline::{Action, Run, Timeline};

use super::counts::actions_of;

/// What is seen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sight {
    /// A throw or a catch.
    pub act: HandAct,
    /// The hand and the prop's colour (an index into the routine's colours), for all that happen
    /// at that instant, left hand first; at least one.
    pub seen: Vec<(Hand, usize)>,
}

/// What a hand does that can be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HandAct {
    /// Lets go of a prop.
    Throw,
    /// Catches one.
    Catch,
}

/// What is seen at a moment. `None` for a moment at which no hand throws or catches.
#[must_use]
pub fn sight(act: &Act, moment: &Moment) -> Option<Sight> {
    let Act { routine, timeline, .. } = act;
    let in_section = |name: &str| {
        let section = routine.section(name)?;
        let run = timeline.sections.get(section)?.juggle.as_ref()?.run;
        Some((timeline.runs.get(run)?, actions_of(timeline, section)?))
    };
    match moment {
        Moment::FirstThrow => timeline.runs.iter().find_map(|run| {
            let first = run.actions.iter().find(|action| action.is_release())?;
            throws_on(run, &run.actions, first.beat)
        }),
        Moment::Start(name) => {
            let (run, actions) = in_section(&name.value)?;
            throws_on(run, actions, actions.first()?.beat)
        }
        Moment::LastCatch(None) => timeline
            .runs
            .iter()
            .rev()
            .find(|run| run.gather.last_catch.is_some())
            .and_then(|run| last_catch(timeline, run)),
        Moment::LastCatch(Some(name)) => {
            let (run, _) = in_section(&name.value)?;
            last_catch(timeline, run)
        }
        Moment::Throw(name, number) => {
            let (run, actions) = in_section(&name.value)?;
            let action = numbered(actions, number.value)?;
            one(HandAct::Throw, action.hand, run, action)
        }
        Moment::Catch(name, number) => {
            let (run, actions) = in_section(&name.value)?;
            let action = numbered(actions, number.value)?;
            one(HandAct::Catch, action.to, run, action)
        }
        Moment::Cycle(name, cycle) => {
            let (run, actions) = in_section(&name.value)?;
            let section = routine.section(&name.value)?;
            // Where the line-up begins the pattern at another throw, that is what begins a cycle.
            let period = routine.juggle(section)?.pattern.pattern.period();
            let span = timeline.sections.get(section)?.juggle.as_ref()?;
            throws_on(run, actions, span.cycle_begins(cycle.value, period)?)
        }
        Moment::End(_)
        | Moment::TrackStart
        | Moment::TrackEnd
        | Moment::Mark(_)
        | Moment::Bar(..)
        | Moment::At(_)
        | Moment::SetUpStart
        | Moment::SetUpEnd
        | Moment::EncoreStart
        | Moment::EncoreEnd
        | Moment::StrikeStart
        | Moment::StrikeEnd
        | Moment::HoldStart(_)
        | Moment::HoldEnd(_)
        | Moment::OfTrack(..)
        | Moment::First(_)
        | Moment::Last(_)
        | Moment::Shift(..) => None,
    }
}

fn numbered(actions: &[Action], number: u32) -> Option<&Action> {
    actions.iter().find(|action| action.number.is_some_and(|own| own.get() == number))
}

fn one(act: HandAct, hand: Hand, run: &Run, action: &Action) -> Option<Sight> {
    let seen = action.is_release().then(|| run.colour(action)).flatten()?;
    Some(Sight { act, seen: vec![(hand, seen)] })
}

/// What leaves the hands on a beat.
fn throws_on(run: &Run, actions: &[Action], beat: u32) -> Option<Sight> {
    let seen: Vec<(Hand, usize)> = actions
        .iter()
        .filter(|action| action.beat == beat && action.is_release())
        .filter_map(|action| Some((action.hand, run.colour(action)?)))
        .collect();
    (!seen.is_empty()).then_some(Sight { act: HandAct::Throw, seen })
}

/// What comes down last in a run.
fn last_catch(timeline: &Timeline, run: &Run) -> Option<Sight> {
    let caught = |action: &Action| action.caught(timeline.dwell);
    let last = run.actions.iter().filter_map(caught).max()?;
    let mut seen: Vec<(Hand, usize)> = run
        .actions
        .iter()
        .filter(|action| caught(action) == Some(last))
        .filter_map(|action| Some((action.to, run.colour(action)?)))
        .collect();
    seen.sort_by_key(|(hand, _)| *hand);
    Some(Sight { act: HandAct::Catch, seen })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, name, placed};

    #[test]
    fn a_moment_is_seen_as_a_hand_and_a_colour() {
        let quay = lantern_quay();
        let act = compiled(&quay);
        let colour = |name: &str| quay.colours.iter().position(|one| one.name.value == name);
        let throw = |hand, name: &str| {
            Some(Sight { act: HandAct::Throw, seen: vec![(hand, colour(name).unwrap())] })
        };
        let caught = |hand, name: &str| {
            Some(Sight { act: HandAct::Catch, seen: vec![(hand, colour(name).unwrap())] })
        };
        for (moment, seen) in [
            // Natural loading, right hand leading: right coral, left teal, right pearl.
            (Moment::FirstThrow, throw(Hand::Right, "coral")),
            (Moment::Start(name("tide")), throw(Hand::Right, "coral")),
            (Moment::Throw(name("tide"), placed(2)), throw(Hand::Left, "teal")),
            (Moment::Catch(name("tide"), placed(2)), caught(Hand::Right, "teal")),
            // By hand: pearl's 5 opens beam in the right hand, teal's its second cycle, from the
            // left.
            (Moment::Cycle(name("beam"), placed(1)), throw(Hand::Right, "pearl")),
            (Moment::Cycle(name("beam"), placed(2)), throw(Hand::Left, "teal")),
            // Followed throw by throw through wake's 51s, ebb's last 3 is coral, from the left.
            (Moment::LastCatch(Some(name("ebb"))), caught(Hand::Right, "coral")),
            // Ebb's transition is a held 2: nothing is thrown where it starts.
            (Moment::Start(name("ebb")), None),
            (Moment::Start(name("bow")), None),
            (Moment::TrackStart, None),
            (Moment::Cycle(name("beam"), placed(0)), None),
            (Moment::Throw(name("nowhere"), placed(1)), None),
        ] {
            assert_eq!(sight(&act, &moment), seen, "{moment:?}");
        }
    }
}
