//! Cold starts: which hand leads, what is in which hand, and in which order it leaves.

use throwbook::hand::Hand;
use throwbook::timeline::{HandLoading, Timeline};

use super::written::{Written, codes, score};
use super::{compiled, joined, juggle};

/// The props in the right and in the left hand, by their place in the set from 1.
fn loaded(written: &Written, run: usize) -> (Vec<u8>, Vec<u8>) {
    let (_, timeline) = compiled(written);
    let of = |hand| timeline.runs[run].loading.in_hand(hand).iter().map(|prop| prop.0 + 1);
    (of(Hand::Right).collect(), of(Hand::Left).collect())
}

/// The timeline of a score of which nothing is said.
fn clean(text: &str) -> Timeline {
    let opened = score(text).open();
    assert_eq!(opened.diagnostics, [], "{text}");
    opened.finished().unwrap().timeline.clone()
}

/// The props in the right and in the left hand, in the order in which they leave.
fn in_hands(hands: &HandLoading) -> [Vec<u8>; 2] {
    [Hand::Right, Hand::Left].map(|hand| hands.in_hand(hand).iter().map(|prop| prop.0).collect())
}

fn loading(timeline: &Timeline, run: usize) -> [Vec<u8>; 2] {
    in_hands(&timeline.runs[run].loading)
}

#[test]
fn the_natural_loading_is_the_order_in_which_the_props_are_called_for() {
    for (section, right, left) in [
        ("set: \"3\", pattern: \"3\"", vec![1, 3], vec![2]),
        ("set: \"3\", pattern: \"3\", lead: Left", vec![2], vec![1, 3]),
        ("set: \"5\", pattern: \"[54]24\"", vec![1, 2, 4], vec![3, 5]),
        // Left before right in a pair.
        ("set: \"4\", pattern: \"(4,4)\"", vec![2, 4], vec![1, 3]),
        // The right hand goes on alone on beat 2; the left waits and calls on beat 3.
        ("set: \"4\", pattern: \"4\", transition: Throws(\"(4,4)\")", vec![2, 3], vec![1, 4]),
        // A held 2 calls for its prop.
        ("set: \"3\", pattern: \"423\"", vec![1, 3], vec![2]),
        ("set: \"3\", pattern: \"51\", transition: Throws(\"4\")", vec![1, 3], vec![2]),
    ] {
        let written = score(&format!("Juggle(name: \"a\", {section}, lasts: Cycles(4))"));
        assert_eq!(loaded(&written, 0), (right, left), "{section}");
    }
}

#[test]
fn a_written_loading_is_taken_if_it_is_the_sets_props_and_fits_the_lead() {
    let with = |loading: &str| {
        score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(6), loading: {loading})"
        ))
    };
    let fits = with("Hands(right: [\"c3\", \"c1\"], left: [\"c2\"])");
    assert_eq!(loaded(&fits, 0), (vec![3, 1], vec![2]));
    for (loading, code) in [
        ("Hands(right: [\"c1\"], left: [\"c2\", \"c3\"])", "hand-count"),
        ("Hands(right: [\"c1\", \"c1\"], left: [\"c2\"])", "loading-mismatch"),
        ("Hands(right: [\"c1\"], left: [\"c2\"])", "loading-mismatch"),
    ] {
        assert_eq!(codes(&with(loading).open()), [code], "{loading}");
    }
}

/// Two runs with the same props; the first lasts so many beats.
fn again(beats: u32, second: &str) -> Written {
    score(&format!(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats({beats})), \
         Pause(name: \"p\", lasts: For(\"0:02\")), \
         Juggle(name: \"b\", {second})"
    ))
}

#[test]
fn kept_props_are_led_by_the_hand_for_which_the_numbers_fit() {
    let lead = |beats, second: &str| juggle(&compiled(&again(beats, second)).1, 2).lead;
    let three = "pattern: \"3\", lasts: Beats(6)";
    assert_eq!(lead(6, three), Some(Hand::Right));
    assert_eq!(lead(7, three), Some(Hand::Left));
    let demanded = format!("{three}, lead: Right");
    assert_eq!(codes(&again(7, &demanded).open()), ["hand-count"]);
    // A transition makes the numbers fit.
    let found = format!("{demanded}, transition: Auto");
    let (_, timeline) = compiled(&again(7, &found));
    assert_eq!(joined(&timeline, 2), ("1".to_owned(), "-", "right"));
    assert_eq!(timeline.runs[1].lead, Some(Hand::Left));
}

#[test]
fn after_a_gather_the_last_caught_leaves_first() {
    // 3 from the right, six beats: props 1 2 3 1 2 3, caught right left right … The last three
    // throws are of beats 3 (left, caught right), 4 (right, caught left), 5 (left, caught right).
    assert_eq!(loaded(&again(6, "pattern: \"3\", lasts: Beats(6)"), 1), (vec![3, 1], vec![2]));
    // The right hand throws two and holds none; the left holds one all the time, never caught, and
    // takes no other: it is still alone in its hand.
    let held = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"42\", lasts: Beats(8)), \
         Pause(name: \"p\", lasts: For(\"0:02\")), \
         Juggle(name: \"b\", pattern: \"42\", lasts: Beats(8))",
    );
    assert_eq!(loaded(&held, 0), (vec![1, 3], vec![2]));
    // Beats 4 and 6 threw props 1 and 3: 3 was caught last.
    assert_eq!(loaded(&held, 1), (vec![3, 1], vec![2]));
    // A prop that rested unused stands last, though the other was caught before it was seen.
    let unused = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(2)), \
         Pause(name: \"p\", lasts: For(\"0:02\")), \
         Juggle(name: \"b\", pattern: \"3\", lasts: Beats(6))",
    );
    // 1 went right to left, 2 left to right; 3 was never thrown.
    assert_eq!(loaded(&unused, 1), (vec![2, 3], vec![1]));
}

#[test]
fn another_set_after_a_pause_is_loaded_anew_and_the_routines_hand_leads() {
    let written = again(7, "set: \"5\", pattern: \"5\", lasts: Beats(10)");
    assert_eq!(juggle(&compiled(&written).1, 2).lead, Some(Hand::Right));
    assert_eq!(loaded(&written, 1), (vec![1, 3, 5], vec![2, 4]));
    let in_run = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(6)), \
         Juggle(name: \"b\", set: \"5\", pattern: \"5\", lasts: Beats(6))",
    );
    assert!(codes(&in_run.open()).contains(&"set-in-run"));
}

/// Common practice, no source: `[43]23` begins cold from two props in each hand with a crossing 3,
/// written `3[43]2`, the multiplex coming next from the other hand; with one prop of the multiplex
/// left out it is `423`.
#[test]
fn a_four_prop_multiplex_begins_from_two_and_two_with_a_crossing_three() {
    let cold = |throws: &str| {
        score(&format!(
            "Juggle(name: \"a\", set: \"4\", pattern: \"[43]23\", lasts: Cycles(4){throws})"
        ))
    };
    let (_, timeline) = compiled(&cold(", transition: Throws(\"3\")"));
    let run = &timeline.runs[0];
    assert_eq!(Hand::BOTH.map(|hand| run.loading.in_hand(hand).len()), [2, 2]);
    assert_eq!((run.lead, juggle(&timeline, 0).lead), (Some(Hand::Right), Some(Hand::Left)));
    let multiplex: Vec<_> = run.actions.iter().filter(|action| action.beat == 1).collect();
    assert_eq!(multiplex.len(), 2);
    assert!(multiplex.iter().all(|action| action.hand == Hand::Left));
    // Without it the multiplex comes first, from three props in its hand.
    let (_, timeline) = compiled(&cold(""));
    assert_eq!(timeline.runs[0].loading.in_hand(Hand::Right).len(), 3);
    let pattern = |text: &str| throwbook::patterns::Pattern::read(text).unwrap().0;
    assert_eq!((pattern("[43]23").props(), pattern("423").props()), (4, 3));
}

#[test]
fn twos_are_held_unless_the_section_says_that_they_are_thrown() {
    for (twos, thrown, held) in [("Held", 8, 4), ("Thrown", 12, 0)] {
        let (_, timeline) = compiled(&score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"423\", lasts: Cycles(4), twos: {twos})"
        )));
        let counts = throwbook::measure::counts::in_all(&timeline);
        let sum = |of: fn(&throwbook::patterns::hands::HandCount) -> u32| -> u32 {
            counts.hands.iter().map(of).sum()
        };
        assert_eq!((sum(|hand| hand.thrown), sum(|hand| hand.held)), (thrown, held), "{twos}");
        assert_eq!(counts.catches, thrown);
    }
}

#[test]
fn the_same_props_may_be_written_again_in_another_order_but_not_in_other_hands() {
    let text = |hands: &str| {
        format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(6)),\n\
             Pause(name: \"p\", lasts: For(\"0:03\")),\n\
             Juggle(name: \"b\", pattern: \"3\", lasts: Beats(6), loading: Hands({hands})),"
        )
    };
    // The hands hold R c3 c1, L c2.
    let timeline = clean(&text("right: [\"c1\", \"c3\"], left: [\"c2\"]"));
    assert_eq!(loading(&timeline, 1), [vec![0, 2], vec![1]]);
    let opened = score(&text("right: [\"c1\", \"c2\"], left: [\"c3\"]")).open();
    assert_eq!(codes(&opened), ["loading-mismatch"]);
}

#[test]
fn naming_the_set_in_use_keeps_its_loading_and_another_is_loaded_anew() {
    let text = r#"Juggle(name: "a", set: "3", pattern: "3", lasts: Beats(6)),
        Pause(name: "p", lasts: For("0:03")),
        Juggle(name: "b", set: "3", pattern: "3", lasts: Beats(6)),
        Pause(name: "q", lasts: For("0:03")),
        Juggle(name: "c", set: "5", pattern: "5", lasts: Beats(6)),
        Pause(name: "r", lasts: For("0:03")),
        Juggle(name: "d", set: "3", pattern: "3", lasts: Beats(6)),"#;
    let timeline = clean(text);
    assert_eq!(loading(&timeline, 1), in_hands(&timeline.runs[0].gather.hands));
    assert_eq!(loading(&timeline, 2), [vec![0, 2, 4], vec![1, 3]]);
    // The old set comes back as it is loaded anew.
    assert_eq!(loading(&timeline, 3), [vec![0, 2], vec![1]]);
}

#[test]
fn a_transition_after_a_pause_is_loaded_for() {
    let text = r#"Juggle(name: "a", set: "4", pattern: "4", lasts: Beats(8)),
        Pause(name: "p", lasts: For("0:03")),
        Juggle(name: "b", pattern: "[43]23", transition: Throws("3"), lasts: Cycles(4)),
        Pause(name: "q", lasts: For("0:03")),
        Juggle(name: "c", set: "5", pattern: "5", transition: Throws("5"), lasts: Beats(10)),"#;
    let timeline = clean(text);
    let lead = |section: usize| timeline.sections[section].juggle.as_ref().unwrap().lead;
    assert_eq!((timeline.runs[1].lead, lead(2)), (Some(Hand::Right), Some(Hand::Left)));
    // The run is led by the first throw of the transition.
    assert_eq!((timeline.runs[2].lead, lead(4)), (Some(Hand::Right), Some(Hand::Left)));
    assert_eq!(loading(&timeline, 2).map(|hand| hand.len()), [3, 2]);
}

#[test]
fn a_demanded_lead_after_a_cold_transition_is_met_by_beginning_with_the_other_hand() {
    let timeline = clean(
        r#"Juggle(name: "a", set: "4", pattern: "[43]23", lead: Right, transition: Throws("3"),
            lasts: Cycles(4)),"#,
    );
    assert_eq!(timeline.runs[0].lead, Some(Hand::Left));
    assert_eq!(timeline.sections[0].juggle.as_ref().unwrap().lead, Some(Hand::Right));
}

#[test]
fn a_cold_start_with_throws_of_both_notations_lets_the_fitting_hand_go_on() {
    for lead in ["Right", "Left"] {
        let text = r#"Juggle(name: "a", set: "3", pattern: "3", transition: Throws("(4,2x)(2x,4)"),
            lasts: Beats(9)),"#;
        let opened = Written { lead, ..score(text) }.open();
        assert_eq!(opened.diagnostics, [], "{lead}");
        let timeline = &opened.finished().unwrap().timeline;
        let span = timeline.sections[0].juggle.clone().unwrap();
        assert_eq!((span.lead, span.own_first_beat), (Some(Hand::Right), 4));
        assert_eq!(timeline.runs[0].lead, None, "it begins with a pair");
    }
}

#[test]
fn props_that_no_hand_can_start_from_are_a_fault_unless_a_transition_is_found() {
    let text = |next: &str| {
        format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"(4x,2x)\", lasts: Beats(6)),\n\
             Pause(name: \"p\", lasts: For(\"0:03\")),\n\
             Juggle(name: \"b\", {next}, lasts: Cycles(6)),"
        )
    };
    // R 3, L 0 is what 60 needs led right; the hands hold two and one.
    let direct = score(&text("pattern: \"60\"")).open();
    assert_eq!(codes(&direct), ["hand-count"]);
    let auto = score(&text("pattern: \"60\", transition: Auto")).open();
    assert_eq!(auto.diagnostics, []);
    let span = auto.finished().unwrap().timeline.sections[2].juggle.clone().unwrap();
    assert!(span.transition.is_some_and(|taken| taken.beats > 0));
}

#[test]
fn a_thrown_2_leaves_after_what_was_thrown_before_it_and_a_held_one_before() {
    let with = |twos: &str| {
        clean(&format!(
            "Juggle(name: \"a\", set: \"4\", pattern: \"[43]23\", twos: {twos}, lasts: Cycles(8)),"
        ))
    };
    let (held, thrown) = (with("Held"), with("Thrown"));
    let props = |timeline: &Timeline| -> Vec<u8> {
        timeline.runs[0].actions.iter().filter_map(|a| Some(a.prop?.0)).collect()
    };
    // On beat 4 the left hand has two props: the one that it held since beat 2, and the 3 of beat
    // 1. What is held came first and is thrown the 4; a 2 thrown on beat 2 was thrown later than
    // that 3, which leaves first.
    let second_multiplex = |timeline: &Timeline| {
        let actions = &timeline.runs[0].actions;
        let at = actions.iter().filter(|action| action.beat == 3);
        at.map(|action| action.prop.unwrap().0).collect::<Vec<_>>()
    };
    assert_eq!(props(&held)[..3], [0, 1, 2], "the 4, the 3 and the 2");
    assert_eq!(second_multiplex(&held), [2, 1]);
    assert_eq!(second_multiplex(&thrown), [1, 2]);
}

/// `(4,[42])` from the right hand's props 2, 3 and 5, three pairs. Held: 3 rests until beat 2, 5
/// until 4, and 5, 3, 2 are last thrown on beats 4, 2, 0. Thrown: the 2s of beats 0, 2 and 4 are
/// all 3's; 2 is caught last, then 5 (a 4 of beat 2) and 3 (a 2 of beat 4) together, of which 5
/// was thrown first.
#[test]
fn thrown_twos_are_caught_and_so_leave_in_another_order_after_the_gather() {
    for (twos, right) in [("Held", vec![5, 3, 2]), ("Thrown", vec![2, 5, 3])] {
        let written = score(&format!(
            "Juggle(name: \"a\", set: \"5\", pattern: \"(4,[42])\", lasts: Cycles(3), \
             twos: {twos}), \
             Pause(name: \"p\", lasts: For(\"0:02\")), \
             Juggle(name: \"b\", pattern: \"(4,[42])\", lasts: Cycles(3))"
        ));
        assert_eq!(loaded(&written, 0).0, [2, 3, 5]);
        assert_eq!(loaded(&written, 1).0, right, "{twos}");
    }
}
