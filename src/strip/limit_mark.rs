//! Where the limits of an act end, as they are drawn.

use crate::act::Act;
use crate::measure::contest_clock::ContestClock;
use crate::time::{seconds_as_written, written};

use super::text;

/// The longest that a limit allows, on the show clock with all that is open at its shortest.
pub(super) struct LimitMark {
    /// Its place among the routine's limits.
    pub(super) limit: usize,
    /// Where its clock reaches the longest that is allowed, in seconds.
    pub(super) at: f64,
    /// Where its grace ends, if it has one.
    pub(super) forgiven_to: Option<f64>,
    /// The rule and the longest that it allows.
    pub(super) label: String,
    /// The same, with the grace.
    pub(super) title: String,
}

/// Those whose clock reaches the longest that they allow, carried on after their stop.
pub(super) fn marks(act: &Act) -> Vec<LimitMark> {
    let mark = |(index, limit): (usize, &crate::routine::Limit)| {
        let most = &limit.at_most.as_ref()?.value;
        let clock = ContestClock::of(act, limit).filter(|clock| !clock.may_stop_first())?;
        let grace = Some(&limit.grace).filter(|grace| grace.to_f64() > 0.0);
        let label = format!("{}: {}", text::clean(&limit.rule), written(most));
        Some(LimitMark {
            limit: index,
            at: clock.reaches(most)?.to_f64(),
            forgiven_to: grace.and_then(|grace| Some(clock.reaches(&(most + grace))?.to_f64())),
            title: match grace {
                Some(grace) => format!("{label}, {} more is forgiven", seconds_as_written(grace)),
                None => label.clone(),
            },
            label,
        })
    };
    act.routine.limits.iter().enumerate().filter_map(mark).collect()
}
