//! No file, however mangled, makes the library panic, and every place it names lies in the file.
#![allow(missing_docs)]

#[path = "said/chance.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod chance;

use chance::acts;
use proptest::prelude::*;
use throwbook::act::Act;
use throwbook::diagnostic::{Diagnostic, Place, json, render};
use throwbook::export::{captions as captions_text, click_wav::wav, midi::midi};
use throwbook::export::{
    cues_csv, cues_json, cues_page, cues_text, state_text, timing_json, timing_text,
};
use throwbook::issue::{Frozen, freeze, written};
use throwbook::sheet::cues::papers;
use throwbook::sheet::rehearsal::clicks::{self, Per};
use throwbook::sheet::rehearsal::{Media, captions, sequence};
use throwbook::{open, open_issued, strip};

const FILES: [&str; 7] = [
    include_str!("routines/lantern.ron"),
    include_str!("../routines/night-ferry.ron"),
    include_str!("../routines/paper-boats.ron"),
    include_str!("../routines/salt-flat.ron"),
    include_str!("../routines/bowline.ron"),
    include_str!("../routines/kiln-yard.ron"),
    include_str!("../routines/signal-box.ron"),
];

/// Pieces that files are made of, to be put where they do not belong.
const PIECES: [&str; 27] = [
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    ",",
    ":",
    "\"",
    "Auto",
    "Direct",
    "Throws(\"4\")",
    "Left",
    "Cycles(3)",
    "Until(LastCatch)",
    "For(\"0:00\")",
    "Between(\"0:00\", \"0:09\")",
    "Until(HoldEnd(\"day\", \"signal at danger\"))",
    "TrackEnd(\"night\")",
    "\"3\"",
    "\"[54]24\"",
    "\"(4,2x)*\"",
    "-1",
    "1e308",
    "99999999999999999999",
    "\"é\"",
    "// ",
];

#[derive(Clone, Debug)]
enum Change {
    Delete { from: usize, length: usize },
    Double { from: usize, length: usize },
    Put { at: usize, piece: usize },
    Replace { at: usize, length: usize, piece: usize },
}

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

fn changed(text: &str, changes: &[Change]) -> String {
    let mut characters: Vec<char> = text.chars().collect();
    for change in changes {
        let size = characters.len();
        if size == 0 {
            break;
        }
        let stretch = |from: usize, length: usize| {
            let from = from % size;
            from..(from + length).min(size)
        };
        match *change {
            Change::Delete { from, length } => {
                characters.drain(stretch(from, length));
            }
            Change::Double { from, length } => {
                let part: Vec<char> = characters[stretch(from, length)].to_vec();
                let at = from % size;
                characters.splice(at..at, part);
            }
            Change::Put { at, piece } => {
                let at = at % size;
                characters.splice(at..at, PIECES[piece].chars());
            }
            Change::Replace { at, length, piece } => {
                characters.splice(stretch(at, length), PIECES[piece].chars());
            }
        }
    }
    characters.into_iter().collect()
}

/// Opens a text, draws what is wrong with it, and makes every document, drafts where anything is.
fn goes_through(text: &str) {
    let opened = open(text);
    for diagnostic in &opened.diagnostics {
        for place in places(diagnostic) {
            assert!(
                text.get(place.start..place.end).is_some(),
                "{} names {place:?} of {} bytes",
                diagnostic.code,
                text.len()
            );
        }
    }
    let drawn = render(&opened.diagnostics, "mangled.ron", text, 80, false);
    assert_eq!(drawn.is_empty(), opened.diagnostics.is_empty());
    let report = json(&opened.diagnostics, "mangled.ron", text);
    assert_eq!(report.errors + report.warnings, opened.diagnostics.len());
    assert_eq!(report.errors == 0, opened.finished().is_some());
    let Some(act) = &opened.act else { return };
    let documents = [
        timing_text::text(act, 80),
        timing_text::moves_text(act, 80),
        timing_json::json(act),
        cues_text::text(act, None, 80),
        cues_json::json(act, None),
        cues_csv::csv(act, None),
        cues_page::page(act, None),
        state_text::text(act, 80),
        strip::strip(act),
        strip::overview(act),
    ];
    assert!(documents.iter().all(|document| !document.is_empty()));
    let Some(act) = opened.finished() else { return };
    assert!(act.calls.uncallable.is_empty(), "what cannot be called is an error");
    rehearses(act);
    let Frozen::Added(issued) = freeze(&act.routine, &papers(act)) else {
        panic!("nothing was handed out before");
    };
    let again = open_issued(text, Some(&written(&issued)));
    assert_eq!(again.in_record, []);
    assert_eq!(again.diagnostics, opened.diagnostics);
}

/// Makes every file to rehearse by that is not refused.
fn rehearses(act: &Act) {
    let Ok(media) = Media::new(act, None) else {
        unreachable!("the track's start and the zero come in a routine without errors");
    };
    if let Ok(captions) = captions::compose(media.clone()) {
        assert!(captions_text::vtt(&captions).starts_with("WEBVTT"));
        assert!(captions_text::srt(&captions).starts_with("1\n"));
    }
    if let Ok(sequence) = sequence::compose(act, media.clone(), Some(1)) {
        assert!(midi(&sequence).starts_with(b"MThd"));
    }
    for per in [Per::Throw, Per::MusicBeat { through_pauses: true }] {
        if let Ok(track) = clicks::compose(act, media.clone(), per, Some(4)) {
            assert!(track.clicks.iter().all(|click| !click.at.is_negative()));
            // A file of minutes takes a while where nothing is optimized.
            if track.lasts.to_f64() < 70.0 {
                assert!(wav(&track).starts_with(b"RIFF"));
            }
        }
    }
}

fn places(diagnostic: &Diagnostic) -> Vec<&Place> {
    let notes = diagnostic.notes.iter().filter_map(|note| note.at.as_ref());
    let edits = diagnostic.helps.iter().flat_map(|help| &help.edits).map(|edit| &edit.at);
    std::iter::once(&diagnostic.at).chain(notes).chain(edits).collect()
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
