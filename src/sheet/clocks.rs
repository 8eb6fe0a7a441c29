//! The act on each clock, and what the routine leaves open.

use crate::act::Act;
use crate::act::in_use;
use crate::measure::figures::{Figures, figures};
use crate::routine::{Length, Routine};
use crate::time::{Seconds, Time, TimeRange};
use crate::timeline::{LeftOpen, left_open};

use super::heading;
use super::limits::LimitLine;
use super::loading::section_name;
use super::words::{plain, quoted};

/// The act as one clock reads it.
#[derive(Clone, Debug, PartialEq)]
pub struct ClockLine {
    /// Which clock.
    pub clock: String,
    /// Where it reads zero, in words.
    pub zero: String,
    /// What it reads where the act begins.
    pub begins: Option<TimeRange>,
    /// What it reads at the first throw.
    pub first_throw: Option<TimeRange>,
    /// What it reads at the last catch.
    pub last_catch: Option<TimeRange>,
    /// What it reads where the act ends.
    pub ends: Option<TimeRange>,
}

/// The act on the show clock, or the encore on its own, and on each track's, the one from the first
/// throw, each burn's, and each contest's.
pub(super) fn clocks(act: &Act, limits: &[LimitLine]) -> Vec<ClockLine> {
    let Act { routine, timeline, .. } = act;
    let Figures { begins, first_throw, last_catch, ends, .. } = figures(timeline);
    let line = |clock: String, zero: String, reads: &dyn Fn(&Time) -> Option<TimeRange>| {
        let read = |time: &Option<Time>| reads(time.as_ref()?);
        ClockLine {
            clock,
            zero,
            begins: read(&begins),
            first_throw: read(&first_throw),
            last_catch: read(&last_catch),
            ends: read(&ends),
        }
    };
    let since = |zero: Time| move |time: &Time| Some((time - &zero).range());
    let zero = heading::zero(routine);
    let own = if routine.is_encore { "encore" } else { "show" };
    let mut lines = vec![line(own.to_owned(), zero, &since(Time::zero()))];
    for (span, (name, track)) in timeline.tracks.iter().zip(routine.all_tracks()) {
        if span.starts.is_none() {
            continue;
        }
        let clock = name
            .map_or_else(|| "track".to_owned(), |name| format!("track: {}", plain(&name.value)));
        let zero = match track.file_name() {
            Some(file) => format!("first sample of {}", plain(file)),
            None => "the first note".to_owned(),
        };
        let reads = |time: &Time| match span.place(time)?.exact {
            Some(exact) if exact.is_unknown() => Some(exact.range()),
            _ => span.reads(time),
        };
        lines.push(line(clock, zero, &reads));
    }
    if let Some(first_throw) = &first_throw {
        let reads = since(first_throw.clone());
        lines.push(line("first throw".to_owned(), "first release".to_owned(), &reads));
    }
    for burn in in_use::burns(act) {
        let Some((set, lit)) = routine.sets.get(burn.in_use.set).zip(burn.in_use.begins) else {
            continue;
        };
        let zero = format!("start of {}", quoted(&section_name(routine, lit)));
        lines.push(line(
            format!("burn: {}", plain(&set.name.value)),
            zero,
            &since(burn.in_use.from),
        ));
    }
    for limit in limits {
        let clock = format!("contest: {}", limit.rule);
        lines.push(line(clock, limit.starts.clone(), &since(limit.starts_at.time.clone())));
    }
    lines
}

/// What the act leaves open, in words, as in `the pause applause lasts 4.0–12.0 s`.
#[must_use]
pub fn open_in_words(routine: &Routine) -> Vec<String> {
    let line = |open: &LeftOpen| {
        let lasts = |(shortest, longest): &(Seconds, Seconds)| {
            TimeRange::between(shortest.clone(), longest.clone()).seconds_text()
        };
        match *open {
            LeftOpen::Pause(index) => {
                let section = routine.score.get(index)?;
                let Length::Between(between) = &section.pause()?.lasts.value else { return None };
                let lasts = lasts(between);
                Some(format!("the pause {} lasts {lasts}", plain(&section.name.value)))
            }
            LeftOpen::Hold { track, hold } => {
                let (name, track) = routine.all_tracks().nth(track)?;
                let hold = track.holds.get(hold)?;
                let of = name.map(|name| format!(" of {}", plain(&name.value))).unwrap_or_default();
                let hold_name = plain(&hold.name.value);
                Some(format!("the hold {hold_name}{of} lasts {}", lasts(&hold.lasts)))
            }
        }
    };
    left_open(routine).iter().filter_map(line).collect()
}
