//! Which moves begin in a limit's time, and which begin after it: those are cut.

use crate::act::Act;
use crate::routine::{Limit, OnTheLine, Section};
use crate::time::{Night, Seconds, Time, TimeRange, clock_beside, reach};
use crate::timeline::SectionSpan;

use super::contest_clock::ContestClock;

/// A juggled section that begins after the longest that a limit allows, on some night.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Its name.
    pub name: String,
    /// What the limit's clock reads where it begins.
    pub begins: TimeRange,
    /// Whether it is cut on every night on which it begins in the limit's time.
    pub surely: bool,
}

impl Cut {
    /// Where it begins, in words, beside the lines of its limit: a move that some nights leave whole
    /// has its latest begin alone, as in `0:46.2 at worst`.
    #[must_use]
    pub fn when(&self, limit: &Limit) -> String {
        match self.begins.latest().filter(|_| !self.surely) {
            Some(latest) => format!("{} at worst", clock_beside(latest, &limit.lines())),
            None => self.begins.clock_beside(&limit.lines()),
        }
    }
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
    let cut = entries(act, &clock).into_iter().filter_map(|(section, _, starts)| {
        section.juggle().filter(|_| clock.knows(&starts))?;
        let begins = ContestClock::range(|night| begins(&clock, &starts, night));
        let (least, last) = (begins.earliest()?, begins.latest()?);
        let name = section.name.value.clone();
        is_cut(last).then(|| Cut { name, surely: is_cut(least), begins: begins.clone() })
    });
    cut.collect()
}

/// The sections that a limit goes through, each with its start on the act's clock: those of the act,
/// then those of an encore that it counts.
fn entries<'a>(
    act: &'a Act,
    clock: &ContestClock<'_>,
) -> Vec<(&'a Section, &'a SectionSpan, Time)> {
    let own = act.sections().map(|(_, section, span)| (section, span, span.starts.clone()));
    let encore = act.encore.as_deref().zip(clock.encore_counted_from());
    let of_encore = encore.into_iter().flat_map(|(encore, from)| {
        encore.sections().map(move |(_, section, span)| (section, span, from + &span.starts))
    });
    own.chain(of_encore).collect()
}

/// What the clock reads at a time on a night; `None` where it has not started or has stopped.
fn begins(clock: &ContestClock<'_>, time: &Time, night: &Night<'_>) -> Option<Time> {
    let runs =
        night.not_after(&clock.starts(night), time) && night.before(time, &clock.stops(night));
    runs.then(|| clock.counted_until(night, time))
}

/// The moves of an act, and of an encore that the limit counts, in order of time, held against a limit's clock.
pub struct LimitMoves<'a> {
    clock: ContestClock<'a>,
    begins: Vec<Time>,
}

impl<'a> LimitMoves<'a> {
    /// `None` where the limit is not known or stops before it starts, and where an error hides a move.
    #[must_use]
    pub fn of(act: &'a Act, limit: &'a Limit) -> Option<LimitMoves<'a>> {
        let clock = ContestClock::of(act, limit).filter(|clock| !clock.may_stop_first())?;
        let mut begins = Vec::new();
        for (section, span, starts) in entries(act, &clock) {
            if span.hides_throws || section.is_juggled() && !clock.knows(&starts) {
                return None;
            }
            if section.juggle().is_some() {
                begins.push(starts);
            }
        }
        Some(LimitMoves { clock, begins })
    }

    /// Whether fewer than so many begin in the limit's time on a night. One move decides, as they
    /// are in order of time: a night is not asked about every one of them.
    #[must_use]
    pub fn are_fewer(&self, than: u32, night: &Night<'_>) -> bool {
        let Some(before) = than.checked_sub(1) else { return false };
        let stops = self.clock.stops(night);
        let decides = self.first(night).saturating_add(before as usize);
        self.begins.get(decides).is_none_or(|time| self.is_out(time, &stops, night))
    }

    /// How many begin in the limit's time on a night: from its start on, before its stop, and not
    /// after the longest that it allows. Where more than one number is left, the fewest is found
    /// first.
    #[must_use]
    pub fn number(&self, night: &Night<'_>) -> u32 {
        let stops = self.clock.stops(night);
        let from_start = self.begins.get(self.first(night)..).unwrap_or_default();
        let number = from_start.partition_point(|time| !self.is_out(time, &stops, night));
        u32::try_from(number).unwrap_or(u32::MAX)
    }

    /// The fewest and the most that begin in the limit's time on any night; `None` where more ways
    /// to go are open than are followed.
    #[must_use]
    pub fn range(&self) -> Option<(u32, u32)> {
        let on_some_night = |look: &dyn Fn(&Night<'_>) -> bool| {
            Some(reach(|night| look(night).then(Time::zero)).ok()?.is_some())
        };
        let never_fewer =
            |than| Some(!on_some_night(&|night: &Night<'_>| self.are_fewer(than, night))?);
        let may_be = |number| on_some_night(&|night: &Night<'_>| !self.are_fewer(number, night));
        Some((self.last_number(never_fewer)?, self.last_number(may_be)?))
    }

    /// The last number up to which something holds; it holds of none.
    fn last_number(&self, holds: impl Fn(u32) -> Option<bool>) -> Option<u32> {
        let (mut last, mut beyond) = (0, u32::try_from(self.begins.len()).ok()?.checked_add(1)?);
        while beyond - last > 1 {
            let middle = last + (beyond - last) / 2;
            match holds(middle)? {
                true => last = middle,
                false => beyond = middle,
            }
        }
        Some(last)
    }

    /// The place of the first move that begins in the limit's time or after it.
    fn first(&self, night: &Night<'_>) -> usize {
        let starts = self.clock.starts(night);
        self.begins.partition_point(|time| night.before(time, &starts))
    }

    /// Whether a move that does not begin before the start begins too late.
    fn is_out(&self, time: &Time, stops: &Time, night: &Night<'_>) -> bool {
        let limit = self.clock.limit();
        night.not_after(stops, time)
            || limit.at_most.as_ref().is_some_and(|most| {
                let most = Time::from(most.value.clone());
                let reads = self.clock.counted_until(night, time);
                match limit.on_the_line {
                    OnTheLine::Inside => night.before(&most, &reads),
                    OnTheLine::Outside => night.not_after(&most, &reads),
                }
            })
    }
}
