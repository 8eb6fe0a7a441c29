//! Limits worked by hand.

use serde_json::{Value, json};

/// An act: 5 s of walking on, a cascade of 60 beats at 200 a minute (first throw 0:00, last catch
/// 0:18.2), a bow of 3 s; the music starts 2 s into the walk and lasts 20 s.
pub(super) fn act(head: &str, limits: &str) -> String {
    format!(
        "Routine(title: \"Worked\", tempo: PerMinute(200), zero: FirstThrow,
    colours: {{ \"coral\": \"#ec6a5c\" }},
    sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"coral\", \"coral\"]) }},
    music: Track(file: \"none.wav\", length: \"0:20\", starts: Shift(Start(\"walk\"), 2.0)),
    {head}
    score: [
        Pause(name: \"walk\", lasts: For(\"0:05\")),
        Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(60)),
        Pause(name: \"bow\", lasts: For(\"0:03\")),
    ],
    limits: [{limits}],
)"
    )
}

/// What is said of it, but of its music, which ends before the last catch and has no cue.
fn all(text: &str) -> Vec<(&'static str, String)> {
    let all = throwbook::open(text).diagnostics.into_iter();
    let beside = ["music-ends-early", "track-without-cue"];
    let all = all.filter(|one| !beside.contains(&one.code));
    all.map(|one| (one.code, one.message)).collect()
}

pub(super) fn codes(text: &str) -> Vec<&'static str> {
    all(text).into_iter().map(|(code, _)| code).collect()
}

fn said(text: &str) -> Vec<String> {
    all(text).into_iter().map(|(code, message)| format!("{code}: {message}")).collect()
}

fn sheet(text: &str) -> Value {
    let opened = throwbook::open(text);
    let act = opened.act.as_ref().unwrap();
    serde_json::from_str(&throwbook::export::timing_json::json(act)).unwrap()
}

pub(super) fn limit(text: &str) -> Value {
    sheet(text)["limits"][0].clone()
}

pub(super) fn page(text: &str) -> String {
    let opened = throwbook::open(text);
    let page = throwbook::export::timing_text::text(opened.act.as_ref().unwrap(), 100);
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_rule_starts_with_music_or_throw_whichever_comes_first_and_stops_alike() {
    let of = |starts: &str, stops: &str| {
        let text = act(
            "",
            &format!(
                "Limit(rule: \"r\", starts: {starts}, stops: {stops}, at_most: \"0:30\", \
                 on_the_line: Inside)"
            ),
        );
        assert_eq!(codes(&text), Vec::<&str>::new(), "{text}");
        let limit = limit(&text);
        [&limit["starts_s"], &limit["stops_s"], &limit["counted_s"]]
            .map(|one| one.as_f64().unwrap())
    };
    let starts = "First([TrackStart, FirstThrow])";
    // The music goes from -3 to 17; the last catch is at 18.2.
    assert_eq!(of(starts, "Last([TrackEnd, LastCatch])"), [-3.0, 18.2, 21.2]);
    assert_eq!(of(starts, "First([TrackEnd, LastCatch])"), [-3.0, 17.0, 20.0]);
    assert_eq!(of("Shift(First([FirstThrow, TrackStart]), -1.5)", "LastCatch"), [-4.5, 18.2, 22.7]);
    assert_eq!(of("First([Shift(FirstThrow, -4.0), TrackStart])", "LastCatch"), [-4.0, 18.2, 22.2]);
}

#[test]
fn the_words_of_first_and_last_stand_beside_the_verdict() {
    let text = act(
        "",
        "Limit(rule: \"r\", starts: First([TrackStart, FirstThrow]), stops: Shift(Last([TrackEnd, \
         LastCatch]), 1.0), at_least: \"0:10\", at_most: \"0:22.24\", margin: 0.25, grace: 1.5, \
         on_the_line: Inside)",
    );
    let limit = limit(&text);
    assert_eq!(limit["starts"], "the first of track start and first throw");
    assert_eq!(limit["stops"], "1.0 s after the last of track end and last catch");
    let figures = ["at_least_s", "at_most_s", "grace_s", "grace_under_s", "margin_s"];
    let figures = figures.map(|name| limit[name].clone());
    assert_eq!(figures, [json!(10.0), json!(22.24), json!(1.5), json!(0.0), json!(0.25)]);
    let page = page(&text);
    for words in ["at most 0:22.24, 1.5 s more is forgiven", "INSIDE by 0.04 s", "0:22.2 on this"] {
        assert!(page.contains(words), "{words}: {page}");
    }
}

#[test]
fn what_is_wrong_with_a_first_or_a_last_is_told_at_its_place() {
    let of = |starts: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: {starts}, stops: LastCatch, at_most: \"0:30\", \
             on_the_line: Inside)"
        );
        codes(&act("", &limit))
    };
    assert_eq!(of("First([])"), ["empty-list"]);
    assert_eq!(of("First(TrackStart, FirstThrow)"), ["wrong-shape"]);
    assert_eq!(of("First([TrackStart, First([FirstThrow])])"), ["wrong-shape"]);
    assert_eq!(of("First([TrackStart, Shift(Last([FirstThrow]), 1.0)])"), ["wrong-shape"]);
    assert_eq!(of("First([TrackStart, Start(\"wlak\")])"), ["unknown-section"]);
    assert_eq!(of("Frist([TrackStart, FirstThrow])"), ["unknown-word"]);
    assert_eq!(of("First([TrackStart, SetUpStart])"), ["moment-never-comes"]);
    let many = vec!["TrackStart"; 13].join(", ");
    assert_eq!(of(&format!("First([{many}])")), ["out-of-range"]);
}

#[test]
fn a_first_hangs_on_no_open_length_where_a_cue_or_a_pause_hangs_on_it() {
    let open = "Between(\"0:01\", \"0:09\")";
    let text = |limits: &str, rest: &str| {
        act("", limits)
            .replace("For(\"0:03\")", open)
            .replace("limits: [", &format!("{rest} limits: ["))
    };
    // The music ends at 17.0, before the bow; the act ends at 19.2 to 27.2.
    let cue = |at: &str| {
        format!(
            "cues: [Cue(crew: Light, number: 5, at: {at}, trigger: See(\"a bow\"), does: \"down\", \
             count: 2)],"
        )
    };
    assert!(codes(&text("", &cue("First([TrackEnd, End(\"bow\")])"))).is_empty());
    let later = "First([Shift(TrackEnd, 5.0), End(\"bow\")])";
    assert_eq!(codes(&text("", &cue(later))), ["moment-never-comes"]);
    let limit = format!(
        "Limit(rule: \"r\", starts: TrackStart, stops: {later}, at_most: \"0:24\", on_the_line: \
         Inside)"
    );
    // A limit counts to whichever comes first on the night: 22.2 to 25.0 s.
    let text = text(&limit, "");
    assert_eq!(codes(&text), ["limit-over"]);
    let limit = self::limit(&text);
    let names = ["counted_s", "counted_latest_s", "stops_s", "stops_latest_s", "by_s", "best_by_s"];
    let figures = names.map(|name| limit[name].as_f64().unwrap());
    assert_eq!(figures, [22.2, 25.0, 19.2, 22.0, 1.0, 1.8]);
}

#[test]
fn a_limit_that_stops_before_it_starts_is_an_error_and_has_no_verdict() {
    let text = act(
        "",
        "Limit(rule: \"r\", starts: LastCatch, stops: TrackStart, at_most: \"0:30\", on_the_line: \
         Inside)",
    );
    assert_eq!(
        said(&text),
        ["limit-stops-first: \"r\" stops the time 21.2 s before it starts it."]
    );
    assert!(throwbook::open(&text).finished().is_none());
    let limit = limit(&text);
    assert_eq!((&limit["verdict"], &limit["counted_s"]), (&Value::Null, &Value::Null));
    // At the same instant it counts nothing, and does not stop first.
    assert!(codes(&text.replace("TrackStart", "Start(\"bow\")")).is_empty());
}

#[test]
fn an_event_that_starts_other_contests_time_is_told_before_the_written_start() {
    let of = |starts: &str, rest: &str| {
        act(
            "",
            &format!(
                "Limit(rule: \"r\", starts: {starts}, stops: LastCatch{rest}, at_most: \"0:30\", \
                 on_the_line: Inside)"
            ),
        )
    };
    let late = ["limit-starts-late: The music starts 3.0 s before the time of \"r\" does."];
    assert_eq!(said(&of("FirstThrow", "")), late);
    assert!(codes(&of("FirstThrow", ", passes_over: [TrackStart]")).is_empty());
    assert!(codes(&of("TrackStart", "")).is_empty());
    assert!(codes(&of("Start(\"walk\")", "")).is_empty());
    let both = "Shift(FirstThrow, 2.0)";
    assert_eq!(codes(&of(both, "")), ["limit-starts-late"; 2]);
    assert_eq!(codes(&of(both, ", passes_over: [TrackStart]")), ["limit-starts-late"]);
    assert_eq!(codes(&of("FirstThrow", ", passes_over: [LastCatch]")), ["unknown-word"]);
    // A limit on a part of the act starts with no contest.
    assert!(
        codes(&of("Start(\"bow\")", "").replace("stops: LastCatch", "stops: End(\"bow\")"))
            .contains(&"limit-starts-late")
    );
    assert!(
        codes(&of("LastCatch", "").replace("stops: LastCatch", "stops: End(\"bow\")")).is_empty()
    );
}

/// A limit's counted seconds, verdict, and how far.
fn judged(text: &str) -> (f64, String, f64) {
    let limit = limit(text);
    let figure = |name: &str| limit[name].as_f64().unwrap_or(f64::NAN);
    (figure("counted_s"), limit["verdict"].as_str().unwrap().to_owned(), figure("by_s"))
}

#[test]
fn what_is_added_up_is_juggling_or_set_up_and_strike_with_or_without_the_encore() {
    // The encore: 4 s of coming back, a cascade of 20 beats (6.2 s).
    let slot = "set_up: \"1:00\", strike: \"0:40\", encore: Encore(score: [
        Pause(name: \"back\", lasts: For(\"0:04\")),
        Juggle(name: \"more\", set: \"three\", pattern: \"3\", lasts: Beats(20)),
    ]),";
    let of = |stops: &str, adds_up: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: SetUpStart, stops: {stops}, {adds_up} at_most: \"9:00\", \
             on_the_line: Inside)"
        );
        act(slot, &limit)
    };
    // From 65 s before the first throw: 60 + 5 + 18.2 + 3, then 10.2 and 40.
    for (stops, adds_up, counted) in [
        ("StrikeEnd", "", 136.4),
        ("StrikeEnd", "adds_up: Everything, encore: true,", 136.4),
        ("StrikeEnd", "encore: false,", 126.2),
        ("EncoreStart", "encore: false,", 86.2),
        ("Shift(EncoreStart, 4.5)", "encore: false,", 86.2),
        ("StrikeEnd", "adds_up: Juggling,", 18.2),
        ("StrikeEnd", "adds_up: Juggling, encore: true,", 24.4),
        ("Shift(EncoreStart, 5.0)", "adds_up: Juggling, encore: true,", 19.2),
        ("Shift(FirstThrow, 10.0)", "adds_up: Juggling,", 10.0),
        ("StrikeEnd", "adds_up: SetUpAndStrike,", 100.0),
        ("Shift(StrikeStart, 10.0)", "adds_up: SetUpAndStrike,", 70.0),
        ("LastCatch", "adds_up: SetUpAndStrike,", 60.0),
    ] {
        let text = of(stops, adds_up);
        assert_eq!(codes(&text), Vec::<&str>::new(), "{text}");
        assert_eq!(judged(&text).0, counted, "{stops} {adds_up}");
    }
    let page = page(&of("StrikeEnd", "adds_up: Juggling,"));
    assert!(page.contains("which runs while something is juggled, the encore left out"), "{page}");
    // What cannot be meant.
    for (stops, adds_up, code) in [
        ("LastCatch", "encore: true,", "limit-counts-nothing"),
        ("LastCatch", "adds_up: Juggling, encore: true,", "limit-counts-nothing"),
        ("SetUpEnd", "adds_up: Juggling,", "limit-counts-nothing"),
        ("StrikeEnd", "adds_up: SetUpAndStrike, encore: true,", "misplaced-field"),
        ("StrikeEnd", "adds_up: Juggle,", "unknown-word"),
        ("StrikeEnd", "encore: 1,", "wrong-shape"),
    ] {
        assert_eq!(codes(&of(stops, adds_up)), [code], "{stops} {adds_up}");
    }
    let without =
        of("StrikeEnd", "encore: true,").replace(slot, "set_up: \"1:00\", strike: \"0:40\",");
    assert_eq!(codes(&without), ["limit-counts-nothing"]);
}

#[test]
fn juggling_over_an_open_pause_counts_what_is_juggled_until_the_stop() {
    // Two cascades around applause of 1 to 9 s; the time stops 20 s after the first throw.
    let text = act(
        "",
        "Limit(rule: \"r\", starts: FirstThrow, stops: At(\"0:25\"), passes_over: [TrackStart], \
         adds_up: Juggling, at_most: \"0:20\", on_the_line: Inside)",
    )
    .replace(
        "Pause(name: \"bow\", lasts: For(\"0:03\")),",
        "Pause(name: \"clap\", lasts: Between(\"0:01\", \"0:09\")), Juggle(name: \"crane\", pattern: \
         \"3\", lasts: Beats(10)),",
    );
    // 18.2 s, and of crane (3.2 s) all after a short applause, none after a long one.
    assert_eq!(codes(&text), ["limit-over"]);
    let limit = limit(&text);
    let names = ["counted_s", "counted_latest_s", "by_s", "best_by_s"];
    assert_eq!(names.map(|name| limit[name].as_f64().unwrap()), [18.2, 21.4, 1.4, 1.8]);
}

#[test]
fn a_grace_forgives_beyond_its_own_edge_and_asks_for_it() {
    let of = |edges: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, passes_over: [TrackStart], \
             {edges}, on_the_line: Inside, penalty: Steps(every: 1.0, or_part: true, from: Grace, \
             points: 2))"
        );
        act("", &limit)
    };
    let figures = |edges: &str| {
        let text = of(edges);
        let (_, verdict, by) = judged(&text);
        (verdict, by, limit(&text)["penalty_points"].as_f64().unwrap(), codes(&text))
    };
    let said = |verdict: &str, by, points, code| (verdict.to_owned(), by, points, vec![code]);
    // 18.2 s are counted.
    let under = "at_least: \"0:20\", grace_under:";
    assert_eq!(figures(&format!("{under} 1.8")), said("grace", 1.8, 0.0, "limit-in-grace"));
    assert_eq!(figures(&format!("{under} 1.7")), said("under", 1.8, 2.0, "limit-under"));
    assert_eq!(figures(&format!("{under} 0.5")), said("under", 1.8, 4.0, "limit-under"));
    let over = "at_most: \"0:17\", grace: 0.1";
    assert_eq!(figures(over), said("over", 1.2, 4.0, "limit-over"));
    assert!(page(&of(&format!("{under} 2.0"))).contains("GRACE: under by 1.8 s, within the grace"));
    assert!(all(&of(&format!("{under} 2.0")))[0].1.contains("under, within the grace, by 1.8 s"));
    for edges in ["at_least: \"0:10\", grace: 1.0", "at_most: \"0:20\", grace_under: 1.0"] {
        assert_eq!(codes(&of(edges)), ["misplaced-field"], "{edges}");
    }
}

#[test]
fn exactly_on_a_line_that_is_outside_costs_what_the_smallest_excess_costs() {
    let of = |edge: &str, penalty: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, passes_over: [TrackStart], \
             {edge}, on_the_line: Outside, penalty: {penalty})"
        );
        let limit = self::limit(&act("", &limit));
        (limit["by_s"].as_f64().unwrap(), limit["penalty_points"].as_f64().unwrap())
    };
    for (penalty, points) in [
        ("Flat(3)", 3.0),
        ("Steps(every: 5.0, or_part: true, from: Limit, points: 3)", 3.0),
        ("Steps(every: 5.0, or_part: false, from: Limit, points: 3)", 0.0),
        ("Graded([(over: 0.0, points: 3)])", 3.0),
        ("Graded([(from: 0.0, points: 3), (over: 1.0, points: 9)])", 3.0),
    ] {
        assert_eq!(of("at_most: \"0:18.2\"", penalty), (0.0, points), "{penalty}");
        assert_eq!(of("at_least: \"0:18.2\"", penalty), (0.0, points), "{penalty}");
    }
    // At the end of the grace, two steps in all: the smallest excess begins the third.
    let end = "at_most: \"0:16.2\", grace: 2.0";
    assert_eq!(of(end, "Steps(every: 1.0, or_part: true, from: Limit, points: 1)"), (2.0, 3.0));
    assert_eq!(of(end, "Graded([(from: 0, points: 1), (from: 2, points: 5)])"), (2.0, 5.0));
    assert_eq!(of(end, "Graded([(over: 0, points: 1), (over: 2, points: 5)])"), (2.0, 5.0));
    // Inside the overrun `over` and `from` differ exactly on their row.
    let over = "at_most: \"0:16.2\"";
    assert_eq!(of(over, "Graded([(over: 0, points: 1), (over: 2, points: 5)])"), (2.0, 1.0));
    assert_eq!(of(over, "Graded([(over: 0, points: 1), (from: 2, points: 5)])"), (2.0, 5.0));
    // The line itself is said to be outside.
    let text = act(
        "",
        "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, passes_over: [TrackStart], \
         at_most: \"0:18.2\", on_the_line: Outside)",
    );
    assert_eq!(
        said(&text),
        ["limit-over: 0:18.2 for \"r\", over exactly on the line, which is outside."]
    );
    assert!(page(&text).contains("OVER: exactly on the line, which is outside"));
}

#[test]
fn figures_near_an_edge_print_as_finely_as_the_verdict_needs() {
    let of = |edge: &str, line: &str| {
        let text = act(
            "",
            &format!(
                "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, passes_over: \
                 [TrackStart], {edge}, on_the_line: {line})"
            ),
        );
        let opened = throwbook::open(&text);
        let one = opened.diagnostics.iter().find(|one| one.code.starts_with("limit")).cloned();
        one.map(|one| (one.message, one.helps[0].text.clone()))
    };
    let said = |message: &str, help: &str| Some((message.to_owned(), help.to_owned()));
    let over = |edge: &str| of(edge, "Inside");
    assert_eq!(
        over("at_most: \"0:18.16\""),
        said("0:18.2 for \"r\", over by 0.04 s.", "Take off at least 0.04 s.")
    );
    assert_eq!(
        over("at_most: \"0:18.199\""),
        said("0:18.2 for \"r\", over by 0.001 s.", "Take off at least 0.001 s.")
    );
    assert_eq!(
        of("at_most: \"0:18.2\"", "Outside"),
        said(
            "0:18.2 for \"r\", over exactly on the line, which is outside.",
            "Take off at least 0.001 s."
        )
    );
    assert_eq!(
        of("at_most: \"0:18\"", "Outside"),
        said("0:18.2 for \"r\", over by 0.2 s.", "Take off more than 0.2 s.")
    );
    assert_eq!(
        over("at_least: \"0:18.24\""),
        said("0:18.2 for \"r\", under by 0.04 s.", "Add at least 0.04 s.")
    );
    assert_eq!(
        over("at_least: \"0:18.44\""),
        said("0:18.2 for \"r\", under by 0.2 s.", "Add at least 0.3 s.")
    );
    // The counted time itself, where a tenth would put it on the line: 18.2 s after 0:00.04.
    let text = act(
        "",
        "Limit(rule: \"r\", starts: Shift(FirstThrow, -0.04), stops: LastCatch, passes_over: \
         [TrackStart], at_most: \"0:18.2\", margin: 0.25, on_the_line: Inside)",
    );
    let (message, page) = (all(&text)[0].1.clone(), page(&text));
    assert_eq!(message, "0:18.24 for \"r\", over by 0.04 s.");
    for words in
        ["0:18.24 on this contest's clock", "OVER by 0.04 s", "margin 0.25 s", "at most 0:18.2;"]
    {
        assert!(page.contains(words), "{words}: {page}");
    }
}

#[test]
fn a_draft_says_nothing_of_a_limit_that_an_error_hides() {
    let limit = |starts: &str, adds_up: &str| {
        format!(
            "Limit(rule: \"r\", starts: {starts}, stops: LastCatch, {adds_up} at_most: \"0:30\", \
             on_the_line: Inside)"
        )
    };
    let broken = |limit: &str| act("", limit).replace("Beats(60)", "Beats(sixty)");
    for (starts, adds_up) in [
        ("First([TrackStart, FirstThrow])", ""),
        ("TrackStart", "adds_up: Juggling,"),
        ("Last([TrackStart, Start(\"walk\")])", ""),
    ] {
        let text = broken(&limit(starts, adds_up));
        let limit = self::limit(&text);
        for name in ["verdict", "best_verdict", "by_s", "counted_s", "disqualified"] {
            assert_eq!(limit[name], Value::Null, "{name} {text}");
        }
        assert_eq!(limit["at_most_s"], 30.0);
        assert!(page(&text).contains("LIMITS"), "{text}");
    }
    // What lies before the error is known.
    let known = limit("TrackStart", "").replace("LastCatch", "Last([FirstThrow, Start(\"tide\")])");
    let known = act("", &known).replace("For(\"0:03\")", "For(three)");
    assert_eq!(self::limit(&known)["counted_s"], 3.0);
}

#[test]
fn a_rule_for_one_section_starts_no_time_late() {
    let late = |starts: &str, stops: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: {starts}, stops: {stops}, at_most: \"1:00\", on_the_line: \
             Inside)"
        );
        let two = "Juggle(name: \"ebb\", set: \"three\", pattern: \"3\", lasts: Beats(20)),
        Pause(name: \"bow\"";
        let text = act("", &limit).replace("Pause(name: \"bow\"", two);
        codes(&text).iter().filter(|&&code| code == "limit-starts-late").count()
    };
    for stops in ["LastCatch(\"ebb\")", "End(\"ebb\")", "Shift(LastCatch(\"ebb\"), -1.0)"] {
        assert_eq!(late("Start(\"ebb\")", stops), 0, "{stops}");
    }
    // What goes on past the section, or begins in front of it, may be the whole act.
    for (starts, stops) in [
        ("Start(\"ebb\")", "LastCatch"),
        ("Start(\"ebb\")", "End(\"bow\")"),
        ("Start(\"tide\")", "LastCatch(\"ebb\")"),
        ("Start(\"tide\")", "End(\"tide\")"),
    ] {
        assert!(late(starts, stops) > 0, "{starts} {stops}");
    }
}
