//! Some of an act's calls in the order in which they come, where that may hang on open lengths.
//!
//! Calls whose times owe alike keep their order on every night, so of each such series only the call
//! nearest to what is asked has to be looked at.

use std::collections::BTreeMap;

use crate::time::{Night, Time};

use super::calls::{Call, Calls};

impl Calls {
    /// Some of the calls in the order in which they come.
    pub fn some<'c>(&'c self, wanted: impl Fn(&Call) -> bool) -> InOrder<'c> {
        let calls: Vec<&Call> = self.calls.iter().filter(|call| wanted(call)).collect();
        let is_certain = calls.is_sorted_by(|one, next| one.always_comes_before(next));
        let mut alike: Vec<Vec<usize>> = Vec::new();
        let mut known = BTreeMap::new();
        for (place, call) in calls.iter().enumerate() {
            // Where the order is certain, all are one series.
            let owes = if is_certain { &[] } else { call.go.owes() };
            let series = *known.entry(owes).or_insert_with(|| {
                alike.push(Vec::new());
                alike.len() - 1
            });
            alike[series].push(place);
        }
        InOrder { calls, is_certain, alike }
    }
}

/// For so many calls each in whose neighbourhood it may come, neighbours are listed.
const MOST_NEIGHBOURS: usize = 10;

/// Calls two by two that may come one right after the other.
pub struct Neighbours<'c> {
    /// The two of them, the earlier first as they come at the earliest.
    pub pairs: Vec<(&'c Call, &'c Call)>,
    /// From this one on they are not listed, for they are too many.
    pub too_many_from: Option<&'c Call>,
}

/// Some of the calls, in the order in which they come at the earliest.
pub struct InOrder<'c> {
    calls: Vec<&'c Call>,
    is_certain: bool,
    /// The series that keep their order on every night, as places in `calls`.
    alike: Vec<Vec<usize>>,
}

impl<'c> InOrder<'c> {
    /// The calls in order of their earliest GO.
    #[must_use]
    pub fn calls(&self) -> &[&'c Call] {
        &self.calls
    }

    /// Whether they come in that order on every night.
    #[must_use]
    pub fn is_certain(&self) -> bool {
        self.is_certain
    }

    /// The series of calls that keep their order on every night, each in that order.
    pub fn series(&self) -> impl Iterator<Item = Vec<&'c Call>> {
        self.alike.iter().map(|places| places.iter().map(|&place| self.calls[place]).collect())
    }

    /// The last call that counts on a night. What comes after `until` on every night does not, and
    /// within a series a call that counts comes after all before it.
    #[must_use]
    pub fn last_that(
        &self,
        until: Option<&Time>,
        counts: impl Fn(&Call) -> bool,
        night: &Night<'_>,
    ) -> Option<&'c Call> {
        let is_past = |place: &usize| {
            until.is_some_and(|until| night.surely_before(until, &self.calls[*place].go))
        };
        let mut left: Vec<&[usize]> = self
            .alike
            .iter()
            .map(|series| &series[..series.partition_point(|place| !is_past(place))])
            .collect();
        let mut last: Option<&Call> = None;
        // From behind through all series together.
        while let Some(series) =
            left.iter_mut().filter(|series| !series.is_empty()).max_by_key(|series| series.last())
        {
            let Some((&place, before)) = series.split_last() else { break };
            let call = self.calls[place];
            *series = before;
            if counts(call) {
                *series = &[];
                if last.is_none_or(|last| last.comes_before(call, night)) {
                    last = Some(call);
                }
            }
        }
        last
    }

    /// Of each series the first call that comes after another on a night, and is wanted, in order of
    /// their earliest GO.
    pub fn firsts_after<'s>(
        &'s self,
        call: &'s Call,
        wanted: impl Fn(&Call) -> bool + 's,
        night: &'s Night<'_>,
    ) -> impl Iterator<Item = &'c Call> + 's {
        let is_before = |place: &usize| night.surely_before(&self.calls[*place].go, &call.go);
        let left = self.alike.iter().map(|series| &series[series.partition_point(is_before)..]);
        let mut left: Vec<&[usize]> = left.collect();
        std::iter::from_fn(move || {
            loop {
                let series = left
                    .iter_mut()
                    .filter(|series| !series.is_empty())
                    .min_by_key(|series| series.first())?;
                let (&place, behind) = series.split_first()?;
                let one = self.calls[place];
                *series = behind;
                if wanted(one) && one.cue != call.cue && call.comes_before(one, night) {
                    *series = &[];
                    return Some(one);
                }
            }
        })
    }

    /// The last call that comes before another on a night.
    #[must_use]
    pub fn last_before(&self, call: &Call, night: &Night<'_>) -> Option<&'c Call> {
        let counts = |one: &Call| one.cue != call.cue && one.comes_before(call, night);
        self.last_that(Some(&call.go), counts, night)
    }

    /// The first of some of the calls that come after another on a night.
    #[must_use]
    pub fn first_after(
        &self,
        call: &Call,
        wanted: impl Fn(&Call) -> bool,
        night: &Night<'_>,
    ) -> Option<&'c Call> {
        let firsts = self.firsts_after(call, wanted, night);
        firsts.reduce(|first, one| if one.comes_before(first, night) { one } else { first })
    }

    /// The calls as they come on a night.
    #[must_use]
    pub fn on(&self, night: &Night<'_>) -> Vec<&'c Call> {
        if self.is_certain {
            return self.calls.clone();
        }
        let mut ordered: Vec<&Call> = Vec::with_capacity(self.calls.len());
        for call in &self.calls {
            let later = ordered.iter().rev().take_while(|other| call.comes_before(other, night));
            let place = ordered.len() - later.count();
            ordered.insert(place, call);
        }
        ordered
    }

    /// Every two that may come one right after the other, in whichever order, as far as they are
    /// not too many.
    #[must_use]
    pub fn neighbours(&self) -> Neighbours<'c> {
        let most = MOST_NEIGHBOURS * (self.calls.len() + 100);
        let fences = self.fences();
        // Of a series only the next call, of the others what the next call does not always part.
        let mut next = vec![None; self.calls.len()];
        for two in self.alike.iter().flat_map(|series| series.windows(2)) {
            next[two[0]] = Some(two[1]);
        }
        let mut pairs = Vec::new();
        for (index, &one) in self.calls.iter().enumerate() {
            if pairs.len() > most {
                return Neighbours { pairs, too_many_from: Some(one) };
            }
            let follower = next[index];
            let mut behind: Vec<usize> = Vec::new();
            for series in &self.alike {
                let after = series.partition_point(|place| *place <= index);
                for &place in &series[after..] {
                    let parts =
                        |next: usize| self.calls[next].always_comes_before(self.calls[place]);
                    if follower.is_some_and(|next| next != place && parts(next)) {
                        break;
                    }
                    behind.push(place);
                    if fences[place] && one.always_comes_before(self.calls[place]) {
                        break;
                    }
                }
            }
            behind.sort_unstable();
            // Nothing comes past a fence.
            let is_fence =
                |place: &usize| fences[*place] && one.always_comes_before(self.calls[*place]);
            let end = behind.iter().position(is_fence).map_or(behind.len(), |at| at + 1);
            pairs.extend(behind[..end].iter().map(|&place| (one, self.calls[place])));
        }
        Neighbours { pairs, too_many_from: None }
    }

    /// Of each call, whether it comes before all that stand behind it on every night.
    fn fences(&self) -> Vec<bool> {
        if self.is_certain {
            return vec![true; self.calls.len()];
        }
        // Two times that owe alike keep their order, so the first behind speaks for all like it.
        let mut firsts: Vec<&Call> = Vec::new();
        let fences = self.calls.iter().rev().map(|call| {
            let is_fence = firsts.iter().all(|first| call.always_comes_before(first));
            match firsts.iter_mut().find(|first| first.go.owes() == call.go.owes()) {
                Some(first) => *first = call,
                None => firsts.push(call),
            }
            is_fence
        });
        let mut fences: Vec<bool> = fences.collect();
        fences.reverse();
        fences
    }

    /// The calls that do not come before one of these on every night.
    #[must_use]
    pub fn behind(&self, one: &Call) -> &[&'c Call] {
        let from = one.go.least().to_f64();
        let before = self.calls.partition_point(|call| call.go.least().to_f64() < from);
        match self.is_certain {
            true => &self.calls[before..],
            false => &self.calls,
        }
    }

    /// The calls among which are all that come after one of these and before a time on some night.
    #[must_use]
    pub fn between(&self, one: &Call, until: &Time) -> &[&'c Call] {
        let (from, until) = (one.go.least().to_f64(), until.most().to_f64());
        let is_past = |call: &&Call| self.is_certain && call.go.least().to_f64() < from;
        let past = self.calls.partition_point(is_past);
        let end = self.calls.partition_point(|call| call.go.least().to_f64() <= until);
        self.calls.get(past..end).unwrap_or_default()
    }

    /// Whether none of them comes between two that come in this order on a night.
    #[must_use]
    pub fn are_neighbours(&self, first: &Call, next: &Call, night: &Night<'_>) -> bool {
        self.is_certain
            || !self
                .firsts_after(first, |one| one.cue != next.cue, night)
                .any(|one| one.comes_before(next, night))
    }
}

#[cfg(test)]
mod tests {
    use crate::act::Act;
    use crate::read::read;
    use crate::time::Night;

    use super::super::calls::Call;
    use super::InOrder;

    /// Cues at times of the show clock and after two bows; nobody knows how long the bows last.
    fn act() -> Act {
        let at = ["At(\"0:14\")", "Shift(End(\"p\"), 0.5)", "At(\"0:16\")", "End(\"q\")"];
        let more = ["At(\"0:19\")", "Shift(End(\"p\"), 3)", "Shift(End(\"q\"), 2)", "At(\"0:19\")"];
        let last = ["At(\"0:24\")", "Shift(End(\"p\"), 9)", "At(\"0:30\")", "Shift(End(\"q\"), 4)"];
        let cues: String = [at, more, last]
            .concat()
            .iter()
            .enumerate()
            .map(|(number, at)| {
                format!(
                    "Cue(crew: Light, number: {}, at: {at}, trigger: Called, does: \"x\", count: 1),",
                    number + 1
                )
            })
            .collect();
        let text = format!(
            "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), zero: FirstThrow, \
             colours: {{ \"coral\": \"#ec6a5c\" }}, sets: {{ \"three\": Set(kind: Ball, length: \
             0.07, colours: [\"coral\", \"coral\", \"coral\"]) }}, score: [Juggle(name: \"tide\", \
             set: \"three\", pattern: \"3\", lasts: Beats(20)), Pause(name: \"p\", lasts: \
             Between(\"0:04\", \"0:12\")), Pause(name: \"q\", lasts: Between(\"0:01\", \"0:05\")), \
             Pause(name: \"r\", lasts: For(\"0:09\"))], cues: [{cues}])"
        );
        let reading = read(&text);
        assert_eq!(reading.diagnostics, [], "{text}");
        Act::of(&reading.routine.unwrap())
    }

    /// Whether two answers are the same on every night.
    fn same_always<T: PartialEq + std::fmt::Debug>(
        act: &Act,
        one: impl Fn(&Night<'_>) -> T,
        other: impl Fn(&Night<'_>) -> T,
    ) {
        let differ = |night: &Night<'_>| {
            let (one, other) = (one(night), other(night));
            (one != other).then_some((one, other))
        };
        assert_eq!(act.some_night(differ), Ok(None));
    }

    /// Those that come between two on a night, in no order.
    fn between<'c>(
        order: &InOrder<'c>,
        (first, next): (&Call, &Call),
        night: &Night<'_>,
    ) -> Vec<&'c Call> {
        let others = order.calls().iter().copied();
        let others = others.filter(|one| one.cue != first.cue && one.cue != next.cue);
        others
            .filter(|one| first.comes_before(one, night) && one.comes_before(next, night))
            .collect()
    }

    #[test]
    fn the_nearest_calls_are_those_that_looking_at_all_finds() {
        let act = act();
        let order = act.calls.some(|_| true);
        assert!(!order.is_certain());
        assert_eq!(order.series().count(), 3);
        let cue = |call: Option<&Call>| call.map(|call| call.cue);
        for &call in order.calls() {
            let nearest = |after: bool, night: &Night<'_>| {
                let others = order.calls().iter().filter(|one| one.cue != call.cue);
                let mut others = others.filter(|one| match after {
                    true => call.comes_before(one, night),
                    false => one.comes_before(call, night),
                });
                let stands = others.clone().find(|one| {
                    let mut all = others.clone();
                    match after {
                        true => all.all(|other| !other.comes_before(one, night)),
                        false => all.all(|other| !one.comes_before(other, night)),
                    }
                });
                assert!(stands.is_some() || others.next().is_none());
                cue(stands.copied())
            };
            same_always(&act, |night| cue(order.last_before(call, night)), |n| nearest(false, n));
            let first = |night: &Night<'_>| cue(order.first_after(call, |_| true, night));
            same_always(&act, first, |night| nearest(true, night));
        }
    }

    #[test]
    fn neighbours_are_all_between_which_nothing_comes_on_some_night() {
        let act = act();
        let order = act.calls.some(|_| true);
        let neighbours = order.neighbours();
        assert!(neighbours.too_many_from.is_none());
        let mut apart = 0;
        for (place, &one) in order.calls().iter().enumerate() {
            for &other in &order.calls()[place + 1..] {
                let in_order = |night: &Night<'_>| match one.comes_before(other, night) {
                    true => (one, other),
                    false => (other, one),
                };
                let are = |night: &Night<'_>| between(&order, in_order(night), night).is_empty();
                let told = |night: &Night<'_>| {
                    let (first, next) = in_order(night);
                    order.are_neighbours(first, next, night)
                };
                same_always(&act, told, are);
                let found = act.some_night(|night| are(night).then_some(()));
                let listed = neighbours.pairs.iter();
                let is_listed =
                    listed.into_iter().any(|(a, b)| a.cue == one.cue && b.cue == other.cue);
                assert!(is_listed || found == Ok(None), "{one:?} {other:?}");
                apart += usize::from(!is_listed);
            }
        }
        assert!(apart > 10, "{apart}");
    }
}
