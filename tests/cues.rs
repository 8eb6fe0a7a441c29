//! Cues through the whole library: several on one GO, crews' defaults, drops, the encore's own
//! clock, and the moments around the act.
#![allow(missing_docs)]

mod written;

use std::time::Instant;

use throwbook::export::{
    cues_csv, cues_json, cues_page, cues_text, state_text, timing_json, timing_text,
};
use throwbook::routine::Crew;
use throwbook::sheet::cues::{CueSheet, compose};
use throwbook::sheet::stamp::Stamp;
use throwbook::{Opened, open};
use written::{Written, codes, score};

const SCORE: &str = r#"
        Pause(name: "walk on", lasts: For("0:40")),
        Juggle(name: "tide", set: "3", pattern: "3", lasts: Beats(300)),
        Pause(name: "bow", lasts: For("0:05")),"#;

fn act(after: &str) -> Written {
    Written { after: after.to_owned(), ..score(SCORE) }
}

/// An act that opens without a word.
fn clean(after: &str) -> Opened {
    let opened = act(after).open();
    assert_eq!(codes(&opened), Vec::<&str>::new(), "{:?}", opened.diagnostics);
    opened
}

fn sheet(opened: &Opened, crew: Option<Crew>) -> CueSheet {
    compose(opened.finished().unwrap(), crew)
}

/// A time that is certain.
fn seconds(stamp: &Stamp) -> f64 {
    stamp.time.certain().unwrap().to_f64()
}

fn text(opened: &Opened, crew: Option<Crew>) -> String {
    cues_text::text(opened.finished().unwrap(), crew, 80)
}

fn json(opened: &Opened) -> serde_json::Value {
    serde_json::from_str(&cues_json::json(opened.finished().unwrap(), None)).unwrap()
}

#[test]
fn a_follow_counts_from_go_or_from_completion_as_it_says() {
    // Worked by hand: GO at 1:30.0 with a count of 5; two seconds after GO and after completion.
    let mut written = act(r#"cues: [
        Cue(crew: Light, number: 10, at: At("1:30"), trigger: Called, does: "cross fade", count: 5),
        Cue(crew: Light, number: 15, trigger: Follow(10, Complete, 2.0), does: "dim", count: 1),
        Cue(crew: Sound, number: 1, trigger: Follow(Light(10), Go, 2.0), does: "bell"),
        Cue(crew: Sound, number: 2, trigger: Follow(Light(15), Complete, 0.5), does: "surf"),
    ],"#);
    written.score = written.score.replace("For(\"0:05\")", "For(\"0:20\")");
    let opened = written.open();
    assert_eq!(codes(&opened), Vec::<&str>::new());
    let cues = json(&opened);
    let go: Vec<f64> = (0..4).map(|cue| cues["cues"][cue]["go_s"].as_f64().unwrap()).collect();
    assert_eq!(go, [90.0, 92.0, 97.0, 98.5]);
    let sheet = sheet(&opened, None);
    let words: Vec<String> = sheet.act.lines.iter().map(|line| line.when.plain()).collect();
    assert_eq!(words[1], "2.0 s after LX 10 GO");
    assert_eq!(words[2], "2.0 s after LX 10 is complete");
}

#[test]
fn follows_that_go_round_are_an_error_at_the_follow() {
    for trigger in
        ["Follow(10, Go, 1.0)", "Follow(10, Complete, 1.0)", "With(10)", "With(Light(10))"]
    {
        let after = format!(
            "cues: [Cue(crew: Light, number: 10, trigger: {trigger}, does: \"dim\", count: 1)],"
        );
        let written = act(&after);
        let text = written.text();
        let opened = open(&text);
        assert_eq!(codes(&opened), ["follow-of-nothing"], "{trigger}");
        let at = &opened.diagnostics[0].at;
        assert_eq!(&text[at.start..at.end], trigger);
        assert!(opened.diagnostics[0].message.contains("follows itself"), "{trigger}");
    }
}

#[test]
fn several_cues_on_one_go_are_one_go_of_several_lines() {
    let opened = clean(
        r#"crews: { Light: Crew(count: 3), Sound: Crew(count: 1.5, standby: 8) },
    cues: [
        Cue(crew: House, number: 1, trigger: With(Light(20)), does: "out", count: 4),
        Cue(crew: Light, number: 20, at: Start("walk on"), trigger: See("a hand on the rail"), does: "warm"),
        Cue(crew: Sound, number: 5, trigger: With(Light(20)), does: "surf"),
        Cue(crew: Light, number: 30, at: LastCatch("tide"), trigger: Called, does: "full", count: 1),
        Cue(crew: Spot, number: 1, trigger: With(Light(30)), does: "out", spot: Out),
    ],"#,
    );
    let all = sheet(&opened, None);
    let lines: Vec<_> = all
        .act
        .lines
        .iter()
        .map(|line| {
            (line.label.as_str(), line.trigger.word(), line.when.plain(), seconds(&line.go))
        })
        .collect();
    let with = "with LX 20: a hand on the rail".to_owned();
    assert_eq!(
        lines[..3],
        [
            ("LX 20", "see", "a hand on the rail".to_owned(), -40.0),
            ("HOUSE 1", "see", with.clone(), -40.0),
            ("SND 5", "see", with, -40.0),
        ]
    );
    let counts: Vec<_> =
        all.act.lines.iter().map(|line| line.count.as_ref().map(|count| count.to_f64())).collect();
    assert_eq!(counts, [Some(3.0), Some(4.0), Some(1.5), Some(1.0), None]);
    assert_eq!(seconds(all.act.lines[2].standby.as_ref().unwrap()), -48.0);
    assert_eq!(all.act.lines[2].on_drop.plain(), "goes with LX 20");
    let printed = text(&opened, None);
    assert_eq!(printed.matches("same GO").count(), 3, "{printed}");
    assert!(printed.contains("SEE with LX 20 "), "{printed}");
    // On a sheet of its own a crew still knows when and on what.
    let sound = text(&opened, Some(Crew::Sound));
    assert!(sound.contains("SND 5     -0:40.0    SEE with LX 20: a"), "{sound}");
    assert!(!sound.contains("same GO"), "{sound}");
    assert_eq!(json(&opened)["cues"][2]["with"]["of"], "20");
}

#[test]
fn what_a_drop_does_to_a_cue_is_printed_as_written() {
    let opened = clean(
        r#"cues: [Cue(crew: Light, number: 5, at: At("0:10"), trigger: Called, does: "warm", count: 1,
        on_drop: "=wait for the next catch")],"#,
    );
    let printed = text(&opened, None);
    assert!(printed.contains("DROP: =wait for"), "{printed}");
    assert_eq!(json(&opened)["cues"][0]["on_drop"], "=wait for the next catch");
    let csv = cues_csv::csv(opened.finished().unwrap(), None);
    assert!(csv.contains(",'=wait for the next catch,"), "a spreadsheet runs it: {csv}");
    let empty = act(
        "cues: [Cue(crew: House, at: At(\"0:10\"), trigger: Called, does: \"out\", on_drop: \" \")],",
    );
    assert_eq!(codes(&empty.open()), ["empty-text"]);
}

const ENCORE: &str = r#"set_up: "2:00", strike: "1:00",
    encore: Encore(
        score: [
            Pause(name: "back on", lasts: For("0:05")),
            Juggle(name: "again", pattern: "3", set: "3", lasts: Beats(20)),
        ],
        cues: [
            Cue(crew: Light, number: 60, at: Start("back on"), trigger: See("steps out"), does: "warm", count: 1),
            Cue(crew: Light, number: 65, trigger: Follow(60, Complete, 2.5), does: "cold", count: 1),
            Cue(crew: Light, number: 70, at: LastCatch, trigger: See, does: "blackout", dark: true),
        ],
    ),
    cues: [Cue(crew: Light, number: 5, at: LastCatch, trigger: See, does: "full", count: 1),
        Cue(crew: Sound, number: 1, at: At("0:10"), trigger: Called, does: "surf")],
    limits: [
        Limit(rule: "contest", starts: FirstThrow, stops: LastCatch, at_most: "1:30.2", on_the_line: Inside),
        Limit(rule: "slot", starts: SetUpStart, stops: StrikeEnd, at_most: "5:26.4", on_the_line: Inside),
        Limit(rule: "slot without", starts: SetUpStart, stops: EncoreStart, at_most: "4:15.2", on_the_line: Inside),
        Limit(rule: "set-up", starts: SetUpStart, stops: SetUpEnd, at_most: "2:00", on_the_line: Inside),
        Limit(rule: "strike", starts: StrikeStart, stops: StrikeEnd, at_most: "1:00", on_the_line: Inside),
        Limit(rule: "encore", starts: EncoreStart, stops: EncoreEnd, at_most: "0:11.2", on_the_line: Inside),
    ],"#;

#[test]
fn an_encore_has_its_own_zero_and_counts_in_the_slot_but_not_in_the_contest() {
    // Worked by hand: 300 beats at 200 a minute are 90 s, the last catch 0.2 s later; 40 s of
    // walk on and 5 s of bow make an act of 2:15.2. The encore: 5 s, 6 s of throws, 0.2 s: 11.2 s.
    // Every limit is met exactly, so each verdict rests on every digit.
    let opened = clean(ENCORE);
    let act = opened.finished().unwrap();
    let times: serde_json::Value = serde_json::from_str(&timing_json::json(act)).unwrap();
    let counted: Vec<f64> = times["limits"]
        .as_array()
        .unwrap()
        .iter()
        .map(|limit| limit["counted_s"].as_f64().unwrap())
        .collect();
    assert_eq!(counted, [90.2, 326.4, 255.2, 120.0, 60.0, 11.2]);
    assert_eq!(times["encore"]["sections"][1]["starts_s"], 5.0);
    assert_eq!(times["encore"]["act"]["last_catch_s"], 11.2);
    let document = json(&opened);
    let cues = |part: &serde_json::Value| {
        let cues = part["cues"].as_array().unwrap();
        cues.iter()
            .map(|cue| (cue["number"].to_string(), cue["go_s"].as_f64().unwrap()))
            .collect::<Vec<_>>()
    };
    let named = |number: &str, go: f64| (format!("\"{number}\""), go);
    assert_eq!(cues(&document), [named("1", 10.0), named("5", 90.2)]);
    let encore = &document["encore"];
    assert_eq!(encore["zero"], "start of \"back on\"");
    assert_eq!(cues(encore), [named("60", 0.0), named("65", 3.5), named("70", 11.2)]);
    // The crews are found as the act left them.
    assert_eq!(encore["cues"][0]["state"].as_array().unwrap().len(), 2);
    let printed = text(&opened, None);
    assert!(printed.contains("ENCORE · only if it is called for."), "{printed}");
    assert!(printed.contains("DARK       The stage goes dark"), "the encore's cautions too");
    // A crew without cues in it has no encore on its sheet.
    assert!(!text(&opened, Some(Crew::Sound)).contains("ENCORE"));
    let state = state_text::text(act, 80);
    assert!(state.contains("encore 0:11.2  LX 70"), "{state}");
}

#[test]
fn moments_of_parts_that_are_not_written_never_come() {
    for (moment, field) in [
        ("SetUpStart", "set_up"),
        ("SetUpEnd", "set_up"),
        ("StrikeStart", "strike"),
        ("StrikeEnd", "strike"),
        ("EncoreStart", "encore"),
        ("EncoreEnd", "encore"),
    ] {
        let after =
            format!("cues: [Cue(crew: House, at: {moment}, trigger: Called, does: \"half\")],");
        let opened = act(&after).open();
        assert_eq!(codes(&opened), ["moment-never-comes"], "{moment}");
        let message = &opened.diagnostics[0].message;
        assert!(message.contains(&format!("the routine has no `{field}`")), "{message}");
    }
    let bracket =
        act("cues: [Cue(crew: House, at: SetUpEnd(\"x\"), trigger: Called, does: \"half\")],");
    assert_eq!(codes(&bracket.open()), ["wrong-shape"]);
    let near = act("cues: [Cue(crew: House, at: SetUpEndd, trigger: Called, does: \"half\")],");
    assert_eq!(codes(&near.open()), ["unknown-word"]);
}

#[test]
fn what_is_written_wrongly_is_told_at_its_place() {
    let code = |after: &str| codes(&act(after).open());
    let cue =
        |fields: &str| format!("cues: [Cue(crew: House, number: 1, {fields}, does: \"out\")],");
    assert_eq!(code(&cue("trigger: With(1, 2)")), ["wrong-shape"]);
    assert_eq!(code(&cue("trigger: With(Lihgt(2))")), ["unknown-word"]);
    assert_eq!(
        code(&cue("trigger: With(2), at: TrackEnd")),
        ["follow-of-nothing", "misplaced-field"]
    );
    assert_eq!(code("crews: { Light: Crew(count: -1) },"), ["out-of-range"]);
    assert_eq!(code("crews: { Light: Crew(numbers: Even) },"), ["unknown-word"]);
    assert_eq!(code("crews: { Lights: Crew(count: 1) },"), ["unknown-word"]);
    assert_eq!(code("crews: { Light: Crew(cuont: 1) },"), ["unknown-field"]);
    assert_eq!(code("crews: { Fly: Crew(count: 1), Fly: Crew(count: 2) },"), ["duplicate-field"]);
    assert_eq!(code("crews: [Light],"), ["wrong-shape"]);
    assert_eq!(code("set_up: \"-0:10\","), ["out-of-range"]);
    assert_eq!(code("strike: 60,"), ["wrong-shape"]);
    assert_eq!(code("encore: Encore(cues: []),"), ["missing-field"]);
    assert_eq!(code("encore: Encore(score: []),"), ["empty-list"]);
    assert_eq!(code("encore: [],"), ["wrong-shape"]);
    let throws = "encore: Encore(score: [Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(9))]),";
    let opened = act(throws).open();
    assert_eq!(codes(&opened), ["encore-without-pause"]);
    let edit = &opened.diagnostics[0].helps[0].edits[0];
    let mut text = act(throws).text();
    text.replace_range(edit.at.start..edit.at.end, &edit.insert);
    assert_eq!(codes(&open(&text)), Vec::<&str>::new());
    // A Light cue may leave its count out only where its crew has one.
    let light = "cues: [Cue(crew: Light, at: FirstThrow, trigger: Called, does: \"warm\")],";
    assert_eq!(code(light), ["missing-field"]);
    assert_eq!(code(&format!("crews: {{ Light: Crew(count: 0) }}, {light}")), Vec::<&str>::new());
}

#[test]
fn the_timing_sheet_says_what_is_around_the_act_and_what_burns() {
    let mut written = act("strike: \"1:00\",");
    written.score = r#"
        Pause(name: "light up", lasts: For("0:10"), place: "at the bucket", pick_up: [6.5, 7.25, 4]),
        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(100), place: "centre"),
        Pause(name: "turn", lasts: For("0:05")),
        Juggle(name: "more", pattern: "3", lasts: Beats(100)),"#
        .to_owned();
    let fire = r#"sets: {
        "fire": Set(kind: Torch, length: 0.6, burn: [90, 81.5, 85], colours: ["c1", "c1", "c1"]),"#;
    let text = written.text().replace("sets: {", fire);
    let opened = open(&text);
    assert_eq!(codes(&opened), Vec::<&str>::new(), "{:?}", opened.diagnostics);
    let act = opened.finished().unwrap();
    let sheet = timing_text::text(act, 80);
    assert!(sheet.lines().all(|line| line.chars().count() <= 80), "{sheet}");
    let block = |heading: &str| {
        let from = sheet.find(heading).unwrap_or_else(|| panic!("{heading}: {sheet}"));
        sheet[from..].split("\n\n").next().unwrap().to_owned()
    };
    let blocks = ["PLACES", "THE ACT ON", "THE SLOT", "BURN"].map(block).join("\n\n");
    insta::assert_snapshot!(blocks);
    // 10 s of lighting, 30.2 s of throws, 5 s of pause and 30.2 s of throws, to the end of the act:
    // 75.4 s, and 81.5 s were tested.
    let times: serde_json::Value = serde_json::from_str(&timing_json::json(act)).unwrap();
    assert_eq!(times["burns"][0]["in_use_s"], 75.4);
    assert_eq!(times["burns"][0]["left_s"], 6.1);
    assert_eq!(times["sections"][0]["pick_up_s"], serde_json::json!([6.5, 7.25, 4.0]));
    let short = open(&text.replace("81.5", "75.3"));
    assert_eq!(codes(&short), ["burn-too-short"]);
    assert!(short.finished().is_none(), "no sheet is made");
    assert_eq!(codes(&open(&text.replace("81.5", "75.4"))), Vec::<&str>::new());
}

#[test]
fn two_called_at_once_may_be_taken_on_one_go() {
    let with = |second: &str| {
        format!(
            "cues: [Cue(crew: Light, number: 5, at: At(\"0:10\"), trigger: Called, does: \"warm\", \
             count: 1), Cue(crew: Sound, number: 1, {second}, does: \"surf\")],"
        )
    };
    let opened = act(&with("at: At(\"0:10\"), trigger: Called")).open();
    assert_eq!(codes(&opened), ["called-too-close"]);
    let help = &opened.diagnostics[0].helps[0].text;
    assert!(help.contains("`trigger: With(Light(5))`"), "{help}");
    clean(&with("trigger: With(Light(5))"));
}

#[test]
fn pages_of_groups_stand_bys_and_an_encore_each_hold_what_belongs_together() {
    let mut cues = String::new();
    let mut encore = String::new();
    for number in 1..=40 {
        let at = 2 * number;
        let minutes = format!("{}:{:02}", at / 60, at % 60);
        cues += &format!(
            "Cue(crew: Light, number: {number}, at: At(\"{minutes}\"), trigger: Called, does: \"a word \
             or two that wrap about\", count: 1, standby: 11),\n\
             Cue(crew: Sound, number: {number}, trigger: With(Light({number})), does: \"surf\"),\n"
        );
        encore += &format!(
            "Cue(crew: Fly, number: {number}, at: Shift(Start(\"on\"), {at}), trigger: See(\"a\"), \
             does: \"moon\", standby: 1),\n"
        );
    }
    let opened = clean(&format!(
        "cues: [{cues}], encore: Encore(score: [Pause(name: \"on\", lasts: For(\"2:00\"))], \
         cues: [{encore}]),"
    ));
    let act = opened.finished().unwrap();
    let text = cues_page::page(act, None);
    let pages: Vec<&str> = text.split("<svg ").skip(1).collect();
    assert!(pages.len() > 4, "{}", pages.len());
    for page in &pages {
        // What goes with a cue is never parted from it.
        let same_go = page.find("same GO").unwrap_or(page.len());
        assert!(page.find("CALLED").is_none_or(|called| called < same_go), "{page}");
    }
    for number in 1..=40 {
        // LX, SND and FLY each have it.
        let set = text.split("<text ").filter(|set| set.contains("font-size:8.47px"));
        let of = set.filter(|set| set.contains(&format!(">\n{number}\n<"))).count();
        assert_eq!(of, 3, "{number}");
    }
    assert_eq!(text.matches("ENCORE ·").count(), 1);
}

#[test]
fn an_encore_has_no_bars_beside_an_act_that_has() {
    let music = "music: Track(file: \"surf.wav\", length: \"3:00\", starts: FirstThrow, bars: \
                 [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)]),";
    let opened = clean(&format!("{music} {ENCORE}"));
    let document = json(&opened);
    let surf = &document["cues"][0];
    // 10 s are 20 music beats: five bars.
    assert_eq!((&surf["go_bar"], &surf["go_music_beat"]), (&6.into(), &1.0.into()));
    for cue in document["encore"]["cues"].as_array().unwrap() {
        assert!(cue["go_bar"].is_null() && cue["track_s"].is_null(), "{cue}");
    }
    let act = opened.finished().unwrap();
    let csv = cues_csv::csv(act, None);
    assert!(csv.contains("\r\n0:10.0,10,6,1,"), "{csv}");
    assert!(csv.contains("\r\n0:03.5,3.5,,,"), "{csv}");
    let printed = text(&opened, None);
    let (act, encore) = printed.split_once("ENCORE").unwrap();
    assert!(act.contains("0:10.0     6, 1 ") && !encore.contains(" 2, 4 "), "{printed}");
}

#[test]
fn a_long_chain_of_completions_is_checked_soon() {
    let mut cues = vec![
        "Cue(crew: Light, number: 1, at: FirstThrow, trigger: Called, does: \"warm\", count: 0.1)"
            .to_owned(),
    ];
    cues.extend((1..2_000).map(|before| {
        let number = before + 1;
        format!(
            "Cue(crew: Light, number: {number}, trigger: Follow({before}, Complete, 0.01), does: \
             \"dim\", count: 0.01)"
        )
    }));
    let written = act(&format!("cues: [{}],", cues.join(",\n")));
    let started = Instant::now();
    assert_eq!(codes(&written.open()), Vec::<&str>::new());
    assert!(started.elapsed().as_secs() < 15, "{:?}", started.elapsed());
}

#[test]
fn one_cue_that_may_come_anywhere_leaves_the_others_their_neighbours() {
    let mut cues = vec![
        "Cue(crew: Deck, number: 1, at: At(\"1:40\"), trigger: Called, does: \"warm\")".to_owned(),
    ];
    cues.extend((0..200).map(|one| {
        let (number, after) = (one + 2, 2 * one);
        format!(
            "Cue(crew: Deck, number: {number}, at: Shift(Start(\"bow\"), {after}.0), trigger: Called, \
             does: \"dim\")"
        )
    }));
    let mut written = act(&format!("cues: [{}],", cues.join(",\n")));
    written.score = written.score.replace("For(\"0:05\")", "For(\"8:00\")").replace(
        "        Pause(name: \"bow\"",
        "Pause(name: \"applause\", lasts: Between(\"0:04\", \"0:14\")),\nPause(name: \"bow\"",
    );
    let opened = written.open();
    let calls = opened.act.as_ref().unwrap().calls.some(|_| true);
    assert!(!calls.is_certain());
    // Each with the next, and the one with the few that it may come between.
    let neighbours = calls.neighbours();
    assert!(neighbours.too_many_from.is_none());
    let pairs = neighbours.pairs.len();
    assert!((200..=220).contains(&pairs), "{pairs} pairs of {} calls", calls.calls().len());
}
