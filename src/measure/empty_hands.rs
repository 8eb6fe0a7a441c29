//! The longest time with both hands empty, which is what a turn or a clap has.
//!
//! It runs from the last release to the next catch and belongs to the section whose release opens
//! it. Hands are followed from the cold start's loading through every release and catch, in the
//! exact order of beats; a catch at the very instant of a release leaves no time. Unit: seconds.

use std::cmp::Ordering;

use crate::time::{BeatPosition, Seconds};
use crate::timeline::{Run, Timeline};

/// For each entry of the score the longest time with both hands empty that it opens; zero where
/// a hand is never empty, and for a pause.
#[must_use]
pub fn longest(timeline: &Timeline) -> Vec<Seconds> {
    let mut longest = vec![Seconds::zero(); timeline.sections.len()];
    for run in &timeline.runs {
        for (section, time) in gaps(timeline, run) {
            if let Some(best) = longest.get_mut(section) {
                // Times that only a ramp's last digits part are no time at all.
                if time.partial_cmp(best) == Some(Ordering::Greater) {
                    *best = time;
                }
            }
        }
    }
    longest
}

/// What happens at a place in the run's beats. In this order where they meet: an instant with a
/// catch in it is never an empty one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Happening {
    Catch,
    Release { section: usize },
}

/// Every stretch of a run with both hands empty: the section that opens it, and its length.
fn gaps(timeline: &Timeline, run: &Run) -> Vec<(usize, Seconds)> {
    let mut happenings: Vec<(BeatPosition, Happening)> = Vec::new();
    for action in &run.actions {
        if let Some(caught) = action.caught(timeline.dwell) {
            let release = BeatPosition::from_integer(i64::from(action.beat));
            let section = action.section as usize;
            happenings.push((release, Happening::Release { section }));
            happenings.push((caught, Happening::Catch));
        }
    }
    happenings.sort_unstable();
    // Both hands are empty when no prop is in either: the hand that a prop is in does not matter.
    let mut in_hands = run.loading.hands.iter().map(Vec::len).sum::<usize>();
    let mut opened: Option<(BeatPosition, usize)> = None;
    let mut gaps = Vec::new();
    for (position, happening) in happenings {
        match happening {
            Happening::Release { section } => {
                in_hands = in_hands.saturating_sub(1);
                if in_hands == 0 {
                    opened = Some((position, section));
                }
            }
            Happening::Catch => {
                if let Some((from, section)) = opened.take()
                    && from < position
                {
                    gaps.push((section, &run.tempo.at(position) - &run.tempo.at(from)));
                }
                in_hands += 1;
            }
        }
    }
    gaps
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::Hand;
    use crate::measure::by_hand::alternating;

    #[test]
    fn both_hands_are_empty_from_the_last_release_to_the_next_catch() {
        // At 60 a minute a beat is a second; dwell 2/3, so a 3 flies 5/3 s and a 5 11/3 s.
        for (throws, length) in [
            // Thrown at 0, 1 and 2; caught at 5/3, 8/3 and 11/3: never empty-handed before 2.
            ("333", Seconds::fraction(0, 1)),
            // 5 5 5: released at 0, 1, 2; the first comes down at 11/3.
            ("555", Seconds::fraction(5, 3)),
            // One prop, 3 and then empty hands: from 0 to 5/3.
            ("300", Seconds::fraction(5, 3)),
            // A 1 is caught after half a beat.
            ("1", Seconds::fraction(1, 2)),
            // Held props never leave.
            ("22", Seconds::fraction(0, 1)),
        ] {
            let longest = longest(&alternating(throws, Hand::Right, 60));
            assert_eq!(longest, [length], "{throws}");
        }
    }

    #[test]
    fn a_prop_that_is_held_keeps_its_hand_from_being_empty() {
        // 3 from the right while the left holds a 2: the left is never empty.
        let longest = longest(&alternating("320", Hand::Right, 60));
        assert_eq!(longest, [Seconds::zero()]);
    }

    #[test]
    fn a_catch_at_the_very_instant_of_a_release_leaves_no_time() {
        // With half a dwell a 2 thrown at 0 is caught on beat 1, on which the last prop leaves.
        let mut timeline = alternating("23", Hand::Right, 60);
        timeline.dwell = num_rational::Ratio::new(1, 2);
        timeline.runs[0].actions[0].kind = crate::patterns::hands::ActionKind::Thrown;
        let longest = longest(&timeline);
        // The first prop rests from beat 1 on; nothing opens a gap but the release of beat 1.
        assert_eq!(longest, [Seconds::zero()]);
    }

    #[test]
    fn the_time_belongs_to_the_section_whose_release_opens_it() {
        let mut timeline = alternating("555", Hand::Right, 60);
        timeline.runs[0].actions[2].section = 1;
        timeline.sections.push(timeline.sections[0].clone());
        assert_eq!(longest(&timeline), [Seconds::zero(), Seconds::fraction(5, 3)]);
    }
}
