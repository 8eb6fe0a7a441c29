//! What a fault of a join offers: every way out that is an edit mends the join.

use proptest::prelude::*;
use throwbook::diagnostic::{Diagnostic, Severity};
use throwbook::routine::Routine;

use super::acts::act;
use super::few;
use super::written::{Written, codes, score};

/// Faults of a join, or of a cold start.
const OF_JOINS: [&str; 4] = ["hand-count", "junction-clash", "lead-not-met", "no-transition"];

/// The section that a fault of a join speaks of.
fn section_of(routine: &Routine, fault: &Diagnostic) -> Option<usize> {
    let whole =
        |at: &throwbook::diagnostic::Place| at.start <= fault.at.start && fault.at.end <= at.end;
    let of_join = fault.severity == Severity::Error && OF_JOINS.contains(&fault.code);
    routine.score.iter().position(|section| whole(&section.at)).filter(|_| of_join)
}

proptest! {
    #![proptest_config(few(150))]

    #[test]
    fn every_edit_that_is_offered_mends_its_join(act in act()) {
        let text = act.written().text();
        let opened = throwbook::open(&text);
        let routine = &opened.act.as_ref().unwrap().routine;
        for fault in &opened.diagnostics {
            let Some(section) = section_of(routine, fault) else { continue };
            for help in fault.helps.iter().filter(|help| !help.edits.is_empty()) {
                let mut mended = text.clone();
                for edit in help.edits.iter().rev() {
                    mended.replace_range(edit.at.start..edit.at.end, &edit.insert);
                }
                let again = throwbook::open(&mended);
                let routine = &again.act.as_ref().unwrap().routine;
                let left = again
                    .diagnostics
                    .iter()
                    .find(|fault| section_of(routine, fault) == Some(section));
                prop_assert!(
                    left.is_none(),
                    "{}: {}\n{}\nleaves {}",
                    fault.code, help.text, mended, left.unwrap().message
                );
            }
            // A later join hangs on this one.
            break;
        }
    }
}

#[test]
fn a_start_from_other_numbers_offers_the_other_hand_and_a_beginning() {
    let again = |join: &str| {
        score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(7)), \
             Pause(name: \"p\", lasts: For(\"0:02\")), \
             Juggle(name: \"b\", pattern: \"3\", lasts: Beats(6){join})"
        ))
    };
    let opened = again(", lead: Right").open();
    assert_eq!(codes(&opened), ["hand-count"]);
    let edits = opened.diagnostics[0].helps.iter().flat_map(|help| &help.edits);
    let inserted: Vec<&str> = edits.map(|edit| edit.insert.as_str()).collect();
    let handed_over = ", regrip: Hands(right: [\"c1\", \"c3\"], left: [\"c2\"])";
    assert_eq!(inserted, ["Left", ", transition: Throws(\"1\")", handed_over]);
    for join in [", lead: Left", ", lead: Right, transition: Throws(\"1\")", ""] {
        assert_eq!(codes(&again(join).open()), [""; 0], "{join}");
    }
}

#[test]
fn behind_a_written_transition_no_other_start_of_the_pattern_is_offered() {
    let opened = score(
        "Juggle(name: \"a\", pattern: \"4\", set: \"4\", lasts: Beats(1)), \
         Pause(name: \"p\", lasts: For(\"0:02\")), \
         Juggle(name: \"b\", pattern: \"552\", lasts: Beats(3), transition: Throws(\"3\"))",
    );
    let opened = Written { lead: "Left", dwell: Some("0.5".to_owned()), ..opened }.open();
    let fault = opened.diagnostics.iter().find(|one| one.code == "hand-count").unwrap();
    let helps: Vec<&str> = fault.helps.iter().map(|help| help.text.as_str()).collect();
    assert!(helps.iter().all(|help| !help.contains("another of its throws")), "{helps:?}");
}
