//! How often the arms cross, and how they begin and end each section.
//!
//! A change from open to crossed, or from one arm above to the other, is one crossing; going back
//! to open is none. It belongs to the section whose beat finds the arms crossed. Props at rest are
//! held with open arms, so a cold start with crossed arms crosses them. Unit: crossings.

use crate::act::Act;
use crate::routine::Arms;

/// How often the arms cross in each entry of the score; 0 for a pause.
#[must_use]
pub fn crossings(act: &Act) -> Vec<u32> {
    let Act { routine, timeline, .. } = act;
    let mut crossings = vec![0; timeline.sections.len()];
    for (run, here) in timeline.runs.iter().enumerate() {
        let arms = timeline.arms(routine, run);
        let mut before = Arms::Open;
        for section in here.sections.clone() {
            let Some(span) =
                timeline.sections.get(section).and_then(|section| section.juggle.as_ref())
            else {
                continue;
            };
            let own = arms.iter().skip(span.own_first_beat as usize).take(span.beats as usize);
            for &now in own.flatten() {
                crossings[section] += u32::from(before.crosses_to(now));
                before = now;
            }
        }
    }
    crossings
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Place;
    use crate::measure::examples::{
        balls, compiled, juggle, ms, name, pause, placed, routine, section,
    };
    use crate::routine::{ArmCycle, Length};

    /// Crossings of sections of `3`, each with its beats and one letter for each entry of its
    /// cycle; `|` is a pause.
    fn crossed(sections: &[(u32, &str)]) -> Vec<u32> {
        let entry = |letter: char| {
            placed(match letter {
                'r' => Arms::RightOver,
                'l' => Arms::LeftOver,
                _ => Arms::Open,
            })
        };
        let score = sections.iter().map(|&(beats, cycle)| {
            if cycle == "|" {
                return pause("rest", Length::For(ms(2_000)));
            }
            let (one, mut three) = juggle("tide", "3", Length::Beats(beats));
            three.set = Some(name("three"));
            let beats = cycle.chars().map(entry).collect();
            three.arms = (!cycle.is_empty()).then(|| ArmCycle { at: Place::default(), beats });
            section((one, three))
        });
        let set = balls("three", &["coral", "teal", "pearl"]);
        let act = routine(score.collect(), vec![set]);
        crossings(&compiled(&act))
    }

    #[test]
    fn a_change_to_crossed_or_to_the_other_arm_above_is_one_crossing() {
        for (beats, cycle, crossings) in [
            (8, "", 0),
            (8, "o", 0),
            // Crossed from the cold start on, and never uncrossed.
            (8, "r", 1),
            (8, "or", 4),
            (8, "ol", 4),
            (8, "rl", 8),
            (7, "rl", 7),
        ] {
            assert_eq!(crossed(&[(beats, cycle)]), [crossings], "{beats} beats of {cycle}");
        }
    }

    #[test]
    fn a_junction_goes_on_with_the_arms_as_they_are_and_a_gather_opens_them() {
        assert_eq!(crossed(&[(4, "r"), (4, "r")]), [1, 0]);
        assert_eq!(crossed(&[(4, "r"), (4, ""), (4, "r")]), [1, 0, 1]);
        assert_eq!(crossed(&[(4, "r"), (4, "l")]), [1, 1]);
        assert_eq!(crossed(&[(4, "r"), (0, "|"), (4, "r")]), [1, 0, 1]);
    }
}
