//! How long a prop set is in use: for fire, how long it burns.
//!
//! A stretch goes from the start of the first section that juggles with a set to the last catch
//! before another set is taken up, pauses between included: nobody puts a torch out for a pause
//! that the score does not say is one of other props. Unit: seconds on the show clock.

use std::ops::Range;

use crate::act::Act;
use crate::routine::PropSet;
use crate::time::{Seconds, Time, Within};
use crate::timeline::{Run, Timeline};

/// A set in use.
#[derive(Clone, Debug, PartialEq)]
pub struct InUse {
    /// The set, as an index into the routine.
    pub set: usize,
    /// Its sections, as indices into the score, the pauses between them included.
    pub sections: Range<usize>,
    /// Where the first of them starts.
    pub from: Time,
    /// The last catch, or where the last run ends that catches nothing.
    pub to: Time,
}

impl InUse {
    /// How long that is.
    #[must_use]
    pub fn lasts(&self) -> Time {
        &self.to - &self.from
    }
}

/// A tested burn held against how long the set is alight.
#[derive(Clone, Debug, PartialEq)]
pub struct Burn {
    /// When the set is in use.
    pub in_use: InUse,
    /// Which of its tests was the shortest, as an index.
    pub shortest: usize,
    /// What is left of the shortest test; below zero where it is too short.
    pub left: Time,
}

/// The stretches in which each set is in use, in order.
#[must_use]
pub fn in_use(timeline: &Timeline) -> Vec<InUse> {
    let same_set = |run: &Run, next: &Run| run.set == next.set;
    let stretch = |runs: &[Run]| {
        let (first, last) = (runs.first()?, runs.last()?);
        let mut from = timeline.sections.get(first.sections.start)?.starts.clone();
        let mut to = last.gather.last_catch.as_ref().unwrap_or(&last.gather.ends).clone();
        if let Some(hidden) = timeline.hides_throws() {
            // It may be in use there too.
            (from, to) = (
                from.hidden_within(hidden, Within::Starts),
                to.hidden_within(hidden, Within::LastCatch),
            );
        }
        Some(InUse { set: first.set, sections: first.sections.start..last.sections.end, from, to })
    };
    timeline.runs.chunk_by(same_set).filter_map(stretch).collect()
}

/// Every set with a tested burn, each time that it is in use.
#[must_use]
pub fn burns(act: &Act) -> Vec<Burn> {
    let Act { routine, timeline, .. } = act;
    let burn = |in_use: InUse| {
        let tests = &routine.sets.get(in_use.set)?.burn;
        let shortest = shortest(tests.iter().map(|test| &test.value))?;
        let left = &Time::from(tests.get(shortest)?.value.clone()) - &in_use.lasts();
        Some(Burn { in_use, shortest, left })
    };
    in_use(timeline).into_iter().filter_map(burn).collect()
}

/// The shortest tested burn of a set, in seconds.
#[must_use]
pub fn shortest_burn<'a>(set: &'a PropSet, burn: &Burn) -> Option<&'a Seconds> {
    set.burn.get(burn.shortest).map(|test| &test.value)
}

fn shortest<'a>(tests: impl Iterator<Item = &'a Seconds>) -> Option<usize> {
    let shorter = |best: Option<(usize, &'a Seconds)>, (index, test): (usize, &'a Seconds)| {
        if best.is_some_and(|(_, best)| best <= test) { best } else { Some((index, test)) }
    };
    tests.enumerate().fold(None, shorter).map(|(index, _)| index)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{
        balls, compiled, juggle, ms, name, pause, placed, routine, section, time,
    };
    use crate::routine::{Length, PropKind};

    #[test]
    fn a_torch_burns_through_a_pause_and_the_shortest_test_counts() {
        let of = |set: &str, name_of: &str| {
            let (section_of, mut one) = juggle(name_of, "3", Length::Beats(20));
            one.set = Some(name(set));
            section((section_of, one))
        };
        let fire = PropSet {
            kind: PropKind::Torch,
            burn: [95_000, 20_000, 21_000].map(|test| placed(ms(test))).into(),
            ..balls("fire", &["coral", "coral", "coral"])
        };
        let score = vec![
            pause("light up", Length::For(ms(4_000))),
            of("fire", "one"),
            pause("bow", Length::For(ms(3_000))),
            of("fire", "two"),
            pause("out", Length::For(ms(3_000))),
            of("three", "three"),
            pause("again", Length::For(ms(3_000))),
            of("fire", "four"),
        ];
        let act =
            compiled(&routine(score, vec![fire, balls("three", &["coral", "teal", "pearl"])]));
        let burns = burns(&act);
        // Worked by hand: 20 beats at 200 a minute are 6 s; the last 3 is thrown on beat 19 and
        // caught 3 - 4/3 beats later, 6.2 s after the first throw. Two such runs and 3 s between.
        let lit: Vec<_> = burns.iter().map(|burn| burn.in_use.lasts()).collect();
        assert_eq!(lit, [time(15_400), time(6_200)]);
        assert_eq!(burns[0].shortest, 1);
        assert_eq!(burns[0].left, time(4_600));
        assert_eq!(burns[0].in_use.sections, 1..4);
        assert_eq!(in_use(&act.timeline).len(), 3);
    }
}
