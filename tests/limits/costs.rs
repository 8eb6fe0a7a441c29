//! What a broken limit costs, worked by hand on the act of [`super::worked`].

use serde_json::json;

use super::worked::{act, codes, limit, page};

#[test]
fn what_it_costs_is_points_percent_a_rating_or_the_place_and_may_have_a_most() {
    let of = |penalty: &str| {
        act(
            "",
            &format!(
                "Limit(rule: \"r\", starts: FirstThrow, stops: LastCatch, passes_over: \
                 [TrackStart], at_most: \"0:10\", on_the_line: Inside, penalty: {penalty})"
            ),
        )
    };
    let price = |penalty: &str| {
        let limit = limit(&of(penalty));
        let names = ["penalty_points", "penalty_percent", "penalty_rating", "disqualified"];
        let worst = names.map(|name| limit[name].clone());
        assert_eq!(worst, names.map(|name| limit[format!("best_{name}")].clone()), "{penalty}");
        worst
    };
    // 8.2 s over.
    for (penalty, expected) in [
        ("Flat(4.0)", [json!(4.0), json!(0.0), json!(null), json!(false)]),
        ("Flat(points: 4.0)", [json!(4.0), json!(0.0), json!(null), json!(false)]),
        ("Flat(percent: 12.5)", [json!(0.0), json!(12.5), json!(null), json!(false)]),
        (
            "Flat(points: 1, rating: \"one lower\")",
            [json!(1.0), json!(0.0), json!("one lower"), json!(false)],
        ),
        ("Out", [json!(0.0), json!(0.0), json!(null), json!(true)]),
        (
            "Graded([(over: 0, rating: \"silver\"), (over: 5, rating: \"bronze\"), Out(over: 9)])",
            [json!(0.0), json!(0.0), json!("bronze"), json!(false)],
        ),
        (
            "Graded([(over: 0, points: 1), Out(from: 8.2)])",
            [json!(0.0), json!(0.0), json!(null), json!(true)],
        ),
        (
            "Steps(every: 2, or_part: true, from: Limit, points: 1, at_most_points: 3)",
            [json!(3.0), json!(0.0), json!(null), json!(false)],
        ),
        (
            "Steps(every: 2, or_part: true, from: Limit, points: 1, at_most_points: 30)",
            [json!(5.0), json!(0.0), json!(null), json!(false)],
        ),
        (
            "Steps(every: 2, or_part: false, from: Limit, percent: 0.1)",
            [json!(0.0), json!(0.4), json!(null), json!(false)],
        ),
        (
            "Steps(every: 0.1, or_part: false, from: Limit, percent: 2)",
            [json!(0.0), json!(100.0), json!(null), json!(false)],
        ),
    ] {
        assert_eq!(price(penalty), expected, "{penalty}");
    }
    let page = page(&of(
        "Graded([(over: 0, points: 1, percent: 5), (from: 5, rating: \"bronze\"), Out(over: 9)])",
    ));
    let row = "the rating \"bronze\" (1 point and 5 % of the score past 0.0 s, the rating \"bronze\" \
               from 5.0 s, disqualified past 9.0 s)";
    assert!(page.contains(row), "{page}");
    // Slips.
    for (penalty, code) in [
        ("Flat()", "wrong-shape"),
        ("Flat(point: 4)", "missing-field"),
        ("Flat(percent: 101)", "out-of-range"),
        ("Flat(points: -1)", "out-of-range"),
        ("Flat(rating: \"\")", "empty-text"),
        ("Flat(points: 1, at_most_points: 1)", "unknown-field"),
        ("Out(over: 5)", "wrong-shape"),
        ("Steps(every: 2, or_part: true)", "missing-field"),
        ("Steps(every: 2, or_part: true, rating: \"bronze\")", "missing-field"),
        ("Graded([(points: 4)])", "missing-field"),
        ("Graded([(over: 4)])", "missing-field"),
        ("Graded([(over: 4, from: 5, points: 4)])", "duplicate-field"),
        ("Graded([(over: 4, points: 4), (from: 4, points: 5)])", "grades-out-of-order"),
        ("Graded([Out(over: 4, points: 4)])", "unknown-field"),
    ] {
        assert!(codes(&of(penalty)).contains(&code), "{penalty} {:?}", codes(&of(penalty)));
    }
    assert!(
        codes(&of("Graded([(from: 4, points: 4), (over: 4, points: 5)])")).contains(&"limit-over")
    );
}

#[test]
fn a_penalty_that_falls_with_the_overrun_is_judged_over_the_whole_range() {
    // 18.2 s, and a bow of 0.5 to 6 s: over by 0.7 to 6.2 s.
    let text = act(
        "",
        "Limit(rule: \"r\", starts: FirstThrow, stops: End(\"bow\"), passes_over: [TrackStart], \
         at_most: \"0:18\", on_the_line: Inside, penalty: Graded([(over: 0, points: 2, percent: 1), \
         (over: 2, points: 9), (over: 3, points: 1, percent: 50), (over: 5, points: 4)]))",
    )
    .replace("For(\"0:03\")", "Between(\"0:00.5\", \"0:06\")");
    let limit = limit(&text);
    let names = ["by_s", "penalty_points", "penalty_percent", "best_by_s", "best_penalty_points"];
    let figures = names.map(|name| limit[name].as_f64().unwrap());
    assert_eq!(figures, [6.2, 9.0, 50.0, 0.7, 1.0]);
}

#[test]
fn a_rating_that_the_furthest_night_costs_stands_beside_the_points_of_a_nearer_one() {
    let of = |edge: &str, rows: &str, bow: &str| {
        let limit = format!(
            "Limit(rule: \"r\", starts: FirstThrow, stops: End(\"bow\"), passes_over: \
             [TrackStart], {edge}, on_the_line: Inside, penalty: Graded([{rows}]))"
        );
        act("", &limit).replace("For(\"0:03\")", bow)
    };
    let price = |text: &str| {
        let names = ["penalty_points", "penalty_rating", "best_penalty_points"];
        let limit = limit(text);
        names.map(|name| limit[name].clone())
    };
    // 18.2 s and a bow of 0.5 to 6 s, over by 0.7 to 6.2 s.
    let bow = "Between(\"0:00.5\", \"0:06\")";
    let rows = "(over: 0, points: 4), (over: 3, rating: \"no rating\")";
    let text = of("at_most: \"0:18\"", rows, bow);
    assert_eq!(price(&text), [json!(4.0), json!("no rating"), json!(4.0)]);
    let told = throwbook::open(&text).diagnostics;
    let over = told.iter().find(|one| one.code == "limit-over").unwrap();
    let costs = "It costs 4 points and the rating \"no rating\".";
    assert!(over.notes.iter().any(|note| note.text == costs), "{:?}", over.notes);
    let page = page(&text);
    assert!(page.contains("4 points and the rating \"no rating\" at worst"), "{page}");
    // Of two ratings the later row's, over and under; on the row's line it is not reached.
    let rows = "(over: 0, rating: \"silver\"), (over: 3, rating: \"bronze\")";
    for edge in ["at_most: \"0:18\"", "at_least: \"0:21.8\""] {
        assert_eq!(price(&of(edge, rows, bow))[1], json!("bronze"), "{edge}");
    }
    for edge in ["at_most: \"0:21.2\"", "at_least: \"0:21.7\""] {
        assert_eq!(price(&of(edge, rows, bow))[1], json!("silver"), "{edge}");
    }
}
