//! Pauses that load the hands anew, and props with two faces.

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::open;
use throwbook::timeline::{Face, HandLoading, Timeline};

use super::few;
use super::replay::hold_to_replay;
use super::written::{codes, score};

/// The props in the right and in the left hand, by their place in the set from 1.
fn in_hands(hands: &HandLoading) -> [Vec<u8>; 2] {
    [Hand::Right, Hand::Left]
        .map(|hand| hands.in_hand(hand).iter().map(|prop| prop.0 + 1).collect())
}

fn clean(text: &str) -> Timeline {
    let opened = score(text).open();
    assert_eq!(opened.diagnostics, [], "{text}");
    let act = opened.finished().unwrap();
    hold_to_replay(&act.routine, &act.timeline);
    act.timeline.clone()
}

const TIDE: &str = "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(6)),";
const EBB: &str = "Juggle(name: \"b\", pattern: \"3\", lasts: Beats(6)),";

#[test]
fn a_run_after_a_regrip_starts_from_what_it_put_into_the_hands() {
    // Six beats of 3 leave R 3 1, L 2.
    let timeline = clean(&format!(
        "{TIDE} Pause(name: \"p\", lasts: For(\"0:02\"),
            regrip: Hands(right: [\"c2\", \"c3\"], left: [\"c1\"])), {EBB}"
    ));
    let regrip = timeline.sections[1].regrip.clone().unwrap();
    assert_eq!(in_hands(&regrip.before), [vec![3, 1], vec![2]]);
    assert_eq!(in_hands(&regrip.after), [vec![2, 3], vec![1]]);
    let moves: Vec<_> =
        regrip.moves.iter().map(|one| (one.prop.0 + 1, one.from, one.to, one.place)).collect();
    assert_eq!(moves, [(2, Hand::Left, Hand::Right, 0), (1, Hand::Right, Hand::Left, 0)]);
    assert_eq!(regrip.reordered, [false, false]);
    assert_eq!(timeline.runs[1].loading, regrip.after);
    // A pause that says nothing moves nothing.
    assert_eq!(clean(&format!("{TIDE} {EBB}")).sections[0].regrip, None);
}

#[test]
fn another_order_within_a_hand_is_a_regrip_too_and_several_pauses_may_each_have_one() {
    let timeline = clean(&format!(
        "{TIDE} Pause(name: \"p\", lasts: For(\"0:02\"),
            regrip: Hands(right: [\"c1\", \"c3\"], left: [\"c2\"])),
        Pause(name: \"q\", lasts: For(\"0:02\"),
            regrip: Hands(right: [\"c1\"], left: [\"c2\", \"c3\"])), {EBB}
        Pause(name: \"r\", lasts: For(\"0:02\"),
            regrip: Hands(right: [], left: [\"c1\", \"c2\", \"c3\"])),"
    ));
    let first = timeline.sections[1].regrip.clone().unwrap();
    assert!(first.moves.is_empty());
    assert_eq!(first.reordered, [false, true]);
    let second = timeline.sections[2].regrip.clone().unwrap();
    assert_eq!((second.before, second.moves.len()), (first.after, 1));
    // One right and two left: the left hand leads.
    assert_eq!(timeline.runs[1].lead, Some(Hand::Left));
    assert_eq!(in_hands(&timeline.runs[1].loading), [vec![1], vec![2, 3]]);
    assert_eq!(
        in_hands(&timeline.sections[4].regrip.clone().unwrap().after),
        [vec![], vec![1, 2, 3]]
    );
}

#[test]
fn until_looks_ahead_with_the_hands_as_they_are_loaded_anew() {
    // R 1, L 2 leads left; with a transition its lead-in is one beat of 0.3 s.
    let timeline = clean(&format!(
        "{TIDE} Pause(name: \"p\", lasts: Until(At(\"0:10\")),
            regrip: Hands(right: [\"c1\"], left: [\"c2\", \"c3\"])),
        Juggle(name: \"b\", pattern: \"3\", lead: Right, transition: Auto, lasts: Beats(6)),"
    ));
    let span = timeline.sections[2].juggle.clone().unwrap();
    assert_eq!((span.own_first_beat, span.lead), (1, Some(Hand::Right)));
    assert_eq!(timeline.sections[2].starts, throwbook::time::Seconds::fraction(97, 10).into());
}

#[test]
fn a_regrip_that_cannot_be_says_why_at_its_place() {
    let pause = |name: &str, hands: &str| {
        format!("Pause(name: \"{name}\", lasts: For(\"0:02\"), regrip: Hands({hands})),")
    };
    let fine = "right: [\"c2\", \"c3\"], left: [\"c1\"]";
    let five = "Juggle(name: \"b\", set: \"5\", pattern: \"5\", lasts: Beats(6)),";
    let loaded =
        EBB.replace("lasts", "loading: Hands(right: [\"c1\", \"c3\"], left: [\"c2\"]), lasts");
    for (text, said) in [
        (
            format!("{TIDE} {} {EBB}", pause("p", "right: [\"c2\", \"c3\"]")),
            &["regrip-mismatch"][..],
        ),
        (format!("{TIDE} {} {EBB}", pause("p", "")), &["regrip-mismatch"]),
        (
            format!("{TIDE} {} {EBB}", pause("p", "right: [\"c2\", \"c3\"], left: [\"c4\"]")),
            &["regrip-mismatch"],
        ),
        (
            format!("{TIDE} {} {EBB}", pause("p", "right: [\"c2\", \"c9/c2\"], left: [\"c1\"]")),
            &["regrip-mismatch"],
        ),
        (
            format!("{TIDE} {} {EBB}", pause("p", "right: [\"c2\", \"c3\"], left: [\"sea\"]")),
            &["regrip-mismatch", "unknown-colour"],
        ),
        (format!("{} {TIDE} {EBB}", pause("p", fine)), &["regrip-of-nothing"]),
        (format!("{TIDE} {} {five}", pause("p", fine)), &["regrip-of-nothing"]),
        (
            format!("{TIDE} {} {} {five}", pause("p", fine), pause("q", fine)),
            &["regrip-of-nothing"; 2],
        ),
        // Both slips at once are one each.
        (
            format!("{} {TIDE} {} {EBB}", pause("p", ""), pause("q", "")),
            &["regrip-of-nothing", "regrip-mismatch"],
        ),
        // What is written after it must agree with it.
        (format!("{TIDE} {} {loaded}", pause("p", fine)), &["loading-mismatch"]),
        // Three in one hand are no start of a 3, and that is no fault of the regrip.
        (
            format!("{TIDE} {} {EBB}", pause("p", "right: [\"c2\", \"c3\", \"c1\"]")),
            &["hand-count"],
        ),
    ] {
        let opened = score(&text).open();
        assert_eq!(codes(&opened), said, "{text}");
        let refused = opened.diagnostics.iter().filter(|one| one.code.starts_with("regrip"));
        refused.for_each(|one| assert!(!one.helps.is_empty(), "{}", one.message));
    }
}

#[test]
fn a_loading_that_is_not_in_the_hands_offers_the_regrip_that_mends_it() {
    let loaded =
        EBB.replace("lasts", "loading: Hands(right: [\"c1\", \"c2\"], left: [\"c3\"]), lasts");
    let regrip = ", regrip: Hands(right: [\"c2\", \"c3\"], left: [\"c1\"])";
    let quiet = " Pause(name: \"q\", lasts: For(\"0:02\")),";
    for (pause, next) in [("", ""), (regrip, ""), ("", quiet), (regrip, quiet)] {
        let file = score(&format!(
            "{TIDE} Pause(name: \"p\", lasts: For(\"0:02\"){pause}),{next} {loaded}"
        ));
        let opened = file.open();
        assert_eq!(codes(&opened), ["loading-mismatch"]);
        let message = &opened.diagnostics[0].message;
        assert_eq!(message.contains("After the regrip of \"p\""), !pause.is_empty(), "{message}");
        let helps = opened.diagnostics[0].helps.iter();
        let regrips: Vec<_> = helps.filter(|help| help.text.contains("`regrip: Hands(")).collect();
        let [help] = regrips[..] else { panic!("{regrips:?}") };
        let mut text = file.text();
        let edit = &help.edits[0];
        text.replace_range(edit.at.start..edit.at.end, &edit.insert);
        assert_eq!(open(&text).diagnostics, [], "{text}");
    }
}

/// A file with four rings, of which the first and the third differ by their backs only.
fn rings(score: &str) -> String {
    format!(
        r##"Routine(title: "Rings", tempo: PerMinute(200), zero: FirstThrow,
        colours: {{ "ivory": "#f5f0dc", "ink": "#2b3a67", "moss": "#6a8d3f" }},
        sets: {{
            "four": Set(kind: Ring, length: 0.32, colours: ["ivory", "ink", "ivory", "moss"],
                backs: ["ink", "moss", "moss", "ivory"]),
            "other": Set(kind: Ball, length: 0.07, colours: ["moss", "moss", "ink", "ink"]),
        }},
        score: [{score}])"##
    )
}

fn rings_compiled(score: &str) -> Timeline {
    let opened = open(&rings(score));
    assert_eq!(opened.diagnostics, [], "{score}");
    let act = opened.finished().unwrap();
    hold_to_replay(&act.routine, &act.timeline);
    act.timeline.clone()
}

#[test]
fn other_faces_hold_until_the_next_over_pauses_and_a_new_set_shows_its_fronts() {
    let timeline = rings_compiled(
        r#"Juggle(name: "a", set: "four", pattern: "4", lasts: Beats(8)),
        Juggle(name: "b", pattern: "53", lasts: Cycles(4), transition: Auto, other_face: true),
        Pause(name: "p", lasts: For("0:02")),
        Juggle(name: "c", pattern: "4", lasts: Beats(8), lead: Right),
        Juggle(name: "d", pattern: "4", lasts: Beats(8), other_face: true),
        Juggle(name: "e", pattern: "4", lasts: Beats(8), other_face: true),
        Pause(name: "q", lasts: For("0:02")),
        Juggle(name: "f", set: "other", pattern: "4", lasts: Beats(8), other_face: false),
        Pause(name: "r", lasts: For("0:02")),
        Juggle(name: "g", set: "four", pattern: "4", lasts: Beats(8)),"#,
    );
    let faces: Vec<_> = timeline
        .sections
        .iter()
        .filter_map(|section| section.juggle.as_ref())
        .map(|span| (span.face, span.other_face))
        .collect();
    let (front, back) = (Some(Face::Front), Some(Face::Back));
    assert_eq!(
        faces,
        [
            (front, false),
            (back, true),
            (back, false),
            (front, true),
            (back, true),
            (None, false),
            (front, false),
        ]
    );
    assert_eq!(
        (timeline.runs[1].face, timeline.runs[1].other_faces.clone()),
        (Face::Back, vec![8, 16])
    );
    assert_eq!(timeline.runs[1].face_gathered(), Face::Back);
    assert_eq!(timeline.runs[3].face, Face::Front);
}

#[test]
fn a_throw_of_a_transition_shows_the_face_of_before() {
    let timeline = rings_compiled(
        r#"Juggle(name: "a", set: "four", pattern: "4", lasts: Beats(8)),
        Juggle(name: "b", pattern: "71", lasts: Cycles(4), transition: Auto, other_face: true),"#,
    );
    let (run, span) = (&timeline.runs[0], timeline.sections[1].juggle.as_ref().unwrap());
    assert!(span.own_first_beat > span.first_beat);
    for action in &run.actions {
        let own = action.beat >= span.own_first_beat;
        let face = if own { Face::Back } else { Face::Front };
        assert_eq!(run.colour(action), run.colour_of(action.prop.unwrap(), face));
    }
}

#[test]
fn a_loading_names_fronts_in_the_sets_order_and_one_prop_by_both_faces() {
    let loaded = |hands: &str| {
        let timeline = rings_compiled(&format!(
            r#"Juggle(name: "a", set: "four", pattern: "4", lasts: Beats(8), loading: Hands({hands}))"#
        ));
        in_hands(&timeline.runs[0].loading)
    };
    let plain = loaded(r#"right: ["ivory", "ink"], left: ["ivory", "moss"]"#);
    assert_eq!(plain, [vec![1, 2], vec![3, 4]]);
    let full = loaded(r#"right: ["ivory/moss", "ink"], left: ["ivory", "moss/ivory"]"#);
    assert_eq!(full, [vec![3, 2], vec![1, 4]]);
    // The name in full chooses first, wherever it stands.
    let late = loaded(r#"right: ["ivory", "ink"], left: ["ivory/ink", "moss"]"#);
    assert_eq!(late, [vec![3, 2], vec![1, 4]]);
    for hands in [
        r#"right: ["ivory/ink", "ink"], left: ["ivory/ink", "moss"]"#,
        r#"right: ["ivory/ivory", "ink"], left: ["ivory", "moss"]"#,
        r#"right: ["ink/moss", "ink"], left: ["ivory", "ivory"]"#,
        r#"right: ["moss/", "ink"], left: ["ivory", "ivory"]"#,
    ] {
        let opened = open(&rings(&format!(
            r#"Juggle(name: "a", set: "four", pattern: "4", lasts: Beats(8), loading: Hands({hands}))"#
        )));
        assert_eq!(codes(&opened), ["loading-mismatch"], "{hands}");
        let message = &opened.diagnostics[0].message;
        assert!(message.contains(r#""ivory/ink", "ink", "ivory/moss", "moss""#), "{message}");
    }
}

#[test]
fn kept_props_are_named_as_they_lie_in_the_hands() {
    // Eight beats of 4 from the right leave R 3 1 (last caught first), L 4 2.
    let again = |hands: &str| {
        open(&rings(&format!(
            r#"Juggle(name: "a", set: "four", pattern: "4", lasts: Beats(8)),
            Pause(name: "p", lasts: For("0:02")),
            Juggle(name: "b", pattern: "4", lasts: Beats(8), loading: Hands({hands})),"#
        )))
    };
    for (hands, right) in [
        (r#"right: ["ivory", "ivory"], left: ["moss", "ink"]"#, vec![3, 1]),
        (r#"right: ["ivory/ink", "ivory"], left: ["moss", "ink"]"#, vec![1, 3]),
    ] {
        let timeline = again(hands).finished().unwrap().timeline.clone();
        assert_eq!(in_hands(&timeline.runs[1].loading), [right, vec![4, 2]], "{hands}");
    }
    assert_eq!(
        codes(&again(r#"right: ["ivory", "ink"], left: ["moss", "ivory"]"#)),
        ["loading-mismatch"]
    );
}

#[test]
fn what_is_to_be_seen_is_asked_of_the_face_that_is_seen() {
    // In `(4,4)(4,4)` props keep their places: the left hand's first is the set's first.
    let shows = |colour: &str, other_face: &str| {
        rings(&format!(
            r#"Juggle(name: "a", set: "four", pattern: "(4,4)(4,4)", lasts: Cycles(2) {other_face},
                shows: {{ 1: ["{colour}"] }})"#
        ))
    };
    assert_eq!(open(&shows("ivory", "")).diagnostics, []);
    assert_eq!(open(&shows("ink", ", other_face: true")).diagnostics, []);
    assert_eq!(codes(&open(&shows("ivory", ", other_face: true"))), ["colour-not-shown"]);
    let text = shows("ink", "");
    let opened = open(&text);
    assert_eq!(codes(&opened), ["colour-not-shown"]);
    let help = opened.diagnostics[0]
        .helps
        .iter()
        .find(|help| help.text.starts_with("Show the other faces"));
    let edit = &help.unwrap().edits[0];
    let mut mended = text.clone();
    mended.replace_range(edit.at.start..edit.at.end, &edit.insert);
    assert_eq!(open(&mended).diagnostics, [], "{mended}");
    // No face of that prop is moss.
    let opened = open(&shows("moss", ""));
    assert!(
        opened.diagnostics[0].helps.iter().all(|help| !help.text.starts_with("Show the other"))
    );
}

#[test]
fn backs_and_other_faces_that_cannot_be_are_refused_with_a_way_out() {
    let fine = rings(r#"Juggle(name: "a", set: "four", pattern: "4", lasts: Beats(8))"#);
    assert_eq!(open(&fine).diagnostics, []);
    for (from, to, said) in [
        (r#"backs: ["ink", "moss", "moss", "ivory"]"#, r#"backs: ["ink", "moss"]"#, "backs-count"),
        (r#"backs: ["ink", "moss", "moss", "ivory"]"#, "backs: []", "backs-count"),
        (r#"backs: ["ink""#, r#"backs: ["inc""#, "unknown-colour"),
        (r#"backs: ["ink""#, "backs: [3", "wrong-shape"),
        ("lasts: Beats(8)", "lasts: Beats(8), other_face: yes", "wrong-shape"),
        (
            r#"set: "four", pattern: "4""#,
            r#"set: "other", pattern: "4", other_face: true"#,
            "other-face-without-backs",
        ),
        ("lasts: Beats(8)", "lasts: Beats(8), other_faces: true", "unknown-field"),
    ] {
        let text = fine.replacen(from, to, 1);
        assert_ne!(text, fine);
        let opened = open(&text);
        assert_eq!(codes(&opened)[0], said, "{text}");
        assert_eq!(opened.diagnostics.len(), 1, "{:?}", opened.diagnostics);
    }
}

const FACES: [&str; 3] = ["ivory", "ink", "moss"];

proptest! {
    #![proptest_config(few(150))]

    /// Sets of four with faces at random, regrips named by front or in full at random.
    #[test]
    fn of_equal_props_the_fewest_change_hands(
        fronts in prop::collection::vec(0..2_usize, 4),
        backs in prop::collection::vec(0..3_usize, 4),
        order in Just(vec![0, 1, 2, 3_usize]).prop_shuffle(),
        in_full in prop::collection::vec(any::<bool>(), 4),
        right in 1..4_usize,
        others in prop::collection::vec(any::<bool>(), 3),
    ) {
        let list = |of: &[usize]| {
            of.iter().map(|&face| format!("\"{}\"", FACES[face])).collect::<Vec<_>>().join(", ")
        };
        let names: Vec<String> = order.iter().zip(&in_full).map(|(&prop, in_full)| {
            let (front, back) = (FACES[fronts[prop]], FACES[backs[prop]]);
            if *in_full { format!("\"{front}/{back}\"") } else { format!("\"{front}\"") }
        }).collect();
        let (right, left) = names.split_at(right);
        let text = rings(&format!(
            r#"Juggle(name: "a", set: "four", pattern: "4", lasts: Beats(9), other_face: {}),
            Juggle(name: "b", pattern: "53", lasts: Cycles(3), transition: Auto, other_face: {}),
            Pause(name: "p", lasts: For("0:02"), regrip: Hands(right: [{}], left: [{}])),
            Juggle(name: "c", pattern: "4", lasts: Beats(8), transition: Auto, other_face: {}),"#,
            others[0], others[1], right.join(", "), left.join(", "), others[2]
        ));
        let four = r#"colours: ["ivory", "ink", "ivory", "moss"],
                backs: ["ink", "moss", "moss", "ivory"]"#;
        prop_assert!(text.contains(four));
        let written = format!("colours: [{}], backs: [{}]", list(&fronts), list(&backs));
        let text = text.replace(four, &written);
        let opened = open(&text);
        let said: Vec<_> = opened.diagnostics.iter().map(|one| &one.message).collect();
        let act = opened.finished();
        prop_assert!(act.is_some(), "{said:?}\n{text}");
        let act = act.unwrap();
        hold_to_replay(&act.routine, &act.timeline);
        let again = open(&text);
        prop_assert_eq!(&again.finished().unwrap().timeline, &act.timeline);
    }
}
