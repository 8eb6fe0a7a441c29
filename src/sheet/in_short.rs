//! An act in one line: how long it is, which limit it comes closest to, and what is left open.

use crate::act::Act;
use crate::measure::limits::Verdict;
use crate::time::{Seconds, TimeRange};

use super::clocks::open_in_words;
use super::limits::{LimitLine, limits};
use super::stamp::StampClocks;

/// What a juggler wants to know first.
#[derive(Clone, Debug, PartialEq)]
pub struct InShort {
    /// From the first section's start to the last one's end.
    pub lasts: TimeRange,
    /// The same of the encore, if there is one.
    pub encore_lasts: Option<TimeRange>,
    /// The limit that is broken by most, or else the one with the least room; the first of equals.
    pub closest: Option<LimitLine>,
    /// What is left open, in words; empty where every time is certain.
    pub open: Vec<String>,
}

/// An act in short; of an act without an error.
#[must_use]
pub fn compose(act: &Act) -> InShort {
    let lasts = |act: &Act| act.timeline.lasts().range();
    let mut judged: Vec<LimitLine> = limits(act, &StampClocks::of(act));
    judged.retain(|limit| limit.judged.is_some());
    let closest = judged.into_iter().reduce(|closest, limit| match room(&limit) < room(&closest) {
        true => limit,
        false => closest,
    });
    let open = act.with_encore().flat_map(|act| open_in_words(&act.routine)).collect();
    let encore_lasts = act.encore.as_deref().map(lasts);
    InShort { lasts: lasts(act), encore_lasts, closest, open }
}

/// How far it is from its nearest edge at worst, in seconds; below zero beyond it.
fn room(limit: &LimitLine) -> f64 {
    let Some(judged) = &limit.judged else { return f64::INFINITY };
    let by = judged.worst.by.as_ref().map_or(f64::INFINITY, Seconds::to_f64);
    match judged.worst.verdict {
        Verdict::Inside => by,
        Verdict::Grace | Verdict::Over | Verdict::Under => -by,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ACT: &str = r##"Routine(
        title: "Example", tempo: PerMinute(200), colours: { "coral": "#ec6a5c" },
        sets: { "three": Set(kind: Ball, length: 0.072, colours: ["coral", "coral", "coral"]) },
        music: Track(length: "0:20", starts: FirstThrow),
        score: [
            Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
            Pause(name: "applause", lasts: Between("0:04", "0:09")),
        ],
        limits: [
            Limit(rule: "wide", starts: FirstThrow, stops: LastCatch, at_most: "1:00",
                on_the_line: Inside),
            Limit(rule: "close", starts: FirstThrow, stops: LastCatch, at_least: "0:05",
                at_most: "0:30", on_the_line: Inside),
        ],
    )"##;

    fn of(text: &str) -> InShort {
        let opened = crate::open(text);
        compose(opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics)))
    }

    #[test]
    fn the_closest_limit_is_the_one_with_the_least_room() {
        let short = of(ACT);
        assert_eq!(short.closest.unwrap().rule, "close");
        assert_eq!(short.lasts.clock(), "0:10.2–0:15.2");
        assert_eq!(short.open, ["the pause applause lasts 4.0–9.0 s"]);
        // One that is broken comes before any that is kept.
        let broken = of(&ACT.replace("1:00", "0:04"));
        assert_eq!(broken.closest.unwrap().rule, "wide");
    }

    #[test]
    fn live_music_has_no_file() {
        let act = crate::open(ACT).act.unwrap();
        let clocks = crate::sheet::timing::compose(&act).clocks;
        let track = clocks.iter().find(|line| line.clock == "track").unwrap();
        assert_eq!(track.zero, "the first note");
    }
}
