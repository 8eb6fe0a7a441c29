//! The same pattern begun at another of its steps.

use crate::notation::{Sequence, Step};

use super::Pattern;

impl Pattern {
    /// The pattern begun at each of its steps (of a starred one, at those of both halves), with
    /// the place of that step, from 0; the first is the pattern as written. Made one by one, as
    /// they are asked for.
    ///
    /// Each throw keeps its `number` and its place `at`. Where the hands alternate, the hand that
    /// leads is told outside: it is the hand that throws the step begun at. The schedule stands
    /// before that step, led by the right like any other.
    pub fn rotations(&self) -> impl Iterator<Item = (usize, Pattern)> + '_ {
        (0..self.sequence().steps.len()).map(|step| (step, self.begun_at(step)))
    }

    /// The pattern begun at one of its steps, counted from 0 and round again past the last. See
    /// [`Pattern::rotations`].
    #[must_use]
    pub fn begun_at(&self, step: usize) -> Pattern {
        let mut steps = self.sequence().steps.clone();
        let step = step % steps.len();
        steps.rotate_left(step);
        self.with_steps(steps)
    }

    /// The pattern with its own throws in another order in which they can repeat for ever too.
    pub(super) fn with_steps(&self, steps: Vec<Step>) -> Pattern {
        let sequence = Sequence { steps, starred: self.sequence().starred };
        let at = sequence.throws().map(|written| written.at.end).max().unwrap_or(0);
        Pattern::from_sequence(sequence, 0..at).unwrap_or_else(|_| {
            unreachable!("a rotation or another order of a pattern lands its props as it does")
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::hand::Hand;
    use crate::notation::Kind;

    use super::*;

    fn pattern(text: &str) -> Pattern {
        Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0
    }

    #[test]
    fn a_pattern_begins_at_each_of_its_steps() {
        for (text, expected) in [
            ("3", &["3"] as &[&str]),
            ("531", &["531", "315", "153"]),
            ("[54]24", &["[54]24", "24[54]", "4[54]2"]),
            ("(4,2x)(2x,4)", &["(4,2x)(2x,4)", "(2x,4)(4,2x)"]),
            ("(4,2x)*", &["(4,2x)*", "(2x,4)*"]),
        ] {
            let pattern = pattern(text);
            let texts: Vec<_> =
                pattern.rotations().map(|one| one.1.sequence().to_string()).collect();
            assert_eq!(texts, expected, "{text}");
            assert_eq!(pattern.begun_at(pattern.sequence().steps.len()), pattern, "{text}");
        }
    }

    #[test]
    fn a_rotation_keeps_its_numbers_and_stands_where_the_pattern_has_come_to() {
        let written = pattern("[54]24");
        let begun = written.begun_at(1);
        let numbers: Vec<u32> = begun.sequence().throws().map(|one| one.number).collect();
        assert_eq!(numbers, [3, 4, 1, 2]);
        for text in ["51", "[54]24", "(6,2)(2,6)", "(4,2x)*", "(4,6x)(2x,4)*"] {
            let pattern = pattern(text);
            let mut schedule = pattern.schedule().clone();
            let mut lead = Hand::Right;
            for (step, begun) in pattern.rotations() {
                assert_eq!(begun.schedule_led_by(lead), schedule, "{text} {step}");
                let first = &pattern.sequence().steps[step];
                schedule = schedule.step(first, lead).unwrap_or_else(|why| panic!("{why:?}"));
                if pattern.kind() == Kind::Async {
                    lead = lead.other();
                }
            }
        }
    }
}
