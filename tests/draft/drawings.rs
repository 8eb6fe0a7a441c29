//! What the drawings of a draft show.

use roxmltree::{Document, Node};
use throwbook::strip::{overview, strip};

use super::faults::{off_beat, torn, unread};
use super::{LANTERN, draft, spoilt};

/// The words of a drawing, each with the place where it stands.
fn words<'a>(document: &'a Document<'_>) -> Vec<(&'a str, f64, f64)> {
    let place = |node: &Node<'_, '_>, axis| node.attribute(axis)?.parse().ok();
    let words = document.descendants().filter(|node| node.has_tag_name("text"));
    let words = words
        .filter_map(|node| Some((node.text()?.trim(), place(&node, "x")?, place(&node, "y")?)));
    words.collect()
}

fn titles<'a>(document: &'a Document<'_>) -> Vec<&'a str> {
    let titles = document.descendants().filter(|node| node.has_tag_name("title"));
    titles.filter_map(|node| node.text()).collect()
}

#[test]
fn every_sheet_of_a_draft_bears_its_mark_as_large_as_a_title() {
    for text in [torn(), unread(), off_beat()] {
        let (_, act) = draft(&text, 1);
        let svg = strip(&act);
        let document = Document::parse(&svg).unwrap();
        let words = words(&document);
        let pages: Vec<f64> =
            words.iter().filter(|word| word.0.starts_with("page ")).map(|word| word.2).collect();
        let marks: Vec<_> = words.iter().filter(|word| word.0 == "DRAFT: 1 error").collect();
        assert!(pages.len() > 1 && marks.len() == pages.len());
        // On each sheet, beside its number.
        for (mark, page) in marks.iter().zip(&pages) {
            assert!((mark.2 - page).abs() < 6.0, "{mark:?} {page}");
        }
        let mark = document.descendants().find(|node| node.text() == Some("\nDRAFT: 1 error\n"));
        assert!(mark.unwrap().attribute("class").unwrap().contains('t'), "the size of a title");
        let overview = overview(&act);
        assert_eq!(overview.matches("DRAFT: 1 error\n").count(), 1);
    }
}

#[test]
fn a_torn_junction_is_a_jagged_line_with_its_word_and_its_sign_in_the_legend() {
    let (_, act) = draft(&torn(), 1);
    for svg in [strip(&act), overview(&act)] {
        let document = Document::parse(&svg).unwrap();
        assert_eq!(words(&document).iter().filter(|word| word.0 == "TORN").count(), 1);
        let what = "torn junction: the props do not come as it needs them";
        assert!(
            titles(&document).iter().any(|title| title.starts_with("wake") && title.contains(what))
        );
    }
    let svg = strip(&act);
    let document = Document::parse(&svg).unwrap();
    let words = words(&document);
    assert!(words.iter().any(|word| word.0.starts_with("torn junction: ")), "the legend");
    // The word stands where the section begins: beside its name.
    let word = words.iter().find(|word| word.0 == "TORN").unwrap();
    let name = words.iter().find(|word| word.0 == "wake").unwrap();
    assert!(word.1 < name.1 && name.1 - word.1 < 20.0 && (word.2 - name.2).abs() < 0.2);
    let jagged = document.descendants().filter(|node| node.attribute("class") == Some("X"));
    assert_eq!(jagged.count(), 2, "in its row and in the legend");
}

#[test]
fn behind_a_length_that_is_not_known_the_ruler_has_no_times_and_the_music_no_bars() {
    for text in [unread(), off_beat()] {
        let (_, act) = draft(&text, 1);
        let svg = strip(&act);
        let document = Document::parse(&svg).unwrap();
        let words = words(&document);
        let texts: Vec<&str> = words.iter().map(|word| word.0).collect();
        // What is not known begins before 0:24.
        for known in ["0:15", "0:20", "drum"] {
            assert!(texts.contains(&known), "{known}");
        }
        for unknown in ["0:25", "0:30", "0:45", "13", "20"] {
            assert!(!texts.contains(&unknown), "{unknown}");
        }
        assert!(texts.iter().filter(|&&text| text == "?").count() > 10);
        assert!(texts.contains(&"LX 20 ?") && texts.contains(&"LX 15"));
        assert!(texts.contains(&"from here on the times are not known"), "the legend");
        let ends = document.descendants().filter(|node| node.attribute("class") == Some("u"));
        assert_eq!(ends.count(), 2, "in its row and in the legend");
    }
}

#[test]
fn a_section_that_could_not_be_read_is_drawn_with_its_name_and_nothing_in_it() {
    let (_, act) = draft(&unread(), 1);
    for svg in [strip(&act), overview(&act)] {
        let document = Document::parse(&svg).unwrap();
        let texts: Vec<&str> = words(&document).iter().map(|word| word.0).collect();
        assert!(texts.contains(&"wake") && texts.contains(&"not read"), "{texts:?}");
        assert!(titles(&document).contains(&"wake: not read, from 0:22.5"));
    }
}

#[test]
fn a_cue_at_a_fixed_time_is_not_drawn_where_nobody_knows_the_time() {
    let text = spoilt(&unread(), "at: LastCatch(\"ebb\")", "at: At(\"0:31\")");
    let (_, act) = draft(&text, 1);
    let svg = strip(&act);
    let document = Document::parse(&svg).unwrap();
    let words = words(&document);
    assert!(!words.iter().any(|word| word.0 == "LX 20"));
    let note = words.iter().find(|word| word.0.starts_with("Cues whose place")).unwrap();
    assert!(note.0.contains("LX 20 GO 0:31.0: blackout"), "{note:?}");
}

#[test]
fn where_a_fixed_moment_comes_the_times_are_known_again() {
    let text = spoilt(LANTERN, "lasts: Until(Mark(\"drum\"))", "lasts: Until(Mark(\"drum\"))");
    let text = spoilt(
        &text,
        "name: \"walk on\", lasts: For(\"0:06\")",
        "name: \"walk on\", lasts: Fr(\"0:06\")",
    );
    let text = spoilt(&text, "starts: Start(\"stillness\")", "starts: At(\"0:00\")");
    let text = spoilt(&text, "zero: TrackStart", "zero: Start(\"tide\")");
    let opened = throwbook::open(&text);
    let act = opened.act.as_ref().expect("a score");
    assert!(act.errors > 0);
    let svg = strip(act);
    let document = Document::parse(&svg).unwrap();
    let texts: Vec<&str> = words(&document).iter().map(|word| word.0).collect();
    assert!(texts.contains(&"0:15") && texts.contains(&"0:30"), "{texts:?}");
}
