//! Cold starts: which hand leads, what is in which hand, and in which order it leaves.

use throwbook::hand::Hand;

use super::written::{Written, codes, score};
use super::{compiled, joined, juggle};

/// The props in the right and in the left hand, by their place in the set from 1.
fn loaded(written: &Written, run: usize) -> (Vec<u8>, Vec<u8>) {
    let (_, timeline) = compiled(written);
    let of = |hand| timeline.runs[run].loading.in_hand(hand).iter().map(|prop| prop.0 + 1);
    (of(Hand::Right).collect(), of(Hand::Left).collect())
}

#[test]
fn the_natural_loading_is_the_order_in_which_the_props_are_called_for() {
    for (section, right, left) in [
        ("set: \"3\", pattern: \"3\"", vec![1, 3], vec![2]),
        ("set: \"3\", pattern: \"3\", lead: Left", vec![2], vec![1, 3]),
        ("set: \"5\", pattern: \"[54]24\"", vec![1, 2, 4], vec![3, 5]),
        // Left before right in a pair.
        ("set: \"4\", pattern: \"(4,4)\"", vec![2, 4], vec![1, 3]),
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
