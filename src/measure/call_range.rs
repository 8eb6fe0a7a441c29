//! The range of each cue's times, where the routine leaves lengths open.

use crate::routine::Routine;
use crate::time::{Seconds, TimeRange};
use crate::timeline::Timeline;

use super::calls::{Call, calls};

/// When each cue goes and stands by, from the earliest to the latest.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CallRanges {
    /// By the cue's index in the routine: GO, stand-by.
    ranges: Vec<Option<(TimeRange, Option<TimeRange>)>>,
}

impl CallRanges {
    /// When a cue goes; `None` for one that cannot be called.
    #[must_use]
    pub fn go(&self, cue: usize) -> Option<&TimeRange> {
        self.ranges.get(cue)?.as_ref().map(|(go, _)| go)
    }

    /// When a cue stands by.
    #[must_use]
    pub fn standby(&self, cue: usize) -> Option<&TimeRange> {
        self.ranges.get(cue)?.as_ref()?.1.as_ref()
    }

    /// When a cue that is called goes, in words; a call's own time where its range is not known.
    #[must_use]
    pub fn clock(&self, cue: usize, go: &Seconds) -> String {
        self.go(cue).cloned().unwrap_or_else(|| go.clone().into()).clock()
    }
}

/// The ranges of every cue.
#[must_use]
pub fn call_ranges(routine: &Routine, timeline: &Timeline) -> CallRanges {
    // Each timeline's calls once; a call is found by its cue, whatever the order.
    let of = |timeline: &Timeline| {
        let mut by_cue: Vec<Option<Call>> = vec![None; routine.cues.len()];
        for call in calls(routine, timeline).calls {
            if let Some(place) = by_cue.get_mut(call.cue) {
                *place = Some(call);
            }
        }
        by_cue
    };
    let shortest = of(timeline);
    let stretched: Vec<_> =
        timeline.spread.iter().map(|stretched| of(&stretched.timeline)).collect();
    let range = |cue: usize, time: fn(&Call) -> Option<&Seconds>| {
        let shares = stretched.iter().map(|calls| time(calls.get(cue)?.as_ref()?));
        TimeRange::spread(time(shortest.get(cue)?.as_ref()?)?, shares)
    };
    let ranges = (0..routine.cues.len()).map(|cue| {
        let standby = range(cue, |call| call.standby.as_ref());
        range(cue, |call| Some(&call.go)).map(|go| (go, standby))
    });
    CallRanges { ranges: ranges.collect() }
}
