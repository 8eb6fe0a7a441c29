//! What was handed out: kept, read back, held against the cues of now, and never lost in silence.
#![allow(missing_docs)]

use proptest::prelude::*;
use throwbook::act::Act;
use throwbook::diagnostic::{Diagnostic, Severity, render};
use throwbook::export::cues_text;
use throwbook::issue::{CHECKS, Frozen, Told, changes, freeze, written};
use throwbook::routine::{CueOnPaper, Issued};
use throwbook::sheet::cues::papers;
use throwbook::{open, open_issued, read};

const LANTERN: &str = include_str!("routines/lantern.ron");

/// What is handed out of a routine that has no record yet, or has this one.
fn handed_out(routine: &str, record: Option<&str>) -> String {
    let opened = open_issued(routine, record);
    assert_eq!(opened.in_record, []);
    let act = opened.finished().unwrap();
    match freeze(&act.routine, &papers(act)) {
        Frozen::Added(issued) => written(&issued),
        other => panic!("{other:?}"),
    }
}

fn codes(diagnostics: &[Diagnostic]) -> Vec<&'static str> {
    diagnostics.iter().map(|one| one.code).collect()
}

fn with_edits(text: &str, edits: &[throwbook::diagnostic::Edit]) -> String {
    let mut text = text.to_owned();
    for edit in edits.iter().rev() {
        text.replace_range(edit.at.start..edit.at.end, &edit.insert);
    }
    text
}

#[test]
fn every_message_about_what_was_handed_out_offers_a_way_out() {
    for check in CHECKS {
        let record = check.beside.iter().find_map(|beside| beside.text);
        let raised = open_issued(check.raises, record);
        for diagnostic in raised.diagnostics.iter().filter(|one| one.code == check.code) {
            assert!(!diagnostic.helps.is_empty(), "{}", check.code);
        }
    }
}

#[test]
fn a_record_reads_back_as_it_was_written_whatever_the_texts() {
    let odd = LANTERN
        .replace("\"Lantern Quay\"", r#""L \"Q\" \\ \u{1b}[0m é \n""#)
        .replace("does: \"blackout\"", r#"does: "=black\tout \\ \" \r""#)
        .replace("number: 15", "number: 15.50, on_drop: \"hold\", standby: 2.125")
        .replace("limits: [", "encore: Encore(score: [Pause(name: \"on\", lasts: For(\"0:03\"))], cues: [Cue(crew: Fly, at: Start(\"on\"), trigger: See, does: \"in\", count: 2.25)]),\n    limits: [");
    for routine in [LANTERN, &odd] {
        let text = handed_out(routine, None);
        assert_eq!(text, handed_out(routine, None), "equal input gives equal bytes");
        let title = open(routine).act.unwrap().routine.title.value;
        let issued = read::issued(&text, &title).unwrap();
        assert_eq!(written(&issued), text);
        let opened = open_issued(routine, Some(&text));
        assert!(opened.finished().is_some());
        assert_eq!((opened.diagnostics, opened.in_record), (vec![], vec![]));
    }
}

#[test]
fn an_act_of_any_length_has_a_record_that_reads_back() {
    for tempo in ["1", "1.000000001", "1000"] {
        let slow = LANTERN
            .replace("zero: TrackStart", "zero: FirstThrow")
            .replace("PerMinute(200)", &format!("PerMinute({tempo})"));
        let record = handed_out(&slow, None);
        assert_eq!(open_issued(&slow, Some(&record)).in_record, [], "{tempo}");
        let five = slow.replace("issue: 3", "issue: 5").replace("Complete, 3.5", "Complete, 4.5");
        assert!(open_issued(&five, Some(&record)).finished().is_some());
    }
}

#[test]
fn the_record_of_the_worked_example_reads_as_a_cue_list() {
    insta::assert_snapshot!(handed_out(LANTERN, None));
}

/// The cues of a routine that was changed, held against issue 3 of the worked example.
fn changed(routine: &str) -> Vec<(String, Told)> {
    let opened = open_issued(routine, Some(&handed_out(LANTERN, None)));
    let act = opened.finished().unwrap();
    let now: Vec<CueOnPaper> = papers(act).into_iter().map(|paper| paper.cue).collect();
    let Act { routine, .. } = act;
    let changes = changes(routine.issued.as_ref().unwrap(), routine.issue, &now).unwrap();
    assert_eq!(changes.since, 3);
    let name = |cue: &CueOnPaper| {
        let number = cue.number.map(|number| format!(" {number}"));
        format!("{:?}{}", cue.crew, number.unwrap_or_default())
    };
    let cut = changes.compared.cut.iter().map(|cue| (format!("{} cut", name(cue)), Told::Same));
    let told = now.iter().zip(changes.compared.told).map(|(cue, told)| (name(cue), told));
    told.filter(|(_, told)| *told != Told::Same).chain(cut).collect()
}

#[test]
fn what_changed_is_told_cue_by_cue() {
    let four = LANTERN.replace("issue: 3", "issue: 4");
    assert_eq!(changed(&four), []);
    let longer = four
        // 6 more beats at 200 a minute are 1.8 s for everything behind them.
        .replace("pattern: \"3\", lasts: Beats(6)", "pattern: \"3\", lasts: Beats(12)")
        .replace("does: \"sides and back\", count: 2", "does: \"back only\", count: 2.5")
        .replace(
            "trigger: Hear(\"first drum\"), does: \"sides up, front low\", count: 1",
            "trigger: Called, does: \"sides up, front low\", count: 1, standby: 9, on_drop: \"hold\"",
        )
        .replace("Cue(crew: House, at:", "Cue(crew: Deck, number: 1, at:");
    let numbered = four.replace("Cue(crew: House, at:", "Cue(crew: House, number: 1, at:");
    let now_one = Told::Changed(vec!["number none, now 1".to_owned()]);
    assert_eq!(changed(&numbered), [("House 1".to_owned(), now_one)]);
    let said = |words: &[&str]| Told::Changed(words.iter().map(|&word| word.to_owned()).collect());
    assert_eq!(
        changed(&longer),
        [
            ("Deck 1".to_owned(), Told::New),
            (
                "Light 15".to_owned(),
                said(&[
                    "trigger HEAR first drum, now CALLED start of \"tide\": first throw",
                    "stand-by 5.0 s before, now 9.0 s before",
                    "on a drop \"as usual\", now \"hold\"",
                ])
            ),
            ("Light 20".to_owned(), said(&["time 0:31.1, now 0:32.9 (1.8 s later)"])),
            (
                "Light 25".to_owned(),
                said(&[
                    "time 0:34.6, now 0:36.4 (1.8 s later)",
                    "does \"sides and back\", now \"back only\"",
                    "count 2, now 2.5",
                ])
            ),
            ("House cut".to_owned(), Told::Same),
        ]
    );
}

#[test]
fn a_time_with_two_ends_is_kept_and_told_with_both() {
    let open_bow = |applause: &str, standby: &str| {
        format!(
            "Routine(title: \"T\", issue: 1, tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, \
             sets: {{ \"s\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"a\", \"a\"]) }}, score: [\
             Juggle(name: \"tide\", set: \"s\", pattern: \"3\", lasts: Beats(20)), \
             Pause(name: \"applause\", lasts: {applause}), \
             Pause(name: \"bow\", lasts: For(\"0:09\"))], cues: [\
             Cue(crew: Light, number: 1, at: Start(\"bow\"), trigger: See(\"bow\"), does: \"up\", \
             count: 1, standby: {standby})])"
        )
    };
    let first = open_bow("Between(\"0:04\", \"0:12\")", "5");
    // The last catch is at 6.2 s.
    let record = handed_out(&first, None);
    assert!(record.contains("go: \"0:10.2–0:18.2\", standby: \"0:05.2–0:13.2\""), "{record}");
    let told = |routine: &str| {
        let opened = open_issued(&routine.replace("issue: 1", "issue: 2"), Some(&record));
        assert_eq!((&opened.in_record, &opened.diagnostics), (&vec![], &vec![]));
        throwbook::sheet::cues::compose(opened.finished().unwrap(), None).act.lines[0].told.clone()
    };
    let said = |words: &str| Told::Changed(vec![words.to_owned()]);
    assert_eq!(told(&first), Told::Same);
    assert_eq!(
        told(&open_bow("Between(\"0:06\", \"0:14\")", "5")),
        said("time 0:10.2–0:18.2, now 0:12.2–0:20.2 (2.0 s later)")
    );
    assert_eq!(
        told(&open_bow("Between(\"0:04\", \"0:06\")", "5")),
        said("time 0:10.2–0:18.2, now 0:10.2–0:12.2")
    );
    assert_eq!(
        told(&open_bow("Between(\"0:04\", \"0:12\")", "3")),
        said("stand-by 5.0 s before, now 3.0 s before")
    );
}

#[test]
fn a_sheet_with_changes_reads_well_at_80_columns() {
    let first = LANTERN.replace(
        "    cues: [",
        "    encore: Encore(score: [Pause(name: \"on\", lasts: For(\"0:09\"))], cues: [Cue(crew: Fly, \
         number: 1, at: End(\"on\"), trigger: See(\"a hand\"), does: \"moon in\", standby: 12)]),\n    cues: [",
    );
    let then = first
        .replace("issue: 3", "issue: 4")
        .replace("Cue(crew: House", "Cue(crew: Sound, number: 10, trigger: With(Light(15)), does: \"surf\"), Cue(crew: House")
        .replace("number: 25, trigger: Follow(20, Complete, 3.5)", "number: 25, on_drop: \"count to four\", trigger: Follow(20, Complete, 3.9)")
        .replace("Cue(crew: House, at: Shift(TrackStart, -20.0), trigger: Called, does: \"to half\", count: 5),", "");
    let opened = open_issued(&then, Some(&handed_out(&first, None)));
    assert_eq!(opened.diagnostics, []);
    let act = opened.finished().unwrap();
    let sheet = cues_text::text(act, None, 80);
    assert!(sheet.lines().all(|line| line.chars().count() <= 80), "{sheet}");
    insta::assert_snapshot!(sheet);
}

#[test]
fn an_issue_stands_once_and_is_never_handed_out_with_other_cues() {
    let record = handed_out(LANTERN, None);
    let frozen = |routine: &str, record: &str| {
        let opened = open_issued(routine, Some(record));
        let act = opened.finished().unwrap();
        freeze(&act.routine, &papers(act))
    };
    assert_eq!(frozen(LANTERN, &record), Frozen::Stands);
    let moved = LANTERN.replace("Shift(TrackStart, -20.0)", "Shift(TrackStart, -25.0)");
    for (routine, code) in [
        (moved.clone(), "issue-not-raised"),
        (LANTERN.replace("issue: 3", "issue: 2"), "issue-not-raised"),
        (
            LANTERN.replace("issue: 3", "issue: 4").replace("number: 25", "number: 30"),
            "cue-number-changed",
        ),
        (
            LANTERN.replace("issue: 3", "issue: 4").replace(
                "number: 25, trigger: Follow(20, Complete, 3.5), does: \"sides and back\"",
                "number: 25, trigger: Follow(20, Go, 9.0), does: \"house lights\"",
            ),
            "cue-number-reused",
        ),
    ] {
        match frozen(&routine, &record) {
            Frozen::Refused(faults) => {
                assert_eq!(codes(&faults), [code]);
                assert!(faults.iter().all(|fault| fault.severity == Severity::Error));
            }
            other => panic!("{code}: {other:?}"),
        }
    }
    // A number that was cut stays taken for ever.
    let four = moved.replace("issue: 3", "issue: 4");
    let without = four.replace("Cue(crew: Light, number: 15,", "// Cue(crew: Light, number: 15,");
    let record = handed_out(&without, Some(&record));
    let five = without.replace("issue: 4", "issue: 5").replace(
        "cues: [",
        "cues: [Cue(crew: Light, number: 15, at: Start(\"beam\"), trigger: Called, does: \"cold\", count: 1),",
    );
    let opened = open_issued(&five, Some(&record));
    assert_eq!(codes(&opened.diagnostics), ["cue-number-reused"]);
    // The very cue may come back.
    let back = four.replace("issue: 4", "issue: 5");
    assert_eq!(open_issued(&back, Some(&record)).diagnostics, []);
    assert_eq!(read::issued(&record, "Lantern Quay").unwrap().issues.len(), 2);
}

#[test]
fn new_cues_are_offered_gaps_and_then_tenths() {
    let record = handed_out(LANTERN, None);
    let insert = |routine: &str, cue: &str| {
        routine
            .replace("Cue(crew: Light, number: 20,", &format!("{cue} Cue(crew: Light, number: 20,"))
    };
    let mut routine = LANTERN.replace("issue: 3", "issue: 4");
    let mut given = Vec::new();
    for place in 0..6 {
        let at = 16 + place;
        let new = format!(
            "Cue(crew: Light, at: At(\"0:{at}\"), trigger: See(\"{place}\"), does: \"{place}\", count: 1),"
        );
        routine = insert(&routine, &new);
        let opened = open_issued(&routine, Some(&record));
        assert_eq!(codes(&opened.diagnostics), ["cue-has-no-number"], "{routine}");
        let help = &opened.diagnostics[0].helps[0];
        given.push(help.edits[0].insert.clone());
        routine = with_edits(&routine, &help.edits);
    }
    let numbers: Vec<&str> =
        given.iter().map(|insert| insert.strip_prefix(", number: ").unwrap()).collect();
    assert_eq!(numbers, ["17", "18", "19", "19.5", "19.7", "19.8"]);
    assert_eq!(open_issued(&routine, Some(&record)).diagnostics, []);
}

#[test]
fn a_damaged_record_is_told_at_its_place_with_a_way_out_and_no_sheet_is_made() {
    let record = handed_out(LANTERN, None);
    for (text, code) in [
        (String::new(), "syntax"),
        ("half a rec".to_owned(), "syntax"),
        (record[..record.len() / 2].to_owned(), "syntax"),
        (record.replace("Issued(", "Routine("), "unknown-word"),
        (record.replace("Lantern Quay", "Paper Boats"), "issued-of-another"),
        (record.replace("go: \"0:31.1\"", "go: \"half past\""), "bad-time"),
        (record.replace("go: \"0:31.1\"", "go: \"0:31.1–\""), "bad-time"),
        (record.replace("go: \"0:31.1\"", "go: \"0:31.1–0:33.1–0:34.1\""), "bad-time"),
        (record.replace("crew: Light", "crew: Ligth"), "unknown-word"),
        (record.replace("number: 20,", "number: 15,"), "duplicate-cue-number"),
        (record.replace("trigger: \"hear\"", "trigger: \"heard\""), "unknown-word"),
        (record.replace("count: 5", "count: -5"), "out-of-range"),
        (record.replace("does: \"blackout\", ", ""), "missing-field"),
        (record.replace("Issue(number: 3,", "Issue(number: 0,"), "out-of-range"),
        (
            record.replace("    issues: [", "    issues: [Issue(number: 7, cues: []),"),
            "issues-out-of-order",
        ),
        ("Issued(title: \"Lantern Quay\", issues: [])".to_owned(), "empty-list"),
    ] {
        assert_ne!(text, record, "{code}");
        let opened = open_issued(LANTERN, Some(&text));
        assert!(opened.finished().is_none(), "{code}");
        assert_eq!(opened.diagnostics, [], "{code}: the routine itself is fine");
        let found = codes(&opened.in_record);
        assert!(found.contains(&code), "{code}: {found:?}");
        for fault in &opened.in_record {
            assert_eq!(fault.severity, Severity::Error);
            assert!(!fault.helps.is_empty(), "{code}");
            assert!(text.get(fault.at.start..fault.at.end).is_some(), "{code}");
        }
    }
    let another = record.replace("Lantern Quay", "Paper Boats");
    let faults = open_issued(LANTERN, Some(&another)).in_record;
    insta::assert_snapshot!(render(&faults, "act.issued.ron", &another, 80, false));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_mangled_record_never_panics(
        at in 0_usize..10_000, length in 0_usize..60, put in "[ -~]{0,6}",
    ) {
        let record = handed_out(LANTERN, None);
        let mut characters: Vec<char> = record.chars().collect();
        let at = at % characters.len();
        let end = (at + length).min(characters.len());
        characters.splice(at..end, put.chars());
        let text: String = characters.into_iter().collect();
        let opened = open_issued(LANTERN, Some(&text));
        for fault in &opened.in_record {
            prop_assert!(text.get(fault.at.start..fault.at.end).is_some());
        }
        let drawn = render(&opened.in_record, "act.issued.ron", &text, 80, false);
        prop_assert_eq!(drawn.is_empty(), opened.in_record.is_empty());
        if let Some(issued) = opened.act.and_then(|act| act.routine.issued) {
            let again: Issued = read::issued(&written(&issued), "Lantern Quay").unwrap();
            prop_assert_eq!(written(&again), written(&issued));
        }
    }
}
