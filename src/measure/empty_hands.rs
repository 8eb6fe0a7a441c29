//! The longest time with both hands empty, which is what a turn or a clap has.
//!
//! It runs from the last release to the next catch and belongs to the section whose release opens
//! it. Hands are followed from the cold start's loading through every release and catch, in the
//! exact order of beats; a catch at the very instant of a release leaves no time. Unit: seconds.

use crate::time::{BeatPosition, Seconds};
use crate::timeline::{Run, Timeline};

/// For each entry of the score the longest time with both hands empty that it opens; zero where
/// a hand is never empty, and for a pause.
#[must_use]
pub fn longest(timeline: &Timeline) -> Vec<Seconds> {
    let mut longest = vec![Seconds::zero(); timeline.sections.len()];
    let mut about = vec![0.0; longest.len()];
    for run in &timeline.runs {
        for Gap { section, from, to } in gaps(timeline, run) {
            // In floating point first, to find the longest among many.
            let length = run.tempo.about(to) - run.tempo.about(from);
            if let Some(best) = about.get_mut(section)
                && length > *best + SAME_LENGTH_S
            {
                *best = length;
                longest[section] = run.tempo.lasts(from, to);
            }
        }
    }
    longest
}

/// Times that differ by less are the same time: far below what a ramp is judged to, far above
/// what floating point loses in a day.
const SAME_LENGTH_S: f64 = 1e-7;

/// A stretch with both hands empty, in the run's beats.
struct Gap {
    /// The section whose release opens it.
    section: usize,
    from: BeatPosition,
    to: BeatPosition,
}

/// What happens at a place in the run's beats. In this order where they meet: an instant with a
/// catch in it is never an empty one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Happening {
    Catch,
    Release { section: usize },
}

/// Every stretch of a run with both hands empty.
fn gaps(timeline: &Timeline, run: &Run) -> Vec<Gap> {
    let mut happenings: Vec<(BeatPosition, Happening)> = Vec::new();
    for action in &run.actions {
        if let Some(caught) = action.caught(timeline.dwell) {
            let release = BeatPosition::from_integer(i64::from(action.beat));
            let section = action.section as usize;
            happenings.push((release, Happening::Release { section }));
            happenings.push((caught, Happening::Catch));
        }
    }
    // Whole parts of a beat compare faster than fractions. A catch lies on halves of a beat or on
    // parts of the dwell ratio, so these divide both.
    let denominator = i128::from(*timeline.dwell.denom());
    let parts = if denominator % 2 == 0 { denominator } else { 2 * denominator };
    let in_parts = |position: &BeatPosition| {
        i128::from(*position.numer()) * (parts / i128::from(*position.denom()))
    };
    happenings.sort_by_cached_key(|(position, happening)| (in_parts(position), *happening));
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
                    gaps.push(Gap { section, from, to: position });
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
