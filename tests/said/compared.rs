//! What holds of any two acts that are held against each other, whatever is in them.

use std::fmt::Debug;

use serde_json::Value;
use throwbook::Opened;
use throwbook::difference::{Comparison, Side};
use throwbook::export::{difference_json, timing_json};
use throwbook::open_to_compare;
use throwbook::read::Edits;
use throwbook::sound::Tracks;

use super::chance::{Chance, first_seed, of_each};
use super::failures::{Failed, Failure, report};

/// Times of equal worth differ by less, in seconds.
const NEAR_S: f64 = 1e-6;

fn opened(text: &str) -> Opened {
    open_to_compare(text, None, |_| Tracks::new())
}

/// What the program says of two acts, in JSON.
fn compared(old: &str, new: &str) -> Value {
    let (was, is) = (opened(old), opened(new));
    let sides = [Side { text: old, opened: &was }, Side { text: new, opened: &is }];
    let comparison = Comparison::between(sides[0], sides[1], opened);
    serde_json::from_str(&difference_json::of_comparison(&comparison)).unwrap()
}

/// Holds the acts of each pair against each other, so many seeds' pairs; what breaks a law of
/// differences, kind by kind, and nothing where none does.
pub(crate) fn of_pairs<P>(acts: usize, pairs: impl Fn(u64) -> P + Sync) -> String
where
    P: AsRef<[(String, String)]> + Debug,
{
    let seeds: Vec<u64> = (first_seed()..).take(acts).collect();
    let judge = |seed: &u64| -> Vec<Failure> {
        pairs(*seed).as_ref().iter().flat_map(|(old, new)| judge(old, new)).collect()
    };
    let failures = of_each(&seeds, judge);
    let failed: Vec<_> = seeds
        .iter()
        .zip(&failures)
        .map(|(&seed, failures)| Failed { seed, size: 0, failures })
        .collect();
    let text = |seed: &u64| format!("{:?}", pairs(*seed));
    report(&failed, |seed| seed, text, |_| Vec::new(), |seed, _| judge(seed))
}

/// A text in which a length or two are others.
pub(crate) fn tweaked(text: &str, chance: &mut Chance) -> String {
    let mut tweaked = text.to_owned();
    for _ in 0..1 + chance.below(2) {
        let places: Vec<usize> = ["Beats(", "Cycles("]
            .iter()
            .flat_map(|word| tweaked.match_indices(word).map(|(at, word)| at + word.len()))
            .collect();
        if places.is_empty() {
            return tweaked;
        }
        let at = *chance.pick(&places);
        let digits = tweaked[at..].find(|c: char| !c.is_ascii_digit()).unwrap();
        let number: i64 = tweaked[at..at + digits].parse().unwrap_or(4);
        let other = (number + chance.within(-2, 3)).max(1);
        tweaked.replace_range(at..at + digits, &other.to_string());
    }
    tweaked
}

/// What is not so of two acts.
pub(crate) fn judge(old: &str, new: &str) -> Vec<Failure> {
    let mut failures = Vec::new();
    let mut demand = |holds: bool, what: &str, detail: &dyn Fn() -> String| {
        if !holds {
            failures.push(Failure::new(what, detail()));
        }
    };
    for text in [old, new] {
        let same = compared(text, text);
        let empty = same["same"] == true && lists(&same).iter().all(|list| list.is_empty());
        demand(empty, "an act and itself differ", &|| same.to_string());
    }
    let (there, back) = (compared(old, new), compared(new, old));
    let both = || format!("{there:#}\n{back:#}");
    demand(there["same"] == back["same"], "same one way only", &both);
    demand(mirrored(&there["act"], &back["act"]), "the ends are no mirror", &both);
    for name in ["sections", "cues", "limits"] {
        let (one, other) = (list(&there[name]), list(&back[name]));
        let count = |entries: &[Value]| {
            let mut keys: Vec<String> = entries.iter().map(|entry| key(name, entry)).collect();
            keys.sort();
            keys
        };
        let swapped: Vec<Value> = other.iter().map(|entry| swap(name, entry)).collect();
        let (one, swapped) = (count(one), count(&swapped));
        let apart = || {
            let only = |a: &[String], b: &[String]| {
                a.iter().filter(|key| !b.contains(key)).cloned().collect::<Vec<_>>().join("\n")
            };
            format!("{}\nback:\n{}", only(&one, &swapped), only(&swapped, &one))
        };
        demand(one == swapped, &format!("the {name} are no mirror"), &apart);
    }
    demand(there["added"] == back["gone"], "what is added is not gone", &both);
    demand(
        sorted(&there["faults"]["new"]) == sorted(&back["faults"]["gone"]),
        "faults are no mirror",
        &both,
    );
    if let Some(edits) = Edits::between(old, new) {
        let end = edits.last().map_or_else(|| old.to_owned(), |(_, text)| text);
        let rest: Vec<_> = Edits::between(&end, new).into_iter().flatten().collect();
        demand(rest.is_empty(), "the edits do not end at the new file", &|| format!("{rest:?}"));
    }
    let causes = list(&there["causes"]);
    let ends: Option<f64> = causes.iter().map(|cause| cause["ends_by_s"].as_f64()).sum();
    if let (Some(sum), Some(all)) = (ends, there["act"]["ends_by_s"].as_f64()) {
        demand((sum - all).abs() < NEAR_S, "the causes do not add up", &|| there.to_string());
    }
    demand(
        there["same"] == true || !causes.is_empty() || there["causes_known"] == false,
        "no cause",
        &both,
    );
    for (name, detail) in against_the_sheets(old, new, &there) {
        failures.push(Failure::new(name, detail));
    }
    failures
}

/// The sections' times held against those of the two timing sheets.
fn against_the_sheets(old: &str, new: &str, there: &Value) -> Vec<(&'static str, String)> {
    let sheet = |text: &str| -> Option<Value> {
        Some(serde_json::from_str(&timing_json::json(opened(text).act.as_ref()?)).unwrap())
    };
    let (Some(was), Some(is)) = (sheet(old), sheet(new)) else { return Vec::new() };
    let of = |sheet: &Value, name: &Value| -> Option<Value> {
        let mut all = list(&sheet["sections"]).iter().filter(|one| one["name"] == *name);
        all.next().filter(|_| all.next().is_none()).cloned()
    };
    let mut found = Vec::new();
    for section in list(&is["sections"]) {
        let name = &section["name"];
        let (Some(before), Some(now)) = (of(&was, name), of(&is, name)) else { continue };
        let told = list(&there["sections"]).iter().find(|one| one["name"] == *name);
        for (field, by) in [("starts_s", "starts_by_s"), ("ends_s", "ends_by_s")] {
            let later = now[field].as_f64().zip(before[field].as_f64()).map(|(is, was)| is - was);
            let said = told.map_or(Some(0.0), |told| told[by].as_f64());
            let agrees = match (later, said) {
                (Some(later), Some(said)) => (later - said).abs() < NEAR_S,
                (None, Some(_)) => told.is_none() && there["same"] == true,
                (later, None) => later.is_none(),
            };
            if !agrees {
                found.push((
                    "a section's time is not as the sheets have it",
                    format!("{name} {by}: {later:?}, said {said:?}\n{there:#}"),
                ));
            }
        }
    }
    found
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn lists(document: &Value) -> Vec<&[Value]> {
    let names = ["sections", "added", "gone", "cues", "limits", "causes"];
    let faults = ["new", "gone"].map(|name| list(&document["faults"][name]));
    names.iter().map(|name| list(&document[*name])).chain(faults).collect()
}

fn sorted(value: &Value) -> Vec<String> {
    let mut all: Vec<String> = list(value).iter().map(Value::to_string).collect();
    all.sort();
    all
}

fn mirrored(one: &Value, other: &Value) -> bool {
    ["ends_by_s", "ends_by_latest_s", "lasts_by_s", "lasts_by_latest_s"].iter().all(|name| {
        match (one[*name].as_f64(), other[*name].as_f64()) {
            (Some(one), Some(other)) => (one + other).abs() < NEAR_S,
            (one, other) => one.is_none() && other.is_none(),
        }
    })
}

/// What is compared of an entry, as text; figures to a thousandth.
fn key(list: &str, entry: &Value) -> String {
    let figure = |name: &str| entry[name].as_f64().map(|by| (by * 1000.0).round() as i64);
    match list {
        "sections" => format!(
            "{} {:?} {:?} {:?} {:?} {} {} {}",
            entry["name"],
            figure("starts_by_s"),
            figure("starts_by_latest_s"),
            figure("ends_by_s"),
            figure("ends_by_latest_s"),
            entry["flips_lead"],
            entry["moves_colours"],
            entry["counts_by"],
        ),
        "cues" => format!("{} {} {:?}", entry["crew"], entry["what"], figure("by_s")),
        _ => {
            format!("{} {} {} {:?}", entry["rule"], entry["was"], entry["now"], figure("room_by_s"))
        }
    }
}

/// An entry as it must be the other way round.
fn swap(list: &str, entry: &Value) -> Value {
    let mut swapped = entry.clone();
    for (name, value) in swapped.as_object_mut().unwrap() {
        let is_time = name.contains("by_s") || name.contains("by_latest_s");
        if is_time && let Some(by) = value.as_f64() {
            *value = (-by).into();
        }
    }
    match list {
        "sections" => {
            if entry["was"].is_string() {
                swapped["name"] = entry["was"].clone();
            }
            for hand in ["right", "left"] {
                let place = format!("/counts_by/{hand}");
                let counts = swapped.pointer_mut(&place).and_then(Value::as_object_mut);
                let Some(counts) = counts else { continue };
                for (_, count) in counts {
                    *count = (-count.as_i64().unwrap()).into();
                }
            }
        }
        "cues" => {
            let other = match entry["what"].as_str().unwrap() {
                "added" => "cut",
                "cut" => "added",
                same => same,
            };
            swapped["what"] = other.into();
        }
        _ => {
            swapped["was"] = entry["now"].clone();
            swapped["now"] = entry["was"].clone();
        }
    }
    swapped
}
