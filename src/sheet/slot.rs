//! The slot: set-up, act, encore and strike, one after the other, on the show clock.

use crate::act::Act;
use crate::routine::Moment;
use crate::time::{Time, TimeRange};

/// A part of the slot.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotLine {
    /// What it is: `set-up`, `act`, `encore` or `strike`.
    pub part: &'static str,
    /// Where it starts, on the show clock.
    pub starts: TimeRange,
    /// Where it ends.
    pub ends: TimeRange,
    /// How long it lasts.
    pub lasts: TimeRange,
}

/// The parts of the slot that are written, in order; none where only the act is, and none of an
/// encore, which stands in its act's. An encore counts as if it were called for and followed at
/// once.
#[must_use]
pub fn slot(act: &Act) -> Vec<SlotLine> {
    let Act { timeline, routine, .. } = act;
    if routine.is_encore {
        return Vec::new();
    }
    let (Some(first), Some(last)) = (timeline.sections.first(), timeline.sections.last()) else {
        return Vec::new();
    };
    // A part that is not written has no moments.
    let line = |part, starts: &Time, ends: &Time| SlotLine {
        part,
        starts: starts.range(),
        ends: ends.range(),
        lasts: (ends - starts).range(),
    };
    let part = |part, starts: &Moment, ends: &Moment| {
        Some(line(part, &act.moment(starts).ok()?, &act.moment(ends).ok()?))
    };
    let set_up = part("set-up", &Moment::SetUpStart, &Moment::SetUpEnd);
    let encore = part("encore", &Moment::EncoreStart, &Moment::EncoreEnd);
    let strike = part("strike", &Moment::StrikeStart, &Moment::StrikeEnd);
    if set_up.is_none() && encore.is_none() && strike.is_none() {
        return Vec::new();
    }
    let of_act = line("act", &first.starts, &last.ends);
    set_up.into_iter().chain([of_act]).chain(encore).chain(strike).collect()
}
