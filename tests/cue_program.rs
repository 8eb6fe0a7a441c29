//! Cue sheets as the program writes them: for spreadsheets, and of a crew whose cues were all cut.
#![allow(missing_docs)]

use std::fs;

#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;

use folder::Folder;

const LANTERN: &str = include_str!("routines/lantern.ron");

const HOUSE: &str =
    "Cue(crew: House, at: Shift(TrackStart, -20.0), trigger: Called, does: \"to half\", count: 5),";

#[test]
fn csv_for_a_spreadsheet_begins_with_a_byte_order_mark() {
    let folder = Folder::new("spreadsheet");
    folder.write("act.ron", LANTERN);
    let csv = ["cues", "act.ron", "--format", "csv"];
    let (status, plain, _) = folder.run(&csv);
    assert_eq!((status, plain.starts_with("time,")), (0, true));
    let (status, marked, _) = folder.run(&[&csv[..], &["--for-spreadsheet"]].concat());
    assert_eq!((status, &marked), (0, &format!("\u{feff}{plain}")));
    let (status, stdout, stderr) = folder.run(&["cues", "act.ron", "--for-spreadsheet"]);
    assert_eq!((status, stdout.as_str()), (2, ""));
    assert!(stderr.contains("--format csv"), "{stderr}");
    for (arguments, expected) in [(&[][..], &plain), (&["--for-spreadsheet"], &marked)] {
        let build = ["build", "act.ron", "--out", "out"];
        assert_eq!(folder.run(&[&build[..], arguments].concat()).0, 0);
        assert_eq!(&fs::read_to_string(folder.0.join("out/act-cues.csv")).unwrap(), expected);
    }
}

#[test]
fn a_crew_whose_cues_were_all_cut_gets_a_sheet_that_says_so() {
    let folder = Folder::new("all-cut");
    folder.write("act.ron", LANTERN);
    assert_eq!(folder.run(&["issue", "act.ron"]).0, 0);
    let without = LANTERN.replace(HOUSE, "").replace("issue: 3", "issue: 4");
    folder.write("act.ron", &without);
    let said = "Every cue of HOUSE was cut since issue 3: HOUSE has nothing to do now.";
    let (status, sheet, _) = folder.run(&["cues", "act.ron", "--crew", "house"]);
    assert_eq!(status, 0);
    assert!(sheet.contains(said) && sheet.contains("CUT: to half"), "{sheet}");
    let (status, stdout, _) = folder.run(&["build", "act.ron", "--out", "out"]);
    assert_eq!(status, 0);
    assert!(stdout.contains("out/act-cues-house.html"), "{stdout}");
    let page = fs::read_to_string(folder.0.join("out/act-cues-house.html")).unwrap();
    assert!(page.contains(said), "{page}");
    // One that never had any has no sheet.
    assert!(!folder.0.join("out/act-cues-fly.html").exists());
}

#[test]
fn an_edit_that_was_not_handed_out_is_marked_in_every_file_of_a_build() {
    let folder = Folder::new("unissued");
    folder.write("act.ron", LANTERN);
    assert_eq!(folder.run(&["issue", "act.ron"]).0, 0);
    folder.write("act.ron", LANTERN.replace("Complete, 3.5", "Complete, 4.0"));
    assert_eq!(folder.run(&["build", "act.ron", "--out", "out"]).0, 0);
    let mut files = 0;
    for name in Folder(folder.0.join("out")).names() {
        let is_text =
            [".txt", ".html", ".svg", ".csv", ".vtt"].iter().any(|end| name.ends_with(end));
        let text = fs::read_to_string(folder.0.join("out").join(&name)).unwrap_or_default();
        if is_text {
            assert!(text.contains("UNISSUED CHANGES"), "{name}: {text}");
            files += 1;
        } else if name.ends_with(".json") {
            let told: serde_json::Value = serde_json::from_str(&text).unwrap();
            assert_eq!(told["unissued_changes"], true, "{name}: {text}");
            files += 1;
        }
        assert!(!text.contains("SINCE ISSUE"), "{name}: {text}");
    }
    assert!(files >= 12, "{files}");
}
