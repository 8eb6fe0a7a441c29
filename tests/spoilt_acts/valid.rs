//! Valid acts made up at random. What they ask of joins, leads, loadings and colours is taken from
//! the documents of the same act without it, so that they get it.

use serde_json::Value;

use crate::act::{Act, Entry};
use crate::said::chance::Chance;
use crate::said::names::{CREW, MAY_BEND, TRIGGER, at, clock};
use crate::said::{Said, Wanted, said};

const PALETTE: &str = concat!(
    "{ \"coral\": \"#ec6a5c\", \"teal\": \"#0f5b6d\", \"pearl\": \"#f4f1e6\", ",
    "\"ink\": \"#202030\", \"sky\": \"#3f8fe8\" }"
);

const SETS: &str = concat!(
    "{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \"pearl\"]), ",
    "\"duo\": Set(kind: Club, length: 0.5, colours: [\"coral\", \"coral\", \"ink\"]), ",
    "\"four\": Set(kind: Ring, length: 0.3, colours: [\"coral\", \"ink\", \"pearl\", \"sky\"]), ",
    "\"five\": Set(kind: Ball, length: 0.07, colours: [\"pearl\", \"pearl\", \"ink\", \"ink\", \"coral\"]) }"
);

/// Patterns of the props of each set.
pub(crate) fn patterns(set: &str) -> &'static [&'static str] {
    match set {
        "four" => &["4", "53", "552", "633", "71", "(4,4)", "(6x,2x)*", "[43]23"],
        "five" => &["5", "744", "66661", "[54]24", "(6,4x)*", "753"],
        _ => &["3", "3", "441", "531", "423", "51", "522", "(4,2x)*", "(4,2x)(2x,4)", "[23]1"],
    }
}

/// How many beats a cycle of a pattern has.
pub(crate) fn period(pattern: &str) -> i64 {
    let read = throwbook::patterns::Pattern::read(pattern);
    let written = read.map_or(1, |(pattern, _)| i64::from(pattern.period()));
    // A starred pattern comes round with the hands exchanged.
    if pattern.ends_with('*') { 2 * written } else { written }
}

/// The valid act of a seed, and what is said of it.
pub(crate) fn act(chance: &mut Chance) -> (Act, Said) {
    let plain = plain(chance);
    let documents = said(&plain.text(), Wanted::All);
    let act = hardened(&plain, &documents, chance);
    let said_of_it = said(&act.text(), Wanted::All);
    (act, said_of_it)
}

/// An act whose joins are all found and that asks for no colours.
fn plain(chance: &mut Chance) -> Act {
    let mut score =
        vec![Entry::new("Pause").with("name", "\"walk\"").with("lasts", "For(\"0:04\")")];
    let music = chance.often(40);
    let mut names = ["tide", "beam", "wake", "ebb", "fleet", "surf", "buoy", "keel", "helm"].iter();
    for run in 0..1 + chance.below(3) {
        if run > 0 {
            let name = format!("\"pause {run}\"");
            let lasts = match chance.often(25) {
                true => "Between(\"0:03\", \"0:08\")",
                false => "For(\"0:05\")",
            };
            score.push(Entry::new("Pause").with("name", name).with("lasts", lasts));
        }
        let set = *chance.pick(&["three", "three", "duo", "four", "five"]);
        let certain =
            score.iter().all(|one| !one.get("lasts").unwrap_or("").starts_with("Between"));
        let is_first = run == 0;
        for section in 0..1 + chance.below(3) {
            let Some(name) = names.next() else { break };
            let pattern = *chance.pick(patterns(set));
            let cycle = period(pattern);
            let tempo = if music && is_first { 240 } else { 200 };
            let mut juggle = Entry::new("Juggle").with("name", format!("\"{name}\""));
            if section == 0 {
                juggle.set("set", format!("\"{set}\""));
                juggle.set("tempo", format!("PerMinute({tempo})"));
            }
            juggle.set("pattern", format!("\"{pattern}\""));
            let cycles = 2 + chance.within(0, 18) / cycle;
            let beats = cycles * cycle;
            let lasts = match chance.below(6) {
                // Beats of 0.25 s, eight in a bar.
                0 | 1 if music && is_first && certain => format!("Bars({})", 1 + chance.below(3)),
                2 => format!("For({})", clock(beats * 60_000 / tempo)),
                3 | 4 => format!("Beats({beats})"),
                _ => format!("Cycles({cycles})"),
            };
            juggle.set("lasts", lasts);
            juggle.set("transition", "Auto");
            score.push(juggle);
        }
    }
    score.push(Entry::new("Pause").with("name", "\"bow\"").with("lasts", "For(\"0:05\")"));
    let mut act = Act { head: head(music), score, limits: vec![], cues: vec![], encore: vec![] };
    cues(&mut act, chance);
    if chance.often(15) {
        act.encore = vec![
            Entry::new("Pause").with("name", "\"back\"").with("lasts", "For(\"0:05\")"),
            Entry::new("Juggle")
                .with("name", "\"last\"")
                .with("set", "\"three\"")
                .with("pattern", format!("\"{}\"", chance.pick(patterns("three"))))
                .with("lasts", "Cycles(6)"),
        ];
    }
    act
}

fn head(music: bool) -> Vec<(String, String)> {
    let mut head = vec![
        ("title", "\"Act\""),
        ("lead", "Right"),
        ("tempo", "PerMinute(200)"),
        ("transitions", "Within(highest: 9, at_once: 2, beats: 6)"),
        ("colours", PALETTE),
        ("sets", SETS),
        ("zero", "FirstThrow"),
    ];
    if music {
        head.push((
            "music",
            "Track(file: \"a.wav\", length: \"5:00\", starts: Start(\"tide\"), bars: [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)])",
        ));
    }
    head.into_iter().map(|(name, value)| (name.to_owned(), value.to_owned())).collect()
}

fn cues(act: &mut Act, chance: &mut Chance) {
    let juggled: Vec<String> =
        act.score.iter().filter(|one| one.is_juggle()).map(|one| one.name().to_owned()).collect();
    for number in 0..chance.below(5) {
        let name = chance.pick(&juggled);
        let moment = match chance.below(3) {
            0 => format!("End(\"{name}\")"),
            1 => format!("Cycle(\"{name}\", 2)"),
            _ => format!("Start(\"{name}\")"),
        };
        let when = at(&moment, 1000 * number as i64 - 2000);
        let (field, value) = when.split_once(": ").unwrap_or((&when, ""));
        let cue = Entry::new("Cue")
            .with(CREW, *chance.pick(&["Light", "Sound", "Fly"]))
            .with("number", format!("{}", 5 + 5 * number))
            .with(field, value)
            .with(TRIGGER, *chance.pick(&["See(\"a nod\")", "Called"]))
            .with("does", "\"go\"")
            .with("count", "2");
        act.cues.push(cue);
    }
}

/// The act with more written down of what comes out anyway.
fn hardened(plain: &Act, documents: &Said, chance: &mut Chance) -> Act {
    let mut act = plain.clone();
    let (Some(time), Some(colours)) = (&documents.time, &documents.colours) else { return act };
    // In a first run of three balls the line-up may have to find the loading: its wishes are for
    // the natural one with the colours in turn.
    let in_turn = chance.often(40);
    let mut runs = 0;
    for (index, entry) in act.score.iter_mut().enumerate() {
        let section = &time["sections"][index];
        runs += usize::from(entry.get("set").is_some());
        if !entry.is_juggle() {
            continue;
        }
        let throws = section["transition"]["throws"].as_str();
        match throws {
            None | Some("") => {
                if chance.often(70) {
                    entry.remove("transition");
                }
            }
            Some(throws) if chance.often(50) => {
                entry.set("transition", format!("Throws(\"{throws}\")"));
            }
            Some(_) => {}
        }
        if let Some(lead) = section["lead"].as_str().filter(|_| chance.often(30)) {
            entry.set("lead", if lead == "left" { "Left" } else { "Right" });
        }
        if chance.often(15) && entry.get("lasts").is_some_and(|lasts| lasts.starts_with("For")) {
            entry.set(MAY_BEND, "0.03");
        }
        if let Some(chart) = of(&colours["sections"], "name", entry.name()) {
            asked(entry, chart, chance);
        }
        if in_turn
            && runs == 1
            && section["props"] == 3
            && colours["loading"][0]["left"][0] == "teal"
        {
            if let Some(shows) = entry.get("shows").map(turned) {
                entry.set("shows", shows);
            }
            if entry.get("set").is_some() {
                entry.set("loading", "Found");
                continue;
            }
        }
        if let Some(loading) = of(&colours["loading"], "before", entry.name())
            && chance.often(35)
        {
            let hands = format!("Hands(right: {}, left: {})", loading["right"], loading["left"]);
            entry.set("loading", hands.replace(',', ", ").replace(",  ", ", "));
        }
        if chance.often(10) {
            let beats = match entry.get("pattern") {
                Some(pattern) if !pattern.contains('(') => period(pattern.trim_matches('"')),
                _ => continue,
            };
            entry.set("arms", format!("[{}]", vec!["Open"; beats as usize].join(", ")));
        }
    }
    limits(&mut act, time, chance);
    act
}

fn of<'v>(list: &'v Value, field: &str, name: &str) -> Option<&'v Value> {
    list.as_array()?.iter().find(|one| one[field] == name)
}

/// Lets a section ask for colours that come out anyway.
fn asked(entry: &mut Entry, chart: &Value, chance: &mut Chance) {
    let cycles = chart["cycles"].as_array().map_or(&[][..], Vec::as_slice);
    let Some(first) = cycles.first().and_then(Value::as_array) else { return };
    if cycles.len() < 2 || !chance.often(40) {
        return;
    }
    let throw = chance.below(first.len());
    let shown: Vec<&str> = cycles.iter().filter_map(|cycle| cycle[throw].as_str()).collect();
    if shown.len() < cycles.len() {
        return;
    }
    let turns = (1..=shown.len().min(3))
        .find(|turns| shown.iter().enumerate().all(|(at, colour)| shown[at % turns] == *colour));
    if let Some(turns) = turns {
        let colours: Vec<String> = shown[..turns].iter().map(|one| format!("\"{one}\"")).collect();
        entry.set("shows", format!("{{ {}: [{}] }}", throw + 1, colours.join(", ")));
    }
}

/// Coral in place of teal, teal in place of pearl, pearl in place of coral.
fn turned(shows: &str) -> String {
    let turned = shows.replace("coral", "PEARL").replace("teal", "coral").replace("pearl", "teal");
    turned.replace("PEARL", "pearl")
}

/// Limits that the act keeps.
fn limits(act: &mut Act, time: &Value, chance: &mut Chance) {
    let ends = time["act"]["last_catch_latest_s"].as_f64().or(time["act"]["last_catch_s"].as_f64());
    let Some(ends) = ends.filter(|_| chance.often(40)) else { return };
    let most = (ends * 10.0) as i64 * 100 + chance.within(5, 60) * 100;
    act.limits.push(
        Entry::new("Limit")
            .with("rule", "\"short class\"")
            .with("starts", "FirstThrow")
            .with("stops", "LastCatch")
            .with("at_most", clock(most))
            .with("on_the_line", "Inside"),
    );
}
