//! Which hand waits at a junction and which leads after it, whichever led before.

use throwbook::hand::Hand;
use throwbook::timeline::{JuggleSpan, Run};

use crate::written::{Written, codes, score};

/// A routine of two sections, joined as written.
fn two(set: u32, first: &str, next: &str) -> Written {
    score(&format!("Juggle(name: \"a\", set: \"{set}\", {first}),\nJuggle(name: \"b\", {next}),"))
}

/// The second section and its run; the routine must have no fault.
fn joined(written: &Written) -> (JuggleSpan, Run) {
    let opened = written.open();
    let errors: Vec<&str> =
        codes(&opened).into_iter().filter(|code| *code != "cut-cycle").collect();
    assert_eq!(errors, [""; 0], "{}", written.score);
    let timeline = &opened.finished().unwrap().timeline;
    (timeline.sections[1].juggle.clone().unwrap(), timeline.runs[0].clone())
}

/// Throws, beats and waiting hand of what stands before the second section, and its lead.
fn told(written: &Written) -> (String, u32, Option<Hand>, Option<Hand>) {
    let (span, _) = joined(written);
    match span.transition {
        Some(taken) => (taken.throws.to_string(), taken.beats, taken.waits, span.lead),
        None => (String::new(), 0, None, span.lead),
    }
}

const LEFT: Option<Hand> = Some(Hand::Left);
const RIGHT: Option<Hand> = Some(Hand::Right);

#[test]
fn the_hands_change_with_every_odd_beat_and_with_the_routines_lead() {
    for (set, first, next, throws, beats, waits, lead) in [
        // Alternating to alternating.
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"531\", lasts: Cycles(2)",
            "",
            0,
            None,
            RIGHT,
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(7)",
            "pattern: \"531\", lasts: Cycles(2)",
            "",
            0,
            None,
            LEFT,
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"51\", transition: Auto, lasts: Cycles(2)",
            "4",
            1,
            None,
            LEFT,
        ),
        (
            3,
            "pattern: \"51\", lasts: Cycles(3)",
            "pattern: \"3\", transition: Throws(\"2\"), lasts: Beats(6)",
            "2",
            1,
            None,
            LEFT,
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"51\", lead: Right, transition: Auto, lasts: Cycles(2)",
            "34",
            2,
            None,
            RIGHT,
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"51\", lead: Right, transition: Throws(\"34\"), lasts: Cycles(2)",
            "34",
            2,
            None,
            RIGHT,
        ),
        (
            4,
            "pattern: \"4\", lasts: Beats(6)",
            "pattern: \"71\", transition: Auto, lasts: Cycles(2)",
            "56",
            2,
            None,
            RIGHT,
        ),
        (
            5,
            "pattern: \"5\", lasts: Beats(6)",
            "pattern: \"91\", transition: Auto, lasts: Cycles(2)",
            "678",
            3,
            None,
            LEFT,
        ),
        // Alternating to pairs: after an even number of beats the right hand is due next and waits.
        (
            4,
            "pattern: \"4\", lasts: Beats(6)",
            "pattern: \"(4,4)\", lasts: Cycles(2)",
            "",
            1,
            RIGHT,
            None,
        ),
        (
            4,
            "pattern: \"4\", lasts: Beats(7)",
            "pattern: \"(4,4)\", lasts: Cycles(2)",
            "",
            1,
            LEFT,
            None,
        ),
        (
            4,
            "pattern: \"4\", lasts: Beats(6)",
            "pattern: \"(4,4)\", transition: Auto, lasts: Cycles(2)",
            "",
            1,
            RIGHT,
            None,
        ),
        (
            4,
            "pattern: \"4\", lasts: Beats(6)",
            "pattern: \"(4,4)\", transition: Throws(\"44\"), lasts: Cycles(2)",
            "44",
            3,
            RIGHT,
            None,
        ),
        (
            4,
            "pattern: \"4\", lasts: Beats(6)",
            "pattern: \"(4,4)\", transition: Throws(\"4(4,4)\"), lasts: Cycles(2)",
            "4(4,4)",
            4,
            LEFT,
            None,
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"(4x,2x)\", transition: Auto, lasts: Cycles(2)",
            "",
            1,
            RIGHT,
            None,
        ),
        // Pairs to alternating: the hand that does not lead waits, and no beat is added.
        (
            4,
            "pattern: \"(4,4)\", lasts: Cycles(3)",
            "pattern: \"4\", lasts: Beats(6)",
            "",
            0,
            LEFT,
            RIGHT,
        ),
        (
            4,
            "pattern: \"(4,4)\", lasts: Cycles(3)",
            "pattern: \"4\", lead: Left, lasts: Beats(6)",
            "",
            0,
            RIGHT,
            LEFT,
        ),
        (
            4,
            "pattern: \"(4,4)\", lasts: Cycles(3)",
            "pattern: \"4\", transition: Auto, lasts: Beats(6)",
            "",
            0,
            LEFT,
            RIGHT,
        ),
        (
            4,
            "pattern: \"(4,4)\", lasts: Cycles(3)",
            "pattern: \"4\", transition: Throws(\"(4,4)4\"), lasts: Beats(6)",
            "(4,4)4",
            3,
            RIGHT,
            RIGHT,
        ),
        (
            3,
            "pattern: \"(4,2x)(2x,4)\", lasts: Cycles(2)",
            "pattern: \"3\", lasts: Beats(6)",
            "",
            0,
            LEFT,
            RIGHT,
        ),
        (
            3,
            "pattern: \"(4,2x)(2x,4)\", lasts: Cycles(2)",
            "pattern: \"3\", transition: Auto, lasts: Beats(6)",
            "",
            0,
            LEFT,
            RIGHT,
        ),
        (
            3,
            "pattern: \"(4,2x)(2x,4)\", lasts: Cycles(2)",
            "pattern: \"3\", lead: Right, lasts: Beats(6)",
            "",
            0,
            LEFT,
            RIGHT,
        ),
        // Pairs to pairs.
        (
            4,
            "pattern: \"(4,4)\", lasts: Cycles(3)",
            "pattern: \"(4x,4x)\", lasts: Cycles(2)",
            "",
            0,
            None,
            None,
        ),
        (
            3,
            "pattern: \"(4,2x)*\", lasts: Cycles(2)",
            "pattern: \"(4,2x)(2x,4)\", lasts: Cycles(2)",
            "",
            0,
            None,
            None,
        ),
        (
            3,
            "pattern: \"(4x,2x)\", lasts: Cycles(2)",
            "pattern: \"(4,2x)*\", transition: Auto, lasts: Cycles(2)",
            "",
            0,
            None,
            None,
        ),
    ] {
        let written = two(set, first, next);
        assert_eq!(told(&written), (throws.to_owned(), beats, waits, lead), "{first} | {next}");
        // Written from the left hand, all hands are exchanged, but not the pairs' own.
        let mirror = Written { lead: "Left", ..written };
        if !first.contains('(') && !next.contains('(') && !next.contains("lead") {
            let other = |hand: Option<Hand>| hand.map(Hand::other);
            let mirrored = (throws.to_owned(), beats, other(waits), other(lead));
            assert_eq!(told(&mirror), mirrored, "{first} | {next}");
        }
    }
}

#[test]
fn what_does_not_join_is_a_fault_of_its_own_kind() {
    for (set, first, next, code) in [
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"51\", lasts: Cycles(2)",
            "junction-clash",
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"51\", transition: Throws(\"5\"), lasts: Cycles(2)",
            "junction-clash",
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"51\", transition: Throws(\"[34]\"), lasts: Cycles(2)",
            "junction-clash",
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"51\", transition: Throws(\"0\"), lasts: Cycles(2)",
            "junction-clash",
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"531\", lead: Left, lasts: Cycles(2)",
            "lead-not-met",
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"51\", lead: Right, transition: Throws(\"4\"), lasts: Cycles(2)",
            "lead-not-met",
        ),
        (4, "pattern: \"4\", lasts: Beats(6)", "pattern: \"3\", lasts: Beats(6)", "prop-count"),
        (
            4,
            "pattern: \"4\", lasts: Beats(6)",
            "set: \"5\", pattern: \"5\", lasts: Beats(6)",
            "set-in-run",
        ),
        // Only led right do these pairs join a cascade.
        (
            3,
            "pattern: \"(4,2x)(2x,4)\", lasts: Cycles(2)",
            "pattern: \"3\", lead: Left, lasts: Beats(6)",
            "junction-clash",
        ),
        (
            3,
            "pattern: \"3\", lasts: Beats(6)",
            "pattern: \"(4,2x)\", lasts: Beats(6)",
            "landing-clash",
        ),
        (
            4,
            "pattern: \"4\", lasts: Beats(6)",
            "pattern: \"(6,2)*\", lasts: Cycles(2)",
            "junction-clash",
        ),
        (
            4,
            "pattern: \"(4,4)\", lasts: Cycles(2)",
            "pattern: \"(6,2)*\", lasts: Cycles(2)",
            "junction-clash",
        ),
        (
            4,
            "pattern: \"(4,4)\", lasts: Cycles(2)",
            "pattern: \"4\", transition: Throws(\"(4x,4)\"), lasts: Beats(6)",
            "junction-clash",
        ),
        (
            9,
            "pattern: \"9\", lasts: Beats(9)",
            "pattern: \"h1\", transition: Auto, lasts: Cycles(2)",
            "no-transition",
        ),
    ] {
        let opened = two(set, first, next).open();
        assert_eq!(codes(&opened).first(), Some(&code), "{next}: {:?}", opened.diagnostics);
        assert!(opened.finished().is_none());
    }
}

#[test]
fn these_pairs_join_a_cascade_only_led_right_whatever_hand_leads_the_routine() {
    let written =
        two(3, "pattern: \"(4,2x)(2x,4)\", lasts: Cycles(2)", "pattern: \"3\", lasts: Beats(6)");
    for lead in ["Right", "Left"] {
        assert_eq!(told(&Written { lead, ..written.clone() }).3, RIGHT, "{lead}");
    }
}

#[test]
fn after_pairs_the_hand_leads_that_led_the_runs_last_alternating_section() {
    // Led by the left hand; five beats later the right one is due and waits; then the left leads.
    let text = r#"Juggle(name: "a", set: "4", pattern: "4", lead: Left, lasts: Beats(5)),
        Juggle(name: "b", pattern: "(4,4)", lasts: Cycles(3)),
        Juggle(name: "c", pattern: "4", lasts: Beats(5)),
        Pause(name: "p", lasts: For("0:03")),
        Juggle(name: "d", pattern: "(4,4)", lasts: Cycles(3)),
        Juggle(name: "e", pattern: "4", lasts: Beats(5)),"#;
    let opened = score(text).open();
    assert_eq!(opened.diagnostics, []);
    let timeline = &opened.finished().unwrap().timeline;
    let span = |section: usize| timeline.sections[section].juggle.as_ref().unwrap();
    assert_eq!(span(0).lead, LEFT);
    assert_eq!(span(1).transition.as_ref().unwrap().waits, RIGHT);
    assert_eq!(span(2).lead, LEFT);
    // A run that began with pairs has nothing to go by but the routine's lead.
    assert_eq!(timeline.runs[1].lead, None);
    assert_eq!(span(5).lead, RIGHT);
}

#[test]
fn a_wait_is_printed_beside_the_section_that_it_stands_before() {
    for (first, next, waits) in [
        ("pattern: \"4\", lasts: Beats(6)", "pattern: \"(4,4)\", lasts: Cycles(2)", "right"),
        ("pattern: \"(4,4)\", lasts: Beats(6)", "pattern: \"4\", lasts: Cycles(2)", "left"),
    ] {
        let opened = two(4, first, next).open();
        let act = opened.finished().unwrap();
        let json = throwbook::export::timing_json::json(act);
        let json: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert_eq!(json["sections"][1]["transition"]["waits"], waits);
        assert_eq!(json["sections"][1]["transition"]["throws"], "");
        let text = throwbook::export::timing_text::text(act, 80);
        assert!(text.contains("wait"), "{text}");
    }
}

#[test]
fn a_transition_is_at_the_tempo_and_with_the_2s_of_the_section_it_leads_into() {
    let (span, run) = joined(&two(
        3,
        "pattern: \"51\", lasts: Cycles(3)",
        "pattern: \"3\", transition: Throws(\"2\"), twos: Thrown, tempo: PerMinute(100), \
         lasts: Beats(6)",
    ));
    let two = run.actions[span.actions.start];
    assert_eq!((two.throw.value, two.section, two.number), (2, 1, None));
    assert!(two.is_release(), "a 2 of that section is thrown");
    let beat = &run.tempo.at_beat(7) - &run.tempo.at_beat(6);
    assert_eq!(beat.certain(), Some(&throwbook::time::Seconds::fraction(6, 10)));
}

#[test]
fn no_way_shorter_than_the_one_found_is_written_by_hand() {
    // All single throws up to 9 before 51: only the 4 joins.
    let joins: Vec<String> = (0..10)
        .map(|value| value.to_string())
        .filter(|throw| {
            let next =
                format!("pattern: \"51\", transition: Throws(\"{throw}\"), lasts: Cycles(2)");
            two(3, "pattern: \"3\", lasts: Beats(6)", &next).open().finished().is_some()
        })
        .collect();
    assert_eq!(joins, ["4"]);
    // And of all pairs of them with the right hand leading afterwards, the least is the 34.
    let joins: Vec<String> = (0..100)
        .map(|values| format!("{values:02}"))
        .filter(|throws| {
            let next = format!(
                "pattern: \"51\", lead: Right, transition: Throws(\"{throws}\"), lasts: Cycles(2)"
            );
            two(3, "pattern: \"3\", lasts: Beats(6)", &next).open().finished().is_some()
        })
        .collect();
    assert_eq!(joins, ["34", "52"]);
}
