//! An act with errors still shows what is known of it, as the program's user sees it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// A folder of its own for one test, gone when the test is over.
struct Folder(PathBuf);

impl Folder {
    /// A folder with this act in it.
    fn with(test: &str, act: &str) -> Folder {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("draft-{test}"));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).unwrap();
        fs::write(path.join("act.ron"), act).unwrap();
        Folder(path)
    }

    /// Exit status and standard output.
    fn run(&self, arguments: &[&str]) -> (Option<i32>, String) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_throwbook"));
        let output = command.current_dir(&self.0).args(arguments).output().unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap())
    }

    /// The files that were written, in order of their names.
    fn written(&self) -> Vec<String> {
        let entries = fs::read_dir(self.0.join("out")).into_iter().flatten();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
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
        let folder = Folder::with(&format!("sheets-{test}"), &act);
        for command in ["time", "colours", "cues"] {
            let (status, text) = folder.run(&[command, "act.ron"]);
            assert_eq!(status, Some(1), "{test}: {command}");
            assert!(text.contains("DRAFT: 1 error"), "{test}: {command}: {text}");
        }
        let (status, _) = folder.run(&["strip", "act.ron", "-o", "act.svg"]);
        assert_eq!(status, Some(1), "{test}");
        let strip = fs::read_to_string(folder.0.join("act.svg")).unwrap_or_default();
        assert!(strip.contains("DRAFT: 1 error"), "{test}");
    }
}

#[test]
fn behind_a_torn_junction_the_clock_goes_on() {
    let folder = Folder::with("clock", &act("three", "51", ""));
    let (status, text) = folder.run(&["time", "act.ron", "--format", "json"]);
    assert_eq!(status, Some(1));
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
        let folder = Folder::with(&format!("build-{test}"), &act);
        assert_eq!(folder.run(&["build", "act.ron", "--out", "out"]).0, Some(1), "{test}");
        assert_eq!(folder.written(), [""; 0], "{test}");
        let (status, _) = folder.run(&["build", "act.ron", "--out", "out", "--draft"]);
        assert_eq!(status, Some(1), "{test}");
        let written = folder.written();
        let all = ["time-draft.txt", "colours-draft.txt", "cues-draft.txt", "strip-draft.svg"];
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
    let folder = Folder::with("fire", &act("fire", "3", dark));
    for format in ["text", "json", "csv", "page"] {
        let (status, text) = folder.run(&["cues", "act.ron", "--format", format]);
        assert_eq!((status, text.as_str()), (Some(1), ""), "{format}");
    }
    let (status, text) = folder.run(&["time", "act.ron"]);
    assert_eq!(status, Some(1));
    assert!(text.contains("DRAFT"), "{text}");
    folder.run(&["build", "act.ron", "--out", "out", "--draft"]);
    let of_cues: Vec<_> =
        folder.written().into_iter().filter(|name| name.contains("cues")).collect();
    assert_eq!(of_cues, [""; 0]);
}
