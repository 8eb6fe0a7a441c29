//! The figures of the whole act: first throw, last catch, and how long it is juggled.

use crate::time::{BeatPosition, Seconds, TimeRange};
use crate::timeline::{Run, Timeline};

/// The whole act, on the show clock.
#[derive(Clone, Debug, PartialEq)]
pub struct Act {
    /// Where its first section starts; `None` for a score without sections.
    pub begins: Option<Seconds>,
    /// The first release; `None` when no prop leaves a hand.
    pub first_throw: Option<Seconds>,
    /// The last catch; `None` when nothing is caught.
    pub last_catch: Option<Seconds>,
    /// Where its last section ends.
    pub ends: Option<Seconds>,
    /// The runs together, each from its first beat to its last catch; a run that catches nothing
    /// adds nothing.
    pub juggled: Seconds,
}

/// The same, whatever the open lengths come to.
#[derive(Clone, Debug, PartialEq)]
pub struct ActRange {
    /// Where its first section starts.
    pub begins: Option<TimeRange>,
    /// The first release.
    pub first_throw: Option<TimeRange>,
    /// The last catch.
    pub last_catch: Option<TimeRange>,
    /// Where its last section ends.
    pub ends: Option<TimeRange>,
    /// From its first section's start to its last one's end.
    pub lasts: Option<TimeRange>,
    /// The runs together.
    pub juggled: TimeRange,
}

/// Takes the act's figures as a clock reads them: `reads` makes of a time on the show clock one
/// on that clock, where it has one.
#[must_use]
pub fn act_range(
    timeline: &Timeline,
    reads: impl Fn(&Timeline, &Seconds) -> Option<Seconds>,
) -> ActRange {
    let range = |of: fn(Act) -> Option<Seconds>| {
        timeline.range_where_known(|timeline| reads(timeline, &of(act(timeline))?))
    };
    ActRange {
        begins: range(|act| act.begins),
        first_throw: range(|act| act.first_throw),
        last_catch: range(|act| act.last_catch),
        ends: range(|act| act.ends),
        lasts: timeline.range_where_known(|timeline| {
            let act = act(timeline);
            Some(&act.ends? - &act.begins?)
        }),
        juggled: timeline.range(|timeline| act(timeline).juggled),
    }
}

/// Takes the act's figures.
#[must_use]
pub fn act(timeline: &Timeline) -> Act {
    let length = |run: &Run| {
        let last_catch = run.gather.last_catch.as_ref()?;
        Some(last_catch - &run.tempo.at(BeatPosition::from_integer(0)))
    };
    Act {
        begins: timeline.sections.first().map(|section| section.starts.clone()),
        first_throw: timeline.runs.iter().find_map(|run| {
            run.actions.iter().find(|action| action.is_release()).map(|action| run.time_of(action))
        }),
        last_catch: timeline.runs.iter().rev().find_map(|run| run.gather.last_catch.clone()),
        ends: timeline.sections.last().map(|section| section.ends.clone()),
        juggled: timeline.runs.iter().filter_map(length).sum(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::Hand;
    use crate::measure::by_hand::alternating;

    #[test]
    fn an_act_is_juggled_from_first_beats_to_last_catches() {
        let mut timeline = alternating("2333", Hand::Right, 60);
        // The first beat holds a prop: the first throw is a second later; the last of the 3s is
        // thrown at 3 and caught 5/3 later.
        let one = act(&timeline);
        assert_eq!(one.first_throw, Some(Seconds::fraction(1, 1)));
        assert_eq!(one.last_catch, Some(Seconds::fraction(14, 3)));
        assert_eq!(one.juggled, Seconds::fraction(14, 3));
        timeline.runs.push(timeline.runs[0].clone());
        assert_eq!(act(&timeline).juggled, Seconds::fraction(28, 3));
    }

    #[test]
    fn an_act_of_held_props_has_no_throw_and_no_catch() {
        let act = act(&alternating("22", Hand::Right, 60));
        assert_eq!((act.first_throw, act.last_catch), (None, None));
        assert_eq!(act.juggled, Seconds::zero());
    }
}
