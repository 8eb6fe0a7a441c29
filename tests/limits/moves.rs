//! The list of moves against what a rule asks for, and the moves that a limit cuts.

use serde_json::{Value, json};

/// Three moves at 200 a minute from 0:00: a cascade of 20 beats, 531 four times (12 beats), 51
/// after a transition of one throw (6 beats); then applause, and a fourth.
fn act(declares: &str, limits: &str, applause: &str) -> String {
    format!(
        "Routine(title: \"Moves\", tempo: PerMinute(200), zero: FirstThrow,
    colours: {{ \"coral\": \"#ec6a5c\" }},
    sets: {{ \"three\": Set(kind: Other(\"eggs\"), length: 0.07, colours: [\"coral\", \"coral\", \
         \"coral\"]) }},
    score: [
        Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(20)),
        Juggle(name: \"beam\", pattern: \"531\", lasts: Cycles(4)),
        Juggle(name: \"wake\", pattern: \"51\", transition: Throws(\"4\"), lasts: Cycles(3){declares}),
        Pause(name: \"clap\", lasts: {applause}),
        Juggle(name: \"ebb\", pattern: \"3\", lasts: Beats(20)),
    ],
    limits: [{limits}],
)"
    )
}

const SHORT: &str = "For(\"0:02\")";

fn codes(text: &str) -> Vec<(&'static str, String)> {
    let all = throwbook::open(text).diagnostics.into_iter();
    all.map(|one| (one.code, one.message)).collect()
}

fn moves(text: &str) -> Value {
    let opened = throwbook::open(text);
    let act = opened.act.as_ref().unwrap();
    serde_json::from_str(&throwbook::export::timing_json::moves_json(act)).unwrap()
}

fn limit(text: &str) -> Value {
    let opened = throwbook::open(text);
    let act = opened.act.as_ref().unwrap();
    let sheet: Value = serde_json::from_str(&throwbook::export::timing_json::json(act)).unwrap();
    sheet["limits"][0].clone()
}

fn fields(of: &Value, names: &[&str]) -> Vec<Value> {
    names.iter().map(|name| of[name].clone()).collect()
}

#[test]
fn moves_are_numbered_with_kind_and_start_and_their_join_stands_apart() {
    let text = act("", "", SHORT);
    let moves = moves(&text);
    let names = ["number", "name", "kind", "starts_s", "catches", "own_catches", "join_catches"];
    let rows: Vec<Vec<Value>> =
        moves["moves"].as_array().unwrap().iter().map(|one| fields(one, &names)).collect();
    // wake begins with its transition, whose one throw is caught; its own six throws are caught too.
    assert_eq!(
        rows[..3],
        [
            vec![
                json!(1),
                json!("tide"),
                json!("eggs"),
                json!(0.0),
                json!(20),
                json!(20),
                json!(0)
            ],
            vec![
                json!(2),
                json!("beam"),
                json!("eggs"),
                json!(6.0),
                json!(12),
                json!(12),
                json!(0)
            ],
            vec![json!(3), json!("wake"), json!("eggs"), json!(9.6), json!(7), json!(6), json!(1)],
        ]
    );
    let opened = throwbook::open(&text);
    let act = opened.act.as_ref().unwrap();
    let page = throwbook::export::timing_text::moves_text(act, 80);
    assert!(page.lines().all(|line| line.chars().count() <= 80), "{page}");
    assert!(page.contains("3 eggs") && page.contains("0:09.6"), "{page}");
    // With control characters in the kind nothing is let through.
    let hostile = text.replace("eggs", "eg\\u{1b}[31mgs");
    let opened = throwbook::open(&hostile);
    let page = throwbook::export::timing_text::moves_text(opened.act.as_ref().unwrap(), 80);
    assert!(!page.contains('\u{1b}'), "{page:?}");
}

#[test]
fn what_is_declared_is_held_against_the_moves_own_throws_and_catches() {
    let of = |declares: &str| {
        let text = act(&format!(", declares: {declares}"), "", SHORT);
        let wake = moves(&text)["moves"][2].clone();
        let told = codes(&text).into_iter().map(|(code, _)| code).collect::<Vec<_>>();
        (fields(&wake, &["declares", "declared", "kept"]), told)
    };
    let kept = |declares: &str, number: u32| {
        (vec![json!(declares), json!(number), json!(true)], Vec::new())
    };
    assert_eq!(of("Catches(6)"), kept("catches", 6));
    assert_eq!(of("Throws(6)"), kept("throws", 6));
    assert_eq!(of("Flash"), kept("flash", 3));
    assert_eq!(of("Qualify"), kept("qualify", 6));
    // Seven catches with the join's are six of the move.
    let short = |declares: &str| {
        (vec![json!(declares), json!(7), json!(false)], vec!["catches-not-reached"])
    };
    assert_eq!(of("Catches(7)"), short("catches"));
    assert_eq!(of("Throws(7)"), short("throws"));
    let told = codes(&act(", declares: Catches(7)", "", SHORT));
    let message = "\"wake\" declares 7 catches and reaches 6; the 1 of its join do not count.";
    assert_eq!(told[0].1, message);
    let qualify = codes(&act(", declares: Qualify", "", SHORT).replace("Cycles(3)", "Cycles(2)"));
    let message =
        "\"wake\" declares a qualify, 6 catches and reaches 4; the 1 of its join do not count.";
    assert_eq!(qualify[0].1, message);
    for (slip, code) in [
        ("Catches(0)", "out-of-range"),
        ("Flash(3)", "wrong-shape"),
        ("Throws", "wrong-shape"),
        ("Flesh", "unknown-word"),
    ] {
        let text = act(&format!(", declares: {slip}"), "", SHORT);
        assert_eq!(codes(&text)[0].0, code, "{slip}");
    }
}

#[test]
fn moves_that_begin_after_the_limit_are_cut_and_do_not_count() {
    // tide 0.0, beam 6.0, wake 9.6; the last catch of wake is at 12.0 or so, ebb comes after.
    let of = |most: &str, line: &str| {
        format!(
            "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, at_most: \"{most}\", moves: \
             AtLeast(3), on_the_line: {line})"
        )
    };
    let cut = |most: &str, line: &str| {
        let text = act("", &of(most, line), SHORT);
        let limit = limit(&text);
        let names: Vec<String> = limit["cut"]
            .as_array()
            .unwrap()
            .iter()
            .map(|cut| cut["name"].as_str().unwrap().to_owned())
            .collect();
        (names, limit["moves"].as_u64().unwrap())
    };
    let names = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect::<Vec<_>>();
    assert_eq!(cut("0:30", "Inside"), (names(&[]), 4));
    assert_eq!(cut("0:12", "Inside"), (names(&["ebb"]), 3));
    assert_eq!(cut("0:09.6", "Inside"), (names(&["ebb"]), 3));
    assert_eq!(cut("0:09.6", "Outside"), (names(&["wake", "ebb"]), 2));
    assert_eq!(cut("0:05", "Inside"), (names(&["beam", "wake", "ebb"]), 1));
    let text = act("", &of("0:05", "Inside"), SHORT);
    let told = codes(&text);
    assert_eq!(
        told.iter().map(|(code, _)| *code).collect::<Vec<_>>(),
        ["limit-over", "limit-too-few-moves"]
    );
    assert_eq!(told[1].1, "1 move for \"r\", which asks for at least 3.");
    let over = throwbook::open(&text).diagnostics[0].clone();
    let notes: Vec<&str> = over.notes.iter().map(|note| note.text.as_str()).collect();
    assert!(
        notes.iter().any(|note| note.starts_with("After that begins \"beam\" at 0:06.0,")),
        "{notes:?}"
    );
    let page =
        throwbook::export::timing_text::text(throwbook::open(&text).act.as_ref().unwrap(), 100);
    assert!(page.contains("cut      beam begins at 0:06.0, wake begins at 0:09.6, ebb"), "{page}");
    assert!(page.contains("at least 3 moves; 1 in its time, NOT REACHED: 2 short"), "{page}");
    // A rule may ask for moves alone.
    let alone = "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, moves: AtLeast(5), \
                 on_the_line: Inside)";
    assert_eq!(codes(&act("", alone, SHORT))[0].1, "4 moves for \"r\", which asks for at least 5.");
    for (slip, code) in
        [("AtLeast(0)", "out-of-range"), ("5", "wrong-shape"), ("AtMost(5)", "unknown-word")]
    {
        assert_eq!(codes(&act("", &alone.replace("AtLeast(5)", slip), SHORT))[0].0, code, "{slip}");
    }
}

#[test]
fn over_open_applause_a_move_is_cut_at_worst_and_the_count_has_two_ends() {
    let limit = "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, at_most: \"0:20\", grace: \
                 20.0, moves: AtLeast(4), on_the_line: Inside)";
    let text = act("", limit, "Between(\"0:02\", \"0:12\")");
    let said = self::limit(&text);
    assert_eq!(fields(&said, &["moves", "moves_most"]), [json!(3), json!(4)]);
    let cut = &said["cut"][0];
    assert_eq!(fields(cut, &["name", "surely"]), [json!("ebb"), json!(false)]);
    let lasts = cut["begins_latest_s"].as_f64().unwrap() - cut["begins_s"].as_f64().unwrap();
    assert!((lasts - 10.0).abs() < 1e-9);
    let told: Vec<&str> = codes(&text).into_iter().map(|(code, _)| code).collect();
    assert_eq!(told, ["limit-in-grace", "limit-too-few-moves"]);
    // Only the latest begin is at worst.
    let opened = throwbook::open(&text);
    let page = throwbook::export::timing_text::text(opened.act.as_ref().unwrap(), 100);
    assert!(page.contains("  cut      ebb begins at 0:24.2 at worst\n"), "{page}");
    let notes: Vec<&str> =
        opened.diagnostics[0].notes.iter().map(|note| note.text.as_str()).collect();
    let after = "After that begins \"ebb\" at 0:24.2 at worst (contest clock).";
    assert!(notes.contains(&after), "{notes:?}");
    let moves = moves(&text);
    assert_eq!(
        fields(&moves["rules"][0], &["moves_at_least", "moves", "moves_most"]),
        [json!(4), json!(3), json!(4)]
    );
    // In a draft nobody knows how many there are.
    let draft = text.replace("Cycles(4)", "Cycles(four)");
    assert_eq!(self::limit(&draft)["moves"], Value::Null);
    assert_eq!(self::moves(&draft)["rules"][0]["moves"], Value::Null);
}

#[test]
fn a_rule_for_moves_alone_has_no_verdict_in_time() {
    let of = |more: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, moves: AtLeast(20){more})"
        );
        act("", &limit, SHORT)
    };
    let text = of("");
    assert_eq!(codes(&text)[0].0, "limit-too-few-moves");
    let limit = limit(&text);
    let names = ["verdict", "best_verdict", "penalty_points", "disqualified", "by_s"];
    assert_eq!(fields(&limit, &names), vec![Value::Null; names.len()]);
    assert!(limit["counted_s"].as_f64().unwrap() > 14.0, "{limit}");
    let opened = throwbook::open(&text);
    let act = opened.act.as_ref().unwrap();
    let page = throwbook::export::timing_text::text(act, 100);
    let (_, limits) = page.split_once("LIMITS").unwrap();
    assert!(limits.contains("counted") && limits.contains("NOT REACHED: 16 short"), "{page}");
    for no in ["INSIDE", "verdict", "allowed", "margin", "penalty", "inside"] {
        assert!(!limits.contains(no), "{no}: {page}");
    }
    for more in [", margin: 2.0", ", penalty: Flat(2.0)", ", penalty: Out"] {
        assert_eq!(codes(&of(more))[0].0, "misplaced-field", "{more}");
    }
    // With an edge the line must say on which side it lies.
    assert_eq!(codes(&of(", at_most: \"0:30\""))[0].0, "missing-field");
}

#[test]
fn many_moves_behind_an_open_length_are_counted_at_once() {
    // 200 moves of 3 s, behind applause of 1 to 501 s: 200 to 34 of them begin before 10:00.
    let move_of = |number| {
        format!("Juggle(name: \"m{number}\", set: \"three\", pattern: \"3\", lasts: Beats(10)),")
    };
    let moves: String = (0..200).map(move_of).collect();
    let of = |asked: u32| {
        format!(
            "Routine(title: \"Many\", tempo: PerMinute(200), zero: FirstThrow,
    colours: {{ \"coral\": \"#ec6a5c\" }},
    sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"coral\", \"coral\"]) }},
    score: [Pause(name: \"clap\", lasts: Between(\"0:01\", \"8:21\")), {moves}],
    limits: [Limit(rule: \"r\", starts: Start(\"clap\"), stops: LastCatch, at_most: \"10:00\",
        passes_over: [FirstThrow], moves: AtLeast({asked}), on_the_line: Inside)],
)"
        )
    };
    let started = std::time::Instant::now();
    let said = limit(&of(34));
    assert_eq!(fields(&said, &["moves", "moves_most"]), [json!(34), json!(200)]);
    let few =
        |asked| codes(&of(asked)).into_iter().find(|(code, _)| *code == "limit-too-few-moves");
    assert_eq!(few(34), None);
    for asked in [35, 200] {
        let message = format!("34 moves for \"r\", which asks for at least {asked}.");
        assert_eq!(few(asked).unwrap().1, message);
    }
    let lasted = started.elapsed().as_secs();
    assert!(lasted < 30, "{lasted} s");
}

#[test]
fn what_forgives_or_holds_nothing_is_refused() {
    let of = |more: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, moves: AtLeast(2), \
             on_the_line: Inside, {more})"
        );
        codes(&act("", &limit, SHORT)).into_iter().map(|(code, _)| code).collect::<Vec<_>>()
    };
    let steps = |each: &str| {
        of(&format!("at_most: \"1:00\", penalty: Steps(every: 5, or_part: true, {each})"))
    };
    for told in [
        of("grace: 5.0"),
        of("grace_under: 5.0"),
        of("at_most: \"1:00\", grace_under: 5.0"),
        steps("percent: 5.0, at_most_points: 3.0"),
    ] {
        assert_eq!(told, ["misplaced-field"]);
    }
    for told in [
        of("at_most: \"1:00\", grace: 5.0"),
        steps("percent: 5.0, points: 1.0, at_most_points: 3.0"),
    ] {
        assert!(!told.contains(&"misplaced-field"), "{told:?}");
    }
}

#[test]
fn moves_of_an_encore_count_and_are_cut_where_the_limit_counts_the_encore() {
    // tide 0.0, beam 6.0, wake 9.6, ebb 14.2 or so; its last catch ends the act. In the encore back
    // lasts 2 s, then come moon (6 s) and star.
    let encore = "    encore: Encore(score: [
        Pause(name: \"back\", lasts: For(\"0:02\")),
        Juggle(name: \"moon\", set: \"three\", pattern: \"3\", lasts: Beats(20)),
        Juggle(name: \"star\", pattern: \"531\", lasts: Cycles(4)),
    ]),
)";
    let of = |stops: &str, more: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: FirstThrow, stops: {stops}, moves: AtLeast(6), on_the_line: \
             Inside, {more})"
        );
        let text = act("", &limit, SHORT);
        let text = format!("{}{encore}", text.strip_suffix(')').unwrap());
        let said = limit_and_cut(&text);
        let few = codes(&text).iter().any(|(code, _)| *code == "limit-too-few-moves");
        (said.0, said.1, few)
    };
    let none = Vec::<String>::new;
    assert_eq!(of("EncoreEnd", ""), (6, none(), false));
    assert_eq!(of("EncoreEnd", "encore: true"), (6, none(), false));
    assert_eq!(of("EncoreEnd", "encore: false"), (4, none(), true));
    assert_eq!(of("LastCatch", ""), (4, none(), true));
    assert_eq!(of("EncoreEnd", "adds_up: Juggling"), (4, none(), true));
    assert_eq!(of("EncoreEnd", "adds_up: Juggling, encore: true"), (6, none(), false));
    let star = vec!["star".to_owned()];
    assert_eq!(of("EncoreEnd", "at_most: \"0:25\""), (5, star, true));
}

fn limit_and_cut(text: &str) -> (u64, Vec<String>) {
    let limit = limit(text);
    let cut = limit["cut"].as_array().unwrap().iter();
    let cut = cut.map(|one| one["name"].as_str().unwrap().to_owned()).collect();
    (limit["moves"].as_u64().unwrap_or_else(|| panic!("{limit} {text}")), cut)
}

#[test]
fn of_many_cut_moves_the_first_few_are_named() {
    let limit = "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, at_most: \"0:01\", \
                 on_the_line: Inside)";
    let more: String = (0..6)
        .map(|number| format!("Juggle(name: \"m{number}\", pattern: \"3\", lasts: Beats(20)),"))
        .collect();
    let ebb = "Juggle(name: \"ebb\", pattern: \"3\", lasts: Beats(20)),";
    let text = act("", limit, SHORT).replace(ebb, &format!("{ebb} {more}"));
    let opened = throwbook::open(&text);
    let page = throwbook::export::timing_text::text(opened.act.as_ref().unwrap(), 300);
    let (_, cut) = page.split_once("cut ").unwrap();
    let cut = cut.lines().next().unwrap();
    assert!(cut.contains("m1 begins at") && cut.ends_with(", 4 more"), "{page}");
    let said = self::limit(&text);
    assert_eq!(said["cut"].as_array().unwrap().len(), 9);
    let note = opened.diagnostics[0].notes.iter().find(|note| note.text.starts_with("After that"));
    assert!(note.unwrap().text.ends_with(" and 4 more (contest clock)."), "{note:?}");
}

#[test]
fn there_are_at_most_a_hundred_limits_and_a_hundred_signals_of_each() {
    let of = |limits: usize, signals: usize| {
        let signals = "(\"amber\", \"0:01\"),".repeat(signals);
        let limit = format!(
            "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, at_most: \"1:00\", \
             time_signals: [{signals}], on_the_line: Inside),"
        );
        let all = codes(&act("", &limit.repeat(limits), SHORT));
        all.into_iter().find(|(code, _)| *code == "out-of-range").map(|(_, message)| message)
    };
    assert_eq!(of(100, 1), None);
    assert_eq!(of(1, 100), None);
    assert_eq!(of(101, 1).unwrap(), "There are at most 100 limits, and here are 101.");
    let signals = "There are at most 100 `time_signals` of a limit, and here are 101.";
    assert_eq!(of(1, 101).unwrap(), signals);
}
