//! A limit's clock: where it starts and stops on a night, and what it counts between.
//!
//! A rule may start with whichever of several moments comes first, and add up only some of what
//! lies between its start and its stop. On one night all of that is a plain difference of times,
//! so it is asked of a [`Night`]; over all nights it need not be even, and has its least and its
//! most. Unit: seconds on the show clock.

use crate::act::Act;
use crate::routine::{AddsUp, Limit, Moment};
use crate::time::{Night, Open, Seconds, Time, TimeRange, reach};
use crate::timeline::Timeline;

/// The clock of a limit whose moments all come, at known distances from each other.
pub struct ContestClock<'a> {
    limit: &'a Limit,
    starts: Which,
    stops: Which,
    /// What is added up, from and to; `None` for everything between.
    parts: Option<Vec<(Time, Time)>>,
    /// What is left out of everything.
    left_out: Vec<(Time, Time)>,
    /// From where to where the encore goes, if it follows at once.
    encore: Option<(Time, Time)>,
}

/// A moment, which may be whichever of several comes first or last.
struct Which {
    is_last: bool,
    of: Vec<Time>,
}

impl Which {
    /// `None` where one of them never comes.
    fn of(act: &Act, moment: &Moment) -> Option<Which> {
        let (several, shift) = moment.unshifted();
        let (is_last, moments) = match several {
            Moment::First(of) => (false, &of[..]),
            Moment::Last(of) => (true, &of[..]),
            one => (false, std::slice::from_ref(one)),
        };
        let of = moments.iter().map(|one| Some(&act.moment(one).ok()? + &shift));
        Some(Which { is_last, of: of.collect::<Option<_>>()? })
    }

    /// With all that is open at its shortest.
    fn at_shortest(&self) -> Option<Seconds> {
        let times = self.of.iter().map(|time| time.shortest().clone());
        times.reduce(|chosen, other| if (other < chosen) != self.is_last { other } else { chosen })
    }

    fn on(&self, night: &Night<'_>) -> Time {
        let mut times = self.of.iter();
        let first = times.next().cloned().unwrap_or_else(Time::zero);
        times.fold(first, |chosen, other| match self.is_last {
            true => later(night, &chosen, other),
            false => earlier(night, &chosen, other),
        })
    }
}

fn earlier(night: &Night<'_>, one: &Time, other: &Time) -> Time {
    if night.before(other, one) { other.clone() } else { one.clone() }
}

fn later(night: &Night<'_>, one: &Time, other: &Time) -> Time {
    if night.before(one, other) { other.clone() } else { one.clone() }
}

/// How much of a part lies between two times.
fn overlap(night: &Night<'_>, (from, to): &(Time, Time), start: &Time, stop: &Time) -> Time {
    let (from, to) = (later(night, from, start), earlier(night, to, stop));
    if night.before(&from, &to) { &to - &from } else { Time::zero() }
}

/// When a moment comes, as a sheet prints it: enclosed between its earliest and its latest where
/// another of several comes first on another night. `None` where it never comes, or more ways to go
/// are open than are followed. Of one sheet each such time has its own `number`.
#[must_use]
pub fn enclosed(act: &Act, moment: &Moment, number: u16) -> Option<Time> {
    if let Ok(time) = act.moment(moment) {
        return Some(time);
    }
    let which = Which::of(act, moment)?;
    let (earliest, latest) = reach(|night| Some(which.on(night))).ok()??;
    Some(Time::between(Open::Enclosed(number), &earliest, &latest))
}

impl<'a> ContestClock<'a> {
    /// The clock of a limit; `None` where a moment never comes, and where an error leaves what it
    /// counts unknown.
    #[must_use]
    pub fn of(act: &Act, limit: &'a Limit) -> Option<ContestClock<'a>> {
        let starts = Which::of(act, &limit.starts.value)?;
        let stops = Which::of(act, &limit.stops.value)?;
        let encore = encore(act);
        let parts = match limit.adds_up {
            AddsUp::Everything => None,
            AddsUp::Juggling => {
                let mut runs = runs(&act.timeline, &Time::zero());
                if let (true, Some(of_encore), Some((begins, _))) =
                    (limit.counts_encore(), &act.encore, &encore)
                {
                    runs.extend(self::runs(&of_encore.timeline, begins));
                }
                Some(runs)
            }
            AddsUp::SetUpAndStrike => Some(
                [(Moment::SetUpStart, Moment::SetUpEnd), (Moment::StrikeStart, Moment::StrikeEnd)]
                    .iter()
                    .filter_map(|(from, to)| Some((act.moment(from).ok()?, act.moment(to).ok()?)))
                    .collect(),
            ),
        };
        let leaves_out = parts.is_none() && !limit.counts_encore();
        let left_out: Vec<_> = encore.clone().filter(|_| leaves_out).into_iter().collect();
        let hides_throws = |act: &Act| act.timeline.hides_throws().is_some();
        if limit.adds_up == AddsUp::Juggling && act.with_encore().any(hides_throws) {
            return None;
        }
        let clock = ContestClock { limit, starts, stops, parts, left_out, encore };
        clock.is_known().then_some(clock)
    }

    /// Whether no error leaves it unknown how far one of its times is from another.
    fn is_known(&self) -> bool {
        let parts = self.parts.iter().flatten().chain(&self.left_out);
        let edges = parts.flat_map(|(from, to)| [from, to]);
        let mut all = self.starts.of.iter().chain(&self.stops.of).chain(edges);
        let Some(first) = self.starts.of.first() else { return false };
        all.all(|time| !(time - first).is_unknown())
    }

    /// Whether it is known how far a time is from the start.
    #[must_use]
    pub fn knows(&self, time: &Time) -> bool {
        self.starts.of.iter().all(|starts| !(time - starts).is_unknown())
    }

    /// The limit.
    #[must_use]
    pub fn limit(&self) -> &'a Limit {
        self.limit
    }

    /// Where the rule starts the time on a night.
    #[must_use]
    pub fn starts(&self, night: &Night<'_>) -> Time {
        self.starts.on(night)
    }

    /// Where it stops it on a night.
    #[must_use]
    pub fn stops(&self, night: &Night<'_>) -> Time {
        self.stops.on(night)
    }

    /// What it counts on a night.
    #[must_use]
    pub fn counted(&self, night: &Night<'_>) -> Time {
        self.counted_until(night, &self.stops(night))
    }

    /// What it reads at a time, on a night on which it has not stopped by then.
    #[must_use]
    pub fn counted_until(&self, night: &Night<'_>, until: &Time) -> Time {
        let starts = self.starts(night);
        let sum = |parts: &[(Time, Time)]| {
            let lasts = parts.iter().map(|part| overlap(night, part, &starts, until));
            lasts.fold(Time::zero(), |sum, lasts| &sum + &lasts)
        };
        match &self.parts {
            Some(parts) => sum(parts),
            None => &(until - &starts) - &sum(&self.left_out),
        }
    }

    /// Where it reads so much, with all that is open at its shortest: in seconds on the show clock,
    /// carried on after its stop. `None` where it never does.
    #[must_use]
    pub fn reaches(&self, count: &Seconds) -> Option<Seconds> {
        let shortest = |part: &(Time, Time)| (part.0.shortest().clone(), part.1.shortest().clone());
        let starts = self.starts.at_shortest()?;
        let later = |time: Seconds| if time < starts { starts.clone() } else { time };
        // What is added up, in order; everything goes on for ever, but for what is left out.
        let mut parts: Vec<(Seconds, Option<Seconds>)> = match &self.parts {
            Some(parts) => {
                let parts = parts.iter().map(shortest);
                parts.map(|(from, to)| (later(from), Some(later(to)))).collect()
            }
            None => match self.left_out.first().map(shortest) {
                Some((from, to)) => {
                    vec![(starts.clone(), Some(later(from))), (later(to), None)]
                }
                None => vec![(starts.clone(), None)],
            },
        };
        parts.sort_by(|(a, _), (b, _)| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
        let mut left = count.clone();
        for (from, to) in parts {
            let reached = &from + &left;
            match to {
                Some(to) if to < reached => left = &left - &(&to - &from),
                _ => return Some(reached),
            }
        }
        None
    }

    /// How much of the encore lies between start and stop on a night; zero without an encore.
    #[must_use]
    pub fn of_encore(&self, night: &Night<'_>) -> Option<Time> {
        let (starts, stops) = (self.starts(night), self.stops(night));
        let lasts = self.encore.as_ref().map(|encore| overlap(night, encore, &starts, &stops));
        Some(lasts.unwrap_or_else(Time::zero))
    }

    /// Where the encore begins, if the limit counts it and some of it lies between start and stop on
    /// some night.
    #[must_use]
    pub fn encore_counted_from(&self) -> Option<&Time> {
        let (from, _) = self.encore.as_ref().filter(|_| self.limit.counts_encore())?;
        let lasts = ContestClock::range(|night| self.of_encore(night));
        lasts.latest().is_none_or(|most| *most > Seconds::zero()).then_some(from)
    }

    /// The least and the most that something comes to on any night; unknown where more ways to go
    /// are open than are followed, or where it has no value.
    #[must_use]
    pub fn range(of: impl Fn(&Night<'_>) -> Option<Time>) -> TimeRange {
        match reach(of) {
            Ok(Some((least, most))) => TimeRange::between(least, most),
            _ => TimeRange::unknown(),
        }
    }

    /// Whether it stops before it starts on some night: then it counts nothing that means anything.
    #[must_use]
    pub fn may_stop_first(&self) -> bool {
        let runs = ContestClock::range(|night| Some(&self.stops(night) - &self.starts(night)));
        runs.earliest().is_some_and(Seconds::is_negative)
    }
}

/// From where to where the encore goes on the act's clock, if it follows at once.
fn encore(act: &Act) -> Option<(Time, Time)> {
    act.encore.as_ref()?;
    Some((act.moment(&Moment::EncoreStart).ok()?, act.moment(&Moment::EncoreEnd).ok()?))
}

/// The runs of a timeline whose clock reads zero there, each from its first beat to its last catch.
fn runs(timeline: &Timeline, zero: &Time) -> Vec<(Time, Time)> {
    let ends = timeline.runs.iter().filter_map(|run| {
        let last_catch = run.gather.last_catch.as_ref()?;
        Some((zero + &run.tempo.at_beat(0), zero + last_catch))
    });
    ends.collect()
}
