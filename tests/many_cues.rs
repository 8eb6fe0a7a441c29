//! Acts of so many cues that not all of what is wrong with them can be told: that is said.
#![allow(missing_docs)]

use std::fmt::Write;

/// An act whose every second cue comes after a bow that lasts from five seconds to `minutes`.
fn act(cues: u32, minutes: u32) -> String {
    let mut written = String::new();
    for number in 1..=cues {
        let at = number / 2 + 1;
        let at = match number % 2 {
            0 => format!("At(\"{}:{:02}\")", at / 60, at % 60),
            _ => format!("Shift(End(\"bow\"), {at})"),
        };
        let _ = write!(
            written,
            "Cue(crew: Light, number: {number}, at: {at}, trigger: Called, does: \"warm\", count: \
             1),"
        );
    }
    format!(
        "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), colours: {{ \"coral\": \
         \"#ec6a5c\" }}, sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \
         \"coral\", \"coral\"]) }}, score: [Juggle(name: \"tide\", set: \"three\", pattern: \"3\", \
         lasts: Beats(20)), Pause(name: \"bow\", lasts: Between(\"0:05\", \"{minutes}:00\")), \
         Pause(name: \"end\", lasts: For(\"9:00\"))], cues: [{written}])"
    )
}

/// What could not be checked for every night, by its code.
fn left_open(text: &str) -> Vec<String> {
    let found = throwbook::open(text).diagnostics;
    let open = found.into_iter().filter(|one| one.code == "too-open-to-check");
    let quoted = |message: &str| message.split('`').nth(1).unwrap_or_default().to_owned();
    let mut codes: Vec<String> = open.map(|one| quoted(&one.message)).collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}

#[test]
fn where_more_cues_may_cross_than_are_told_it_is_said() {
    assert_eq!(left_open(&act(24, 1)), [""; 0]);
    let codes = left_open(&act(320, 4));
    for code in ["called-too-close", "numbers-out-of-order"] {
        assert!(codes.iter().any(|one| one == code), "{code} {codes:?}");
    }
}
