//! Which moves begin in a limit's time, and which begin after it: those are cut.

use crate::act::Act;
use crate::routine::{Limit, OnTheLine};
use crate::time::{Night, Seconds, Time, TimeRange};

use super::contest_clock::ContestClock;

/// A juggled section that begins after the longest that a limit allows, on some night.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Its index in the score.
    pub section: usize,
    /// What the limit's clock reads where it begins.
    pub begins: TimeRange,
    /// Whether it is cut on every night on which it begins in the limit's time.
    pub surely: bool,
}

/// The moves that begin after the longest that a limit allows and before its stop.
#[must_use]
pub fn cut(act: &Act, limit: &Limit) -> Vec<Cut> {
    let Some(clock) = ContestClock::of(act, limit).filter(|clock| !clock.may_stop_first()) else {
        return Vec::new();
    };
    let Some(most) = limit.at_most.as_ref().map(|most| &most.value) else { return Vec::new() };
    let is_cut = |reads: &Seconds| match limit.on_the_line {
        OnTheLine::Inside => reads > most,
        OnTheLine::Outside => reads >= most,
    };
    let cut = act.sections().filter_map(|(section, entry, span)| {
        let starts = Some(&span.starts).filter(|starts| clock.knows(starts))?;
        entry.juggle()?;
        let begins = ContestClock::range(|night| begins(&clock, starts, night));
        let (least, last) = (begins.earliest()?, begins.latest()?);
        is_cut(last).then(|| Cut { section, surely: is_cut(least), begins: begins.clone() })
    });
    cut.collect()
}

/// What the clock reads at a time on a night; `None` where it has not started or has stopped.
fn begins(clock: &ContestClock<'_>, time: &Time, night: &Night<'_>) -> Option<Time> {
    let runs =
        night.not_after(&clock.starts(night), time) && night.before(time, &clock.stops(night));
    runs.then(|| clock.counted_until(night, time))
}

/// How many moves begin in a limit's time on a night: from its start on, before its stop, and not
/// after the longest that it allows. `None` where an error hides one of them.
pub fn in_time_on(act: &Act, clock: &ContestClock<'_>, night: &Night<'_>) -> Option<u32> {
    let limit = clock.limit();
    let mut number = 0;
    for (_, entry, span) in act.sections() {
        if span.hides_throws || entry.is_juggled() && !clock.knows(&span.starts) {
            return None;
        }
        let Some(reads) = entry.juggle().and_then(|_| begins(clock, &span.starts, night)) else {
            continue;
        };
        let most = limit.at_most.as_ref().map(|most| Time::from(most.value.clone()));
        let is_in = most.is_none_or(|most| match limit.on_the_line {
            OnTheLine::Inside => night.not_after(&reads, &most),
            OnTheLine::Outside => night.before(&reads, &most),
        });
        number += u32::from(is_in);
    }
    Some(number)
}

/// The fewest and the most moves that begin in a limit's time; `None` where that is not known.
#[must_use]
pub fn in_time(act: &Act, limit: &Limit) -> Option<(u32, u32)> {
    let clock = ContestClock::of(act, limit).filter(|clock| !clock.may_stop_first())?;
    // A number of moves leaps from one way to go to the next, and is the same on all nights of each.
    let number = |night: &Night<'_>| {
        Some(Time::from(Seconds::fraction(in_time_on(act, &clock, night)?.into(), 1)))
    };
    let range = ContestClock::range(number);
    let whole = |end: Option<&Seconds>| end.map(|end| end.to_f64() as u32);
    Some((whole(range.earliest())?, whole(range.latest())?))
}
