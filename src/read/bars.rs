//! The bars of the music: stretches of them, each at one tempo or on a ramp to another.

use crate::diagnostic::words::counted;
use crate::diagnostic::{Diagnostic, Place};
use crate::routine::Bars;
use crate::time::Seconds;

use super::number::{Between, exact, whole};
use super::raw::Raw;
use super::reader::Reader;
use super::record::Record;
use super::staging::in_track;

/// The most music beats of a ramp.
const MOST_BEATS: f64 = 1_000_000.0;

/// A stretch, with what wrote it.
struct Stretch<'a> {
    bars: Bars,
    raw: Raw<'a>,
    /// Where the end of its ramp is written.
    to: Option<Place>,
}

/// The stretches of bars of a track of that length, in order; none where one of them is faulty.
pub(super) fn bars<'a>(reader: &mut Reader, raw: Raw<'a>, length: Option<&Seconds>) -> Vec<Bars> {
    let before = reader.errors();
    let stretches = reader.list(raw, |reader, raw| stretch(reader, raw, length));
    in_order(reader, &stretches);
    if reader.errors() == before {
        ramps(reader, &stretches);
    }
    if reader.errors() > before {
        // What follows the bars is not known either.
        reader.consequence("moment-never-comes", 0);
        reader.consequence("times-contradict", 0);
        reader.consequence("tempo-without-bars", 0);
        return Vec::new();
    }
    stretches.into_iter().map(|stretch| stretch.bars).collect()
}

fn stretch<'a>(reader: &mut Reader, raw: Raw<'a>, length: Option<&Seconds>) -> Option<Stretch<'a>> {
    const TEMPO: Between = Between::from("a tempo", 1.0, 1_000.0, " music beats a minute");
    let before = reader.errors();
    let mut record = Record::open(reader, raw, "Bars")?;
    let from = record.need(reader, "from", |reader, raw| in_track(reader, raw, length));
    let bpm = record.need(reader, "bpm", |reader, raw| exact(reader, raw, TEMPO));
    let music_beats = record.need(reader, "music_beats", |reader, raw| {
        whole(reader, raw, Between::from("the number of music beats of a bar", 1.0, 100.0, ""))
    });
    let number = record.need(reader, "number", bar_number);
    let upbeat = record.may(reader, "upbeat", |reader, raw| {
        let bounds = Between::from("the number of music beats of an upbeat", 1.0, 99.0, "");
        whole(reader, raw, bounds)
    });
    let to = record.may(reader, "to", |reader, raw| exact(reader, raw, TEMPO));
    let over = record.may(reader, "over", |reader, raw| {
        let bounds = Between::from("the number of music beats of a ramp", 1.0, MOST_BEATS, "");
        whole(reader, raw, bounds)
    });
    let has_to = record.place_of("to").is_some();
    record.close(reader);
    if let (Some(upbeat), Some(of)) = (&upbeat, &music_beats)
        && upbeat.value >= of.value
    {
        let message = format!(
            "An upbeat is shorter than a bar of {}; this is {}.",
            counted(of.value, "music beat"),
            upbeat.value
        );
        let fault = Diagnostic::error("out-of-range", upbeat.at.clone(), message)
            .help("A whole bar before the first one is a bar of its own: begin with its number.");
        reader.report(fault);
    }
    if let (Some(over), false) = (&over, has_to) {
        let message = "`over` says how long a ramp takes, but this has none.";
        let fault = Diagnostic::error("bars-ramp", over.at.clone(), message)
            .label("over so many music beats")
            .help(
                "Write the tempo that the ramp comes to, such as `to: 140`, or leave `over` out.",
            );
        reader.report(fault);
    }
    if reader.errors() > before {
        return None;
    }
    let bars = Bars {
        from: from?,
        bpm: bpm?.value,
        music_beats: music_beats?.value,
        number: number?,
        upbeat: upbeat.map_or(0, |upbeat| upbeat.value),
        to: to.as_ref().map(|to| to.value.clone()),
        over: over.map(|over| over.value),
    };
    Some(Stretch { bars, raw, to: to.map(|to| to.at) })
}

/// The number of a bar; a bar before the first may be 0 or below.
pub(super) fn bar_number<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<i32> {
    match raw.plain::<i64>() {
        Some(number @ -100_000..=100_000) => i32::try_from(number).ok(),
        Some(_) => {
            let message = "The number of a bar lies between -100000 and 100000.";
            reader.error("out-of-range", raw.place(), message);
            None
        }
        None => reader.shape(raw, "a whole number"),
    }
}

/// Reports stretches of bars that do not follow each other, in time and in number. A bar that is
/// a quarter of a music beat longer or shorter than its tempo says is the players' freedom.
fn in_order<'a>(reader: &mut Reader, stretches: &[Stretch<'a>]) {
    for pair in stretches.windows(2) {
        let [first, second] = pair else { continue };
        let apart = &second.bars.from.value - &first.bars.from.value;
        if apart <= Seconds::zero() {
            let message = "This stretch of bars does not start after the one before it.";
            let fault = Diagnostic::error("bars-overlap", second.bars.from.at.clone(), message)
                .label("not later")
                .note_at(first.bars.from.at.clone(), "The one before it starts here.")
                .help("Write the stretches in order of time.");
            reader.report(fault);
            continue;
        }
        let free = first.bars.stretch().next_bar(&second.bars.stretch());
        let begins = i64::from(second.bars.number) - i64::from(second.bars.upbeat > 0);
        if begins < free {
            let message = format!(
                "This stretch begins with bar {begins}, but the one before it has reached bar {} \
                 by then.",
                free - 1
            );
            let fault = Diagnostic::error("bars-overlap", second.raw.place(), message)
                .label("bars that are counted already")
                .note_at(first.raw.place(), "The one before it is this.")
                .help(format!(
                    "Give it the number {} or a later one, or correct where it begins.",
                    free + i64::from(second.bars.upbeat > 0)
                ));
            reader.report(fault);
        }
    }
}

/// Reports ramps that do not say where they end.
fn ramps<'a>(reader: &mut Reader, stretches: &[Stretch<'a>]) {
    for (index, stretch) in stretches.iter().enumerate() {
        let Some(to) = &stretch.to else { continue };
        let next = stretches.get(index + 1);
        let fault = match (stretch.bars.over, next) {
            (None, None) => {
                let message = "It is open where this ramp ends: no stretch of bars follows it.";
                Diagnostic::error("bars-ramp", to.clone(), message)
                    .label("by when?")
                    .help("Say after how many music beats the tempo is reached: `over: 16`.")
            }
            (None, Some(next)) => {
                let apart = &next.bars.from.value - &stretch.bars.from.value;
                let stretch = stretch.bars.stretch();
                let beats = stretch.beats_in(&apart);
                let (own, left) = stretch.last_beat(&apart);
                if (&left - &own).to_f64().abs() <= own.to_f64() / 4.0 {
                    continue;
                }
                let message = format!(
                    "This ramp takes {beats:.2} music beats to the next stretch of bars: the last \
                     would be more than a quarter longer or shorter than its tempo says."
                );
                Diagnostic::error("bars-ramp", to.clone(), message)
                    .label("between two music beats")
                    .note_at(next.bars.from.at.clone(), "The next stretch begins here.")
                    .help("Check where the next stretch begins, or say how long the ramp takes: `over: 16`.")
            }
            (Some(over), Some(next)) => {
                let apart = &next.bars.from.value - &stretch.bars.from.value;
                let beats = stretch.bars.stretch().beats_in(&apart);
                if f64::from(over) <= beats + 0.25 {
                    continue;
                }
                let message = format!(
                    "This ramp takes {over} music beats, but the next stretch of bars begins \
                     after {beats:.2}."
                );
                Diagnostic::error("bars-ramp", to.clone(), message)
                    .label("not reached")
                    .note_at(next.bars.from.at.clone(), "The next stretch begins here.")
                    .help("Leave `over` out: the ramp then ends where the next stretch begins.")
            }
            (Some(_), None) => continue,
        };
        reader.report(fault);
    }
}
