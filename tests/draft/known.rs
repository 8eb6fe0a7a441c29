//! What a draft says is so once its mistake is mended: the same act without the mistake is the
//! oracle.

use serde_json::Value;
use throwbook::act::Act;
use throwbook::export::{colours_json, cues_json, timing_json};

use super::LANTERN;

pub(super) const ACTS: [&str; 5] = [
    LANTERN,
    include_str!("../../routines/night-ferry.ron"),
    include_str!("../../routines/paper-boats.ron"),
    include_str!("../../routines/salt-flat.ron"),
    include_str!("../../routines/signal-box.ron"),
];

/// A length that is no whole number of beats at any tempo of these acts.
const OFF_THE_BEAT: &str = "lasts: For(\"0:07.137\"";

/// Each mistake: what is there, and what stands there by mistake.
pub(super) const MISTAKES: [(&str, &str); 12] = [
    ("lasts: Beats(", OFF_THE_BEAT),
    ("lasts: Cycles(", OFF_THE_BEAT),
    ("pattern: \"", "pattern: \"?"),
    ("lasts: Cycles(", "lasts: Cycls("),
    ("lasts: Until(", "lasts: Untl("),
    ("tempo: Per", "tempo: Pr"),
    ("set: \"", "set: \"no "),
    ("lead: ", "lead: x"),
    ("zero: ", "zero: No"),
    ("dwell: ", "dwell: 9"),
    ("lasts: For(\"", "lasts: For(\"x"),
    ("at: ", "at: No"),
];

/// Fields that say something else in a draft: what it is, and words that name what is seen.
const NOT_COMPARED: [&str; 3] = ["draft", "zero", "when"];

/// Looks for something in a draft that is neither left open nor as it is once mended.
fn differs(draft: &Value, mended: &Value, at: &str) -> Option<String> {
    match (draft, mended) {
        (Value::Null, _) => None,
        (Value::Object(fields), Value::Object(others)) => fields
            .iter()
            .filter(|(name, _)| !NOT_COMPARED.contains(&name.as_str()))
            .find_map(|(name, value)| {
                let other = others.get(name).unwrap_or(&Value::Null);
                differs(value, other, &format!("{at}/{name}"))
            }),
        (Value::Array(items), _) if items.is_empty() => None,
        // A track whose start is not known has no clock.
        (Value::Array(items), Value::Array(others)) if at == "/clocks" => {
            items.iter().find_map(|one| {
                let other = others.iter().find(|other| other["clock"] == one["clock"]);
                differs(one, other.unwrap_or(&Value::Null), &one["clock"].to_string())
            })
        }
        (Value::Array(items), Value::Array(others)) if items.len() == others.len() => {
            let pairs = items.iter().zip(others).enumerate();
            pairs
                .into_iter()
                .find_map(|(index, (one, other))| differs(one, other, &format!("{at}[{index}]")))
        }
        (Value::Number(one), Value::Number(other)) => {
            let apart = one.as_f64().unwrap() - other.as_f64().unwrap();
            (apart.abs() > 1e-9).then(|| format!("{at}: {one}, mended {other}"))
        }
        (one, other) => (one != other).then(|| format!("{at}: {one}, mended {other}")),
    }
}

/// A text with the mistake in place of what is right there. A number of beats becomes a length that
/// is none.
pub(super) fn spoil(text: &str, at: usize, right: &str, mistake: &str) -> String {
    let (before, after) = (&text[..at], &text[at + right.len()..]);
    match mistake {
        OFF_THE_BEAT => format!("{before}{OFF_THE_BEAT}{}", &after[after.find(')').unwrap()..]),
        mistake => format!("{before}{mistake}{after}"),
    }
}

/// A text with a mistake in it.
pub(super) struct Draft {
    pub(super) mistake: &'static str,
    /// The line that it is in.
    pub(super) line: usize,
    pub(super) act: Act,
}

/// A text with each mistake at each place where it can be made, where that is an error and leaves an act.
pub(super) fn drafts(text: &str) -> impl Iterator<Item = Draft> {
    let places = MISTAKES.into_iter().flat_map(move |(right, mistake)| {
        text.match_indices(right).map(move |(at, _)| (at, right, mistake))
    });
    places.filter_map(move |(at, right, mistake)| {
        let spoilt = spoil(text, at, right, mistake);
        let act = throwbook::open(&spoilt).act.filter(|act| act.errors > 0)?;
        Some(Draft { mistake, line: spoilt[..at].lines().count(), act })
    })
}

fn read(text: String) -> Value {
    serde_json::from_str(&text).unwrap()
}

#[test]
fn every_figure_of_a_draft_is_that_of_the_act_without_its_mistake_or_left_out() {
    let (mut count, mut wrong) = (0, Vec::new());
    for text in ACTS {
        let good = throwbook::open(text);
        let mended = good.finished().expect("an act without errors");
        let timing = read(timing_json::json(mended));
        let moves = read(timing_json::moves_json(mended));
        for Draft { mistake, line, act } in drafts(text) {
            count += 1;
            let pairs = [
                (read(timing_json::json(&act)), &timing),
                (read(timing_json::moves_json(&act)), &moves),
            ];
            let found = pairs.iter().find_map(|(draft, mended)| differs(draft, mended, ""));
            wrong.extend(found.map(|found| format!("{mistake} in line {line}: {found}")));
        }
    }
    assert!(count > 150, "{count}");
    assert!(wrong.is_empty(), "{} of {count}:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn the_cues_of_a_draft_go_when_they_go_in_the_act_without_its_mistake_or_have_no_time() {
    for text in ACTS {
        let good = throwbook::open(text);
        let gos = |act: &Act| -> Vec<(String, Value)> {
            let sheet = read(cues_json::json(act, None));
            let cues = sheet["cues"].as_array().unwrap().clone();
            let told = cues.into_iter().map(|mut cue| {
                let go = cue["go_s"].take();
                (format!("{} {} {}", cue["crew"], cue["number"], cue["does"]), go)
            });
            told.collect()
        };
        let mended = gos(good.finished().expect("an act without errors"));
        for Draft { mistake, act, .. } in drafts(text) {
            for (cue, go) in gos(&act).into_iter().filter(|(_, go)| !go.is_null()) {
                let same = mended.iter().any(|one| *one == (cue.clone(), go.clone()));
                assert!(same, "{mistake}: {cue} goes at {go}: {mended:?}");
            }
        }
    }
}

#[test]
fn the_colours_of_a_draft_are_those_of_the_act_without_its_mistake_or_left_out() {
    for (right, mistake) in [MISTAKES[0], MISTAKES[1], MISTAKES[2], MISTAKES[6]] {
        let good = throwbook::open(LANTERN);
        let colours = good.colours.as_ref().expect("its colours");
        let mended = read(colours_json::json(good.finished().expect("no errors"), colours));
        for (at, _) in LANTERN.match_indices(right) {
            let spoilt = spoil(LANTERN, at, right, mistake);
            let opened = throwbook::open(&spoilt);
            let (act, colours) = (opened.act.as_ref().unwrap(), opened.colours.as_ref().unwrap());
            let draft = read(colours_json::json(act, colours));
            let loading = |one: &Value| {
                let same = |other: &&Value| other["before"] == one["before"];
                differs(one, mended["loading"].as_array().unwrap().iter().find(same)?, "")
            };
            let gather = |one: &Value| {
                let same = |other: &&Value| other["after"] == one["after"];
                let other = mended["gathers"].as_array().unwrap().iter().find(same);
                // Where a run goes on into what could not be read, nothing is gathered.
                other.map_or_else(
                    || (!one["right"].is_null()).then(|| format!("{one}")),
                    |other| {
                        ["right", "left"]
                            .iter()
                            .find_map(|hand| differs(&one[hand], &other[hand], hand))
                    },
                )
            };
            for one in draft["loading"].as_array().unwrap() {
                let before = mended["loading"].as_array().unwrap();
                let known = before.iter().any(|other| other["before"] == one["before"]);
                assert!(known || one["right"].is_null(), "{mistake}: {one}");
                assert_eq!(loading(one), None, "{mistake}");
            }
            for one in draft["gathers"].as_array().unwrap() {
                assert_eq!(gather(one), None, "{mistake}");
            }
            assert!(draft["possible"].is_null());
        }
    }
}
