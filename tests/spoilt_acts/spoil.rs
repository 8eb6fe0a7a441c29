//! Slips of the pen and of the head.

use crate::act::{Act, Entry};
use crate::said::chance::Chance;
use crate::said::names::{CREW, MAY_BEND, clock};
use crate::valid::{patterns, period};

/// Does one thing wrong; says what, or nothing where that was not possible.
pub(crate) fn spoil(act: &mut Act, chance: &mut Chance) -> Option<&'static str> {
    let juggled: Vec<usize> =
        (0..act.score.len()).filter(|&index| act.score[index].is_juggle()).collect();
    let index = *chance.pick(&juggled);
    let is_first = !act.score[index - 1].is_juggle();
    let entry = &mut act.score[index];
    match chance.below(24) {
        0 | 1 => throw_mistyped(entry, chance),
        2 | 3 => other_pattern(entry, chance),
        4 => lead(entry, chance),
        5 | 6 => length(entry, chance),
        7 => other_length(entry, chance),
        8 => bounds(act, chance),
        9 | 10 => transition(entry, is_first, chance),
        11 | 12 => loading(entry, chance),
        13 | 14 => arms(entry, chance),
        15 | 16 => colours(entry, chance),
        17 => cue_number(act, chance),
        18 => limit(act),
        19 => misspelt(act, chance),
        20 => field_misspelt(act, chance),
        21 => set(entry, chance),
        22 => called_close(act),
        _ => pause_gone(act, chance),
    }
}

fn throw_mistyped(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    let mut characters: Vec<char> = entry.get("pattern")?.chars().collect();
    let digits: Vec<usize> =
        (0..characters.len()).filter(|&at| characters[at].is_ascii_digit()).collect();
    let at = *chance.pick(&digits);
    characters[at] = *chance.pick(&['0', '1', '2', '3', '4', '5', '6', '7', '8', 'x', 'q']);
    entry.set("pattern", characters.into_iter().collect::<String>());
    Some("a throw mistyped")
}

fn other_pattern(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    let set = *chance.pick(&["three", "three", "four", "five"]);
    entry.set("pattern", format!("\"{}\"", chance.pick(patterns(set))));
    Some("another pattern")
}

fn lead(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    let lead = match entry.get("lead") {
        Some("Left") => "Right",
        Some(_) => "Left",
        None => *chance.pick(&["Left", "Right"]),
    };
    entry.set("lead", lead);
    Some("a lead")
}

/// A length a little off.
fn length(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    let lasts = entry.get("lasts")?.to_owned();
    let (word, rest) = lasts.split_once('(')?;
    let number = rest.trim_end_matches(')');
    let by = *chance.pick(&[-2, -1, 1, 2, 3]);
    let spoilt = match word {
        "For" => {
            let (minutes, seconds) = number.trim_matches('"').split_once(':')?;
            let thousandths: i64 = seconds.replace('.', "").parse().ok()?;
            let length = minutes.parse::<i64>().ok()? * 60_000 + thousandths + 70 * by;
            format!("For({})", clock(length.max(100)))
        }
        _ => format!("{word}({})", (number.parse::<i64>().ok()? + by).max(1)),
    };
    entry.set("lasts", spoilt);
    if chance.often(30) {
        entry.set(MAY_BEND, "0.01");
    }
    Some("a length")
}

fn other_length(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    let lasts = match chance.below(3) {
        0 => format!("For({})", clock(chance.within(20, 90) * 100)),
        1 => format!("Beats({})", chance.within(1, 30)),
        _ => format!("Until(At({}))", clock(chance.within(20, 300) * 100)),
    };
    entry.set("lasts", lasts);
    Some("another length")
}

fn bounds(act: &mut Act, chance: &mut Chance) -> Option<&'static str> {
    let (highest, beats) = (chance.within(3, 6), chance.within(1, 2));
    let bounds = format!("Within(highest: {highest}, at_once: 1, beats: {beats})");
    act.head.iter_mut().find(|(name, _)| name == "transitions")?.1 = bounds;
    let auto = act.score.iter_mut().filter(|entry| entry.is_juggle());
    auto.for_each(|entry| entry.set("transition", "Auto"));
    Some("bounds too small")
}

fn transition(entry: &mut Entry, is_first: bool, chance: &mut Chance) -> Option<&'static str> {
    match chance.below(3) {
        0 if !is_first => entry.remove("transition"),
        1 => entry.set("transition", "Auto"),
        _ => {
            let throws = *chance.pick(&["2", "4", "5", "42", "34", "6", "(4,4)", "3x", "[43]"]);
            entry.set("transition", format!("Throws(\"{throws}\")"));
        }
    }
    Some("a transition")
}

fn loading(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    let spoilt = match (entry.get("loading"), chance.below(4)) {
        (Some(loading), 0) => {
            loading.replace("right", "hand").replace("left", "right").replace("hand", "left")
        }
        (Some(loading), 1) => loading.replacen("[\"", "[\"sky\", \"", 1),
        (Some(loading), 2) => loading.replacen("\"coral\"", "\"teal\"", 1),
        _ => {
            let hands =
                ["[\"coral\", \"teal\"]", "[\"pearl\"]", "[\"coral\", \"coral\"]", "[\"ink\"]"];
            format!("Hands(right: {}, left: {})", chance.pick(&hands), chance.pick(&hands))
        }
    };
    entry.set("loading", spoilt);
    Some("a loading")
}

fn arms(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    let pattern = entry.get("pattern")?.trim_matches('"').to_owned();
    let pairs = if pattern.contains('(') { 2 } else { 1 };
    let beats = (period(&pattern) / pairs).max(1);
    let arms: Vec<&str> =
        (0..beats).map(|_| *chance.pick(&["Open", "RightOver", "RightOver", "LeftOver"])).collect();
    entry.set("arms", format!("[{}]", arms.join(", ")));
    Some("arms")
}

fn colours(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    let colour = *chance.pick(&["coral", "teal", "pearl", "ink"]);
    let throw = chance.within(1, 3);
    match chance.below(5) {
        0 => entry.set("solid", "true"),
        1 => entry.set("alike", format!("[({throw}, {})]", throw % 3 + 1)),
        2 => entry.set("unlike", format!("[({throw}, {})]", throw % 3 + 1)),
        3 => {
            entry.set("loading", "Found");
            entry.set("shows", format!("{{ {throw}: [\"{colour}\"] }}"));
        }
        _ => entry.set("shows", format!("{{ {throw}: [\"{colour}\"] }}")),
    }
    Some("colours")
}

fn cue_number(act: &mut Act, chance: &mut Chance) -> Option<&'static str> {
    let from = act.cues.first()?.clone();
    let size = act.cues.len();
    let to = &mut act.cues[chance.below(size)];
    to.set("number", from.get("number")?);
    to.set(CREW, from.get(CREW)?);
    Some("a cue number")
}

fn limit(act: &mut Act) -> Option<&'static str> {
    act.limits.first_mut()?.set("at_most", "\"0:05\"");
    Some("a limit")
}

fn called_close(act: &mut Act) -> Option<&'static str> {
    let last = act.cues.last()?.clone();
    act.cues.push(last.with("number", "77"));
    Some("a cue twice")
}

fn any<'a>(act: &'a mut Act, chance: &mut Chance) -> Option<&'a mut Entry> {
    let entries = act.lists().into_iter().nth(chance.below(4))?;
    let size = entries.len();
    (size > 0).then(|| &mut entries[chance.below(size)])
}

/// A name, a word or a colour without one of its letters.
fn misspelt(act: &mut Act, chance: &mut Chance) -> Option<&'static str> {
    let entry = any(act, chance)?;
    let size = entry.fields.len();
    let (_, value) = &mut entry.fields[chance.below(size)];
    let letters: Vec<usize> = value
        .char_indices()
        .filter(|(_, one)| one.is_ascii_alphabetic())
        .map(|(at, _)| at)
        .collect();
    let at = (!letters.is_empty()).then(|| *chance.pick(&letters))?;
    value.remove(at);
    Some("a letter left out")
}

fn field_misspelt(act: &mut Act, chance: &mut Chance) -> Option<&'static str> {
    let entry = any(act, chance)?;
    let size = entry.fields.len();
    let (name, _) = &mut entry.fields[chance.below(size)];
    name.pop();
    Some("a field misspelt")
}

fn set(entry: &mut Entry, chance: &mut Chance) -> Option<&'static str> {
    entry.set("set", *chance.pick(&["\"three\"", "\"four\"", "\"five\"", "\"duo\""]));
    Some("a set")
}

fn pause_gone(act: &mut Act, chance: &mut Chance) -> Option<&'static str> {
    let pauses: Vec<usize> =
        (1..act.score.len()).filter(|&index| !act.score[index].is_juggle()).collect();
    act.score.remove(*chance.pick(&pauses));
    Some("a pause left out")
}
