//! No file, however mangled, makes the library panic, and every place it names lies in the file.
#![allow(missing_docs)]

#[path = "said/chance.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod chance;
mod mangling;

use chance::acts;
use proptest::prelude::*;
use throwbook::open;

use mangling::{Change, FILES, PIECES, changed, goes_through, text_of};

fn change() -> impl Strategy<Value = Change> {
    let at = || 0_usize..1_000_000;
    let length = || prop_oneof![4 => 1_usize..12, 1 => 1_usize..400];
    let piece = || 0..PIECES.len();
    prop_oneof![
        (at(), length()).prop_map(|(from, length)| Change::Delete { from, length }),
        (at(), length()).prop_map(|(from, length)| Change::Double { from, length }),
        (at(), piece()).prop_map(|(at, piece)| Change::Put { at, piece }),
        (at(), 1_usize..8, piece()).prop_map(|(at, length, piece)| Change::Replace {
            at,
            length,
            piece
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: u32::try_from(acts(200)).unwrap(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_mangled_routine_never_panics(
        file in 0..FILES.len(),
        changes in prop::collection::vec(change(), 1..4),
    ) {
        goes_through(&changed(FILES[file], &changes));
    }

    #[test]
    fn any_text_at_all_never_panics(text in "\\PC{0,200}") {
        goes_through(&text);
    }
}

#[test]
fn bytes_of_a_fuzzer_stand_for_texts() {
    assert_eq!(text_of(&[]), "");
    assert_eq!(text_of(&[1]), FILES[1]);
    assert_eq!(text_of(&[200, b'a']), "a");
    // Two characters less from the third on, and a bracket in front.
    let changed = text_of(&[0, 0, 0, 2, 16, 0, 0, 2, 0, 0, 0, 0, 0]);
    assert_eq!(changed[..5], format!("({}{}", &FILES[0][..2], &FILES[0][4..6]));
}

#[test]
fn numbers_of_any_size_never_panic() {
    let numbers = [
        "1e308",
        "-0.0",
        "NaN",
        "inf",
        "0.000000001",
        "4294967296",
        "18446744073709551616",
        "1e-300",
        "-7",
        "0",
    ];
    for sought in [
        "PerMinute(190)",
        "clear_height: 5.5",
        "Beats(48)",
        "Cycles(12)",
        "number: 10",
        "count: 3",
        "Shift(Start(\"walk on\"), -12.0)",
        "to: 230",
        "highest: 8",
        "length: 0.072",
        "bpm: 95",
        "margin: 5.0",
    ] {
        assert!(FILES[1].contains(sought), "{sought}");
        let start = sought.find(|c: char| c.is_ascii_digit() || c == '-').unwrap();
        let end = if sought.ends_with(')') { ")" } else { "" };
        for number in numbers {
            goes_through(&FILES[1].replace(sought, &format!("{}{number}{end}", &sought[..start])));
        }
    }
}

#[test]
fn deep_nesting_and_huge_files_are_refused_quickly() {
    for (open, close) in [("[", "]"), ("(", ")"), ("{", "}"), ("Some(", ")")] {
        goes_through(&(open.repeat(10_000) + &close.repeat(10_000)));
    }
    let act =
        |pattern: &str| FILES[0].replacen("pattern: \"3\"", &format!("pattern: \"{pattern}\""), 1);
    goes_through(&act(&"3".repeat(10_000)));
    goes_through(&act(&"3".repeat(10_000_000)));
    goes_through(&act(&"[".repeat(100_000)));
}

#[test]
fn a_score_of_two_thousand_sections_is_opened() {
    let mut score = String::new();
    for number in 0..2000 {
        let set = if number == 0 { "set: \"three\", " } else { "" };
        let pattern = ["3", "531", "51", "423"][number % 4];
        score += &format!(
            "Juggle(name: \"s{number}\", {set}pattern: \"{pattern}\", lasts: Cycles(2), \
             transition: Auto),\n"
        );
    }
    let start = FILES[0].find("Pause(name: \"walk on\"").unwrap();
    let end = FILES[0].find("limits:").unwrap();
    let text = format!(
        "{}{score}    ],\n)",
        FILES[0][..start]
            .replace("starts: Start(\"stillness\")", "starts: Start(\"s0\")")
            .replace("length: \"1:05.0\"", "length: \"90:00.0\"")
    );
    assert!(end > start);
    let opened = open(&text);
    assert!(opened.diagnostics.is_empty(), "{:?}", &opened.diagnostics[..1]);
    goes_through(&text);
}
