//! `throwbook print`, as its user calls it.
#![allow(missing_docs)]

#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;

use std::fs;

use folder::Folder;

const BOATS: &str = include_str!("../routines/paper-boats.ron");
const KILN: &str = include_str!("../routines/kiln-yard.ron");

fn boats(test: &str) -> Folder {
    let folder = Folder::new(test);
    folder.write("act.ron", BOATS);
    folder
}

#[test]
#[cfg(feature = "paper")]
fn a_booklet_is_written_as_pdf_or_as_a_page_with_the_date_at_its_foot() {
    let folder = boats("print-booklet");
    for (name, begins) in [("a.pdf", "%PDF-1.7"), ("a.html", "<!DOCTYPE html>")] {
        let what = ["print", "act.ron", "--what", "cues,strip,wall", "--paper", "letter"];
        let dated = ["--date", "2026-12-04", "-o", name];
        let (status, stdout, stderr) = folder.run(&[&what[..], &dated].concat());
        assert_eq!((status, stderr.as_str()), (0, ""));
        assert!(stdout.starts_with(&format!("wrote {name}  (")), "{stdout}");
        let bytes = fs::read(folder.0.join(name)).unwrap();
        assert!(bytes.starts_with(begins.as_bytes()));
        if name.ends_with("html") {
            let text = String::from_utf8(bytes).unwrap();
            assert!(text.contains("issue 1 · 4 December 2026 · page 1 of "), "{text}");
            // It needs nothing from anywhere.
            assert!(!text.contains("src=") && !text.contains("@import"), "{text}");
        }
    }
}

#[test]
fn what_cannot_be_printed_is_said_and_nothing_is_written() {
    let folder = boats("print-refused");
    folder.write("no.ttf", "no typeface");
    for (arguments, says) in [
        (&["act.ron", "-o", "a.txt"][..], "ends neither in .pdf nor in .html"),
        (&["act.ron", "-o", "a.pdf", "--date", "4.12.2026"], "write year, month and day"),
        (&["act.ron", "-o", "a.pdf", "--date", "2026-02-30"], "is no date"),
        (&["act.ron", "-o", "a.pdf", "--font", "no.ttf"], "is no TrueType or OpenType typeface"),
        (&["act.ron", "-o", "a.pdf", "--font", "gone.ttf"], "gone.ttf"),
        (&["gone.ron", "-o", "a.pdf"], "gone.ron"),
        (&["act.ron", "-o", "a.pdf", "--what", "poster"], "poster"),
        (&["act.ron", "-o", "a.pdf", "--paper", "a9"], "a9"),
    ] {
        let (status, _, stderr) = folder.run(&[&["print"], arguments].concat());
        assert_eq!(status, 2, "{arguments:?}: {stderr}");
        assert!(stderr.contains(says), "{arguments:?}: {stderr}");
    }
    assert!(!folder.0.join("a.pdf").exists() && !folder.0.join("a.txt").exists());
}

#[test]
fn a_draft_is_printed_as_one_and_fire_that_may_be_in_the_dark_is_not_printed() {
    let folder = Folder::new("print-draft");
    let torn = BOATS.replacen("pattern: \"(4,4)\"", "pattern: \"(4,5)\"", 1);
    assert_ne!(BOATS, torn);
    folder.write("torn.ron", torn);
    assert_eq!(folder.run(&["print", "torn.ron", "-o", "torn.html"]).0, 1);
    let page = fs::read_to_string(folder.0.join("torn.html")).unwrap();
    assert!(page.contains("DRAFT: "), "{page}");

    let dark = KILN.replacen("does: \"down to a third\"", "does: \"out\", dark: true", 1);
    assert_ne!(KILN, dark);
    folder.write("dark.ron", dark);
    let (status, _, stderr) = folder.run(&["print", "dark.ron", "-o", "dark.html"]);
    assert_eq!(status, 1, "{stderr}");
    assert!(stderr.contains("no cue sheet: fire or blades may be in the dark"), "{stderr}");
    assert!(!folder.0.join("dark.html").exists());
}

#[test]
fn a_character_that_no_typeface_has_is_named() {
    let folder = Folder::new("print-missing");
    folder.write("act.ron", BOATS.replacen("Paper Boats", "Paper Boats \u{1f6f6}", 1));
    let (status, _, stderr) = folder.run(&["print", "act.ron", "-o", "a.html"]);
    assert!(stderr.contains("no typeface has \u{1f6f6} (U+1F6F6)"), "{stderr}");
    assert_eq!(status, 0);
}
