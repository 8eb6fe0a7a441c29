//! Times of compiled routines: exact fractions, ramps, lengths, moments, and what contradicts.
#![allow(missing_docs)]

mod bars;
mod bends;
mod lands;
mod lengths;
mod moments;
mod ramps;
mod until;
#[path = "../written/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod written;

use throwbook::Opened;
use throwbook::time::{Seconds, Time};
use throwbook::timeline::{SectionSpan, Timeline};
use written::Written;

/// The timeline of a routine that has no error.
fn timeline(written: &Written) -> Timeline {
    let opened = written.open();
    let said: Vec<_> = opened.diagnostics.iter().map(|one| (one.code, &one.message)).collect();
    let act = opened.finished().unwrap_or_else(|| panic!("{said:?}\n{}", written.text()));
    act.timeline.clone()
}

/// A routine in which nothing is found.
fn clean(written: &Written) -> Opened {
    let opened = written.open();
    assert_eq!(opened.diagnostics, [], "{}", written.score);
    opened
}

/// The span of a section by its name.
fn span(opened: &Opened, name: &str) -> SectionSpan {
    let act = opened.finished().unwrap();
    act.timeline.sections[act.routine.section(name).unwrap()].clone()
}

/// The spans of a routine's sections.
fn spans(written: &Written) -> Vec<SectionSpan> {
    timeline(written).sections
}

/// The time, where nothing is left open.
fn certain(time: &Time) -> Seconds {
    time.certain().unwrap_or_else(|| panic!("{time:?} is open")).clone()
}

/// The time is certain and exactly this fraction, not a float near it.
fn is_exactly(time: &Time, numerator: i64, denominator: i64) -> bool {
    let time = certain(time);
    matches!(time, Seconds::Exact(_)) && time == Seconds::fraction(numerator, denominator)
}
