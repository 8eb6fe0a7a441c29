//! The rows of the cue sheet: sections, stand-bys, cuts and pick-ups in their places; what is on after
//! each cue.
#![allow(missing_docs)]

mod written;

use throwbook::export::{cues_csv, cues_json, cues_page, cues_text, state_text};
use throwbook::issue::{Frozen, freeze, written as record};
use throwbook::routine::Crew;
use throwbook::sheet::cue_rows::{RowOf, labels, rows};
use throwbook::sheet::cues::{CueSheet, compose, papers};
use throwbook::{Opened, open_issued};
use written::{Written, codes, score};

const SCORE: &str = r#"
        Pause(name: "walk on", lasts: For("0:40")),
        Juggle(name: "tide", set: "3", pattern: "3", lasts: Beats(300), place: "stage left"),
        Juggle(name: "gulls", set: "3", pattern: "531", lasts: Beats(60), place: "centre"),
        Pause(name: "bow", lasts: For("0:15")),"#;

fn act(after: &str) -> Written {
    Written { after: after.to_owned(), ..score(SCORE) }
}

fn sheet(opened: &Opened) -> CueSheet {
    compose(opened.act.as_ref().unwrap(), None)
}

/// The rows of the act on a sheet, in short.
fn in_short(sheet: &CueSheet, encore: bool) -> Vec<String> {
    let part = if encore { sheet.encore.as_ref().unwrap() } else { &sheet.act };
    let row = |row: &throwbook::sheet::cue_rows::Row<'_>| {
        let what = match &row.what {
            RowOf::Section(section) => format!("= {}", section.name),
            RowOf::StandBy(lines, _) => format!("stand by {}", labels(lines)),
            RowOf::Go(lines, beside) => {
                let beside: Vec<String> = beside.iter().map(|lines| labels(lines)).collect();
                format!("{} [{}]", lines[0].label, beside.join("; "))
            }
            RowOf::Flames(line) => format!("flames {}", line.what.word()),
            RowOf::Cut(cue) => format!("cut {}", cue.does),
        };
        match &row.may_precede {
            Some(other) => format!("{what} < {other}"),
            None => what,
        }
    };
    rows(part, sheet.cut_of(encore), true).iter().map(row).collect()
}

const CUES: &str = r#"cues: [
        Cue(crew: Light, number: 5, at: At("0:10"), trigger: Called, does: "warm", count: 1),
        Cue(crew: Fly, number: 1, at: At("0:32"), trigger: Called, does: "moon in"),
        Cue(crew: Deck, number: 1, trigger: With(Fly(1)), does: "crate on", standby: 30),
        Cue(crew: Light, number: 10, at: Start("gulls"), trigger: See, does: "full", count: 1),
        Cue(crew: Sound, number: 1, trigger: With(Light(10)), does: "surf", standby: 5),
    ],"#;

#[test]
fn a_stand_by_has_a_row_of_its_own_where_another_cue_goes_before_its_own() {
    // FLY 1 and DECK 1 stand by at 0:02, and LX 5 goes at 0:10; LX 10 and SND 1 stand by at 1:25.
    let opened = act(CUES).open();
    assert_eq!(codes(&opened), Vec::<&str>::new(), "{:?}", opened.diagnostics);
    let all = sheet(&opened);
    let expected = [
        "= walk on",
        "= tide",
        "stand by FLY 1 and DECK 1",
        "LX 5 [LX 5]",
        "FLY 1 []",
        "= gulls",
        "LX 10 [LX 10 and SND 1]",
        "= bow",
    ];
    assert_eq!(in_short(&all, false), expected);
    // The deck's own operator has nothing between the two.
    let deck = all.of_crew(Crew::Deck);
    assert_eq!(
        in_short(&deck, false),
        ["= walk on", "= tide", "DECK 1 [DECK 1]", "= gulls", "= bow"]
    );
    let printed = cues_text::of_sheet(&all, 80);
    assert!(printed.contains("STAND BY FLY 1 and DECK 1 for GO at 0:32.0"), "{printed}");
    assert!(printed.contains("• stand by LX 10 and SND 1 at 1:25.0"), "{printed}");
    assert!(cues_text::of_sheet(&deck, 80).contains("• stand by at 0:02.0"));
}

#[test]
fn a_section_says_how_many_props_of_what_kind_and_how_they_look() {
    let opened = act(CUES).open();
    let printed = cues_text::of_sheet(&sheet(&opened), 80);
    for words in [
        "\"walk on\": the act begins",
        "\"tide\": 3 balls, pattern 3; first throw; stage left",
        "\"gulls\": 3 balls, pattern 531; throws go higher; centre",
        "\"bow\": hands at rest",
    ] {
        assert!(printed.contains(words), "{words}: {printed}");
    }
    let document: serde_json::Value =
        serde_json::from_str(&cues_json::of_sheet(&sheet(&opened))).unwrap();
    let gulls = &document["sections"][2];
    assert_eq!(gulls["starts_s"], 90.0);
    assert_eq!((&gulls["props"], &gulls["kind"]), (&3.into(), &"balls".into()));
    assert_eq!((&gulls["pattern"], &gulls["place"]), (&"531".into(), &"centre".into()));
    let csv = cues_csv::of_sheet(&sheet(&opened));
    assert!(csv.contains("\r\n1:30.0,90,,SECTION,,,"), "{csv}");
}

#[test]
fn under_open_lengths_what_always_comes_first_stands_first_and_the_rest_says_so() {
    let mut written = act(r#"cues: [
        Cue(crew: Light, number: 1, at: Start("bow"), trigger: Called, does: "a", count: 1),
        Cue(crew: Sound, number: 1, at: End("gulls"), trigger: Called, does: "b"),
        Cue(crew: Deck, number: 1, at: Shift(End("gulls"), 3), trigger: Called, does: "c"),
    ],"#);
    written.score = written.score.replace(
        "        Pause(name: \"bow\"",
        "        Pause(name: \"applause\", lasts: Between(\"0:00\", \"0:09\")),\n        Pause(name: \"bow\"",
    );
    let opened = written.open();
    let all = sheet(&opened);
    // The bow may begin with the applause: SND 1 is never later, though LX stands before SND.
    assert_eq!(
        in_short(&all, false)[3..],
        [
            "= gulls",
            "stand by LX 1",
            "= applause",
            "SND 1 [SND 1]",
            "= bow",
            "LX 1 []",
            "DECK 1 [] < \"bow\" and LX 1",
        ]
    );
    let printed = cues_text::of_sheet(&all, 80);
    assert!(printed.contains("• may come before \"bow\" and LX 1"), "{printed}");
}

#[test]
fn an_encore_has_its_sections_and_a_draft_keeps_what_cannot_be_called_last() {
    let opened = act(
        r#"cues: [
        Cue(crew: Light, number: 5, at: At("0:10"), trigger: Called, does: "warm", count: 1),
        Cue(crew: Light, number: 9, trigger: Follow(99, Go, 1.0), does: "cold", count: 1),
    ],
    encore: Encore(score: [Pause(name: "on", lasts: For("0:09"))],
        cues: [Cue(crew: Fly, number: 1, at: End("on"), trigger: See("a hand"), does: "moon in")]),"#,
    )
    .open();
    assert_eq!(codes(&opened), ["follow-of-nothing"]);
    let all = sheet(&opened);
    assert_eq!(in_short(&all, true), ["= on", "FLY 1 [FLY 1]"]);
    assert_eq!(in_short(&all, false).last().map(String::as_str), Some("LX 9 []"));
    // A draft does not say what is on.
    assert!(all.all_lines().all(|line| line.on.is_none()));
}

#[test]
fn a_light_that_comes_up_says_where_and_how_high() {
    let opened = act(
        r#"cues: [
        Cue(crew: Spot, number: 1, at: At("0:00"), trigger: Called, does: "head", spot: Up),
        Cue(crew: Light, number: 1, at: At("0:10"), trigger: Called, does: "full", count: 1),
        Cue(crew: Light, number: 2, at: Start("gulls"), trigger: Called, does: "bring up Centre", count: 1),
        Cue(crew: Light, number: 3, at: End("gulls"), trigger: Called, does: "stage left out", count: 1),
        Cue(crew: Spot, number: 2, at: End("gulls"), trigger: Called, does: "out", spot: Out),
    ],"#,
    )
    .open();
    let notes = |label: &str| {
        let all = sheet(&opened);
        let line = all.all_lines().find(|line| line.label == label).unwrap().clone();
        line.notes.join("; ")
    };
    // The heights are those of the timing sheet.
    let act = opened.act.as_ref().unwrap();
    let times = throwbook::sheet::timing::compose(act);
    let high = |index: usize| {
        let juggled = times.sections[index].juggled.as_ref().unwrap();
        format!("{:.1}", juggled.highest.as_ref().unwrap().above_hand_m)
    };
    let (tide, gulls) = (high(1), high(2));
    assert_ne!(tide, gulls);
    let tide = format!("pick up \"tide\": stage left; highest {tide} m above the hands");
    assert_eq!(notes("FS 1"), format!("spot up; {tide}"));
    assert_eq!(notes("LX 1"), "");
    assert_eq!(
        notes("LX 2"),
        format!("pick up \"gulls\": centre; highest {gulls} m above the hands")
    );
    assert_eq!(notes("LX 3"), "");
    assert_eq!(notes("FS 2"), "spot out");
}

#[test]
fn the_state_sheet_says_in_words_what_is_on() {
    let opened = act(
        r#"tracks: {
        "day": Track(file: "day.wav", length: "1:00", starts: At("0:00")),
        "night": Track(file: "night.wav", length: "3:00", starts: Start("gulls")),
    },
    cues: [
        Cue(crew: Sound, number: 1, at: At("0:00"), trigger: Called, does: "play day"),
        Cue(crew: Spot, number: 1, at: At("0:05"), trigger: Called, does: "head", spot: Up),
        Cue(crew: Light, number: 1, at: At("0:12"), trigger: Called, does: "warm", count: 1, light: "red"),
        Cue(crew: Light, number: 2, at: At("0:20"), trigger: Called, does: "flicker", count: 1, flashes: 2),
        Cue(crew: Light, number: 3, at: Start("gulls"), trigger: Called, does: "cold", count: 1),
        Cue(crew: Sound, number: 2, trigger: With(Light(3)), does: "play night"),
        Cue(crew: Light, number: 4, at: LastCatch, trigger: See, does: "blackout", dark: true),
        Cue(crew: Spot, number: 2, at: Shift(LastCatch, 6), trigger: Called, does: "out", spot: Out),
        Cue(crew: Sound, number: 3, at: Shift(LastCatch, 12), trigger: Called, does: "fade night out", count: 2),
    ],"#,
    )
    .open();
    let act = opened.act.as_ref().unwrap();
    assert_eq!(act.errors, 0, "{:?}", opened.diagnostics);
    let all = sheet(&opened);
    let on: Vec<String> =
        all.all_lines().map(|line| line.on.as_ref().unwrap().words().join("; ")).collect();
    assert_eq!(
        on,
        [
            "track \"day\" playing",
            "spot up; track \"day\" playing",
            "look: warm (red); spot up; track \"day\" playing",
            "look: flicker; spot up; STROBE on; track \"day\" playing",
            "look: cold; spot up; track \"day\" ended; track \"night\" playing",
            "look: cold; spot up; track \"day\" ended; track \"night\" playing",
            "look: blackout; DARK; spot may be up; track \"day\" ended; track \"night\" playing",
            "look: blackout; DARK; spot out; track \"day\" ended; track \"night\" playing",
            "look: blackout; DARK; spot out; track \"day\" ended; track \"night\" faded",
        ]
    );
    let document: serde_json::Value = serde_json::from_str(&cues_json::of_sheet(&all)).unwrap();
    let last = &document["cues"][8]["on"];
    assert_eq!((&last["dark"], &last["spot"]), (&"yes".into(), &"no".into()));
    assert_eq!(last["tracks"][1]["stands"], serde_json::json!(["faded"]));
    let printed = state_text::of_sheet(&all, 80);
    assert!(printed.contains("WHAT IS ON"), "{printed}");
    assert!(printed.lines().all(|line| line.chars().count() <= 80), "{printed}");
}

#[test]
fn under_open_lengths_the_state_says_what_may_be_on() {
    let mut written = act(r#"cues: [
        Cue(crew: Light, number: 1, at: End("gulls"), trigger: Called, does: "a", count: 0, dark: true),
        Cue(crew: Light, number: 2, at: Start("bow"), trigger: Called, does: "b", count: 1),
        Cue(crew: Deck, number: 1, at: Shift(End("gulls"), 3), trigger: Called, does: "c"),
    ],"#);
    written.score = written.score.replace(
        "        Pause(name: \"bow\"",
        "        Pause(name: \"applause\", lasts: Between(\"0:01\", \"0:09\")),\n        Pause(name: \"bow\"",
    );
    let opened = written.open();
    let act = opened.act.as_ref().unwrap();
    assert_eq!(act.errors, 0, "{:?}", opened.diagnostics);
    let all = sheet(&opened);
    let deck = all.all_lines().find(|line| line.label == "DECK 1").unwrap();
    let on = deck.on.as_ref().unwrap();
    assert_eq!(on.words()[..2], ["look: b, or a", "may be DARK"]);
    // Where the first may not have gone either, it may be none.
    written.after = written.after.replace(
        "End(\"gulls\"), trigger: Called, does: \"a\"",
        "Start(\"bow\"), trigger: Called, does: \"a\"",
    );
    let opened = written.open();
    let all = sheet(&opened);
    let deck = all.all_lines().find(|line| line.label == "DECK 1").unwrap();
    let on = deck.on.as_ref().unwrap();
    assert_eq!(on.words()[..2], ["look: b, or a, or none yet", "may be DARK"]);
}

#[test]
fn in_the_encore_a_track_of_the_act_may_still_play() {
    let of = |length: &str| {
        let written = act(&format!(
            r#"tracks: {{
        "day": Track(length: "{length}", starts: At("0:00")),
        "short": Track(length: "0:09", starts: At("0:00")),
    }},
    encore: Encore(
        score: [Pause(name: "back", lasts: For("0:05")), Pause(name: "off", lasts: For("0:05"))],
        tracks: {{ "last": Track(length: "0:07", starts: Start("off")) }},
        cues: [Cue(crew: Deck, number: 9, at: Start("off"), trigger: Called, does: "c")],
    ),"#
        ));
        let opened = written.open();
        assert_eq!(opened.act.as_ref().unwrap().errors, 0, "{:?}", opened.diagnostics);
        let all = sheet(&opened);
        let deck = all.all_lines().find(|line| line.label == "DECK 9").unwrap();
        deck.on.as_ref().unwrap().words()
    };
    // The act lasts a little over three minutes; nobody knows how long the applause does.
    let (short, last) = ("track \"short\" ended", "track \"last\" playing");
    assert_eq!(of("5:00"), ["track \"day\" playing or ended", short, last]);
    assert_eq!(of("1:00"), ["track \"day\" ended", short, last]);
}

/// The routine handed out as issue 1, then these cues under another number.
fn after_issue(then: &str, number: u32) -> Opened {
    let first = act(&format!("issue: 1, {CUES}")).text();
    let opened = open_issued(&first, None);
    let finished = opened.finished().unwrap();
    let Frozen::Added(issued) = freeze(&finished.routine, &papers(finished)) else { panic!() };
    let then = act(&format!("issue: {number}, {then}")).text();
    open_issued(&then, Some(&record(&issued)))
}

#[test]
fn a_cut_cue_stands_in_its_place_and_a_crew_without_cues_is_told_so() {
    let fly = CUES.find("        Cue(crew: Fly").unwrap();
    let light = CUES.find("        Cue(crew: Light, number: 10").unwrap();
    let without = format!("{}{}", &CUES[..fly], &CUES[light..]);
    let opened = after_issue(&without, 2);
    let all = sheet(&opened);
    assert_eq!(
        in_short(&all, false)[2..6],
        ["LX 5 [LX 5]", "cut moon in", "cut crate on", "= gulls"]
    );
    let page = cues_page::of_sheet(&all);
    // Number, crew and words are struck out; the mark is not.
    let cut = page
        .split("<g ")
        .find(|row| row.contains("was 0:32.0, CALLED 0:32.0 on the show clock: moon in"));
    let cut = cut.expect("its row");
    let struck = |text: &str| text.matches("stroke-width:0.6\"").count();
    assert_eq!((struck(cut), cut.contains("CUT")), (3, true), "{cut}");
    assert_eq!(struck(&page), 6, "{page}");
    assert!(all.crews().contains(&Crew::Fly));
    let fly = cues_text::of_sheet(&all.of_crew(Crew::Fly), 80);
    assert!(
        fly.contains("Every cue of FLY was cut since issue 1: FLY has nothing to do now."),
        "{fly}"
    );
    assert!(!cues_text::of_sheet(&all.of_crew(Crew::House), 80).contains("was cut"));
}

#[test]
fn changes_that_were_not_handed_out_are_marked_on_every_sheet() {
    let moved = CUES.replace("At(\"0:10\")", "At(\"0:12\")");
    let document = |opened: &Opened| -> serde_json::Value {
        serde_json::from_str(&cues_json::of_sheet(&sheet(opened))).unwrap()
    };
    for (cues, number, unissued) in [(CUES, 1, false), (&moved, 1, true), (&moved, 2, false)] {
        let opened = after_issue(cues, number);
        let act = opened.finished().unwrap();
        let colours = opened.colours.as_ref().unwrap();
        let times = throwbook::export::timing_text::text(act, 80);
        let colours = throwbook::export::colours_text::text(act, colours, 80);
        let printed = cues_text::of_sheet(&sheet(&opened), 80);
        let strip = throwbook::strip::strip(act);
        let page = cues_page::of_sheet(&sheet(&opened));
        for text in [&times, &colours, &printed, &page, &strip, &state_text::text(act, 80)] {
            assert_eq!(text.contains("UNISSUED CHANGES"), unissued, "{number}: {text}");
        }
        assert!(!unissued || !printed.contains("SINCE ISSUE"), "{printed}");
        assert_eq!(document(&opened)["unissued_changes"], unissued);
        assert_eq!(cues_csv::of_sheet(&sheet(&opened)).starts_with("unissued,"), unissued);
    }
    // A draft cannot tell.
    let draft = after_issue(&moved.replace("Fly(1)", "Fly(7)"), 1);
    assert!(document(&draft)["unissued_changes"].is_null());
}

#[test]
fn a_cue_without_a_number_stays_itself_when_its_words_change() {
    let cues = r#"cues: [
        Cue(crew: House, at: At("0:10"), trigger: Called, does: "to half"),
        Cue(crew: House, at: At("0:20"), trigger: Called, does: "out"),
    ],"#;
    let first = act(&format!("issue: 1, {cues}")).text();
    let opened = open_issued(&first, None);
    let finished = opened.finished().unwrap();
    let Frozen::Added(issued) = freeze(&finished.routine, &papers(finished)) else { panic!() };
    let then = first.replace("issue: 1", "issue: 2").replace("\"to half\"", "\"to a third\"");
    let opened = open_issued(&then, Some(&record(&issued)));
    assert_eq!(codes(&opened), Vec::<&str>::new());
    let all = sheet(&opened);
    assert!(all.cut.is_empty());
    let told: Vec<_> = all.all_lines().map(|line| line.told.clone()).collect();
    let said = vec!["does \"to half\", now \"to a third\"".to_owned()];
    assert_eq!(told, [throwbook::issue::Told::Changed(said), throwbook::issue::Told::Same]);
}

#[test]
fn a_record_from_before_names_were_quoted_tells_no_changes() {
    let first = act(&format!("issue: 1, {CUES}")).text();
    let opened = open_issued(&first, None);
    let finished = opened.finished().unwrap();
    let Frozen::Added(issued) = freeze(&finished.routine, &papers(finished)) else { panic!() };
    let text = record(&issued);
    let older = text.replace("\\\"", "");
    assert_ne!(text, older);
    let opened = open_issued(&first, Some(&older));
    assert_eq!((codes(&opened), &opened.in_record), (vec![], &vec![]));
}

#[test]
fn a_held_track_is_told_as_held_until_it_goes_on() {
    let opened = act(r#"music: Track(file: "a.wav", length: "2:00", starts: At("0:00"), holds: {
        "pose": Hold(at: "0:20", lasts: Between("0:10", "0:30"), resumes: See("arms down"), numbers: [30, 35]),
    }),
    cues: [
        Cue(crew: Sound, number: 1, at: At("0:00"), trigger: Called, does: "play"),
        Cue(crew: Deck, number: 1, at: At("0:25"), trigger: Called, does: "a"),
        Cue(crew: Deck, number: 2, at: At("0:40"), trigger: Called, does: "b"),
        Cue(crew: Deck, number: 3, at: At("0:55"), trigger: Called, does: "c"),
    ],"#)
    .open();
    let all = sheet(&opened);
    let stands = |label: &str| {
        let line = all.all_lines().find(|line| line.label == label).unwrap();
        line.on.as_ref().unwrap().words().last().unwrap().clone()
    };
    assert_eq!(stands("SND 1"), "track playing");
    assert_eq!(stands("SND 30"), "track held");
    assert_eq!(stands("DECK 1"), "track held");
    assert_eq!(stands("DECK 2"), "track playing or held");
    assert_eq!(stands("SND 35"), "track playing");
    assert_eq!(stands("DECK 3"), "track playing");
}

#[test]
fn on_the_sheet_of_one_crew_a_cue_stands_at_its_own_time_without_the_one_it_goes_with() {
    let opened = act(CUES).open();
    let all = sheet(&opened);
    let deck = in_short(&all.of_crew(Crew::Sound), false);
    let at = |row: &str| deck.iter().position(|one| one.contains(row)).unwrap();
    assert!(at("= gulls") < at("SND 1"), "{deck:?}");
    let written = act(r#"cues: [
        Cue(crew: Spot, number: 1, at: At("0:10"), trigger: Called, does: "up", spot: Up),
        Cue(crew: Light, number: 10, at: LastCatch, trigger: See("hands"), does: "black", dark: true),
        Cue(crew: Spot, number: 2, trigger: With(Light(10)), does: "out", spot: Out),
        Cue(crew: Spot, number: 3, trigger: With(Light(10)), does: "turn off"),
    ],"#);
    let opened = written.open();
    let spot = in_short(&sheet(&opened).of_crew(Crew::Spot), false);
    let at = |row: &str| spot.iter().position(|one| one.starts_with(row)).unwrap();
    assert!(at("FS 1 ") < at("= gulls") && at("= gulls") < at("FS 2 "), "{spot:?}");
    // Two that go on one GO stay in one row.
    assert!(!spot.iter().any(|row| row.starts_with("FS 3 ")), "{spot:?}");
}
