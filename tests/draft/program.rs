//! The commands on an act with errors, as their user meets them.

use super::LANTERN;
use super::faults::{fire_in_dark, fire_that_may_be_in_dark, no_set, off_beat, torn, unread};
use super::folder::Folder;

/// A folder with a routine in it, and its music as long as it says.
fn folder(name: &str, text: &str) -> Folder {
    let folder = Folder::new(&format!("draft-{name}"));
    folder.write("act.ron", text);
    folder
}

#[test]
fn sheets_and_drawings_are_shown_with_status_1() {
    let faults = [("torn", torn()), ("unread", unread()), ("off", off_beat()), ("set", no_set())];
    for (name, text) in faults {
        let folder = folder(name, &text);
        for command in [
            &["time", "act.ron"][..],
            &["time", "act.ron", "--moves"],
            &["time", "act.ron", "--timecode", "25"],
            &["colours", "act.ron"],
            &["cues", "act.ron"],
            &["cues", "act.ron", "--crew", "light"],
            &["cues", "act.ron", "--state"],
        ] {
            let (status, stdout, stderr) = folder.run(command);
            assert_eq!(status, 1, "{name} {command:?}: {stderr}");
            assert!(stdout.starts_with("DRAFT: 1 error. "), "{name} {command:?}: {stdout}");
            assert!(stderr.contains("Error: "), "{name} {command:?}: {stderr}");
        }
        let (status, page, _) = folder.run(&["cues", "act.ron", "--format", "page"]);
        assert!(status == 1 && page.contains("<title>DRAFT: 1 error · "), "{name}: {page}");
        for command in ["time", "colours", "cues"] {
            let (status, stdout, _) = folder.run(&[command, "act.ron", "--format", "json"]);
            let json: serde_json::Value = serde_json::from_str(&stdout).unwrap();
            assert_eq!((status, &json["draft"]), (1, &1.into()), "{name} {command}");
        }
        for more in [&[][..], &["--overview"]] {
            let strip = [&["strip", "act.ron", "-o", "strip.svg"][..], more].concat();
            assert_eq!(folder.run(&strip).0, 1);
            let drawn = folder.text("strip.svg");
            assert!(drawn.contains("DRAFT: 1 error"), "{name} {more:?}");
        }
    }
}

#[test]
fn a_build_writes_nothing_of_an_act_with_errors_and_says_what_would() {
    let folder = folder("build", &unread());
    let (status, stdout, stderr) = folder.run(&["build", "act.ron", "--out", "out"]);
    assert_eq!((status, stdout.as_str()), (1, ""));
    assert!(stderr.ends_with("--draft writes what is known\n"), "{stderr}");
    assert_eq!(folder.all_names("out"), Vec::<String>::new());
}

#[test]
fn a_build_of_a_draft_writes_all_but_what_is_rehearsed_by_each_with_its_mark() {
    let folder = folder("build-draft", &unread());
    let (status, stdout, stderr) = folder.run(&["build", "act.ron", "--out", "out", "--draft"]);
    assert_eq!(status, 1);
    assert!(stdout.contains("wrote out/act-time-draft.txt  (timing sheet)\n"), "{stdout}");
    assert!(stderr.ends_with("no click track, MIDI file or captions: they are never drafts\n"));
    let written = [
        "act-build.json",
        "act-colours-draft.json",
        "act-colours-draft.txt",
        "act-cues-draft.csv",
        "act-cues-draft.html",
        "act-cues-draft.json",
        "act-cues-house-draft.html",
        "act-cues-light-draft.html",
        "act-cues-sound-draft.html",
        "act-cues-state-draft.txt",
        "act-moves-draft.txt",
        "act-overview-draft.svg",
        "act-strip-draft.svg",
        "act-time-draft.json",
        "act-time-draft.txt",
    ];
    let printed = [
        "cards",
        "cues",
        "cues-house",
        "cues-light",
        "cues-sound",
        "moves",
        "slip",
        "strip",
        "venue",
        "wall",
    ];
    let printed = printed.map(|sheet| format!("act-{sheet}-draft.pdf"));
    let names = folder.all_names("out");
    let (pdfs, others): (Vec<String>, Vec<String>) =
        names.into_iter().partition(|name| name.ends_with(".pdf"));
    assert_eq!(others, written);
    assert_eq!(pdfs, if cfg!(feature = "paper") { &printed[..] } else { &[] });
    for name in written {
        let text = folder.text(&format!("out/{name}"));
        let mark = if name.ends_with(".json") { "\"draft\":1" } else { "DRAFT: 1 error" };
        assert!(text.contains(mark), "{name}");
        // Every page has its own.
        let pages = match name.rsplit_once('.') {
            Some((_, "html")) => text.matches("<svg ").count(),
            Some((_, "svg")) => text.matches("page 1 of ").count().max(1),
            _ => 1,
        };
        assert!(text.matches(mark).count() >= pages, "{name}");
    }
    // Once mended, what is written is final, and the drafts are named.
    folder.write("act.ron", LANTERN);
    let (status, stdout, stderr) = folder.run(&["build", "act.ron", "--out", "out", "--draft"]);
    assert_eq!(status, 0, "{stderr}");
    assert!(stdout.contains("wrote out/act-time.txt  (timing sheet)\n"), "{stdout}");
    assert!(stdout.contains("act-click.wav") && !stdout.contains("-draft"), "{stdout}");
    let left = "out/act-time-draft.txt is left from a draft: what is written now is final\n";
    assert!(stderr.contains(left), "{stderr}");
    let text = folder.text("out/act-time.txt");
    assert!(!text.contains("DRAFT"));
    // Torn once more, nobody should follow what was final.
    folder.write("act.ron", torn());
    for draft in [
        &["build", "act.ron", "--out", "out"][..],
        &["build", "act.ron", "--out", "out", "--draft"],
    ] {
        let (status, _, stderr) = folder.run(draft);
        assert_eq!(status, 1);
        for name in ["act-cues.html", "act-cues-light.html", "act-act.mid", "act-time.txt"] {
            let left =
                format!("out/{name} is left from an earlier build: the routine has errors now");
            assert!(stderr.contains(&left), "{name}: {stderr}");
        }
    }
}

#[test]
fn where_fire_may_be_in_the_dark_there_is_no_cue_sheet_and_all_else() {
    for (name, text) in [("fire", fire_in_dark()), ("may", fire_that_may_be_in_dark())] {
        let folder = folder(name, &text);
        for command in [&["cues", "act.ron"][..], &["cues", "act.ron", "--format", "csv"]] {
            let (status, stdout, stderr) = folder.run(command);
            assert_eq!((status, stdout.as_str()), (1, ""));
            assert!(stderr.contains("no cue sheet: fire or blades may be in the dark"), "{stderr}");
        }
        let (status, _, stderr) = folder.run(&["build", "act.ron", "--out", "out", "--draft"]);
        assert_eq!(status, 1);
        assert!(stderr.contains("no cue sheets: fire or blades may be in the dark"), "{stderr}");
        let written = folder.all_names("out");
        assert!(written.contains(&"act-time-draft.txt".to_owned()));
        assert!(!written.iter().any(|name| name.contains("cues")), "{written:?}");
    }
}

#[test]
fn what_is_rehearsed_by_and_what_is_handed_out_is_never_a_draft() {
    let folder = folder("final", &torn());
    for command in [
        &["click", "act.ron", "-o", "click.wav"][..],
        &["midi", "act.ron", "-o", "act.mid"],
        &["captions", "act.ron", "-o", "act.vtt"],
        &["issue", "act.ron"],
    ] {
        let (status, stdout, _) = folder.run(command);
        assert_eq!((status, stdout.as_str()), (1, ""), "{command:?}");
    }
    assert_eq!(folder.all_names("."), ["act.ron", "lantern.wav"]);
}
