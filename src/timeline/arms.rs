//! Where the arms are on the beats of a run, and how its throws are made.
//!
//! Beats of a transition or a wait have no entry: they are the time in which arms go from one
//! position to another. Its throws are made in no written way.

use crate::routine::{Arms, Juggle, Made, Routine};

use super::{Action, Timeline};

impl Timeline {
    /// Where the arms are on each beat of a run; `None` on beats of a transition or a wait.
    #[must_use]
    pub fn arms(&self, routine: &Routine, run: usize) -> Vec<Option<Arms>> {
        let Some(here) = self.runs.get(run) else { return Vec::new() };
        let mut arms = vec![None; here.beats as usize];
        for section in here.sections.clone() {
            let span = self.sections.get(section).and_then(|span| span.juggle.as_ref());
            let (Some(span), Some(juggle)) = (span, juggle(routine, section)) else { continue };
            let own = arms.iter_mut().skip(span.own_first_beat as usize);
            for (place, beat) in own.zip(0..span.beats) {
                *place = Some(juggle.arms_on(beat));
            }
        }
        arms
    }

    /// Where the arms are on a section's own first and last beat; `None` for a pause.
    #[must_use]
    pub fn arms_at_ends(&self, routine: &Routine, section: usize) -> Option<(Arms, Arms)> {
        let span = self.sections.get(section)?.juggle.as_ref()?;
        let juggle = juggle(routine, section)?;
        Some((juggle.arms_on(0), juggle.arms_on(span.beats.saturating_sub(1))))
    }
}

impl Action {
    /// How it is made, where that is written and a prop leaves the hand.
    #[must_use]
    pub fn made(&self, routine: &Routine) -> Option<Made> {
        self.number?;
        juggle(routine, self.section as usize)?.made(self.written).filter(|_| self.is_release())
    }
}

fn juggle(routine: &Routine, section: usize) -> Option<&Juggle> {
    routine.score.get(section)?.juggle()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::act::Act;

    fn opened(score: &str) -> Act {
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, sets: {{ \
             \"3\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"a\", \"a\"]) }}, score: \
             [{score}])"
        );
        let opened = crate::open(&text);
        let said: Vec<_> = opened.diagnostics.iter().map(|fault| &fault.message).collect();
        opened.finished().unwrap_or_else(|| panic!("{said:?}")).clone()
    }

    /// One letter a beat: open, right over, left over, or a dot where there is no entry.
    fn letters(arms: &[Option<Arms>]) -> String {
        let letter = |arms: &Option<Arms>| match arms {
            None => '.',
            Some(Arms::Open) => 'o',
            Some(Arms::RightOver) => 'r',
            Some(Arms::LeftOver) => 'l',
        };
        arms.iter().map(letter).collect()
    }

    #[test]
    fn the_arm_cycle_begins_with_the_section_and_a_transition_has_no_entry() {
        let Act { routine, timeline, .. } = opened(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(4), \
             arms: [Open, LeftOver]),
             Juggle(name: \"b\", pattern: \"51\", lasts: Cycles(2), transition: Auto, \
             arms: [Open, RightOver]),
             Juggle(name: \"c\", pattern: \"3\", lasts: Beats(3), transition: Auto)",
        );
        assert_eq!(letters(&timeline.arms(&routine, 0)), "olol.oror.ooo");
        assert_eq!(timeline.arms(&routine, 7), []);
        assert_eq!(timeline.arms_at_ends(&routine, 1), Some((Arms::Open, Arms::RightOver)));
    }

    #[test]
    fn a_wait_takes_a_beat_without_an_entry_or_none() {
        // Into pairs a beat is added, out of them none.
        let Act { routine, timeline, .. } = opened(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(4), arms: [RightOver]),
             Juggle(name: \"b\", pattern: \"(4,2x)(2x,4)\", lasts: Cycles(1), \
             arms: [Open, Open, Open, LeftOver]),
             Juggle(name: \"c\", pattern: \"3\", lasts: Beats(2), arms: [LeftOver])",
        );
        assert_eq!(letters(&timeline.arms(&routine, 0)), "rrrr.ooolll");
    }

    #[test]
    fn a_cut_cycle_cuts_its_arm_cycle_and_a_transition_is_made_in_no_way() {
        let Act { routine, timeline, .. } = opened(
            "Juggle(name: \"a\", set: \"3\", pattern: \"441\", lasts: Beats(6), \
             arms: [Open, Open, RightOver], made: { 1: UnderLeg, 3: BehindBack }),
             Pause(name: \"p\", lasts: For(\"0:03\")),
             Juggle(name: \"b\", pattern: \"531\", lasts: Beats(4), arms: [LeftOver, Open, Open])",
        );
        assert_eq!(letters(&timeline.arms(&routine, 0)), "ooroor");
        assert_eq!(letters(&timeline.arms(&routine, 1)), "lool");
        let made: Vec<_> =
            timeline.runs[0].actions.iter().map(|action| action.made(&routine)).collect();
        let cycle = [Some(Made::UnderLeg), None, Some(Made::BehindBack)];
        assert_eq!(made, cycle.repeat(2));
        let unwritten =
            timeline.runs[1].actions.iter().any(|action| action.made(&routine).is_some());
        assert!(!unwritten);
        let in_transition = Action { number: None, ..timeline.runs[0].actions[0] };
        assert_eq!(in_transition.made(&routine), None);
    }
}
