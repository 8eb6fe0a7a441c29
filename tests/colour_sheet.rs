//! The colour sheet against labels followed by hand: what the JSON says each throw shows is what a
//! follower of its loadings sees, and the program says so with its exit status.
#![allow(missing_docs)]

#[path = "colour_sheet/follow.rs"]
mod follow;
#[path = "written/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod written;

use std::fs;
use std::path::Path;
use std::process::Command;

use proptest::prelude::*;
use serde_json::{Value, json};
use throwbook::Opened;
use throwbook::export::{colours_json, colours_text, timing_text};
use unicode_width::UnicodeWidthStr;

use written::score;

const FOUR_LAMPS: &str = include_str!("../routines/four-lamps.ron");

fn sheet(opened: &Opened) -> Value {
    let (Some(act), Some(colours)) = (opened.finished(), &opened.colours) else {
        panic!("{:?}", opened.diagnostics)
    };
    serde_json::from_str(&colours_json::json(act, colours)).unwrap()
}

fn text(opened: &Opened, width: u16) -> String {
    let act = opened.finished().unwrap();
    colours_text::text(act, opened.colours.as_ref().unwrap(), width)
}

fn strings(list: &Value) -> Vec<String> {
    list.as_array().unwrap().iter().map(|one| one.as_str().unwrap().to_owned()).collect()
}

/// Follows a run of one section from the loading that its sheet tells.
fn followed(sheet: &Value, pattern: &str, beats: u32, lead_left: bool) -> Value {
    let loading = &sheet["loading"][0];
    let begins = u32::try_from(sheet["sections"][0]["begins"].as_u64().unwrap()).unwrap();
    let hands = [strings(&loading["left"]), strings(&loading["right"])];
    let mut follower = follow::Follower::new(hands, lead_left);
    json!(follower.section(pattern, begins, beats))
}

#[test]
fn every_cycle_shows_what_the_loading_brings() {
    for (set, pattern, beats) in [
        (3, "3", 7),
        (3, "531", 12),
        (3, "423", 8),
        (3, "55500", 17),
        (3, "5304252612", 33),
        (3, "(4,2x)*", 12),
        (3, "(4,2x)(2x,4)", 10),
        (3, "[23]1", 9),
        (4, "633", 12),
        (4, "(6x,2x)*", 12),
        (4, "(4,4)", 6),
        (4, "([42],2)*", 12),
        (4, "[43]23", 13),
        (5, "[54]24", 11),
        (5, "[45]24", 12),
        (5, "66661", 23),
        (5, "([44x],2)*", 10),
        (5, "(6,4x)*", 8),
    ] {
        for lead in ["Right", "Left"] {
            let mut written = score(&format!(
                r#"Juggle(name: "one", set: "{set}", pattern: "{pattern}", lasts: Beats({beats}))"#
            ));
            written.lead = lead;
            let sheet = sheet(&written.open());
            let seen = followed(&sheet, pattern, beats, lead == "Left");
            assert_eq!(sheet["sections"][0]["cycles"], seen, "{pattern} led by {lead}");
            assert_eq!(
                (&sheet["possible"], &sheet["outcome"]),
                (&json!(true), &json!("as_written"))
            );
        }
    }
}

/// Patterns of 3, 4 and 5 props whose hands never wait.
const PATTERNS: [(usize, &str); 16] = [
    (3, "3"),
    (3, "51"),
    (3, "423"),
    (3, "[23]1"),
    (3, "7770000"),
    (3, "(4x,2x)"),
    (3, "(4,2x)*"),
    (4, "534"),
    (4, "6424"),
    (4, "[43]23"),
    (4, "(6,2)*"),
    (5, "744"),
    (5, "[54]24"),
    (5, "726"),
    (5, "(6x,4)*"),
    (5, "([4x4],2)*"),
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, ..Default::default() })]

    #[test]
    fn whatever_the_loading_every_throw_shows_what_a_follower_sees(
        (props, pattern) in prop::sample::select(&PATTERNS[..]),
        beats in 1_u32..45,
        lead_left: bool,
        order in Just((0..9).collect::<Vec<usize>>()).prop_shuffle(),
    ) {
        let beats = if pattern.contains('(') { beats.next_multiple_of(2) } else { beats };
        let one = |loading: &str| {
            let mut written = score(&format!(
                r#"Juggle(name: "one", set: "{props}", pattern: "{pattern}", lasts: Beats({beats})
                    {loading})"#
            ));
            written.lead = if lead_left { "Left" } else { "Right" };
            sheet(&written.open())
        };
        let natural = one("");
        let right = natural["loading"][0]["right"].as_array().unwrap().len();
        let colours: Vec<String> =
            order.iter().filter(|&&n| n < props).map(|n| format!("c{}", n + 1)).collect();
        let (right, left) = colours.split_at(right);
        let told = one(&format!(", loading: Hands(right: {right:?}, left: {left:?})"));
        prop_assert_eq!(&told["loading"][0]["right"], &json!(right));
        let mut follower = follow::Follower::new([left.to_vec(), right.to_vec()], lead_left);
        prop_assert_eq!(&told["sections"][0]["cycles"], &json!(follower.section(pattern, 1, beats)));
    }
}

#[test]
fn a_written_loading_and_a_transition_carry_the_colours_on() {
    let sheet = sheet(
        &score(
            r#"Juggle(name: "tide", set: "3", pattern: "3", lasts: Beats(5),
                loading: Hands(right: ["c3", "c1"], left: ["c2"])),
            Juggle(name: "wake", pattern: "51", lasts: Beats(7), transition: Auto),
            Juggle(name: "ebb", pattern: "3", lasts: Beats(4), transition: Auto)"#,
        )
        .open(),
    );
    assert_eq!(
        sheet["loading"],
        json!([{"before": "tide", "right": ["c3", "c1"], "left": ["c2"], "came": "written"}])
    );
    let hands = [vec!["c2".to_owned()], vec!["c3".to_owned(), "c1".to_owned()]];
    let mut follower = follow::Follower::new(hands, false);
    for (place, (pattern, beats)) in [("3", 5), ("51", 7), ("3", 4)].into_iter().enumerate() {
        let section = &sheet["sections"][place];
        if let Some(throws) = section["transition"]["throws"].as_str() {
            assert!(!throws.is_empty());
            let made = follower.transition(throws);
            assert_eq!(section["transition"]["colours"], json!(made));
        }
        assert_eq!(section["cycles"], json!(follower.section(pattern, 1, beats)), "{place}");
    }
}

#[test]
fn a_pattern_begun_at_another_throw_keeps_its_numbers() {
    // Throw 1 of 531 is a 5, thrown in turn by two props: begun there it is c1's, at throw 2 not.
    let opened = score(
        r#"Juggle(name: "beam", set: "3", pattern: "531", lasts: Beats(7), free: [StartingThrow],
            loading: Hands(right: ["c1", "c2"], left: ["c3"]), shows: { 2: ["c1"] })"#,
    )
    .open();
    let sheet = sheet(&opened);
    assert_eq!((&sheet["possible"], &sheet["outcome"]), (&json!(true), &json!("found")));
    let section = &sheet["sections"][0];
    assert_eq!((&section["begins"], &section["pattern"]), (&json!(2), &json!("315")));
    assert_eq!(section["cycles"], followed(&sheet, "531", 7, false));
    // Cut after its first throw, which is throw 2: throw 1 is not made, throw 3 is left out.
    assert_eq!(section["cycles"][2], json!([null, "c1"]));
    assert_eq!(
        sheet["chosen"],
        json!([{"section": "beam", "what": "starting_throw", "words": "begins with throw 2"}])
    );
    let text = text(&opened, 80);
    assert!(
        text.contains("beam · 315 · 2 cycles and a part of one · begins with throw 2"),
        "{text}"
    );
}

#[test]
fn a_reordered_multiplex_keeps_its_numbers_with_its_values() {
    let opened = score(
        r#"Juggle(name: "nets", set: "5", pattern: "[54]24", lasts: Cycles(4), free: [MultiplexOrder],
            loading: Found, shows: { 2: ["c5", "c1"] })"#,
    )
    .open();
    let sheet = sheet(&opened);
    let section = &sheet["sections"][0];
    assert_eq!(section["pattern"], "[45]24");
    assert_eq!(sheet["loading"][0]["came"], "found");
    let right = strings(&sheet["loading"][0]["right"]);
    // The 4, number 2, stands first now: it takes the first of the right hand, the 5 the second.
    assert_eq!(section["cycles"][0][1].as_str(), Some(right[0].as_str()));
    assert_eq!(section["cycles"][0][0].as_str(), Some(right[1].as_str()));
    let cycles = section["cycles"].as_array().unwrap();
    for (cycle, colour) in cycles.iter().zip(["c5", "c1", "c5", "c1"]) {
        assert_eq!(cycle[1], colour);
    }
    assert!(text(&opened, 80).contains("is thrown `[45]24` instead of `[54]24`"));
}

#[test]
fn every_cold_start_and_every_gather_is_told() {
    let opened = score(
        r#"Juggle(name: "one", set: "3", pattern: "3", lasts: Beats(7)),
        Pause(name: "p", lasts: For("0:05")),
        Juggle(name: "two", pattern: "441", lasts: Cycles(2)),
        Pause(name: "q", lasts: For("0:05")),
        Juggle(name: "three", set: "5", pattern: "5", lasts: Beats(10),
            loading: Hands(right: ["c5", "c4", "c3"], left: ["c2", "c1"]))"#,
    )
    .open();
    let sheet = sheet(&opened);
    let loadings = sheet["loading"].as_array().unwrap();
    let gathers = sheet["gathers"].as_array().unwrap();
    let came: Vec<&str> = loadings.iter().map(|one| one["came"].as_str().unwrap()).collect();
    assert_eq!(came, ["natural", "kept", "written"]);
    assert_eq!(
        (&gathers[0]["right"], &gathers[0]["left"]),
        (&loadings[1]["right"], &loadings[1]["left"])
    );
    assert_eq!(gathers[0]["next"], "two");
    assert_eq!((&gathers[2]["after"], &gathers[2]["next"]), (&json!("three"), &Value::Null));
    for gather in gathers {
        let mut all = strings(&gather["right"]);
        all.extend(strings(&gather["left"]));
        all.sort();
        let props = all.len();
        assert_eq!(all, (1..=props).map(|n| format!("c{n}")).collect::<Vec<_>>());
    }
    let text = text(&opened, 80);
    let unbroken = text.replace('\n', " ");
    assert!(unbroken.contains("\"two\" goes on with these as they lie."), "{text}");
    assert!(text.contains("\"three\" is loaded again."), "{text}");
    let act = opened.finished().unwrap();
    let timing = timing_text::text(act, 80);
    for line in [
        "before one    right hand: c1 first, then c3; left hand: c2",
        "before three  right hand: c5 first, then c4, c3; left hand: c2 first, then c1",
    ] {
        assert!(timing.contains(line), "{timing}");
    }
    assert!(!timing.contains("before two"), "what is kept is told once:\n{timing}");
}

#[test]
fn a_regrip_and_other_faces_are_told_as_they_are_seen() {
    let text_of = |pause: &str| {
        format!(
            r##"Routine(title: "Rings", tempo: PerMinute(200), zero: FirstThrow,
            colours: {{ "ivory": "#f5f0dc", "ink": "#2b3a67", "moss": "#6a8d3f" }},
            sets: {{ "three": Set(kind: Ring, length: 0.32,
                colours: ["ivory", "ivory", "ink"], backs: ["ink", "moss", "moss"]) }},
            score: [
                Juggle(name: "a", set: "three", pattern: "3", lasts: Beats(6)),
                Pause(name: "p", lasts: For("0:05") {pause}),
                Juggle(name: "b", pattern: "3", lasts: Beats(4), other_face: true),
            ])"##
        )
    };
    // By hand: right, left, right hold the first, the second and the third ring, and so they leave;
    // on beats 3 to 5 the left, right and left hands throw them a last time, so the right hand
    // catches the first and the third, the third last.
    let opened = throwbook::open(&text_of(""));
    let told = sheet(&opened);
    assert_eq!(
        (&told["loading"][0]["right"], &told["loading"][0]["left"]),
        (&json!(["ivory", "ink"]), &json!(["ivory"]))
    );
    assert_eq!(
        (&told["gathers"][0]["right"], &told["gathers"][0]["left"]),
        (&json!(["ink", "ivory"]), &json!(["ivory"]))
    );
    // At rest they still show their fronts; from its first throw on "b" shows the backs: the
    // third ring's moss, the second's moss, the first's ink.
    assert_eq!(told["loading"][1]["right"], json!(["ink", "ivory"]));
    assert_eq!(
        told["sections"][1]["cycles"],
        json!([["moss"], ["moss"], ["ink"], ["moss"]]),
        "{told}"
    );
    assert!(told["gathers"][0]["regrips"].as_array().unwrap().is_empty());
    let text = text(&opened, 80);
    assert!(text.contains("ivory (ink behind)") && text.contains("ivory (moss behind)"), "{text}");
    assert!(text.contains("b · 3 · 4 cycles · other face: backs"), "{text}");

    let regrip = r#", regrip: Hands(right: ["ivory/moss", "ink"], left: ["ivory/ink"])"#;
    let opened = throwbook::open(&text_of(regrip));
    let told = sheet(&opened);
    assert_eq!(told["gathers"][0]["regrips"][0]["pause"], "p");
    assert_eq!(told["gathers"][0]["next_came"], "regripped");
    assert_eq!(
        (&told["loading"][1]["right"], &told["loading"][1]["left"]),
        (&json!(["ivory", "ink"]), &json!(["ivory"]))
    );
    // The second ring leaves first now, then the first, then the third.
    assert_eq!(told["sections"][1]["cycles"], json!([["moss"], ["ink"], ["moss"], ["moss"]]));
    let text = self::text(&opened, 80);
    let unbroken = text.replace('\n', " ");
    assert!(unbroken.contains("Regrip in \"p\": ivory (moss behind) from the left hand to the right, where it leaves first;"), "{text}");
}

#[test]
fn orbits_carry_the_props_that_make_their_throws() {
    let sheet =
        sheet(&score(r#"Juggle(name: "b", set: "4", pattern: "633", lasts: Cycles(4))"#).open());
    let section = &sheet["sections"][0];
    for orbit in section["orbits"].as_array().unwrap() {
        let mut seen: Vec<&str> = Vec::new();
        for cycle in section["cycles"].as_array().unwrap() {
            for number in orbit["numbers"].as_array().unwrap() {
                let place = usize::try_from(number.as_u64().unwrap()).unwrap() - 1;
                seen.push(cycle[place].as_str().unwrap());
            }
        }
        seen.sort_unstable();
        seen.dedup();
        let mut carried = strings(&orbit["colours"]);
        carried.sort();
        assert_eq!(carried, seen);
    }
    assert_eq!(section["orbits"].as_array().unwrap().len(), 3);
    assert_eq!(section["repeats_every"], 2);
}

#[test]
fn what_does_not_come_about_is_told_with_its_reason_and_its_repairs() {
    let opened = score(
        r#"Juggle(name: "beam", set: "3", pattern: "531", lasts: Cycles(4), shows: { 2: ["c1"] })"#,
    )
    .open();
    let sheet = sheet(&opened);
    assert_eq!(sheet["possible"], false);
    let unmet = &sheet["unmet"][0];
    assert_eq!((&unmet["section"], &unmet["throw"]), (&json!("beam"), &json!(2)));
    assert!(!unmet["reason"].as_str().unwrap().is_empty());
    let repair = &sheet["repairs"][0];
    assert_eq!(
        (&repair["beats"], &repair["adds_s"], &repair["flips_lead"]),
        (&json!(0), &json!(0.0), &json!(false))
    );
    // The loading that it brings does bring it about.
    let loading = &repair["loading"];
    let quoted = |hand: &str| format!("{:?}", strings(&loading[hand]));
    let mended = score(&format!(
        r#"Juggle(name: "{}", set: "3", pattern: "531", lasts: Cycles(4), shows: {{ 2: ["c1"] }},
            loading: Hands(right: {}, left: {}))"#,
        loading["before"].as_str().unwrap(),
        quoted("right"),
        quoted("left")
    ));
    assert_eq!(self::sheet(&mended.open())["possible"], true);
    let text = text(&opened, 80);
    assert!(text.contains("NOT POSSIBLE: the one colour request cannot be met."), "{text}");
    assert!(text.contains("NO    throw 2 of \"beam\" in c1: "), "{text}");
    assert!(text.contains("costs no time"), "{text}");
}

#[test]
fn the_shipped_colour_act_reads_well_at_80_columns() {
    let text = text(&throwbook::open(FOUR_LAMPS), 80);
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    insta::assert_snapshot!(text);
}

#[test]
fn a_long_pattern_is_charted_in_parts_that_fit() {
    let opened = score(
        r#"Juggle(name: "long", set: "3", pattern: "333333333333333333333333333333441", lasts: Cycles(2))"#,
    )
    .open();
    let text = text(&opened, 80);
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    for number in 1..=33 {
        let headed = text.lines().filter(|line| line.starts_with("throw"));
        let mut numbers = headed.flat_map(str::split_whitespace);
        assert!(numbers.any(|word| word == number.to_string()), "{number}:\n{text}");
    }
}

#[test]
fn the_program_prints_the_sheet_and_says_whether_the_colours_come_about() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("colour-sheet");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let run = |text: &str, arguments: &[&str]| {
        fs::write(folder.join("act.ron"), text).unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_throwbook"))
            .current_dir(&folder)
            .args([&["colours", "act.ron"], arguments].concat())
            .env("COLUMNS", "80")
            .env("XDG_CACHE_HOME", env!("CARGO_TARGET_TMPDIR"))
            .env("NO_COLOR", "1")
            .output()
            .unwrap();
        let text = |bytes| String::from_utf8(bytes).unwrap();
        (output.status.code(), text(output.stdout), text(output.stderr))
    };
    let (status, stdout, stderr) = run(FOUR_LAMPS, &[]);
    assert_eq!((status, stderr.as_str()), (Some(0), ""));
    assert!(stdout.starts_with("Four Lamps · colours · issue 1\n"), "{stdout}");

    // Two throws of one cycle cannot both be the one red ball.
    let impossible = FOUR_LAMPS.replace("4: [\"blue\"]", "4: [\"red\"]");
    let (status, stdout, stderr) = run(&impossible, &["--format", "json"]);
    assert_eq!(status, Some(1));
    assert!(stderr.contains("throwbook explain colour-not-shown"), "{stderr}");
    let told: Value = serde_json::from_str(&stdout).unwrap();
    assert_eq!((&told["possible"], &told["outcome"]), (&json!(false), &json!("impossible")));
    assert_eq!(told["clash"].as_array().unwrap().len(), 2);
    let (status, stdout, _) = run(&impossible, &[]);
    assert_eq!(status, Some(1));
    assert!(stdout.contains("NOT POSSIBLE"), "{stdout}");

    let (status, stdout, stderr) = run(&FOUR_LAMPS.replace("lead: Right", "lead: Rigth"), &[]);
    assert_eq!(status, Some(1));
    assert!(
        stdout.starts_with("DRAFT: 1 error. ") && stdout.contains("\nFour Lamps · colours"),
        "{stdout}"
    );
    assert!(stderr.contains("throwbook explain unknown-word"), "{stderr}");
}

#[test]
fn other_loadings_are_listed_where_they_are_asked_for() {
    let opened = throwbook::open(
        r##"Routine(title: "T", tempo: PerMinute(200), lead: Right,
        colours: { "coral": "#ec6a5c", "teal": "#0f5b6d", "pearl": "#f4f1e6" },
        sets: { "three": Set(kind: Ball, length: 0.07, colours: ["coral", "teal", "pearl"]) },
        score: [
            Juggle(name: "tide", set: "three", pattern: "531", lasts: Cycles(4), loading: Found,
                shows: { 2: ["teal"] }),
        ])"##,
    );
    let (act, colours) = (opened.finished().unwrap(), opened.colours.as_ref().unwrap());
    let composed = throwbook::sheet::colours::compose(act, colours);
    assert_eq!(sheet(&opened)["other_loadings"], Value::Null);
    let with = composed.with_others(act, colours);
    let document: Value = serde_json::from_str(&colours_json::of_sheet(&with)).unwrap();
    let told = &document["other_loadings"][0];
    assert_eq!((&told["before"], &told["are_all"]), (&json!("tide"), &json!(true)));
    let other = &told["loadings"];
    assert_eq!(other.as_array().unwrap().len(), 1);
    // The two that are not teal change places: the one found stands in the loading.
    let found = &document["loading"][0];
    let mut right = strings(&found["right"]);
    right.iter_mut().for_each(|colour| {
        *colour = match colour.as_str() {
            "coral" => "pearl".to_owned(),
            "pearl" => "coral".to_owned(),
            other => other.to_owned(),
        }
    });
    assert_eq!(strings(&other[0]["right"]), right);
    let text = colours_text::of_sheet(&with, 80);
    assert!(text.contains("OTHER LOADINGS before tide"), "{text}");
}
