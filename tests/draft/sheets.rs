//! What the sheets of a draft say.

use throwbook::export::{
    colours_text, cues_csv, cues_json, cues_page, cues_text, state_text, timing_json, timing_text,
};
use throwbook::sheet::cues::compose;
use throwbook::{act::Act, strip};
use unicode_width::UnicodeWidthStr;

use super::faults::{fire_in_dark, fire_that_may_be_in_dark, no_set, off_beat, torn, unread};
use super::{LANTERN, draft, spoilt};

/// Every sheet for people, as it is called.
fn sheets(text: &str) -> Vec<(&'static str, String)> {
    let (opened, act) = draft(text, 1);
    let colours = opened.colours.as_ref().expect("its colours");
    let sheet = compose(&act, None);
    vec![
        ("timing sheet", timing_text::text(&act, 80)),
        ("list of moves", timing_text::moves_text(&act, 80)),
        ("colours", colours_text::text(&act, colours, 80)),
        ("cue sheet", cues_text::of_sheet(&sheet, 80)),
        ("state", state_text::of_sheet(&sheet, 80)),
    ]
}

#[test]
fn every_sheet_begins_with_the_mark_of_a_draft_and_keeps_to_its_width() {
    for text in [torn(), unread(), off_beat(), no_set()] {
        for (name, sheet) in sheets(&text) {
            assert!(sheet.starts_with("DRAFT: 1 error. "), "{name}: {sheet}");
            assert!(sheet.lines().all(|line| line.width() <= 80), "{name}: {sheet}");
        }
        let page = cues_page::page(&draft(&text, 1).1, None);
        let (marks, pages) = ("\nDRAFT: 1 error\n", "<svg ");
        assert_eq!(page.matches(marks).count(), page.matches(pages).count(), "{page}");
    }
}

#[test]
fn an_act_without_errors_has_no_mark() {
    let opened = throwbook::open(LANTERN);
    let act = opened.finished().expect("no errors");
    assert!(!timing_text::text(act, 80).contains("DRAFT"));
    assert!(!strip::strip(act).contains("DRAFT") && !strip::overview(act).contains("DRAFT"));
    assert!(cues_csv::csv(act, None).starts_with("time,"));
    let json: serde_json::Value = serde_json::from_str(&timing_json::json(act)).unwrap();
    assert_eq!(json["draft"], 0);
}

#[test]
fn two_errors_are_counted() {
    let text = spoilt(&torn(), "pattern: \"5\"", "pattern: \"5?\"");
    let (_, act) = draft(&text, 2);
    assert!(timing_text::text(&act, 80).starts_with("DRAFT: 2 errors. "));
    assert!(strip::overview(&act).contains("DRAFT: 2 errors"));
}

#[test]
fn a_torn_junction_is_named_where_it_is() {
    let (_, act) = draft(&torn(), 1);
    let text = timing_text::text(&act, 80);
    let table = text.split_once("PLACES AND PICK-UPS").expect("the table").0;
    insta::assert_snapshot!(table);
    let json: serde_json::Value = serde_json::from_str(&timing_json::json(&act)).unwrap();
    let torn: Vec<_> =
        json["sections"].as_array().unwrap().iter().map(|one| &one["torn"]).collect();
    let is_torn = |torn: &&serde_json::Value| **torn == serde_json::Value::Bool(true);
    assert_eq!(torn.iter().position(is_torn), Some(4), "wake");
    assert_eq!(torn.iter().filter(|torn| is_torn(torn)).count(), 1);
}

#[test]
fn a_section_that_could_not_be_read_stands_by_its_name_with_empty_figures() {
    let (_, act) = draft(&unread(), 1);
    insta::assert_snapshot!(timing_text::text(&act, 80));
}

#[test]
fn behind_a_length_that_is_not_known_no_time_is_printed() {
    let (_, act) = draft(&off_beat(), 1);
    let text = timing_text::text(&act, 80);
    let table = text.split_once("PLACES AND PICK-UPS").expect("the table").0;
    insta::assert_snapshot!(table);
    insta::assert_snapshot!(cues_text::text(&act, None, 80));
}

#[test]
fn the_props_of_a_set_that_there_is_not_have_no_colours_and_no_size() {
    let (opened, act) = draft(&no_set(), 1);
    let colours = colours_text::text(&act, opened.colours.as_ref().expect("its colours"), 80);
    let loading = colours.lines().find(|line| line.starts_with("LOADING before tide")).unwrap();
    assert_eq!(loading, "LOADING before tide at 0:07.5");
    assert!(colours.contains("is not known"), "{colours}");
    assert!(strip::strip(&act).contains("colour not known"));
}

/// A cue of the draft by its number, as JSON.
fn cue(act: &Act, number: &str) -> serde_json::Value {
    let sheet: serde_json::Value = serde_json::from_str(&cues_json::json(act, None)).unwrap();
    let mut cues = sheet["cues"].as_array().unwrap().iter();
    cues.find(|cue| cue["number"] == number).expect("its number").clone()
}

#[test]
fn a_cue_that_cannot_be_called_stands_on_the_sheet_without_a_time() {
    for (from, to) in [
        ("Follow(20, Complete, 3.5)", "Follow(99, Complete, 3.5)"),
        ("Follow(20, Complete, 3.5)", "Follow(25, Complete, 3.5)"),
        ("trigger: Follow(20, Complete, 3.5)", "trigger: With(Light(99))"),
    ] {
        let text = LANTERN.replace(from, to);
        let opened = throwbook::open(&text);
        let act = opened.act.as_ref().unwrap();
        assert!(act.errors > 0, "{to}");
        let cue = cue(act, "25");
        assert!(cue["go_s"].is_null() && cue["does"] == "sides and back", "{cue}");
        assert!(cues_text::text(act, None, 80).contains("LX 25"));
    }
}

#[test]
fn a_cue_in_a_section_that_could_not_be_read_has_no_time() {
    let text = spoilt(&unread(), "at: LastCatch(\"ebb\")", "at: Catch(\"wake\", 3)");
    let (_, act) = draft(&text, 1);
    assert!(cue(&act, "20")["go_s"].is_null());
    assert!(cue(&act, "25")["go_s"].is_null());
}

#[test]
fn fire_in_the_dark_or_fire_that_may_be_stops_the_cue_sheet() {
    for text in [fire_in_dark(), fire_that_may_be_in_dark()] {
        let opened = throwbook::open(&text);
        assert!(opened.errors() > 0 && opened.is_unsafe());
    }
    // A set or a cue that could not be read may be a torch, or a dark.
    let torches = spoilt(LANTERN, "\"three\": Set(kind: Ball", "\"three\": Set(kind: Torch");
    for (from, to) in [
        ("dark: true", "dark: yes"),
        ("trigger: See(\"all balls in hands\")", "trigger: Sea(\"all balls in hands\")"),
        ("set: \"three\"", "set: \"tree\""),
        ("kind: Torch, length: 0.072", "kind: Torch, lenght: 0.072"),
    ] {
        let opened = throwbook::open(&spoilt(&torches, from, to));
        assert!(opened.errors() > 0, "{to}");
        assert!(opened.is_unsafe(), "{to}: {:?}", opened.diagnostics);
    }
    // What has neither fire nor blades is not unsafe.
    assert!(!throwbook::open(&unread()).is_unsafe());
}

#[test]
fn a_spreadsheet_says_in_every_row_that_it_is_a_draft() {
    let (_, act) = draft(&unread(), 1);
    let csv = cues_csv::csv(&act, None);
    let mut lines = csv.lines();
    assert!(lines.next().unwrap().starts_with("draft,time,"));
    assert!(lines.all(|line| line.starts_with("DRAFT: 1 error,")), "{csv}");
}

#[test]
fn a_draft_says_that_a_cue_or_a_limit_that_could_not_be_read_is_missing() {
    let head = |from: &str, to: &str| {
        let opened = throwbook::open(&spoilt(LANTERN, from, to));
        let text = cues_text::text(opened.act.as_ref().unwrap(), None, 80);
        text.lines().take(2).collect::<Vec<_>>().join(" ")
    };
    let cue = head("does: \"blackout\"", "dose: \"blackout\"");
    assert!(cue.contains("Cues that could not be read may be missing here."), "{cue}");
    let limit = head("at_most: \"1:00\"", "at_mots: \"1:00\"");
    assert!(limit.contains("Limits that could not be read may be missing here."), "{limit}");
    let title = head("Juggle(name: \"tide\"", "Juggle(nam: \"tide\"");
    assert!(!title.contains("missing"), "{title}");
}

#[test]
fn an_error_of_the_encore_hides_only_what_stands_there() {
    let head = |encore: &str| {
        let text = LANTERN.trim_end().trim_end_matches(')').to_owned() + encore + ")";
        let opened = throwbook::open(&text);
        assert!(opened.errors() > 0, "{encore}");
        let text = cues_text::text(opened.act.as_ref().unwrap(), None, 80);
        text.lines().take(2).collect::<Vec<_>>().join(" ")
    };
    let score = "score: [Pause(name: \"back\", lasts: For(\"0:05\"))]";
    let cue = head(&format!("encore: Encore({score}, cues: [Cue(crew: Light)])"));
    assert!(cue.contains("Cues that could not be read may be missing here."), "{cue}");
    let section = head("encore: Encore(score: [Pause(nam: \"back\", lasts: For(\"0:05\"))])");
    assert!(!section.contains("Cues that"), "{section}");
    let all = head("encore: Encore(scor: [])");
    assert!(all.contains("An encore that could not be read may be missing here."), "{all}");
    let strike = head("strike: \"soon\"");
    assert!(!strike.contains("missing"), "{strike}");
}
