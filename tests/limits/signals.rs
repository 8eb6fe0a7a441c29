//! The rows of a contest's timekeeper on the cue sheet.

use serde_json::{Value, json};

use throwbook::Opened;
use throwbook::export::{cues_csv, cues_json, cues_page, cues_text, state_text};
use throwbook::routine::Crew;

/// 5 s of walking on, a cascade until 0:18.2, a bow; one light cue with a follow on its GO.
fn act(limit: &str) -> String {
    format!(
        "Routine(title: \"Signals\", tempo: PerMinute(200), zero: FirstThrow,
    colours: {{ \"coral\": \"#ec6a5c\" }},
    sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"coral\", \"coral\"]) }},
    score: [
        Pause(name: \"walk\", lasts: For(\"0:05\")),
        Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(60)),
        Pause(name: \"bow\", lasts: For(\"0:03\")),
    ],
    limits: [{limit}],
    cues: [
        Cue(crew: Light, number: 5, at: At(\"0:10\"), trigger: See(\"a nod\"), does: \"up\", count: 2),
        Cue(crew: Fly, number: 1, trigger: With(Light(5)), does: \"lamp in\"),
        Cue(crew: Light, number: 10, at: LastCatch, trigger: See, does: \"down\", count: 2),
    ],
)"
    )
}

fn limit(starts: &str, signals: &str) -> String {
    format!(
        "Limit(rule: \"short class\", starts: {starts}, stops: LastCatch, passes_over: \
         [FirstThrow], at_most: \"0:25\", time_signals: [{signals}], on_the_line: Inside)"
    )
}

fn clean(text: &str) -> Opened {
    let opened = throwbook::open(text);
    let codes: Vec<&str> = opened.diagnostics.iter().map(|one| one.code).collect();
    assert_eq!(codes, Vec::<&str>::new(), "{text}");
    opened
}

fn cues(opened: &Opened, crew: Option<Crew>) -> Vec<Value> {
    let document = cues_json::json(opened.act.as_ref().unwrap(), crew);
    let document: Value = serde_json::from_str(&document).unwrap();
    document["cues"].as_array().unwrap().clone()
}

/// Crew, number and GO.
fn rows(opened: &Opened, crew: Option<Crew>) -> Vec<(String, Value, Value)> {
    let row = |cue: Value| {
        (cue["crew"].as_str().unwrap().to_owned(), cue["number"].clone(), cue["go_s"].clone())
    };
    cues(opened, crew).into_iter().map(row).collect()
}

const SIGNALS: &str = "(\"amber\", \"0:15\"), (\"red\", \"0:25\"), (\"bell, gone\", \"0:15\")";

#[test]
fn the_signals_of_a_limit_are_rows_of_the_timekeeper_in_order_of_time() {
    let opened = clean(&act(&limit("Start(\"walk\")", SIGNALS)));
    let row = |crew: &str, number: Value, go: f64| (crew.to_owned(), number, json!(go));
    // The light's GO at 10.0 and what goes on it stay together; amber is at -5 + 15.
    assert_eq!(
        rows(&opened, None),
        [
            row("light", json!("5"), 10.0),
            row("fly", json!("1"), 10.0),
            row("timekeeper", json!(null), 10.0),
            row("timekeeper", json!(null), 10.0),
            row("light", json!("10"), 18.2),
            row("timekeeper", json!(null), 20.0),
        ]
    );
    let own = cues(&opened, Some(Crew::Timekeeper));
    let words = ["trigger", "when", "does", "count_s", "follows", "on_drop"];
    let words = words.map(|name| own[0][name].clone());
    let when = "0:15 on the watch, started at start of \"walk\"";
    assert_eq!(
        words,
        [
            json!("clock"),
            json!(when),
            json!("amber"),
            json!(null),
            json!(null),
            json!("the watch runs on")
        ]
    );
    assert_eq!(own.len(), 3);
    // No crew is in the state of a signal.
    assert!(own.iter().all(|cue| cue["state"] == json!([])), "{own:?}");
    let act = opened.act.as_ref().unwrap();
    let page = cues_text::text(act, Some(Crew::Timekeeper), 120);
    for said in ["TIME", "CLOCK", "rule: short class", "only while", "amber"] {
        assert!(page.contains(said), "{said}: {page}");
    }
    assert_eq!(page.matches("only while").count(), 1, "{page}");
    assert!(cues_page::page(act, Some(Crew::Timekeeper)).contains("amber"));
    assert!(cues_csv::csv(act, Some(Crew::Timekeeper)).contains("\"bell, gone\""));
    assert!(state_text::text(act, 80).contains("LX 10"));
}

#[test]
fn a_signal_is_no_cue_for_equipment_nor_for_the_record_of_issues() {
    let with = clean(&act(&limit("Start(\"walk\")", SIGNALS)));
    let without = clean(&act(&limit("Start(\"walk\")", "")));
    let media = |opened: &Opened| {
        let act = opened.act.as_ref().unwrap();
        let media = throwbook::sheet::rehearsal::Media::new(act, None).unwrap();
        let sequence = throwbook::sheet::rehearsal::sequence::compose(act, media, Some(1)).unwrap();
        throwbook::export::midi::midi(&sequence)
    };
    assert_eq!(media(&with), media(&without));
    let papers = |opened: &Opened| throwbook::sheet::cues::papers(opened.act.as_ref().unwrap());
    assert_eq!(papers(&with).len(), papers(&without).len());
    assert_eq!(papers(&with).len(), 3);
}

#[test]
fn where_the_start_is_open_or_unknown_the_signal_says_so() {
    // The talk is over 5 s before the first throw, and starts 6 to 9 s before it.
    let open =
        act(&limit("First([Shift(Start(\"talk\"), 2.0), End(\"talk\")])", "(\"amber\", \"0:15\")"))
            .replace(
                "Pause(name: \"walk\"",
                "Pause(name: \"talk\", lasts: Between(\"0:01\", \"0:04\")), Pause(name: \"walk\"",
            );
    let opened = throwbook::open(&open);
    let own = cues(&opened, Some(Crew::Timekeeper));
    assert_eq!((&own[0]["go_s"], &own[0]["go_latest_s"]), (&json!(8.0), &json!(10.0)));
    // An open start.
    let applause = act(&limit("Start(\"walk\")", "(\"amber\", \"0:30\")"))
        .replace("zero: FirstThrow", "zero: Start(\"talk\")")
        .replace(
            "Pause(name: \"walk\"",
            "Pause(name: \"talk\", lasts: Between(\"0:01\", \"0:04\")), Pause(name: \"walk\"",
        );
    let opened = throwbook::open(&applause);
    let own = cues(&opened, Some(Crew::Timekeeper));
    assert_eq!((&own[0]["go_s"], &own[0]["go_latest_s"]), (&json!(31.0), &json!(34.0)));
    // In a draft whose start is not known it stands last, without a time.
    let draft = act(&limit("Start(\"bow\")", "(\"amber\", \"0:01\")"))
        .replace("stops: LastCatch", "stops: End(\"bow\")")
        .replace("Beats(60)", "Beats(sixty)");
    let opened = throwbook::open(&draft);
    let all = cues(&opened, None);
    let last = all.last().unwrap();
    assert_eq!((&last["crew"], &last["go_s"]), (&json!("timekeeper"), &json!(null)));
}

#[test]
fn what_is_wrong_with_a_signal_is_told() {
    let codes = |limit: &str| -> Vec<&str> {
        throwbook::open(&act(limit)).diagnostics.iter().map(|one| one.code).collect()
    };
    let of = |signals: &str| codes(&limit("Start(\"walk\")", signals));
    assert_eq!(of("(\"amber\", 8)"), ["wrong-shape"]);
    assert_eq!(of("(\"amber\")"), ["wrong-shape"]);
    assert_eq!(of("\"amber\""), ["wrong-shape"]);
    assert_eq!(of("(\"\", \"0:08\")"), ["empty-text"]);
    assert_eq!(of("(\"amber\", \"-0:08\")"), ["out-of-range"]);
    let juggling =
        limit("Start(\"walk\")", SIGNALS).replace("at_most", "adds_up: Juggling, at_most");
    assert_eq!(codes(&juggling), ["misplaced-field"]);
    // No cue of a file is the timekeeper's.
    let cue = act("").replace("crew: Fly", "crew: Timekeeper");
    let codes: Vec<_> = throwbook::open(&cue).diagnostics.into_iter().map(|one| one.code).collect();
    assert!(codes.contains(&"unknown-word"), "{codes:?}");
}
