//! The slot: set-up, act, encore and strike, one after the other, on the show clock.

use crate::routine::{Moment, Routine};
use crate::time::Seconds;
use crate::timeline::Timeline;

/// A part of the slot.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotLine {
    /// What it is: `set-up`, `act`, `encore` or `strike`.
    pub part: &'static str,
    /// Where it starts, on the show clock.
    pub starts: Seconds,
    /// Where it ends.
    pub ends: Seconds,
}

/// The parts of the slot that are written, in order; none where only the act is. An encore counts
/// as if it were called for and followed at once.
#[must_use]
pub fn slot(routine: &Routine, timeline: &Timeline) -> Vec<SlotLine> {
    let (Some(first), Some(last)) = (timeline.sections.first(), timeline.sections.last()) else {
        return Vec::new();
    };
    // A part that is not written has no moments.
    let part = |part, starts: &Moment, ends: &Moment| {
        let at = |moment| timeline.moment(routine, moment).ok();
        Some(SlotLine { part, starts: at(starts)?, ends: at(ends)? })
    };
    let set_up = part("set-up", &Moment::SetUpStart, &Moment::SetUpEnd);
    let encore = part("encore", &Moment::EncoreStart, &Moment::EncoreEnd);
    let strike = part("strike", &Moment::StrikeStart, &Moment::StrikeEnd);
    if set_up.is_none() && encore.is_none() && strike.is_none() {
        return Vec::new();
    }
    let act = SlotLine { part: "act", starts: first.starts.clone(), ends: last.ends.clone() };
    set_up.into_iter().chain([act]).chain(encore).chain(strike).collect()
}
