//! What of the timing sheet is held against an edge: limits, and burns against their shortest test.

use crate::act::Act;
use crate::act::in_use::{self, Burn};
use crate::measure::contest_clock::enclosed;
use crate::measure::limit_range::{JudgedRange, counted_range, judged_range};
use crate::measure::moves_in_time::{Cut, cut};
use crate::routine::{Limit, Moment};
use crate::time::{Seconds, TimeRange};

use super::loading::section_name;
use super::moves::MovesRule;
use super::stamp::{Stamp, StampClocks};
use super::words::{self, plain, quoted};

/// A limit with its verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitLine {
    /// The rule, as its user calls it.
    pub rule: String,
    /// Where it starts the time.
    pub starts_at: Stamp,
    /// Where it stops it.
    pub stops_at: Stamp,
    /// Where it starts the time, in words.
    pub starts: String,
    /// Where it stops it, in words.
    pub stops: String,
    /// The limit as written.
    pub limit: Limit,
    /// Whether the act has an encore, which the limit may count or leave out.
    pub has_encore: bool,
    /// The moves that begin after the longest that it allows, their names safe to print.
    pub cut: Vec<Cut>,
    /// How many moves begin in its time, where it asks for a number of them.
    pub moves: Option<MovesRule>,
    /// What it counts; `None` where an error leaves that unknown.
    pub counted: Option<TimeRange>,
    /// What it says of that; `None` without an edge too.
    pub judged: Option<JudgedRange>,
}

/// A burn held against its shortest test.
#[derive(Clone, Debug, PartialEq)]
pub struct BurnLine {
    /// The set.
    pub set: String,
    /// Where it is lit and where it is put out, in words and on the show clock.
    pub from: (String, TimeRange),
    /// See `from`.
    pub to: (String, TimeRange),
    /// How long that is.
    pub lasts: TimeRange,
    /// The shortest test.
    pub shortest: Seconds,
    /// What is left of it; below zero where it is too short, which the checks refuse.
    pub left: TimeRange,
}

pub(super) fn limits(act: &Act, clocks: &StampClocks) -> Vec<LimitLine> {
    // Each time that is only enclosed is told apart from every other.
    let mut number = 0;
    let mut stamp = |moment: &Moment| {
        number += 1;
        let time = enclosed(act, moment, number);
        time.map_or_else(Stamp::unknown, |time| clocks.stamp(&time))
    };
    let line = |limit: &Limit| LimitLine {
        rule: plain(&limit.rule),
        starts_at: stamp(&limit.starts.value),
        stops_at: stamp(&limit.stops.value),
        starts: words::moment(&limit.starts.value),
        stops: words::moment(&limit.stops.value),
        limit: limit.clone(),
        has_encore: act.encore.is_some(),
        cut: cut(act, limit).into_iter().map(|one| Cut { name: plain(&one.name), ..one }).collect(),
        moves: MovesRule::of(act, limit),
        counted: counted_range(act, limit),
        judged: judged_range(act, limit),
    };
    act.routine.limits.iter().map(line).collect()
}

pub(super) fn burns(act: &Act) -> Vec<BurnLine> {
    let Act { routine, .. } = act;
    let name = |index: usize| quoted(&section_name(routine, index));
    let line = |burn: &Burn| {
        let set = routine.sets.get(burn.in_use.set)?;
        Some(BurnLine {
            set: plain(&set.name.value),
            from: (format!("lit in {}", name(burn.in_use.begins?)), burn.in_use.from.range()),
            to: (
                burn.in_use.ends.map_or_else(
                    || "not put out: end of the act".to_owned(),
                    |out| format!("put out in {}", name(out)),
                ),
                burn.in_use.to.range(),
            ),
            lasts: burn.lasts(),
            shortest: burn.test.clone(),
            left: burn.left(),
        })
    };
    in_use::burns(act).iter().filter_map(line).collect()
}
