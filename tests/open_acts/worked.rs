//! Open acts worked by hand: what was once said of them wrongly.
//!
//! Twenty beats at 200 a minute last 6 s; with `3` their last throw is caught 0.2 s later.

use serde_json::{Value, json};

use crate::act::{Act, Encore, Line, Open, Track};
use crate::faults;
use crate::fixed::{fixed, turns};
use crate::judged::Judged;
use crate::said::failures::Failure;
use crate::said::names::{CREW, TRIGGER, at, clock};
use crate::said::{Said, Wanted, diagnostics, said};

pub(crate) fn juggle(name: &str, rest: &str) -> Line {
    Line::sure(format!("Juggle(name: \"{name}\", pattern: \"3\", {rest})"))
}

pub(crate) fn pause(name: &str, lasts: &str) -> Line {
    Line::sure(format!("Pause(name: \"{name}\", lasts: {lasts})"))
}

/// A pause between two lengths in seconds.
pub(crate) fn open(name: &str, least: i64, most: i64) -> Line {
    let called = format!("\"{name}\"");
    let open = Open { called, least: least * 1000, most: most * 1000, is_pause: true };
    Line { text: format!("Pause(name: \"{name}\", lasts: @)"), open: Some(open) }
}

pub(crate) fn hold(name: &str, from: &str, least: i64, most: i64) -> Line {
    let called = format!("the hold \"{name}\"");
    let open = Open { called, least: least * 1000, most: most * 1000, is_pause: false };
    let text = format!("\"{name}\": Hold(at: \"{from}\", lasts: @, resumes: See(\"arms down\"))");
    Line { text, open: Some(open) }
}

fn cue(number: u32, moment: &str, shift: i64, rest: &str) -> String {
    let at = at(moment, shift);
    format!("Cue({CREW}: Light, number: {number}, {at}, {TRIGGER}: {rest})")
}

pub(crate) fn up(number: u32, moment: &str, shift: i64) -> String {
    cue(number, moment, shift, "See(\"a lamp\"), does: \"up\", count: 1")
}

/// An act of these sections; its clock reads zero at the first throw.
pub(crate) fn act(score: Vec<Line>) -> Act {
    let head = ["lead: Right", "tempo: PerMinute(200)", "zero: FirstThrow"];
    Act { head: head.map(str::to_owned).into(), score, ..Act::default() }
}

pub(crate) fn track(fields: &str, holds: Vec<Line>) -> Track {
    Track { name: "day".to_owned(), fields: fields.to_owned(), holds }
}

fn codes(said: &Said) -> Vec<&str> {
    diagnostics(&said.check).iter().map(|one| one["code"].as_str().unwrap()).collect()
}

fn of<'s>(said: &'s Said, code: &str) -> &'s Value {
    let found = diagnostics(&said.check).iter().find(|one| one["code"] == code);
    found.unwrap_or_else(|| panic!("no {code}, only {:?}", codes(said)))
}

/// What is wrong with the faults that are raised of an act.
fn wrong(act: &Act, open: &Said) -> Vec<Failure> {
    let mut judged = Judged::default();
    faults::judge(act, open, &turns(act, 1), &mut judged);
    judged.failures
}

/// What `time` or `cues` says of an act without errors.
pub(crate) fn document<'s>(of: &'s Option<Value>, said: &Said) -> &'s Value {
    of.as_ref().unwrap_or_else(|| panic!("{:#}", said.check))
}

/// The fields of an object, by name.
pub(crate) fn fields<const N: usize>(of: &Value, names: [&str; N]) -> [Value; N] {
    names.map(|name| of[name].clone())
}

/// Applause, a pause that takes it up, talk, and torches: dark around the end of the applause.
fn torches() -> Act {
    Act {
        cues: vec![
            cue(1, "End(\"applause\")", 1000, "See(\"bows\"), does: \"out\", dark: true"),
            up(2, "End(\"applause\")", 5000),
        ],
        ..act(vec![
            juggle("a", "lasts: Beats(20), set: \"three\""),
            open("applause", 4, 12),
            pause("pose", "Until(At(\"0:20\"))"),
            open("talk", 1, 9),
            juggle("fire", "lasts: Beats(20), set: \"torches\""),
        ])
    }
}

#[test]
fn light_that_comes_back_after_the_torches_is_an_error_though_at_no_two_extremes_alike() {
    let act = torches();
    // Applause ends 10.2 to 18.2 s after the first throw, talk 21 to 29 s after it: with 12 s of
    // applause the light is back at 23.2 s.
    let late = fixed(&act, vec![12_000, 1_000]);
    let message = of(&late.said, "dark-before-last-catch")["message"].as_str().unwrap();
    assert!(message.contains("2.2 s after the first throw of \"fire\""), "{message}");
    assert_eq!(codes(&fixed(&act, vec![4_000, 1_000]).said), [""; 0]);
    // The torches are lit while somebody talks: in the dark, and no throw is in it.
    assert_eq!(codes(&fixed(&act, vec![12_000, 9_000]).said), ["danger-in-dark"]);
    let open = said(&act.text(), Wanted::Check);
    let fault = of(&open, "dark-before-last-catch");
    assert_eq!(fault["severity"], "error");
    assert!(fault["message"].as_str().unwrap().contains("\"fire\""), "{fault}");
    assert!(wrong(&act, &open).is_empty(), "{:#?}", wrong(&act, &open));
}

#[test]
fn two_calls_that_are_too_close_at_a_length_between_are_a_warning() {
    let act = Act {
        cues: vec![
            cue(1, "End(\"applause\")", 0, "Called, does: \"warm\", count: 1"),
            cue(2, "Start(\"b\")", -5_800, "Called, does: \"cold\", count: 1")
                .replace("Light", "Fly"),
        ],
        ..act(vec![
            juggle("a", "lasts: Beats(20), set: \"three\""),
            open("applause", 4, 12),
            pause("pose", "Until(At(\"0:20\"))"),
            juggle("b", "lasts: Beats(20)"),
        ])
    };
    let at = |length: i64| fixed(&act, vec![length]).said;
    assert_eq!(codes(&at(4_000)), [""; 0]);
    assert_eq!(codes(&at(12_000)), [""; 0]);
    assert_eq!(codes(&at(8_000)), ["called-too-close"]);
    let open = said(&act.text(), Wanted::Check);
    assert_eq!(codes(&open), ["called-too-close"]);
    assert!(wrong(&act, &open).is_empty(), "{:#?}", wrong(&act, &open));
}

#[test]
fn a_burn_has_its_longest_use_and_what_is_left_at_least() {
    let act = Act {
        burn: Some(25_000),
        ..act(vec![
            juggle("a", "lasts: Beats(20), set: \"torches\""),
            open("applause", 4, 12),
            juggle("b", "lasts: Beats(20)"),
        ])
    };
    let said = said(&act.text(), Wanted::Times);
    let time = document(&said.time, &said);
    let names = ["starts_s", "starts_latest_s", "stops_s", "stops_latest_s"];
    let burn = &time["burns"][0];
    assert_eq!(fields(burn, names), [json!(0.0), json!(null), json!(16.4), json!(24.4)]);
    let names = ["in_use_s", "in_use_latest_s", "left_s", "left_latest_s"];
    assert_eq!(fields(burn, names), [json!(16.4), json!(24.4), json!(0.6), json!(8.6)]);
}

#[test]
fn a_burn_that_is_too_short_at_some_lengths_is_an_error() {
    let act = Act {
        burn: Some(24_000),
        ..act(vec![
            juggle("a", "lasts: Beats(20), set: \"torches\""),
            open("applause", 4, 12),
            juggle("b", "lasts: Beats(20)"),
        ])
    };
    let open = said(&act.text(), Wanted::Check);
    assert_eq!(of(&open, "burn-too-short")["severity"], "error");
    assert!(wrong(&act, &open).is_empty(), "{:#?}", wrong(&act, &open));
}

#[test]
fn every_part_of_the_slot_has_its_latest() {
    let mut act = act(vec![juggle("a", "lasts: Beats(20), set: \"three\""), open("bows", 4, 12)]);
    act.head.push("set_up: \"0:30\"".to_owned());
    act.head.push("strike: \"1:00\"".to_owned());
    let said = said(&act.text(), Wanted::Times);
    let time = document(&said.time, &said);
    let names = ["part", "starts_s", "starts_latest_s", "ends_s", "ends_latest_s"];
    let parts: Vec<_> = (0..3).map(|part| fields(&time["slot"][part], names)).collect();
    assert_eq!(
        parts,
        [
            [json!("set-up"), json!(-30.0), json!(null), json!(0.0), json!(null)],
            [json!("act"), json!(0.0), json!(null), json!(10.2), json!(18.2)],
            [json!("strike"), json!(10.2), json!(18.2), json!(70.2), json!(78.2)],
        ]
    );
}

fn limit(starts: &str, stops: &str, edges: &str) -> String {
    format!("Limit(rule: \"slot\", starts: {starts}, stops: {stops}, {edges}, on_the_line: Inside)")
}

#[test]
fn a_limit_to_the_end_of_the_encore_counts_what_is_open_inside_it() {
    let encore = Encore {
        score: vec![
            Line { open: open("back", 3, 13).open.map(in_the_encore), ..open("back", 3, 13) },
            juggle("last", "lasts: Beats(20), set: \"three\""),
        ],
        cues: Vec::new(),
    };
    // 6.2 and 3 to 13 and 6.2 s: at most 20.3 s are kept by 4.9 s or broken by 5.1 s.
    let edges = format!("at_most: {}", clock(20_300));
    for stops in ["EncoreEnd", "StrikeStart"] {
        let mut act = Act {
            encore: Some(encore.clone()),
            limits: vec![limit("FirstThrow", stops, &edges)],
            ..act(vec![juggle("a", "lasts: Beats(20), set: \"three\"")])
        };
        act.head.push("strike: \"1:00\"".to_owned());
        let said = said(&act.text(), Wanted::Times);
        let limit = &document(&said.time, &said)["limits"][0];
        let names = ["stops_s", "stops_latest_s", "counted_s", "counted_latest_s"];
        assert_eq!(fields(limit, names), [json!(15.4), json!(25.4), json!(15.4), json!(25.4)]);
        let names = ["verdict", "by_s", "best_verdict", "best_by_s"];
        assert_eq!(fields(limit, names), [json!("over"), json!(5.1), json!("inside"), json!(4.9)]);
        assert_eq!(codes(&said), ["limit-over"]);
        assert!(wrong(&act, &said).is_empty(), "{:#?}", wrong(&act, &said));
        let slot = &document(&said.time, &said)["slot"][1];
        let names = ["part", "ends_s", "ends_latest_s"];
        assert_eq!(fields(slot, names), [json!("encore"), json!(15.4), json!(25.4)]);
    }
}

fn in_the_encore(open: Open) -> Open {
    Open { called: format!("{} in the encore", open.called), ..open }
}

#[test]
fn a_limit_that_may_be_both_under_and_over_tells_both() {
    let act = Act {
        limits: vec![limit(
            "FirstThrow",
            "End(\"applause\")",
            "at_least: \"0:12\", at_most: \"0:15\"",
        )],
        ..act(vec![juggle("a", "lasts: Beats(20), set: \"three\""), open("applause", 4, 12)])
    };
    let open = said(&act.text(), Wanted::Check);
    let mut codes = codes(&open);
    codes.sort_unstable();
    assert_eq!(codes, ["limit-over", "limit-under"]);
    assert!(wrong(&act, &open).is_empty(), "{:#?}", wrong(&act, &open));
}

#[test]
fn a_limit_that_is_just_kept_between_its_edges_is_said_to_be_close() {
    // 10.2 to 18.2 s: broken at neither edge; within a second of the longest only with 12 s.
    let edges = "at_least: \"0:05\", at_most: \"0:19\", margin: 1.0";
    let act = Act {
        limits: vec![limit("FirstThrow", "End(\"applause\")", edges)],
        ..act(vec![juggle("a", "lasts: Beats(20), set: \"three\""), open("applause", 4, 12)])
    };
    let open = said(&act.text(), Wanted::Check);
    assert_eq!(codes(&open), ["limit-close"]);
    assert!(wrong(&act, &open).is_empty(), "{:#?}", wrong(&act, &open));
}

#[test]
fn a_pause_that_two_lengths_use_up_between_them_names_both() {
    // 6.2 and 3 and 3 are 12.2 s.
    let act = act(vec![
        juggle("a", "lasts: Beats(20), set: \"three\""),
        open("x", 1, 3),
        open("y", 1, 3),
        pause("z", "Until(At(\"0:12.1\"))"),
        juggle("b", "lasts: Beats(20)"),
    ]);
    let open = said(&act.text(), Wanted::Check);
    assert_eq!(codes(&open), ["range-too-long"]);
    assert!(wrong(&act, &open).is_empty(), "{:#?}", wrong(&act, &open));
    let note = of(&open, "range-too-long")["notes"].to_string();
    assert!(note.contains("It happens with \\\"x\\\" at "), "{note}");
}

#[test]
fn the_start_of_the_encore_is_a_moment_of_every_act_that_has_one() {
    let encore = Encore {
        score: vec![
            pause("back", "For(\"0:05\")"),
            juggle("last", "lasts: Beats(20), set: \"three\""),
        ],
        cues: Vec::new(),
    };
    let act = Act {
        encore: Some(encore),
        cues: vec![up(1, "EncoreStart", 0), up(2, "EncoreEnd", -1000)],
        limits: vec![limit("FirstThrow", "EncoreStart", "at_most: \"0:20\"")],
        ..act(vec![juggle("a", "lasts: Beats(20), set: \"three\""), open("bows", 4, 12)])
    };
    let said = said(&act.text(), Wanted::Times);
    let cues = &document(&said.cues, &said)["cues"];
    let names = ["go_s", "go_latest_s"];
    assert_eq!(fields(&cues[0], names), [json!(10.2), json!(18.2)]);
    assert_eq!(fields(&cues[1], names), [json!(20.4), json!(28.4)]);
    let stops = fields(&document(&said.time, &said)["limits"][0], ["stops_s", "stops_latest_s"]);
    assert_eq!(stops, [json!(10.2), json!(18.2)]);
}

#[test]
fn an_act_with_several_tracks_has_an_encore() {
    let encore = Encore {
        score: vec![
            pause("back", "For(\"0:05\")"),
            juggle("last", "lasts: Beats(20), set: \"three\""),
        ],
        cues: Vec::new(),
    };
    let of = |name: &str, start: &str| Track {
        name: name.to_owned(),
        ..track(
            &format!("file: \"{name}.wav\", length: \"0:06\", starts: Start(\"{start}\")"),
            vec![],
        )
    };
    let act = Act {
        encore: Some(encore),
        tracks: vec![of("day", "a"), of("night", "b")],
        named_tracks: true,
        ..act(vec![
            juggle("a", "lasts: Beats(20), set: \"three\""),
            open("applause", 4, 12),
            juggle("b", "lasts: Beats(20)"),
        ])
    };
    let said = said(&act.text(), Wanted::Times);
    assert_eq!(document(&said.time, &said)["encore"]["sections"][1]["starts_s"], 5.0);
}
