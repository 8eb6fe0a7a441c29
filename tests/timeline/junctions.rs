//! Junctions in every pair of notations, direct, found and written.

use throwbook::hand::Hand;
use throwbook::time::BeatPosition;

use super::written::{Written, codes, score};
use super::{compiled, joined};

/// Two sections and what joins the second.
fn two(first: &str, second: &str) -> Written {
    let props = throwbook::patterns::Pattern::read(first).unwrap().0.props();
    score(&format!(
        "Juggle(name: \"a\", set: \"{props}\", pattern: \"{first}\", lasts: Cycles(4)), \
         Juggle(name: \"b\", pattern: {second}, lasts: Cycles(4)), \
         Pause(name: \"p\", lasts: For(\"0:01\"))"
    ))
}

#[test]
fn sections_are_joined_by_these_throws_waits_and_leads() {
    for (first, second, throws, waits, lead) in [
        ("3", "\"531\"", "-", "-", "right"),
        ("3", "\"51\", transition: Auto", "4", "-", "left"),
        ("3", "\"51\", transition: Auto, lead: Right", "34", "-", "right"),
        ("3", "\"51\", transition: Throws(\"4\")", "4", "-", "left"),
        ("51", "\"3\", transition: Auto", "2", "-", "left"),
        // The hand due next waits one beat.
        ("4", "\"(4,4)\"", "", "right", "-"),
        ("4", "\"(4,4)\", transition: Auto", "", "right", "-"),
        // The hand that does not lead waits.
        ("(4,4)", "\"4\"", "", "left", "right"),
        ("(4,4)", "\"4\", lead: Left", "", "right", "left"),
        ("(4,2x)(2x,4)", "\"3\"", "", "left", "right"),
        ("(4,4)", "\"(4x,4x)\"", "-", "-", "-"),
        ("(4,4)", "\"(6x,2x)*\", transition: Auto", "(4x,6x)", "-", "-"),
        // Written throws may mix the notations.
        ("4", "\"(4,4)\", transition: Throws(\"44(4,4)\")", "44(4,4)", "right", "-"),
        ("(4,4)", "\"4\", transition: Throws(\"(4x,4x)44\")", "(4x,4x)44", "left", "right"),
    ] {
        let (_, timeline) = compiled(&two(first, second));
        let expected = (throws.to_owned(), waits, lead);
        assert_eq!(joined(&timeline, 1), expected, "{first} then {second}");
    }
}

#[test]
fn pairs_join_alternating_throws_only_where_the_hands_allow() {
    let opened = two("(4,2x)(2x,4)", "\"3\", lead: Left").open();
    assert_eq!(codes(&opened), ["junction-clash"]);
    let (_, timeline) = compiled(&two("(4,2x)(2x,4)", "\"3\", lead: Left, transition: Auto"));
    assert_eq!(joined(&timeline, 1).2, "left");
}

#[test]
fn a_clash_names_the_throws_the_hand_and_the_beat() {
    for (first, second, message) in [
        ("3", "\"51\"", "This 3 and that 1 both reach the right hand on beat 3 of \"b\"."),
        ("51", "\"3\"", "This 5 and that 3 both reach the left hand on beat 4 of \"b\"."),
        ("(4,4)", "\"(6x,2x)*\"", "both reach the"),
        ("3", "\"51\", transition: Throws(\"3\")", "This 3 and that 1 both reach"),
        (
            "3",
            "\"51\", transition: Throws(\"[32]\")",
            "The transition into \"b\" throws 2 props from the right hand on its beat 1, which \
             has 1 prop.",
        ),
    ] {
        let opened = two(first, second).open();
        assert_eq!(codes(&opened), ["junction-clash"], "{first} then {second}");
        let said = &opened.diagnostics[0].message;
        assert!(said.contains(message), "{first} then {second}: {said}");
    }
}

#[test]
fn the_ways_out_of_a_clash_mend_it_and_say_what_else_they_do() {
    let mut tried = 0;
    for (first, second) in [
        ("3", "\"51\""),
        ("51", "\"3\""),
        ("3", "\"414\""),
        ("5", "\"[54]24\""),
        ("(4,4)", "\"(6x,2x)*\""),
        ("4", "\"(6x,2x)*\""),
        ("(6x,2x)*", "\"4\""),
    ] {
        let written = two(first, second);
        let before = written.open();
        assert_eq!(codes(&before), ["junction-clash"], "{first} then {second}");
        assert!(!before.diagnostics[0].helps.is_empty());
        for help in &before.diagnostics[0].helps {
            let mut text = written.text();
            for edit in help.edits.iter().rev() {
                text.replace_range(edit.at.start..edit.at.end, &edit.insert);
            }
            let mended = throwbook::open(&text);
            let act = mended.finished().unwrap_or_else(|| panic!("{}\n{text}", help.text));
            let effects = help.effects.as_ref().unwrap();
            let added = super::juggle(&act.timeline, 1).transition.as_ref().map_or(0, |t| t.beats);
            let adds = effects.adds_s.unwrap();
            let lasts = |act: &throwbook::act::Act| act.timeline.lasts().shortest().to_f64();
            let by = lasts(act) - lasts(before.act.as_ref().unwrap());
            assert!((adds - by).abs() < 1e-9, "{}: {adds}, not {by}", help.text);
            let alternating = !first.contains('(') && !second.contains('(');
            assert_eq!(effects.flips_lead, Some(alternating && added % 2 == 1), "{}", help.text);
            tried += 1;
        }
    }
    assert!(tried >= 8);
}

#[test]
fn a_wait_counts_no_empty_hand() {
    let (_, timeline) = compiled(&two("4", "\"(4,4)\""));
    let counts = throwbook::measure::counts::of_section(&timeline, 1).unwrap();
    assert!(counts.hands.iter().all(|hand| hand.empty == 0 && hand.thrown == 4));
}

#[test]
fn a_wait_moves_every_prop_of_its_hand_and_none_is_caught_later_for_it() {
    let (_, timeline) = compiled(&score(
        "Juggle(name: \"a\", set: \"4\", pattern: \"4\", lasts: Cycles(8)), \
         Juggle(name: \"b\", pattern: \"(4,4)\", lasts: Cycles(4)), \
         Pause(name: \"p\", lasts: For(\"0:01\"))",
    ));
    let run = &timeline.runs[0];
    let late: Vec<_> = run
        .actions
        .iter()
        .filter(|action| {
            action.beat < 8 && action.due > action.beat + u32::from(action.throw.value)
        })
        .collect();
    // The right hand was due on beat 8: its throws of beats 4 and 6 come one beat later.
    assert_eq!(late.iter().map(|action| action.beat).collect::<Vec<_>>(), [4, 6]);
    for action in late {
        assert_eq!(action.hand, Hand::Right);
        assert_eq!(action.due, action.beat + 5);
        let caught = action.caught(timeline.dwell).unwrap();
        assert_eq!(caught, BeatPosition::new(3 * i64::from(action.beat) + 8, 3));
    }
}

#[test]
fn after_pairs_the_lead_is_the_fitting_hand_then_the_last_alternating_sections_then_the_routines() {
    let four = "pattern: \"4\", lasts: Beats(8)";
    let nine = "pattern: \"4\", lasts: Beats(9)";
    let pairs = "pattern: \"(4,4)\", lasts: Cycles(2)";
    let three = "set: \"3\", pattern: \"3\", lasts: Beats(6)";
    let box_of_3 = "pattern: \"(4,2x)(2x,4)\", lasts: Cycles(2), transition: Auto";
    let set = |section: &str| format!("set: \"4\", {section}");
    for (routine, sections, lead) in [
        // Either hand fits: the last alternating section's, not the run's and not the routine's.
        ("Right", vec![set(four) + ", lead: Left", pairs.into(), four.into()], "left"),
        ("Right", vec![set(nine), four.into(), pairs.into(), four.into()], "left"),
        ("Left", vec![set(nine), four.into(), pairs.into(), four.into()], "right"),
        // The run began with pairs: the routine's.
        ("Right", vec![set(pairs), four.into()], "right"),
        ("Left", vec![set(pairs), four.into()], "left"),
        // A run before it does not count.
        (
            "Right",
            vec![set(four) + ", lead: Left", String::new(), pairs.into(), four.into()],
            "right",
        ),
        // Only the right hand fits, or fits without a transition.
        (
            "Left",
            vec![three.into(), box_of_3.into(), "pattern: \"3\", lasts: Beats(6)".into()],
            "right",
        ),
        (
            "Left",
            vec![
                three.into(),
                box_of_3.into(),
                "pattern: \"3\", lasts: Beats(6), transition: Auto".into(),
            ],
            "right",
        ),
    ] {
        let entries: Vec<String> = sections
            .iter()
            .enumerate()
            .map(|(at, section)| match section.as_str() {
                "" => format!("Pause(name: \"{at}\", lasts: For(\"0:01\"))"),
                section => format!("Juggle(name: \"{at}\", {section})"),
            })
            .collect();
        let written = Written { lead: routine, ..score(&entries.join(", ")) };
        let (_, timeline) = compiled(&written);
        assert_eq!(joined(&timeline, sections.len() - 1).2, lead, "{routine}: {sections:?}");
    }
}
