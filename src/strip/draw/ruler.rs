//! The clock ruler of a row, the bars of the music above it, and the fine lines below it.

use svg::node::element::{Group, Path};

use crate::time::{self, Seconds};

use super::super::layout::Row;
use super::super::millimetres::{Mm, PathData};
use super::super::music::{Bar, Held, Music};
use super::super::paper::RIGHT;
use super::super::scene::Scene;
use super::super::stretch::{Stretch, StretchOf};
use super::super::text::{self, SMALL};
use super::{path, titled, words};

/// Labels stand at least so far apart.
const LABELS: Mm = Mm(13.0);
/// Ticks stand at least so far apart.
const TICKS: Mm = Mm(1.9);
/// Steps between labels in seconds, and into how many ticks each is divided at most.
const STEPS: [(f64, [f64; 3]); 11] = [
    (1.0, [10.0, 5.0, 2.0]),
    (2.0, [10.0, 4.0, 2.0]),
    (5.0, [10.0, 5.0, 1.0]),
    (10.0, [10.0, 5.0, 2.0]),
    (15.0, [15.0, 3.0, 1.0]),
    (30.0, [10.0, 6.0, 2.0]),
    (60.0, [12.0, 6.0, 2.0]),
    (300.0, [10.0, 5.0, 1.0]),
    (600.0, [10.0, 5.0, 2.0]),
    (1800.0, [6.0, 3.0, 1.0]),
    (3600.0, [12.0, 6.0, 2.0]),
];

/// The time from one label to the next, and from one tick to the next.
pub(in super::super) fn steps(second: Mm) -> (f64, f64) {
    let fitting = STEPS.iter().find(|(step, _)| second * *step >= LABELS);
    let Some(&(step, divisions)) = fitting else {
        // Days in a row: doubled until the labels stand apart.
        let mut step = 7200.0;
        while second * step < LABELS && step < 1e15 {
            step *= 2.0;
        }
        return (step, step);
    };
    let division = divisions.iter().find(|&&parts| second * (step / parts) >= TICKS);
    (step, step / division.unwrap_or(&1.0))
}

/// Whole multiples of a step within a stretch of time, both ends included.
pub(in super::super) fn multiples(step: f64, from: f64, to: f64) -> impl Iterator<Item = f64> {
    let first = (from / step - 1e-9).ceil();
    let last = (to / step + 1e-9).floor();
    // A row holds a few hundred at most.
    (0..=4000)
        .map(move |index| first + f64::from(index))
        .take_while(move |&at| at <= last)
        .map(move |at| at * step)
}

/// Whole multiples of a step in what a row shows and does not fold.
fn multiples_in(row: &Row, step: f64) -> impl Iterator<Item = f64> {
    row.parts(row.shown).into_iter().flat_map(move |(from, to)| multiples(step, from, to))
}

/// Whole seconds as the clock shows them, tenths left out.
pub(in super::super) fn label(seconds: f64) -> String {
    let clock = time::clock(&Seconds::fraction(seconds.round() as i64, 1));
    clock.strip_suffix(".0").map(str::to_owned).unwrap_or(clock)
}

/// The fine lines that carry the clock down through a row.
pub(in super::super) fn fine_lines(scene: &Scene, row: &Row) -> Group {
    let layout = &scene.layout;
    let (step, _) = steps(layout.second);
    let mut lines = PathData::default();
    for at in multiples_in(row, step) {
        let x = layout.x(row, at);
        lines.go(x, row.bands.ruler).down(row.bands.bottom);
    }
    Group::new().add(path(lines, "y"))
}

/// Where the ruler's times end being known: a line down through the row, and why.
fn ends(scene: &Scene, row: &Row) -> Group {
    let mut group = Group::new();
    let within = |at: &f64| (row.from..row.to).contains(at);
    for at in scene.certainty.ends().into_iter().filter(within) {
        let x = scene.layout.x(row, at);
        let line = unknown_from(x, row.bands.ruler - Mm(1.7), row.bands.bottom);
        group = group.add(titled("from here on the times are not known").add(line));
    }
    group
}

/// The sign of the end of what is known: a thick line, broken.
pub(super) fn unknown_from(x: Mm, top: Mm, bottom: Mm) -> Path {
    let mut line = PathData::default();
    line.go(x, top).down(bottom);
    path(line, "u")
}

/// The ruler.
pub(in super::super) fn ruler(scene: &Scene, row: &Row) -> Group {
    let layout = &scene.layout;
    let y = row.bands.ruler;
    let (step, tick) = steps(layout.second);
    let mut ticks = PathData::default();
    ticks.go(layout.x(row, row.shown.0), y).across(layout.x(row, row.shown.1));
    for at in multiples_in(row, tick) {
        let is_labelled = (at / step - (at / step).round()).abs() < 1e-6;
        let is_half = (at / step * 2.0 - (at / step * 2.0).round()).abs() < 1e-6;
        let height = if is_labelled {
            1.7
        } else if is_half {
            1.2
        } else {
            0.7
        };
        ticks.go(layout.x(row, at), y).down(y - Mm(height));
    }
    let mut group = Group::new().add(path(ticks, "k"));
    let mut free_from = Mm(0.0);
    for (place, at) in multiples_in(row, step).enumerate() {
        // On both sides of a fold there may be no room for two.
        if layout.x(row, at) < free_from {
            continue;
        }
        free_from = layout.x(row, at) + LABELS / 2.0;
        let class = if place == 0 { "m b" } else { "m" };
        let shown = scene.certainty.written(at, &label(at));
        group = group.add(words(shown, layout.x(row, at), y - Mm(2.3), class));
    }
    if scene.certainty.ends().iter().any(|at| (row.from..row.to).contains(at)) {
        group = group.add(ends(scene, row));
    }
    for Stretch { of, from, to } in &scene.stretches {
        let (from, to) = (from.max(row.shown.0), to.min(row.shown.1));
        if from < to {
            let (left, right) = (layout.x(row, from), layout.x(row, to));
            let mark = on(*of, left, right, y);
            group = group.add(titled(of.words()).add(mark));
        }
    }
    group
}

/// The mark of something that is on, below a line: a bar for the dark, a row of strokes for a
/// strobe, a zigzag for flames.
pub(super) fn on(of: StretchOf, left: Mm, right: Mm, y: Mm) -> Path {
    const STEP: Mm = Mm(1.2);
    const STROKE: Mm = Mm(0.5);
    let mut mark = PathData::default();
    match of {
        StretchOf::Dark => {
            mark.rectangle(left, y, right, y + Mm(1.0));
            path(mark, "i")
        }
        StretchOf::Strobe => {
            let mut x = left;
            while x < right {
                mark.rectangle(x, y, (x + STROKE).min(right), y + Mm(1.4));
                x += STEP;
            }
            path(mark, "i")
        }
        StretchOf::Flames => {
            let (low, high) = (y + Mm(1.6), y + Mm(0.4));
            mark.go(left, low);
            let (mut x, mut up) = (left, true);
            while x < right {
                x = (x + STEP).min(right);
                mark.line(x, if up { high } else { low });
                up = !up;
            }
            path(mark, "k")
        }
    }
}

/// A hold: two strokes and what it can last; where the words end.
fn hold(scene: &Scene, row: &Row, music: &Music, held: &Held, y: Mm) -> (Group, Mm) {
    let layout = &scene.layout;
    let (left, right) = (layout.x_inside(row, held.from), layout.x_inside(row, held.to));
    let mut strokes = PathData::default();
    for x in [left + Mm(1.3), left + Mm(2.3)] {
        strokes.rectangle(x, y - Mm(2.6), x + Mm(0.6), y - Mm(0.4));
    }
    let mut gap = PathData::default();
    gap.rectangle(left, y - Mm(0.4), right, y + Mm(0.4));
    let group = titled(held.label.as_str()).add(path(gap, "a")).add(path(strokes, "i"));
    let begins = left + Mm(3.6);
    // A mark behind it keeps its place.
    let marks = music.marks.iter().filter(|(_, at)| *at > held.from && *at <= row.to);
    let next = marks.map(|(_, at)| layout.x(row, *at) - Mm(1.5)).fold(RIGHT, Mm::min);
    let room = (next - begins).max(Mm(0.0));
    let whole = |label: &&String| text::width(label, SMALL, false) <= room;
    match [&held.label, &held.lasts].into_iter().find(whole) {
        Some(label) => {
            let ends = begins + text::width(label, SMALL, false) + Mm(1.0);
            (group.add(words(label.as_str(), begins, y - Mm(1.2), "h")), ends)
        }
        None => (group, begins),
    }
}

/// The bars of the music.
pub(in super::super) fn bars(scene: &Scene, row: &Row) -> Option<Group> {
    let stretches = scene.music.iter().flat_map(|music| {
        music.known.iter().filter_map(move |known| track(scene, row, music, *known))
    });
    let tracks: Vec<Group> = stretches.collect();
    tracks.into_iter().reduce(|tracks, track| Group::new().add(tracks).add(track))
}

/// The bars, marks and holds of one track within a stretch of the show clock.
fn track(scene: &Scene, row: &Row, music: &Music, known: (f64, f64)) -> Option<Group> {
    let layout = &scene.layout;
    let y = row.bands.ruler - Mm(5.6);
    let (from, to) = (known.0.max(row.shown.0), known.1.min(row.shown.1));
    if from >= to {
        return None;
    }
    let mut lines = PathData::default();
    lines.go(layout.x(row, from), y).across(layout.x(row, to));
    let mut group = Group::new();
    let mut taken: Vec<(Mm, Mm)> = Vec::new();
    // The name of a track that follows soon stands on this one's line.
    let later = scene.music.iter().filter(|later| later.starts > music.starts);
    for later in later.filter(|later| (row.from..row.to).contains(&later.starts)) {
        let x = layout.x(row, later.starts);
        taken.push((x - Mm(2.5) - text::width(later.label(), SMALL, false), x));
    }
    for held in music.holds.iter().filter(|held| held.from < to && held.to > from) {
        let (hold, ends) = hold(scene, row, music, held, y);
        group = group.add(hold);
        taken.push((layout.x_inside(row, held.from), ends));
    }
    for (name, at) in music.marks.iter().filter(|(_, at)| (from..to).contains(at)) {
        let x = layout.x(row, *at);
        let mut mark = PathData::default();
        mark.go(x, y).line(x - Mm(0.9), y - Mm(1.9)).line(x + Mm(0.9), y - Mm(1.9)).close();
        let room = (RIGHT - x).min(Mm(40.0));
        let written = text::shorten(name, SMALL, false, room).unwrap_or_default();
        let ends = x + Mm(2.0) + text::width(&written, SMALL, false);
        let is_free = taken.iter().all(|&(left, right)| ends < left || right < x - Mm(1.0));
        let mut sign = titled(format!("mark of the music: {name}")).add(path(mark, "i"));
        if is_free {
            sign = sign.add(words(written, x + Mm(1.4), y - Mm(1.2), ""));
            taken.push((x - Mm(1.0), ends));
        }
        group = group.add(sign);
    }
    let parts = row.parts((from, to)).into_iter();
    let beats = parts.flat_map(|(from, to)| music.beats_within(from, to, layout.second));
    for Bar { at, number, is_downbeat } in beats {
        let x = layout.x(row, at);
        let number = number.to_string();
        let ends = x + Mm(0.6) + text::width(&number, SMALL, false) + Mm(1.0);
        let is_free = taken.iter().rev().all(|&(left, right)| ends < left || right < x);
        let is_labelled = is_downbeat && is_free;
        if is_labelled {
            group = group.add(words(number, x + Mm(0.6), y - Mm(1.2), "q"));
            taken.push((x, ends.max(x + Mm(6.0))));
        }
        let tick = if is_labelled {
            3.0
        } else if is_downbeat {
            1.0
        } else {
            0.6
        };
        lines.go(x, y).down(y - Mm(tick));
    }
    group = group.add(path(lines, "Y"));
    let class = if music.name.is_some() { "q r h" } else { "q r" };
    group = group.add(words(music.label(), layout.x(row, from) - Mm(1.5), y, class));
    Some(group)
}
