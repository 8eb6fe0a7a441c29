//! Every fault of a fixed act against those of the open act, and the lengths that are named.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::act::{Act, Open};
use crate::fixed::{Fixed, Turns, fixed, words};
use crate::judged::Judged;
use crate::lengths_named::{ON_THE_SAFE_SIDE, is_of_lengths, lengths};
use crate::said::failures::Failure;
use crate::said::{Said, diagnostics, has_times};

/// What is said of an open act only, or for the very reason that it is open.
pub(crate) const OF_OPEN_ACTS: [&str; 3] =
    ["range-moves-beats", "timed-cue-after-range", "too-open-to-check"];

/// What the open act says where a fixed one says that a pause ends before it starts.
const TOO_LONG: (&str, &str) = ("negative-pause", "range-too-long");

/// Holds what is wrong with an open act against what is wrong with the fixed ones.
pub(crate) fn judge(act: &Act, open: &Said, turns: &Turns, judged: &mut Judged) {
    let of_open: Vec<Fault<'_>> = diagnostics(&open.check).iter().map(Fault::of).collect();
    // Where the act cannot be followed at all, nothing is said of its times yet.
    if has_times(&open.check) {
        raised_of_fixed(act, &of_open, turns, judged);
    }
    for fault in &of_open {
        raised_of_open(act, fault, turns, judged);
    }
}

/// Whatever is raised of a fixed act is raised of the open one.
fn raised_of_fixed(act: &Act, of_open: &[Fault<'_>], turns: &Turns, judged: &mut Judged) {
    let mut found = BTreeSet::new();
    for turn in turns.all() {
        for said in diagnostics(&turn.said.check) {
            let fault = Fault::of(said);
            if of_open.iter().any(|open| open.shows(&fault)) || !found.insert(fault.code) {
                continue;
            }
            let lengths = words(act, &turn.lengths);
            let detail = format!("line {}: {} with {lengths}", fault.line, said["message"]);
            judged.fail(Failure { kind: format!("not raised: {}", fault.code), detail });
        }
    }
}

/// What is raised of an open act is raised of every fixed one, or names lengths that show it.
fn raised_of_open(act: &Act, fault: &Fault<'_>, turns: &Turns, judged: &mut Judged) {
    let notes = || fault.said["notes"].as_array().into_iter().flatten().filter_map(Value::as_str);
    let mut fail = |kind: &str, detail: String| {
        let kind = format!("{kind}: {}", fault.code);
        let detail = format!("line {}: {}; {detail}", fault.line, fault.said["message"]);
        judged.fail(Failure { kind, detail });
    };
    let is_raised = |fixed: &Fixed| {
        diagnostics(&fixed.said.check).iter().any(|said| fault.shows(&Fault::of(said)))
    };
    if let Some(note) = notes().find(|note| is_of_lengths(note)) {
        let named = match lengths(note) {
            Ok(named) => named,
            Err(rest) => return fail("lengths that cannot be read", rest),
        };
        let opens = act.opens();
        let strange = named.iter().find(|(called, length)| {
            let open = open_called(&opens, called);
            open.is_none_or(|open| *length < open.least || open.most < *length)
        });
        if let Some((called, length)) = strange {
            return fail("names what is not open", format!("{called} at {length} thousandths"));
        }
        // What is not named may last what it likes.
        for others_last_their_longest in [false, true] {
            let length = |open: &&Open| {
                let is_it = |called: &str| open_called(&opens, called) == Some(open);
                let of = named.iter().find(|(called, _)| is_it(called));
                let other = if others_last_their_longest { open.most } else { open.least };
                of.map_or(other, |(_, length)| *length)
            };
            let shown = fixed(act, opens.iter().map(length).collect());
            if !is_raised(&shown) {
                return fail("lengths that do not show it", words(act, &shown.lengths));
            }
        }
        return;
    }
    if OF_OPEN_ACTS.contains(&fault.code) {
        return;
    }
    let raised = turns.all().filter(|fixed| is_raised(fixed)).count();
    if notes().any(|note| note == ON_THE_SAFE_SIDE) {
        judged.on_the_safe_side += 1;
    } else if raised == 0 {
        fail("raised of no fixed act", String::new());
    } else if let Some(fixed) = turns.all().find(|fixed| !is_raised(fixed)) {
        fail("names no lengths", format!("not so with {}", words(act, &fixed.lengths)));
    }
}

/// The open length that is called so: by its name alone where no other has that name.
fn open_called<'a>(opens: &[&'a Open], called: &str) -> Option<&'a Open> {
    let alone = |open: &Open| {
        let (name, _) = open.called.split_once(" in the encore").unwrap_or((&open.called, ""));
        name.split_once(" of \"").map_or(name, |(name, _)| name).to_owned()
    };
    let mut so_called = opens.iter().filter(|open| open.called == called || alone(open) == called);
    so_called.next().filter(|_| so_called.next().is_none()).copied()
}

/// A fault and what it is about.
struct Fault<'s> {
    said: &'s Value,
    code: &'s str,
    line: i64,
    /// The line of the other cue, where it takes two.
    other: Option<i64>,
    /// What its message names in quotes.
    names: BTreeSet<&'s str>,
}

impl<'s> Fault<'s> {
    fn of(said: &'s Value) -> Fault<'s> {
        let code = said["code"].as_str().unwrap();
        // It is about the track; which section goes on in silence first is one example.
        let message = match code {
            "music-ends-early" => "",
            _ => said["message"].as_str().unwrap(),
        };
        let names = message.split('"').skip(1).step_by(2);
        let other = || said["notes"].as_array()?.iter().find_map(|note| line_of(note.as_str()?));
        Fault {
            said,
            code,
            line: said["line"].as_i64().unwrap(),
            other: code.ends_with("-too-close").then(other).flatten(),
            names: names.collect(),
        }
    }

    /// Whether this one, of an open act, says what that one says of a fixed act.
    fn shows(&self, fixed: &Fault<'_>) -> bool {
        let is_same = self.code == fixed.code || (fixed.code, self.code) == TOO_LONG;
        // Of two cues that are called too close either may come first.
        let lines = |fault: &Fault<'_>| BTreeSet::from([Some(fault.line), fault.other]);
        let in_place = match self.other.is_some() {
            true => lines(self) == lines(fixed),
            false => self.line == fixed.line,
        };
        let said = self.said.to_string().replace("\\\"", "\"");
        let names = fixed.names.iter().all(|name| said.contains(&format!("\"{name}\"")));
        let is_grave = self.said["severity"] == "error" || fixed.said["severity"] == "warning";
        is_same && in_place && names && is_grave
    }
}

/// The line that stands behind a note.
fn line_of(note: &str) -> Option<i64> {
    let (_, place) = note.rsplit_once(" (line ")?;
    place.split_once(',')?.0.parse().ok()
}
