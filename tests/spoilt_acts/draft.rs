//! An act with errors still shows what is known of it, as the program's user sees it.

use std::fs;

use serde_json::Value;

use crate::folder::Folder;

fn folder(test: &str, act: &str) -> Folder {
    let folder = Folder::new(&format!("spoilt-{test}"));
    folder.write("act.ron", act);
    folder
}

fn act(set: &str, wheel: &str, cues: &str) -> String {
    format!(
        "Routine(
    title: \"Act\", lead: Right, tempo: PerMinute(200), zero: FirstThrow,
    colours: {{ \"coral\": \"#ec6a5c\", \"teal\": \"#0f5b6d\", \"pearl\": \"#f4f1e6\" }},
    sets: {{
        \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \"pearl\"]),
        \"fire\": Set(kind: Torch, length: 0.6, colours: [\"coral\", \"coral\", \"coral\"]),
    }},
    score: [
        Pause(name: \"walk\", lasts: For(\"0:04\")),
        Juggle(name: \"tide\", set: \"{set}\", pattern: \"3\", lasts: Beats(20)),
        Juggle(name: \"wheel\", pattern: \"{wheel}\", lasts: Beats(20)),
        Pause(name: \"rest\", lasts: For(\"0:05\")),
        Juggle(name: \"ebb\", pattern: \"3\", lasts: Beats(20)),
    ],
    cues: [{cues}],
)
"
    )
}

/// Acts with one error: a junction that does not join, and a section that cannot be read.
fn drafts() -> [(&'static str, String); 2] {
    [("torn", act("three", "51", "")), ("unread", act("three", "5q", ""))]
}

#[test]
fn every_sheet_of_an_act_with_an_error_is_printed_as_a_draft() {
    for (test, act) in drafts() {
        let folder = folder(&format!("sheets-{test}"), &act);
        for command in ["time", "colours", "cues"] {
            let (status, text, _) = folder.run(&[command, "act.ron"]);
            assert_eq!(status, 1, "{test}: {command}");
            assert!(text.contains("DRAFT: 1 error"), "{test}: {command}: {text}");
        }
        let (status, ..) = folder.run(&["strip", "act.ron", "-o", "act.svg"]);
        assert_eq!(status, 1, "{test}");
        let strip = fs::read_to_string(folder.0.join("act.svg")).unwrap_or_default();
        assert!(strip.contains("DRAFT: 1 error"), "{test}");
    }
}

#[test]
fn behind_a_torn_junction_the_clock_goes_on() {
    let folder = folder("clock", &act("three", "51", ""));
    let (status, text, _) = folder.run(&["time", "act.ron", "--format", "json"]);
    assert_eq!(status, 1);
    let time: Value = serde_json::from_str(&text).unwrap_or_default();
    let starts: Vec<_> =
        (0..4).map(|section| time["sections"][section]["starts_s"].as_f64()).collect();
    assert_eq!(starts[..3], [Some(-4.0), Some(0.0), Some(6.0)], "{text}");
    // The last catch of the wheel comes a little after its last beat, whoever holds which prop.
    assert!(starts[3].is_some_and(|starts| (12.0..13.0).contains(&starts)), "{text}");
}

#[test]
fn build_writes_nothing_final_and_with_draft_everything_with_the_mark() {
    for (test, act) in drafts() {
        let folder = folder(&format!("build-{test}"), &act);
        assert_eq!(folder.run(&["build", "act.ron", "--out", "out"]).0, 1, "{test}");
        assert_eq!(folder.all_names("out"), [""; 0], "{test}");
        let (status, ..) = folder.run(&["build", "act.ron", "--out", "out", "--draft"]);
        assert_eq!(status, 1, "{test}");
        let written = folder.all_names("out");
        let all = ["time-draft.txt", "colours-draft.txt", "cues-draft.html", "strip-draft.svg"];
        for name in all {
            let name = format!("act-{name}");
            assert!(written.contains(&name), "{test}: {name} in {written:?}");
            let text = fs::read_to_string(folder.0.join("out").join(&name)).unwrap();
            assert!(text.contains("DRAFT"), "{test}: {name}: {text}");
        }
    }
}

#[test]
fn fire_in_the_dark_stops_a_cue_sheet_and_no_other() {
    let dark = "Cue(crew: Light, number: 1, at: Start(\"wheel\"), trigger: Called, does: \"out\", \
                dark: true)";
    let folder = folder("fire", &act("fire", "3", dark));
    for format in ["text", "json", "csv", "page"] {
        let (status, text, _) = folder.run(&["cues", "act.ron", "--format", format]);
        assert_eq!((status, text.as_str()), (1, ""), "{format}");
    }
    let (status, text, _) = folder.run(&["time", "act.ron"]);
    assert_eq!(status, 1);
    assert!(text.contains("DRAFT"), "{text}");
    folder.run(&["build", "act.ron", "--out", "out", "--draft"]);
    let of_cues: Vec<_> =
        folder.all_names("out").into_iter().filter(|name| name.contains("cues")).collect();
    assert_eq!(of_cues, [""; 0]);
}
