//! Other throws of a pattern at which it would join without any throws between.

use crate::hand::Hand;
use crate::notation::{Kind, Sequence};

use super::{Bounds, Entry, Goal, Origin, ways_into};

/// The rotations of the goal's pattern that join directly (a wait where the notation changes is
/// no throw), written out, in the order in which their first throws stand in the pattern; at most
/// `at_most`. The pattern as it is written is not among them.
///
/// `414` after the cascade: `441`.
#[must_use]
pub fn entries(origin: &Origin, goal: Goal<'_>, at_most: usize) -> Vec<String> {
    let Sequence { steps, starred } = goal.pattern.sequence();
    let wait = match (origin, goal.pattern.kind()) {
        (Origin::Alternating { .. }, Kind::Sync) => 1,
        _ => 0,
    };
    let bounds = Bounds { beats: wait, ..Bounds::default() };
    let written = goal.pattern.sequence().to_string();
    let mut found: Vec<String> = Vec::new();
    let mut entry = Entry::of(goal);
    // Led by the right as it is written, so this rotation's first throw is this hand's.
    let mut next = Hand::Right;
    let mut schedule = goal.pattern.schedule().clone();
    for (step, first) in steps.iter().zip(1..).take(steps.len().saturating_sub(1)) {
        schedule = schedule.step(step, next).unwrap_or_else(|misfit| {
            unreachable!("a `Pattern` can be juggled for ever: {misfit:?}")
        });
        next = next.after(step.beats());
        entry.schedule = match next {
            Hand::Right => schedule.clone(),
            Hand::Left => schedule.mirrored(),
        };
        if found.len() < at_most && !ways_into(origin, &entry, bounds, 1).is_empty() {
            let mut rotated = steps.clone();
            rotated.rotate_left(first);
            let rotated = Sequence { steps: rotated, starred: *starred }.to_string();
            if rotated != written && !found.contains(&rotated) {
                found.push(rotated);
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::patterns::Pattern;

    fn joins(from: &str, to: &str) -> Vec<String> {
        let pattern = |text| Pattern::read(text).unwrap_or_else(|faults| panic!("{faults:?}")).0;
        let (from, to) = (pattern(from), pattern(to));
        let goal = Goal { pattern: &to, lead: None, preferred: Hand::Right };
        entries(&Origin::after(&from, Hand::Right), goal, 20)
    }

    #[test]
    fn a_pattern_may_join_from_another_of_its_throws() {
        for (from, to, expected) in [
            ("3", "414", vec!["441"]),
            ("3", "315", vec!["531"]),
            ("3", "51", vec![]),
            ("5", "[54]24", vec!["24[54]"]),
            ("51", "414", vec![]),
            ("15", "51", vec!["15"]),
            ("51", "15", vec!["51"]),
            ("3", "(2x,4)*", vec!["(4,2x)*"]),
            ("4", "(2,6)(6,2)", vec![]),
            ("(4,4)", "(4x,4x)(4,4)", vec!["(4,4)(4x,4x)"]),
            ("(6x,4)*", "(4,6x)*", vec!["(6x,4)*"]),
            ("(4,4)", "(6,2)(2,6)", vec![]),
            ("414414", "414414", vec![]),
        ] {
            assert_eq!(joins(from, to), expected, "{from} to {to}");
        }
    }

    #[test]
    fn a_cold_start_may_fit_another_of_its_throws() {
        // Common practice, no source: from two props in each hand it begins with a crossing 3, the
        // multiplex coming next from the other hand.
        let to = Pattern::read("[43]23").unwrap_or_else(|faults| panic!("{faults:?}")).0;
        let goal = Goal { pattern: &to, lead: None, preferred: Hand::Right };
        assert_eq!(entries(&Origin::AtRest { right: 2, left: 2 }, goal, 20), ["23[43]", "3[43]2"]);
    }

    #[test]
    fn no_more_entries_are_written_than_were_asked_for() {
        let to = Pattern::read("4413333").unwrap_or_else(|faults| panic!("{faults:?}")).0;
        let origin = Origin::after(&to, Hand::Right);
        let goal = Goal { pattern: &to, lead: None, preferred: Hand::Right };
        assert_eq!(entries(&origin, goal, 20), ["3333441", "3334413", "3344133", "3441333"]);
        assert_eq!(entries(&origin, goal, 2), ["3333441", "3334413"]);
    }
}
