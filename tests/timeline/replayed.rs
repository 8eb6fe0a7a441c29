//! Random acts with written beginnings, loadings and leads, and throws of both notations between
//! sections, against a replay of their throws.

use proptest::prelude::*;

use super::acts::act;
use super::replay::hold_to_replay;
use super::{few, juggle};

/// What was drawn may not join, or not start from what the hands hold; nothing else.
const MAY_BE_SAID: [&str; 6] = [
    "cut-cycle",
    "hand-count",
    "junction-clash",
    "lead-not-met",
    "loading-mismatch",
    "no-transition",
];

proptest! {
    #![proptest_config(few(150))]

    #[test]
    fn every_prop_is_where_a_replay_of_the_throws_has_it(act in act()) {
        let opened = act.written().open();
        if let Some(act) = opened.finished() {
            hold_to_replay(&act.routine, &act.timeline);
        } else {
            for diagnostic in &opened.diagnostics {
                let said = &diagnostic.message;
                prop_assert!(MAY_BE_SAID.contains(&diagnostic.code), "{said}");
            }
        }
    }

    #[test]
    fn a_found_transition_written_out_gives_the_same_throws(act in act()) {
        let opened = act.written().open();
        let Some(first) = opened.finished() else { return Ok(()) };
        let out = act.written_out(&first.timeline);
        let again = out.written().open();
        prop_assert!(again.finished().is_some(), "{}", out.written().score);
        let again = again.finished().unwrap();
        for (run, other) in first.timeline.runs.iter().zip(&again.timeline.runs) {
            prop_assert_eq!(&run.actions, &other.actions);
            prop_assert_eq!(&run.gather, &other.gather);
        }
    }

    #[test]
    fn a_section_written_as_a_transition_moves_the_same_props(act in act(), middle in 1_usize..5) {
        let opened = act.written().open();
        let Some(first) = opened.finished() else { return Ok(()) };
        let timeline = &first.timeline;
        let mut out = act.written_out(timeline);
        let joined = |at: usize| out.sections.get(at).is_some_and(|section| !section.pause);
        if !joined(middle) || !joined(middle + 1) {
            return Ok(());
        }
        // Its 2s may be held now and thrown then, so other colours may come to the hands.
        out.sections.iter_mut().for_each(|section| section.loading = None);
        // The section's own throws, its transition's and the next one's become one.
        let gone = out.sections.remove(middle);
        let span = juggle(timeline, act.index(middle));
        let pattern = throwbook::patterns::Pattern::read(&gone.pattern).unwrap().0;
        let steps = pattern.sequence().steps.iter().cycle();
        let mut left = span.beats;
        let own = steps.take_while(|step| {
            let more = left > 0;
            left = left.saturating_sub(step.beats());
            more
        });
        let own = throwbook::notation::Sequence { steps: own.cloned().collect(), starred: false };
        let next = &mut out.sections[middle];
        let throws = |written: &Option<String>| written.clone().unwrap_or_default();
        next.throws = Some(throws(&gone.throws) + &own.to_string() + &throws(&next.throws));
        next.thrown = gone.thrown;
        let opened = out.written().open();
        let said = &opened.diagnostics;
        let act = opened.finished();
        prop_assert!(act.is_some(), "{said:?}\n{}", out.written().score);
        let act = act.unwrap();
        hold_to_replay(&act.routine, &act.timeline);
    }
}
