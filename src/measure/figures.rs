//! The figures of the whole act: first throw, last catch, and how long it is juggled.

use crate::time::{Time, Within};
use crate::timeline::{Run, Timeline};

/// The whole act, on the show clock.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Where its first section starts; `None` for a score without sections.
    pub begins: Option<Time>,
    /// The first release; `None` when no prop leaves a hand.
    pub first_throw: Option<Time>,
    /// The last catch; `None` when nothing is caught.
    pub last_catch: Option<Time>,
    /// Where its last section ends.
    pub ends: Option<Time>,
    /// The runs together, each from its first beat to its last catch; a run that catches nothing
    /// adds nothing.
    pub juggled: Time,
}

/// Takes the act's figures.
#[must_use]
pub fn figures(timeline: &Timeline) -> Figures {
    let length = |run: &Run| {
        let last_catch = run.gather.last_catch.as_ref()?;
        Some(last_catch - &run.tempo.at_beat(0))
    };
    // What is thrown in an entry that could not be read, nobody knows.
    let hidden = |section: usize, what| Time::zero().hidden_within(section, what);
    let first_throw = match timeline.hides_first_throw() {
        Some(section) => Some(hidden(section, Within::FirstThrow)),
        None => timeline.runs.iter().find_map(|run| Some(run.first_throw()?.1)),
    };
    let last_catch = match timeline.hides_last_catch() {
        Some(section) => Some(hidden(section, Within::LastCatch)),
        None => timeline.runs.iter().rev().find_map(|run| run.gather.last_catch.clone()),
    };
    let juggled = timeline.runs.iter().filter_map(length);
    let juggled = juggled.fold(Time::zero(), |sum, length| &sum + &length);
    Figures {
        begins: timeline.sections.first().map(|section| section.starts.clone()),
        first_throw,
        last_catch,
        ends: timeline.ends().cloned(),
        juggled: match timeline.hides_throws() {
            Some(section) => juggled.unknown(section),
            None => juggled,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::Hand;
    use crate::measure::by_hand::alternating;
    use crate::time::Seconds;

    #[test]
    fn an_act_is_juggled_from_first_beats_to_last_catches() {
        let mut timeline = alternating("2333", Hand::Right, 60);
        // The first beat holds a prop: the first throw is a second later; the last of the 3s is
        // thrown at 3 and caught 5/3 later.
        let one = figures(&timeline);
        assert_eq!(one.first_throw, Some(Seconds::fraction(1, 1).into()));
        assert_eq!(one.last_catch, Some(Seconds::fraction(14, 3).into()));
        assert_eq!(one.juggled, Seconds::fraction(14, 3).into());
        timeline.runs.push(timeline.runs[0].clone());
        assert_eq!(figures(&timeline).juggled, Seconds::fraction(28, 3).into());
    }

    #[test]
    fn an_act_of_held_props_has_no_throw_and_no_catch() {
        let act = figures(&alternating("22", Hand::Right, 60));
        assert_eq!((act.first_throw, act.last_catch), (None, None));
        assert_eq!(act.juggled, Time::zero());
    }
}
