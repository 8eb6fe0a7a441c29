//! Folds: time in which nothing is thrown for longer than a row, left out of the strip by whole
//! rows, so that rows go on to begin at whole multiples of their length.
//!
//! A fold lies where least happens; what happens in it nevertheless is listed below its row.

use crate::time::{self, Seconds};

use super::certainty::Certainty;
use super::flag::Flag;
use super::limit_mark::LimitMark;
use super::millimetres::Mm;
use super::music::Music;
use super::paper::{LEFT, RIGHT};
use super::section::Section;
use super::stretch::Stretch;
use super::thread::Threads;

/// From a throw to a fold, at least.
const BESIDE_THROWS: Mm = Mm(6.0);
/// From what happens, or from a row's end, to a fold, where there is room: that of a cue's flag.
const ROOM: Mm = Mm(16.0);
/// From the last catch to a fold, where there is room: that of a pause's name and of what lies
/// gathered.
const NAMED: Mm = Mm(42.0);

/// A stretch that is left out, in seconds on the show clock.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fold {
    pub(super) from: f64,
    pub(super) to: f64,
    /// Whether there is more time without throws before it than after it.
    pub(super) room_before: bool,
    /// What happens in it, in words.
    pub(super) inside: Vec<String>,
}

/// What a fold must not hide: when it happens, and its words.
pub(super) type Happening = (f64, String);

impl Fold {
    /// How long it is, as it stands beside the tear.
    pub(super) fn words(&self) -> String {
        let lasts = Seconds::fraction((self.to - self.from).round() as i64, 1);
        match self.to - self.from {
            ..120.0 => format!("{} folded", time::seconds_as_written(&lasts)),
            _ => format!("{} folded", time::written(&lasts)),
        }
    }
}

/// The stretches from a time to another in which nothing is thrown or in the air.
pub(super) fn quiet(threads: &Threads, (begins, ends): (f64, f64)) -> Vec<(f64, f64)> {
    let flights = threads.flights.iter().map(|flight| (flight.leaves, flight.lands));
    let releases = threads.releases.iter().map(|release| (release.at, release.at));
    let mut busy: Vec<(f64, f64)> = flights.chain(releases).collect();
    busy.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut quiet = Vec::new();
    let mut from = begins;
    for (leaves, lands) in busy.into_iter().chain([(ends, ends)]) {
        if leaves > from {
            quiet.push((from, leaves));
        }
        from = from.max(lands);
    }
    quiet
}

/// The folds of rows of so many seconds, in order of time; `happenings` are in order of time too.
pub(super) fn folds(quiet: &[(f64, f64)], happenings: &[Happening], row_s: f64) -> Vec<Fold> {
    let seconds = |length: Mm| length / (RIGHT - LEFT) * row_s;
    let (margin, room, named) = (seconds(BESIDE_THROWS), seconds(ROOM), seconds(NAMED));
    let between = |from: f64, to: f64| {
        let first = happenings.partition_point(|(at, _)| *at <= from);
        let after = happenings.partition_point(|(at, _)| *at < to);
        &happenings[first..after.max(first)]
    };
    let fold = |&(begins, ends): &(f64, f64)| {
        let rows = ((ends - begins - margin * 2.0) / row_s).floor();
        if rows < 1.0 {
            return None;
        }
        let lasts = rows * row_s;
        let (first, last) = (begins + margin, ends - margin - lasts);
        // As every fold is whole rows long, a row's ends stay at whole multiples.
        let row_ends = (first / row_s).ceil() * row_s;
        let behind = between(begins, ends).iter().map(|(at, _)| at + room);
        let tried = [named, room].map(|room| begins + room);
        let tried = tried.into_iter().chain([row_ends + room, row_ends - room, first, last]);
        let tried = tried.chain(behind).filter(|at| (first..=last).contains(at));
        let hides = |from: f64| {
            let in_row = from.rem_euclid(row_s);
            let at_an_end = in_row < room * 0.99 || in_row > row_s - room * 0.99;
            (between(from, from + lasts).len(), at_an_end)
        };
        let from = tried.min_by_key(|&from| hides(from))?;
        let to = from + lasts;
        let mut inside: Vec<String> = Vec::new();
        for (_, words) in between(from, to) {
            if !inside.contains(words) {
                inside.push(words.clone());
            }
        }
        Some(Fold { from, to, room_before: from - begins > ends - to, inside })
    };
    quiet.iter().filter_map(fold).collect()
}

/// All that happens, in order of time.
pub(super) fn happenings(
    sections: &[Section],
    flags: &[Flag],
    stretches: &[Stretch],
    music: &[Music],
    limits: &[LimitMark],
    certainty: &Certainty,
) -> Vec<Happening> {
    let clock = |at: f64| certainty.written(at, &time::clock(&Seconds::Near(at)));
    let mut all: Vec<Happening> = Vec::new();
    for section in sections {
        all.push((section.from, section.title.clone()));
        // Its title says it too, and is listed once where both are in the fold.
        all.extend(section.handling.iter().map(|handling| (handling.at, section.title.clone())));
    }
    all.extend(flags.iter().map(|flag| (flag.go, flag.title.clone())));
    for Stretch { of, from, to } in stretches {
        // The cue or the section that begins or ends it says when.
        all.push((*from, format!("from here on {}", of.words())));
        all.push((*to, format!("up to here {}", of.words())));
    }
    for track in music {
        let named = track.name.as_ref();
        let name = named.map_or("the music".to_owned(), |name| format!("track \"{name}\""));
        all.push((track.starts, format!("{name} starts {}", clock(track.starts))));
        all.push((track.ends, format!("{name} ends {}", clock(track.ends))));
        let marks = track.marks.iter();
        all.extend(
            marks.map(|(mark, at)| (*at, format!("mark of the music \"{mark}\" {}", clock(*at)))),
        );
        for held in &track.holds {
            let words = format!("{}, from {}", held.label, clock(held.from));
            all.extend([(held.from, words.clone()), (held.to, words)]);
        }
    }
    for mark in limits {
        let ends = [Some(mark.at), mark.forgiven_to];
        all.extend(ends.into_iter().flatten().map(|at| (at, mark.title.clone())));
    }
    let ends = certainty.ends().into_iter();
    all.extend(ends.map(|at| (at, "from here on the times are not known".to_owned())));
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all
}
