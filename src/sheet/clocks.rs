//! The act on each clock, and what the routine leaves open.

use crate::measure::act::{ActRange, act, act_range};
use crate::measure::in_use;
use crate::routine::{Length, Part, Routine};
use crate::time::{Seconds, TimeRange};
use crate::timeline::{Timeline, Uncertain, uncertain};

use super::timing::{BurnLine, LimitLine};
use super::words::{self, plain};

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

/// The act on the show clock, each track's, the one from the first throw, each burn's, and each
/// contest's.
pub(super) fn clocks(
    routine: &Routine,
    timeline: &Timeline,
    limits: &[LimitLine],
    burns: &[BurnLine],
) -> Vec<ClockLine> {
    type Reads<'r> = &'r dyn Fn(&Timeline, &Seconds) -> Option<Seconds>;
    let line = |clock: String, zero: String, reads: Reads<'_>| {
        let ActRange { begins, first_throw, last_catch, ends, .. } = act_range(timeline, reads);
        ClockLine { clock, zero, begins, first_throw, last_catch, ends }
    };
    let zero = words::moment(&routine.zero.value);
    let mut lines = vec![line("show".to_owned(), zero, &|_, time| Some(time.clone()))];
    for (index, (name, track)) in routine.all_tracks().enumerate() {
        if timeline.tracks.get(index).is_none_or(|track| track.starts.is_none()) {
            continue;
        }
        let clock = name
            .map_or_else(|| "track".to_owned(), |name| format!("track: {}", plain(&name.value)));
        let zero = format!("first sample of {}", plain(&track.file.value));
        let reads = |timeline: &Timeline, time: &Seconds| timeline.tracks.get(index)?.reads(time);
        lines.push(line(clock, zero, &reads));
    }
    if act(timeline).first_throw.is_some() {
        let reads = |timeline: &Timeline, time: &Seconds| Some(time - &act(timeline).first_throw?);
        lines.push(line("first throw".to_owned(), "first release".to_owned(), &reads));
    }
    for (index, burn) in burns.iter().enumerate() {
        let reads = |timeline: &Timeline, time: &Seconds| {
            let burns = in_use::burns(routine, timeline);
            Some(time - &burns.get(index)?.in_use.from)
        };
        lines.push(line(format!("burn: {}", burn.set), burn.from.0.clone(), &reads));
    }
    for line_of in limits {
        let clock = format!("contest: {}", line_of.rule);
        let reads = |timeline: &Timeline, time: &Seconds| {
            Some(time - &timeline.moment(routine, &line_of.limit.starts.value).ok()?)
        };
        lines.push(line(clock, line_of.starts.clone(), &reads));
    }
    lines
}

/// What the routine leaves open, in words, as in `applause lasts 4.0–12.0 s`.
#[must_use]
pub fn open_lengths(routine: &Routine) -> Vec<String> {
    let line = |open: &Uncertain| {
        let lasts = |(shortest, longest): &(Seconds, Seconds)| {
            TimeRange { earliest: shortest.clone(), latest: longest.clone() }.seconds_text()
        };
        match *open {
            Uncertain::Pause(index) => {
                let section = routine.score.get(index)?;
                let Part::Pause(pause) = &section.part else { return None };
                let Length::Between(between) = &pause.lasts.value else { return None };
                let lasts = lasts(between);
                Some(format!("the pause {} lasts {lasts}", plain(&section.name.value)))
            }
            Uncertain::Hold { track, hold } => {
                let (name, track) = routine.all_tracks().nth(track)?;
                let hold = track.holds.get(hold)?;
                let of = name.map(|name| format!(" of {}", plain(&name.value))).unwrap_or_default();
                let hold_name = plain(&hold.name.value);
                Some(format!("the hold {hold_name}{of} lasts {}", lasts(&hold.lasts)))
            }
        }
    };
    uncertain(routine).iter().filter_map(line).collect()
}
