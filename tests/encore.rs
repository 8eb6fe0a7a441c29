//! The encore as a second act: music, moments, loading and colours of its own, on every sheet.
#![allow(missing_docs)]

#[path = "written/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod written;

use std::collections::BTreeSet;

use serde_json::Value;
use throwbook::act::Act;
use throwbook::export::{
    colours_json, colours_text, cues_csv, cues_json, cues_page, cues_text, fit_json, fit_text,
    timing_json, timing_text,
};
use throwbook::measure::limit_range::judged_range;
use throwbook::routine::Routine;
use throwbook::sheet::stamp::TimecodeClock;
use throwbook::sheet::{cues, fit, timing};
use throwbook::sound::{Found, Tracks};
use throwbook::time::{FrameRate, Timecode};
use throwbook::{Opened, open_to_fit, open_with, strip};
use unicode_width::UnicodeWidthStr;
use written::{Written, codes, score};

/// 20 throws at 200 a minute are 6 s, the last catch 0.2 s later: an act of 10.2 to 18.2 s.
const ACT: &str = "Juggle(name: \"tide\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
    Pause(name: \"applause\", lasts: Between(\"0:04\", \"0:12\")),";

/// Two bars from 5 s on are 4 s; at four throws a second the last one is caught 5/12 s after its
/// beat at 8.75 s. The bow ends at 19 1/6 s.
const ENCORE: &str = "
        score: [
            Pause(name: \"back\", lasts: For(\"0:05\")),
            Juggle(name: \"moon\", set: \"3\", pattern: \"3\", lasts: Bars(2),
                tempo: PerMusicBeat(throws: 2, accent: Throw)),
            Pause(name: \"bow\", lasts: For(\"0:10\")),
        ],
        tracks: { \"reprise\": Track(file: \"reprise.wav\", length: \"0:08\",
            starts: Start(\"moon\"), marks: { \"bell\": \"0:06\" },
            bars: [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)],
            holds: { \"freeze\": Hold(at: \"0:05\", lasts: Between(\"0:01\", \"0:03\"),
                resumes: See(\"arms down\"), numbers: [50, 55]) }) },";

const TRACKS: &str =
    "    tracks: { \"main\": Track(file: \"main.wav\", length: \"0:09\", starts: Start(\"tide\"),
        marks: { \"drum\": \"0:03\" }) },\n";

/// An act with a track and an encore of that, and what else stands in the encore and beside it.
fn act(encore: &str, cues: &str, after: &str) -> Written {
    Written {
        before: TRACKS.to_owned(),
        after: format!("    encore: Encore({encore}\n        cues: [{cues}],\n    ),\n{after}"),
        ..score(ACT)
    }
}

fn cue(number: u32, at: &str) -> String {
    format!(
        "Cue(crew: Light, number: {number}, at: {at}, trigger: See(\"it\"), does: \"up\", count: 1), "
    )
}

fn finished(opened: &Opened) -> &Act {
    opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics))
}

/// Opens a file of which nothing is said.
fn clean(written: &Written) -> Opened {
    let opened = written.open();
    assert_eq!(codes(&opened), [""; 0], "{:?}", opened.diagnostics);
    opened
}

fn read(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

/// The text of a file whose first three colours read well beside each other.
fn well_seen(written: &Written) -> String {
    let text = written.text().replace("#115060", "#ec6a5c").replace("#225060", "#0f8b8d");
    text.replace("#335060", "#f4f1e6")
}

/// Everything that is said of the one fault of a file.
fn fault(opened: &Opened, code: &str) -> String {
    assert_eq!(codes(opened), [code], "{:?}", opened.diagnostics);
    let one = opened.diagnostics.iter().find(|one| one.code == code).unwrap();
    let notes = one.notes.iter().map(|note| note.text.clone());
    let helps = one.helps.iter().map(|help| help.text.clone());
    [one.message.clone()].into_iter().chain(notes).chain(helps).collect::<Vec<_>>().join(" | ")
}

#[test]
fn an_encore_has_music_of_its_own_with_bars_marks_and_holds() {
    let cues: String =
        [(30, "Bar(2, 3)"), (60, "Mark(\"bell\")"), (65, "TrackEnd"), (20, "Start(\"back\")")]
            .map(|(number, at)| cue(number, at))
            .concat();
    let opened = clean(&act(ENCORE, &cues, &format!("cues: [{}],", cue(5, "Mark(\"drum\")"))));
    let act = finished(&opened);
    let clock = TimecodeClock::new(act, Timecode::read("10:00:00:00", FrameRate::F25).unwrap());
    let sheet = cues::compose(act, None).with_timecode(&clock);
    let document = read(&cues_json::of_sheet(&sheet));
    assert_eq!(document["cues"][0]["track"], "main");
    let of_encore = document["encore"]["cues"].as_array().unwrap();
    let figures: Vec<[Value; 6]> = of_encore
        .iter()
        .map(|cue| {
            ["number", "go_s", "go_latest_s", "go_bar", "track_s", "timecode"]
                .map(|field| cue[field].clone())
        })
        .collect();
    let row = |number: &str, go: f64, latest: Value, bar: Value, track: Value, code: Value| {
        [number.into(), go.into(), latest, bar, track, code]
    };
    let none = || Value::Null;
    // Worked by hand: the track starts at 5 s; bar 2, music beat 3 is 3 s into it, the hold 5 s,
    // the bell 6 s and the end 8 s, both behind 1 to 3 s of hold.
    let code = |text: &str| Value::from(text);
    assert_eq!(
        figures,
        [
            row("20", 0.0, none(), none(), none(), none()),
            row("30", 8.0, none(), 2.into(), 3.0.into(), code("10:00:03:00")),
            row("50", 10.0, none(), 3.into(), 5.0.into(), code("10:00:05:00")),
            row("55", 11.0, 13.0.into(), 3.into(), 5.0.into(), code("10:00:05:00")),
            row("60", 12.0, 14.0.into(), 4.into(), 6.0.into(), code("10:00:06:00")),
            row("65", 14.0, 16.0.into(), 5.into(), 8.0.into(), code("10:00:08:00")),
        ]
    );
    // The act's own have its track's.
    assert_eq!(document["cues"][0]["timecode"], "10:00:03:00");
    let text = cues_text::of_sheet(&sheet, 80);
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    let encore = text.split_once("ENCORE").unwrap().1;
    assert!(encore.contains("10:00:00:00 at start of track \"reprise\""), "{text}");
    assert!(encore.contains("10:00:03:00") && encore.contains(" 2, 3 "), "{text}");
    assert!(cues_page::of_sheet(&sheet).contains("\n2, 3\n"));
    let csv = cues_csv::of_sheet(&sheet);
    assert!(csv.contains("\r\n0:08.0,8,10:00:03:00,,2,3,,,"), "{csv}");

    let times = timing::compose(act).with_timecode(clock);
    let document = read(&timing_json::of_sheet(&times));
    let moon = &document["encore"]["sections"][1];
    assert_eq!((&moon["starts_s"], &moon["starts_bar"]), (&5.0.into(), &1.into()));
    assert_eq!(moon["timecode"], "10:00:00:00");
    let clocks = document["encore"]["clocks"].as_array().unwrap();
    let names: Vec<&str> = clocks.iter().map(|one| one["clock"].as_str().unwrap()).collect();
    assert_eq!(names, ["encore", "track: reprise", "first throw"]);
    let text = timing_text::of_sheet(&times, 80);
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    assert!(text.contains("THE ENCORE ON EACH CLOCK"), "{text}");
    assert!(text.contains("in the encore the hold freeze of reprise lasts 1.0–3.0 s"), "{text}");
}

#[test]
fn act_and_encore_may_each_have_one_track_without_a_name() {
    let named = "tracks: { \"reprise\": Track(";
    let encore = ENCORE.replace(named, "music: Track(").replace(") }) },", ") }),");
    assert_ne!(encore, ENCORE);
    for before in ["", "music: Track(file: \"a.wav\", length: \"0:09\", starts: FirstThrow),"] {
        let cues = cue(31, "Mark(\"bell\")") + &cue(30, "Bar(3)");
        let written = Written { before: before.to_owned(), ..act(&encore, &cues, "") };
        let opened = clean(&written);
        let document = read(&cues_json::json(finished(&opened), None));
        assert_eq!(document["encore"]["cues"][3]["go_s"], 12.0, "{before}");
        // An act without music has no bar beside its times; its encore has.
        let times = read(&timing_json::json(finished(&opened)));
        assert_eq!(times["sections"][0]["starts_bar"], Value::Null);
        assert_eq!(times["encore"]["sections"][1]["starts_bar"], 1);
    }
    // And an act with music has an encore without any.
    let silent = "score: [Pause(name: \"back\", lasts: For(\"0:05\"))],";
    let document = read(&timing_json::json(finished(&clean(&act(silent, "", "")))));
    assert_eq!(document["encore"]["sections"][0]["starts_bar"], Value::Null);
}

#[test]
fn names_of_the_other_part_are_not_known_and_that_is_said() {
    for (cues, after, code, words) in [
        ("Mark(\"drum\")", "", "unknown-mark", "The act has this mark, on a clock of its own"),
        ("TrackEnd(\"main\")", "", "unknown-track", "The encore has no track \"main\""),
        ("Start(\"tide\")", "", "unknown-section", "The encore has no section \"tide\""),
        ("Mark(\"bel\")", "", "unknown-mark", "Write \"bell\""),
        ("Start(\"back\")", "Start(\"moon\")", "unknown-section", "The encore has this section"),
        ("Start(\"back\")", "Mark(\"bell\")", "unknown-mark", "The encore has this mark"),
        ("Start(\"back\")", "HoldEnd(\"freeze\")", "unknown-hold", "The encore has this hold"),
        ("Start(\"back\")", "TrackStart(\"reprise\")", "unknown-track", "The encore has this"),
    ] {
        let beside = match after {
            "" => String::new(),
            at => format!("cues: [{}],", cue(5, at)),
        };
        let said = fault(&act(ENCORE, &cue(30, cues), &beside).open(), code);
        assert!(said.contains(words), "{cues} {after}: {said}");
    }
    let twice = ENCORE.replace("\"reprise\":", "\"main\":");
    let said = fault(&act(&twice, "", "").open(), "duplicate-name");
    assert!(said.contains("Two tracks are called \"main\""), "{said}");
    // A mark is its track's own: both parts may have one of a name.
    clean(&act(&ENCORE.replace("\"bell\"", "\"drum\""), &cue(30, "Mark(\"drum\")"), ""));
    let more = ENCORE.replace(
        "numbers: [50, 55]) }) },",
        "numbers: [50, 55]) }), \"last\": Track(file: \"b.wav\", length: \"0:02\", \
         starts: Shift(EncoreEnd, -2.0)) },",
    );
    assert_ne!(more, ENCORE);
    let said = fault(&act(&more, &cue(30, "TrackStart"), "").open(), "which-track");
    assert!(said.contains("The encore has several `tracks`"), "{said}");
    let both =
        format!("{ENCORE} music: Track(file: \"b.wav\", length: \"0:02\", starts: TrackEnd),");
    assert!(codes(&act(&both, "", "").open()).contains(&"misplaced-field"));
    // A track that could not be read is one fault, and not another for each moment of it.
    let lost = ENCORE.replace("\"0:08\"", "\"8\"");
    assert_eq!(codes(&act(&lost, &cue(30, "Bar(2)"), "").open()), ["bad-time"]);
}

#[test]
fn moments_around_the_act_are_told_on_the_clock_of_who_asks() {
    let cues: String = [
        (30, "EncoreStart"),
        (31, "Shift(EncoreEnd, -2.0)"),
        (32, "StrikeStart"),
        (33, "StrikeEnd"),
    ]
    .map(|(number, at)| cue(number, at))
    .concat();
    let of_act: String =
        [(5, "SetUpStart"), (6, "EncoreStart"), (7, "EncoreEnd"), (8, "StrikeEnd")]
            .map(|(number, at)| cue(number, at))
            .concat();
    let follow = "Cue(crew: House, trigger: Follow(Light(8), Go, 3.0), does: \"full\", count: 1)";
    let after = format!("set_up: \"1:00\", strike: \"0:30\", cues: [{of_act}{follow}],");
    // Nothing is said of cues behind the last section that hang on what comes there.
    let opened = clean(&act(ENCORE, &cues, &after));
    let document = read(&cues_json::json(finished(&opened), None));
    let ends = |part: &Value, number: &str| {
        let found = part["cues"].as_array().unwrap().iter().find(|cue| cue["number"] == number);
        let of = |field: &str| found.unwrap()[field].as_f64();
        (of("go_s").unwrap(), of("go_latest_s"))
    };
    let near = |(a, b): (f64, Option<f64>), (c, d): (f64, Option<f64>)| {
        let close = |a: f64, b: f64| (a - b).abs() < 1e-9;
        close(a, c) && b.is_some() == d.is_some() && close(b.unwrap_or(0.0), d.unwrap_or(0.0))
    };
    let encore = 19.0 + 1.0 / 6.0;
    for (part, number, expected) in [
        (&document["encore"], "30", (0.0, None)),
        (&document["encore"], "31", (encore - 2.0, None)),
        (&document["encore"], "32", (encore, None)),
        (&document["encore"], "33", (encore + 30.0, None)),
        (&document, "5", (-60.0, None)),
        (&document, "6", (10.2, Some(18.2))),
        (&document, "7", (10.2 + encore, Some(18.2 + encore))),
        (&document, "8", (40.2 + encore, Some(48.2 + encore))),
    ] {
        assert!(near(ends(part, number), expected), "{number}: {:?}", ends(part, number));
    }
    // The act has no encore behind the encore's strike, and its set-up is on another clock.
    let said = |at: &str, after: &str| {
        fault(&act(ENCORE, &cue(30, at), after).open(), "moment-never-comes")
    };
    let words = said("SetUpEnd", "set_up: \"1:00\",");
    assert!(words.contains("it belongs to the act") && words.contains("`EncoreStart`"), "{words}");
    assert!(said("StrikeEnd", "").contains("the routine has no `strike`"));
    // A time that is only typed is still suspicious there.
    let late = act(ENCORE, "", &format!("cues: [{}],", cue(5, "At(\"0:30\")")));
    assert_eq!(codes(&late.open()), ["cue-after-end"]);
    // What ends with the part that it would have to follow cannot be worked out.
    let circle = score(&ACT.replace("Between(\"0:04\", \"0:12\")", "Until(EncoreStart)"));
    let circle = Written { after: act(ENCORE, "", "").after, ..circle };
    assert_eq!(codes(&circle.open()), ["times-contradict"]);
}

/// An encore that is open itself: 3 to 8 s, 6.2 s of throws, 2 to 3 s.
const OPEN: &str = "
        score: [
            Pause(name: \"back\", lasts: Between(\"0:03\", \"0:08\")),
            Juggle(name: \"moon\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
            Pause(name: \"bow\", lasts: Between(\"0:02\", \"0:03\")),
        ],";

fn limit(stops: &str, at_most: &str) -> String {
    format!(
        "strike: \"0:30\", limits: [Limit(rule: \"slot\", starts: FirstThrow, stops: {stops}, \
         at_most: \"{at_most}\", on_the_line: Inside)],"
    )
}

/// From where to where a limit counts, in seconds.
fn counted(opened: &Opened) -> (f64, f64) {
    let act = finished(opened);
    let range = judged_range(act, &act.routine.limits[0]).unwrap().counted;
    (range.earliest().unwrap().to_f64(), range.latest().unwrap().to_f64())
}

#[test]
fn a_limit_to_the_end_of_the_encore_or_the_strike_counts_what_the_encore_leaves_open() {
    for (stops, more) in [("EncoreEnd", 0.0), ("StrikeStart", 0.0), ("StrikeEnd", 30.0)] {
        let opened = clean(&act(OPEN, "", &limit(stops, "2:00")));
        let (least, most) = counted(&opened);
        // The act takes 10.2 to 18.2 s, the encore 11.2 to 17.2 s.
        assert!((least - (21.4 + more)).abs() < 1e-9, "{stops}: {least}");
        assert!((most - (35.4 + more)).abs() < 1e-9, "{stops}: {most}");
        // Either end is that of the same act with its lengths fixed.
        let fixed = |shortest: bool| {
            let mut text = act(OPEN, "", &limit(stops, "2:00")).text();
            for (short, long) in [("0:04", "0:12"), ("0:03", "0:08"), ("0:02", "0:03")] {
                let lasts = if shortest { short } else { long };
                let between = format!("Between(\"{short}\", \"{long}\")");
                text = text.replace(&between, &format!("For(\"{lasts}\")"));
            }
            assert!(!text.contains("Between"));
            counted(&throwbook::open(&text))
        };
        assert_eq!((fixed(true).0, fixed(false).1), (least, most));
    }
    let open_head = timing_text::text(finished(&clean(&act(OPEN, "", ""))), 80);
    assert!(open_head.contains("in the encore the pause back lasts 3.0–8.0 s"), "{open_head}");
}

#[test]
fn what_is_said_of_open_lengths_of_the_encore_names_them() {
    // 21.4 to 35.4 s: 34 s is over only where the encore lasts long too.
    let said = fault(&act(OPEN, "", &limit("EncoreEnd", "0:34")).open(), "limit-over");
    assert!(said.contains("\"back\" at") && said.contains("\"applause\" at"), "{said}");
    // A section of the encore must not hang on an open length of the encore; the place is there.
    let hangs = OPEN.replace("lasts: Beats(20)", "lasts: Until(At(\"0:20\"))");
    let opened = act(&hangs, "", "").open();
    let said = fault(&opened, "range-moves-beats");
    assert!(said.contains("\"moon\" has would depend on how long \"back\" lasts"), "{said}");
    let text = act(&hangs, "", "").text();
    let place = opened.diagnostics[0].notes.iter().find_map(|note| note.at.clone()).unwrap();
    assert_eq!(&text[place.start..place.end], "Between(\"0:03\", \"0:08\")");
    // A cue of the encore that may come after its end says with which length.
    let late = act(OPEN, &cue(30, "At(\"0:12\")"), "").open();
    let said = late.diagnostics.iter().map(|one| format!("{one:?}")).collect::<String>();
    assert!(codes(&late).contains(&"cue-after-end") && said.contains("back"), "{said}");
}

const WISH: &str = "
        score: [
            Pause(name: \"back\", lasts: Between(\"0:03\", \"0:08\")),
            Juggle(name: \"moon\", set: \"3\", pattern: \"531\", lasts: Cycles(6), LOADING
                shows: { 2: [\"c1\"] }),
            Pause(name: \"swap\", lasts: For(\"0:04\"),
                regrip: Hands(right: [\"c2\", \"c3\"], left: [\"c1\"])),
            Juggle(name: \"sun\", pattern: \"3\", lasts: Beats(12)),
        ],";

#[test]
fn the_loading_found_for_an_encore_and_its_regrips_stand_on_the_sheets() {
    let opened =
        throwbook::open(&well_seen(&act(&WISH.replace("LOADING", "loading: Found,"), "", "")));
    assert_eq!(codes(&opened), [""; 0]);
    let (act, colours) = (finished(&opened), opened.colours.as_ref().unwrap());
    let document = read(&colours_json::json(act, colours));
    let encore = &document["encore"];
    assert_eq!((&document["possible"], &encore["possible"]), (&true.into(), &true.into()));
    assert_eq!(document["outcome"], "as_written");
    assert_eq!(encore["outcome"], "found");
    // In 531 the 3 is always thrown by the hand that does not begin: by hand, the left's one prop.
    let loading = &encore["loading"][0];
    assert_eq!((&loading["before"], &loading["came"]), (&"moon".into(), &"found".into()));
    assert_eq!(loading["left"], serde_json::json!(["c1"]));
    assert_eq!(encore["chosen"][0]["section"], "moon");
    assert_eq!(encore["asked"][0]["met"], true);
    assert_eq!(encore["gathers"][0]["regrips"][0]["pause"], "swap");
    assert_eq!(encore["encore"], Value::Null);
    assert!(document["appearance"]["sets"][1]["juggled"].as_bool().unwrap());
    // What stands in the act's document is the act's alone.
    assert_eq!(document["loading"].as_array().unwrap().len(), 1);

    let text = colours_text::text(act, colours, 80);
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    let of_encore = text.split_once("ENCORE ·").unwrap().1;
    for words in ["CHOSEN", "LOADING before moon", "found for you", "GATHER after sun"] {
        assert!(of_encore.contains(words), "{words}: {text}");
    }
    let text = timing_text::text(act, 80);
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    assert!(text.contains("LOADING IN THE ENCORE"), "{text}");
    let regrips = text.split_once("REGRIPS IN THE ENCORE").unwrap().1;
    assert!(
        regrips.contains("swap · regrip: ") && regrips.contains("then right: c2, c3"),
        "{text}"
    );
    let times = read(&timing_json::json(act));
    assert_eq!(times["encore"]["sections"][2]["regrip"]["left"], serde_json::json!(["c1"]));
}

#[test]
fn a_wish_that_an_encore_does_not_meet_says_why_and_what_would() {
    let written = act(&WISH.replace("LOADING", ""), &cue(30, "Start(\"sun\")"), "");
    let mut text = well_seen(&written);
    let opened = throwbook::open(&text);
    assert_eq!(codes(&opened), ["colour-not-shown"]);
    let wish = opened.diagnostics.iter().find(|one| one.code == "colour-not-shown").unwrap();
    assert!(!wish.helps.is_empty());
    let (act, colours) = (finished(&opened), opened.colours.as_ref().unwrap());
    let document = read(&colours_json::json(act, colours));
    let encore = &document["encore"];
    assert_eq!((&document["possible"], &encore["possible"]), (&false.into(), &false.into()));
    assert_eq!(document["unmet"], serde_json::json!([]));
    assert_eq!(encore["unmet"][0]["section"], "moon");
    assert!(encore["unmet"][0]["reason"].as_str().unwrap().contains("not c1"));
    // Two props change places: that costs no time and moves no cue, open as the encore is.
    let swap = &encore["repairs"][0];
    assert_eq!((&swap["adds_s"], &swap["cues_that_move"]), (&0.0.into(), &serde_json::json!([])));
    let sheet = colours_text::text(act, colours, 80);
    assert!(sheet.contains("In the encore not every colour request can be met"), "{sheet}");
    let (of_act, of_encore) = sheet.split_once("ENCORE ·").unwrap();
    assert!(!of_act.contains("FIXES") && of_encore.contains("FIXES"), "{sheet}");
    // What is offered mends it.
    let help = &wish.helps[0];
    let mut edits = help.edits.clone();
    edits.sort_by_key(|edit| std::cmp::Reverse(edit.at.start));
    for edit in edits {
        text.replace_range(edit.at.start..edit.at.end, &edit.insert);
    }
    assert_eq!(codes(&throwbook::open(&text)), [""; 0]);
}

#[test]
fn every_check_of_music_looks_at_the_encores() {
    let files = std::cell::RefCell::new(BTreeSet::new());
    let look = |routine: &Routine| {
        let mut tracks = Tracks::new();
        for (_, track) in routine.with_encore().flat_map(Routine::all_tracks) {
            files.borrow_mut().insert(track.file_name().unwrap().to_owned());
            tracks.note(track.file_name().unwrap(), Found::Missing);
        }
        tracks
    };
    let written = act(ENCORE, "", "");
    let opened = open_with(&written.text(), None, look);
    assert_eq!(codes(&opened), ["track-missing", "track-missing"]);
    assert_eq!(files.into_inner().len(), 2);
    // 20 throws at 200 a minute are 6 s.
    let early = "score: [Pause(name: \"back\", lasts: For(\"0:05\")),
            Juggle(name: \"moon\", set: \"3\", pattern: \"3\", lasts: Beats(20))],
        music: Track(file: \"a.wav\", length: \"0:05.5\", starts: Start(\"moon\")),";
    let said = fault(&act(early, "", "").open(), "music-ends-early");
    assert!(
        said.contains("at 0:10.5 (show clock)") && said.contains("clock reads 0:00.0"),
        "{said}"
    );
    let overlap = ENCORE.replace(
        "tracks: {",
        "tracks: { \"last\": Track(file: \"b.wav\", length: \"0:04\", starts: Start(\"back\")),
            \"more\": Track(file: \"c.wav\", length: \"0:04\", starts: Shift(EncoreStart, 2.0)),",
    );
    let overlap = overlap
        .replace("Bars(2),", "Beats(16),")
        .replace("tempo: PerMusicBeat(throws: 2, accent: Throw)", "tempo: PerMinute(240)");
    let opened = act(&overlap, "", "").open();
    assert_eq!(codes(&opened), ["tracks-overlap", "tracks-overlap"]);
    assert!(opened.diagnostics[0].message.contains("\"more\" starts at 0:02.0"));
}

#[test]
fn what_fits_in_an_encore_is_told_beside_the_act() {
    let bends = OPEN.replace("lasts: Beats(20)", "lasts: For(\"0:05\"), may_bend: 0.03");
    let opened = open_to_fit(&act(&bends, "", "").text(), None);
    let act = opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
    let sheet = fit::compose(act, None);
    let document = read(&fit_json::of_sheet(&sheet));
    assert_eq!(document["sections"], serde_json::json!([]));
    assert_eq!(document["encore"]["sections"][0]["section"], "moon");
    let text = fit_text::of_sheet(&sheet, 80);
    assert!(text.split_once("ENCORE ·").unwrap().1.contains("moon · 3"), "{text}");
}

#[test]
fn an_encore_is_drawn_on_sheets_of_its_own() {
    let opened = clean(&act(ENCORE, &cue(30, "EncoreStart"), ""));
    let whole = strip::strip(finished(&opened));
    let sheets = whole.matches("<title>page ").count();
    assert_eq!((sheets, whole.matches("Test · encore").count()), (2, 1), "{whole}");
    let (of_act, of_encore) = whole.split_once("translate(0 ").unwrap();
    assert!(of_act.contains(&format!("page 1 of {sheets}")), "{sheets}: {of_act}");
    assert!(of_encore.contains(&format!("page {sheets} of {sheets}")));
    assert!(of_encore.contains("moon") && of_encore.contains("reprise"));
    assert!(of_encore.contains("clock: its own; zero = start of \"back"));
    let alone =
        strip::strip(finished(&clean(&Written { before: TRACKS.to_owned(), ..score(ACT) })));
    assert!(!alone.contains("translate(0 ") && !alone.contains("encore"));
}

#[test]
fn a_moment_of_the_encore_is_no_place_to_begin_a_file_to_rehearse_by() {
    let opened = clean(&act(ENCORE, "", ""));
    let routine = &finished(&opened).routine;
    let said = throwbook::read::read_moment(routine, "Start(\"moon\")").unwrap_err();
    assert_eq!(said[0].code, "unknown-section");
    assert!(said[0].helps[0].text.contains("The encore has this section"), "{said:?}");
    assert!(throwbook::read::read_moment(routine, "EncoreStart").is_ok());
}
