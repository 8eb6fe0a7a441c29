//! Every time that a document prints of an open act, against what the documents of the fixed acts
//! print in its place.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::act::Act;
use crate::fixed::{Fixed, Step, Turns, at, is_linear, kind_of, words};
use crate::said::failures::Failure;
use crate::said::names::CREW;
use crate::said::{Said, has_times};

/// Times of equal worth differ by less, in seconds: what follows a ramp is floating point.
const NEAR_S: f64 = 1e-6;

/// What differs between acts and is judged elsewhere or not at all: which cue is the last that a
/// crew was in hangs on their order, and a limit of an open act lists the moves that it cuts on some
/// night. Notes are sentences with ranges in them.
const NOT_HELD: [&str; 4] = ["state", "changed", "cut", "music_notes"];

/// Fields of a limit that are judged together.
const VERDICT: [&str; 18] = [
    "verdict",
    "by_s",
    "penalty_points",
    "best_verdict",
    "best_by_s",
    "best_penalty_points",
    "also_verdict",
    "also_by_s",
    "also_penalty_points",
    "penalty_percent",
    "penalty_rating",
    "disqualified",
    "best_penalty_percent",
    "best_penalty_rating",
    "best_disqualified",
    "also_penalty_percent",
    "also_penalty_rating",
    "also_disqualified",
];

/// Holds the two documents of an open act that give times against those of the fixed acts.
pub(crate) fn judge(act: &Act, open: &Said, turns: &Turns) -> Vec<Failure> {
    let of_time: fn(&Said) -> Option<&Value> = |said| said.time.as_ref();
    let of_cues: fn(&Said) -> Option<&Value> = |said| said.cues.as_ref();
    let mut failures = Vec::new();
    // Of an act that cannot be followed the times are not all known.
    if !turns.all().map(|fixed| &fixed.said).chain([open]).all(|said| has_times(&said.check)) {
        return failures;
    }
    for (name, of) in [("time", of_time), ("cues", of_cues)] {
        let Some(document) = of(open) else { continue };
        // With fire in the dark there is no cue sheet.
        if turns.all().any(|fixed| of(&fixed.said).is_none()) {
            continue;
        }
        let mut judging = Judging { act, turns, of, document, failures: Vec::new() };
        judging.value(&mut vec![]);
        failures.extend(
            judging
                .failures
                .into_iter()
                .map(|one| Failure { kind: format!("{name}: {}", one.kind), ..one }),
        );
    }
    failures
}

struct Judging<'a> {
    act: &'a Act,
    turns: &'a Turns,
    of: fn(&Said) -> Option<&Value>,
    document: &'a Value,
    failures: Vec<Failure>,
}

impl<'a> Judging<'a> {
    fn open(&self, path: &[Step]) -> &'a Value {
        at(self.document, path)
    }

    fn of_fixed(&self, fixed: &'a Fixed, path: &[Step]) -> &'a Value {
        (self.of)(&fixed.said).map_or(&Value::Null, |document| at(document, path))
    }

    fn fail(&mut self, what: &str, path: &[Step], detail: String) {
        let kind = format!("{what}: {}", kind_of(path));
        let detail = format!("{path:?}: {detail}");
        self.failures.push(Failure { kind, detail });
    }

    fn value(&mut self, path: &mut Vec<Step>) {
        match self.open(path) {
            Value::Object(fields) => {
                if fields.contains_key("best_verdict") {
                    self.verdict(path);
                }
                let is_limit = fields.contains_key("best_verdict");
                for name in fields.keys() {
                    let is_latest = name.ends_with("_latest_s") || name.ends_with("_latest");
                    let is_judged = is_limit && VERDICT.contains(&name.as_str());
                    if is_latest || is_judged || NOT_HELD.contains(&name.as_str()) {
                        continue;
                    }
                    path.push(Step::Name(name.clone()));
                    match name.as_str() {
                        // Whether music of the act may still play then hangs on the lengths.
                        "encore" if is_of_notes(self.open(path)) => {}
                        "on" => self.on(path),
                        "points" => self.points(path),
                        _ => self.value(path),
                    }
                    path.pop();
                }
            }
            Value::Array(items) => {
                let size = |value: &Value| value.as_array().map(Vec::len);
                let fixed = self.turns.all().map(|fixed| size(self.of_fixed(fixed, path)));
                if fixed.collect::<Vec<_>>().iter().any(|other| *other != Some(items.len())) {
                    self.fail("another number of lines", path, format!("{} lines", items.len()));
                    return;
                }
                for (index, item) in items.iter().enumerate() {
                    let numbered = item[CREW].as_str().zip(item["number"].as_str());
                    path.push(match numbered {
                        Some((crew, number)) => Step::Cue(crew.to_owned(), number.to_owned()),
                        None => Step::Index(index),
                    });
                    self.value(path);
                    path.pop();
                }
            }
            _ => self.scalar(path),
        }
    }

    fn scalar(&mut self, path: &[Step]) {
        let Some(Step::Name(name)) = path.last() else { return self.same(path) };
        let latest = match name.strip_suffix("_s") {
            Some(name) => format!("{name}_latest_s"),
            None if name == "timecode" => "timecode_latest".to_owned(),
            // How many errors there are is judged with the faults.
            None if name == "draft" => return,
            // A music beat is judged with its bar.
            None if name.ends_with("_music_beat") => return,
            None if name.ends_with("_bar") => format!("{name}_latest"),
            None => return self.same(path),
        };
        let mut of_latest = path.to_vec();
        of_latest.pop();
        of_latest.push(Step::Name(latest));
        let fixed: Vec<(&Fixed, Reads)> =
            self.turns.all().map(|fixed| (fixed, self.reads(path, Some(fixed)))).collect();
        let (open, latest) = (self.reads(path, None), self.reads(&of_latest, None));
        let printed = format!("prints {open:?} to {latest:?}");
        let witness = |fixed: &Fixed, reads: &Reads| {
            format!("{printed}; {reads:?} with {}", words(self.act, &fixed.lengths))
        };
        let none = fixed.iter().filter(|(_, reads)| *reads == Reads::Nothing).count();
        if none == fixed.len() {
            if open != Reads::Nothing {
                self.fail("a time where there is none", path, printed);
            }
            return;
        }
        if none > 0 || name == "track_s" && self.is_of_several_tracks(path) {
            // What is there at some lengths only is never printed as certain.
            let other = fixed.iter().find(|(_, reads)| *reads == Reads::Nothing || *reads != open);
            let (fixed, reads) = other.unwrap_or(&fixed[0]);
            if open != Reads::Nothing && latest == Reads::Nothing {
                let detail = witness(fixed, reads);
                self.fail("certain where there may be none", path, detail);
            }
            return;
        }
        // Which track is read may hang on the lengths, and then nobody knows the bar.
        let of_bar = name.contains("_bar") || name.contains("_music_beat");
        if of_bar && self.act.tracks.len() > 1 && open == Reads::Nothing {
            return;
        }
        if open == Reads::Nothing {
            let (fixed, reads) = &fixed[0];
            let detail = witness(fixed, reads);
            return self.fail("no time where there always is one", path, detail);
        }
        let latest = if latest == Reads::Nothing { open.clone() } else { latest };
        let outside =
            |(_, reads): &&(&Fixed, Reads)| reads.is_before(&open) || latest.is_before(reads);
        if let Some((fixed, reads)) = fixed.iter().find(outside) {
            let detail = witness(fixed, reads);
            return self.fail("outside of what is printed", path, detail);
        }
        let linear = match &fixed[0].1 {
            Reads::Seconds(_) => {
                is_linear(self.act, self.turns, |fixed| self.of_fixed(fixed, path).as_f64())
            }
            // Bars and frames follow the track evenly unless it is held.
            _ => self.act.tracks.iter().all(|track| track.holds.is_empty()),
        };
        let reached = |end: &Reads| {
            let is_end =
                |(_, reads): &(&Fixed, Reads)| !reads.is_before(end) && !end.is_before(reads);
            fixed.iter().any(is_end)
        };
        if linear && !(reached(&open) && reached(&latest)) {
            let of_fixed: Vec<&Reads> = fixed.iter().map(|(_, reads)| reads).collect();
            self.fail("wider than it can be", path, format!("{printed}; it is {of_fixed:?}"));
        }
    }

    /// Whether one track runs then or another, as it comes.
    fn is_of_several_tracks(&self, path: &[Step]) -> bool {
        let mut of_track = path.to_vec();
        of_track.pop();
        of_track.push(Step::Name("track".to_owned()));
        let mut tracks = self.turns.all().map(|fixed| self.of_fixed(fixed, &of_track));
        let first = tracks.next();
        tracks.any(|track| Some(track) != first)
    }

    /// What a fixed act, or the open one, has at a path.
    fn reads(&self, path: &[Step], fixed: Option<&'a Fixed>) -> Reads {
        let get = |path: &[Step]| match fixed {
            Some(fixed) => self.of_fixed(fixed, path),
            None => self.open(path),
        };
        let value = get(path);
        if let Some(text) = value.as_str() {
            return Reads::Frame(text.to_owned());
        }
        let Some(Step::Name(name)) = path.last() else { return Reads::Nothing };
        let is_bar = name.ends_with("_bar") || name.ends_with("_bar_latest");
        let Some(number) = value.as_f64() else { return Reads::Nothing };
        if !is_bar {
            return Reads::Seconds(number);
        }
        let mut beat = path.to_vec();
        beat.pop();
        beat.push(Step::Name(name.replace("_bar", "_music_beat")));
        get(&beat).as_f64().map_or(Reads::Nothing, |beat| Reads::Bar(number, beat))
    }

    /// What has no latest twin is the same in every fixed act, or else left out.
    fn same(&mut self, path: &[Step]) {
        let open = self.open(path);
        let other = self.turns.all().find(|fixed| !alike(self.of_fixed(fixed, path), open));
        let Some(fixed) = other else { return };
        let there = self.of_fixed(fixed, path);
        let differ = self.turns.all().any(|fixed| !alike(self.of_fixed(fixed, path), there));
        if !(open.is_null() && differ) {
            let lengths = words(self.act, &fixed.lengths);
            self.fail("not said alike", path, format!("{open}; {there} with {lengths}"));
        }
    }

    /// Whatever is on in a fixed act may be on in the open one, and what is on for sure always is.
    fn on(&mut self, path: &[Step]) {
        let open = self.open(path);
        // Of a draft it is not told.
        if open.is_null() && self.document["draft"] != 0 {
            return;
        }
        let of_fixed = |fixed| self.of_fixed(fixed, path);
        let other = self.turns.all().find(|fixed| !may_be(open, of_fixed(fixed)));
        let Some(fixed) = other else { return };
        let detail =
            format!("{open}; {} with {}", of_fixed(fixed), words(self.act, &fixed.lengths));
        self.fail("what is on there is not told", path, detail);
    }

    /// Whatever happens to a track in a fixed act stands in the list of the open one: a cue that fades
    /// it only on some night too.
    fn points(&mut self, path: &[Step]) {
        let named = |points: &Value| -> BTreeSet<String> {
            // What comes at one time stands together, so cues and what they come with are named apart.
            let points = points.as_array().into_iter().flatten();
            let of = |one: &Value| {
                // What goes as it ends may as well stand behind it.
                let cues = one["cues"].as_array().filter(|_| one["what"] != "end");
                let cues = cues.into_iter().flatten().map(Value::to_string);
                let what = format!("{} {}", one["what"], one["hold"]);
                cues.chain((one["what"] != "cue").then_some(what)).collect::<Vec<_>>()
            };
            points.flat_map(of).collect()
        };
        let open = named(self.open(path));
        let other =
            self.turns.all().find(|fixed| !named(self.of_fixed(fixed, path)).is_subset(&open));
        let Some(fixed) = other else { return };
        let (there, lengths) = (self.of_fixed(fixed, path), words(self.act, &fixed.lengths));
        self.fail(
            "a point of a track is missing",
            path,
            format!("{open:?}; {there} with {lengths}"),
        );
    }

    /// The worst case is the worst of all, and nothing is better than the best.
    fn verdict(&mut self, path: &[Step]) {
        let rank = |value: &Value| match value.as_str() {
            Some("inside") => 0,
            Some("grace") => 1,
            _ => 2,
        };
        let open = self.open(path);
        let (worst, best) = (rank(&open["verdict"]), rank(&open["best_verdict"]));
        let all: Vec<(&Fixed, &Value)> =
            self.turns.all().map(|fixed| (fixed, self.of_fixed(fixed, path))).collect();
        let corners = &all[..self.turns.corners.len()];
        let worst_of_all = corners.iter().map(|(_, limit)| rank(&limit["verdict"])).max();
        if worst_of_all != Some(worst) {
            return self.fail("not the worst verdict", path, format!("{open}; {worst_of_all:?}"));
        }
        // What is broken on the other side is said beside it, as far as it goes.
        let broken = |side: &str| {
            let of_side = corners.iter().filter(|(_, limit)| limit["verdict"] == side);
            of_side.filter_map(|(_, limit)| limit["by_s"].as_f64()).reduce(f64::max)
        };
        let other_side = ["over", "under"].into_iter().find(|side| open["verdict"] != *side);
        let other_by = other_side.filter(|_| worst == 2).and_then(broken);
        let also = open["also_by_s"].as_f64();
        let is_said = match (other_by, also) {
            (Some(by), Some(also)) => {
                (by - also).abs() < NEAR_S && open["also_verdict"].as_str() == other_side
            }
            (Some(_), None) => false,
            (None, Some(also)) => open["also_verdict"]
                .as_str()
                .and_then(broken)
                .is_some_and(|by| (by - also).abs() < NEAR_S),
            (None, None) => true,
        };
        if !is_said {
            return self.fail("not what is broken on the other side", path, format!("{open}"));
        }
        for (fixed, limit) in &all {
            let lengths = words(self.act, &fixed.lengths);
            let other = rank(&limit["verdict"]);
            let is_same = limit["verdict"] == open["verdict"];
            let (by, worst_by) = (limit["by_s"].as_f64(), open["by_s"].as_f64());
            let (Some(by), Some(worst_by)) = (by, worst_by) else { continue };
            let worse = if other == 0 { by < worst_by - NEAR_S } else { by > worst_by + NEAR_S };
            let points = |limit: &Value, name: &str| limit[name].as_f64().unwrap_or(0.0);
            let costs = points(limit, "penalty_points");
            if is_same && worse || costs > points(open, "penalty_points") + 1e-9 {
                let detail = format!("{open}; {limit} with {lengths}");
                self.fail("worse than the worst", path, detail);
                break;
            }
            let best_by = open["best_by_s"].as_f64().unwrap_or(0.0);
            let better = match other {
                0 => other < best || by > best_by + NEAR_S,
                _ => other < best || other == best && by < best_by - NEAR_S,
            };
            if better || costs < points(open, "best_penalty_points") - 1e-9 {
                let detail = format!("{open}; {limit} with {lengths}");
                self.fail("better than the best", path, detail);
                break;
            }
        }
    }
}

/// What stands in a field for a time.
#[derive(Clone, Debug, PartialEq)]
enum Reads {
    Nothing,
    Seconds(f64),
    /// A bar and the music beat in it.
    Bar(f64, f64),
    /// A time code; they all have one width.
    Frame(String),
}

impl Reads {
    fn is_before(&self, other: &Reads) -> bool {
        match (self, other) {
            (Reads::Seconds(one), Reads::Seconds(other)) => *one < other - NEAR_S,
            (Reads::Bar(bar, beat), Reads::Bar(other, other_beat)) => {
                bar < other || bar == other && *beat < other_beat - NEAR_S
            }
            (Reads::Frame(one), Reads::Frame(other)) => one < other,
            _ => true,
        }
    }
}

/// Whether an encore has notes on the music of the act, and neither cue nor flames nor track.
fn is_of_notes(encore: &Value) -> bool {
    let has = |list: &str| encore[list].as_array().is_some_and(|list| !list.is_empty());
    has("music_notes") && !has("cues") && !has("flames") && !has("music")
}

/// Whether what is on in an open act allows for what is on in a fixed one.
fn may_be(open: &Value, fixed: &Value) -> bool {
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    let sure = |value: &Value| value.as_str().unwrap_or("no").to_owned();
    let agree = |open: &Value, fixed: &Value| sure(open) == "maybe" || sure(open) == sure(fixed);
    let find = |on: &Value, list_of: &str, key: &str, name: &Value| {
        list(&on[list_of]).into_iter().find(|one| one[key] == *name)
    };
    let names = |list_of: &str, key: &str| {
        let all = list(&open[list_of]).into_iter().chain(list(&fixed[list_of]));
        all.map(|one| one[key].clone()).collect::<Vec<Value>>()
    };
    let stands = |on: &Value, track: &Value| match find(on, "tracks", "track", track) {
        Some(track) => list(&track["stands"]),
        None => vec!["not begun".into()],
    };
    let tracks = names("tracks", "track").into_iter().all(|track| {
        let may = stands(open, &track);
        stands(fixed, &track).iter().all(|one| may.contains(one))
    });
    let alight = |on: &Value, set: &Value| {
        find(on, "flames", "set", set).map_or(Value::Null, |flames| flames["alight"].clone())
    };
    let flames =
        names("flames", "set").iter().all(|set| agree(&alight(open, set), &alight(fixed, set)));
    let looks = list(&open["looks"]);
    list(&fixed["looks"]).iter().all(|look| looks.contains(look))
        && ["no_look_yet", "dark", "spot", "strobe"]
            .iter()
            .all(|what| agree(&open[*what], &fixed[*what]))
        && tracks
        && flames
}

fn alike(one: &Value, other: &Value) -> bool {
    match (one.as_f64(), other.as_f64()) {
        (Some(one), Some(other)) => (one - other).abs() < NEAR_S,
        _ => one == other,
    }
}
