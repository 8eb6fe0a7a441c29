//! Some of an act's calls in the order in which they come, where that may hang on open lengths.

use crate::time::{Night, Time};

use super::calls::{Call, Calls};

impl Calls {
    /// Some of the calls in the order in which they come.
    pub fn some<'c>(&'c self, wanted: impl Fn(&Call) -> bool) -> InOrder<'c> {
        let calls: Vec<&Call> = self.calls.iter().filter(|call| wanted(call)).collect();
        let is_certain = calls.is_sorted_by(|one, next| one.always_comes_before(next));
        InOrder { calls, is_certain }
    }
}

/// Some of the calls, in the order in which they come at the earliest.
pub struct InOrder<'c> {
    calls: Vec<&'c Call>,
    is_certain: bool,
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

    /// The last of some of the calls that come before another on a night.
    #[must_use]
    pub fn last_before(
        &self,
        call: &Call,
        wanted: impl Fn(&Call) -> bool,
        night: &Night<'_>,
    ) -> Option<&'c Call> {
        let mut last: Option<&Call> = None;
        for &one in self.calls.iter().filter(|one| wanted(one) && one.cue != call.cue) {
            let later = |last: &Call| last.comes_before(one, night);
            if one.comes_before(call, night) && last.is_none_or(later) {
                last = Some(one);
            }
        }
        last
    }

    /// The first of some of the calls that come after another on a night.
    #[must_use]
    pub fn first_after(
        &self,
        call: &Call,
        wanted: impl Fn(&Call) -> bool,
        night: &Night<'_>,
    ) -> Option<&'c Call> {
        let mut first: Option<&Call> = None;
        for &one in self.calls.iter().filter(|one| wanted(one) && one.cue != call.cue) {
            let earlier = |first: &Call| one.comes_before(first, night);
            if call.comes_before(one, night) && first.is_none_or(earlier) {
                first = Some(one);
            }
        }
        first
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

    /// Every two that may come one right after the other, in whichever order.
    #[must_use]
    pub fn neighbours(&self) -> Vec<(&'c Call, &'c Call)> {
        let fences = self.fences();
        let mut pairs = Vec::new();
        for (index, &one) in self.calls.iter().enumerate() {
            for (&other, is_fence) in self.calls.iter().zip(&fences).skip(index + 1) {
                pairs.push((one, other));
                if *is_fence && one.always_comes_before(other) {
                    break;
                }
            }
        }
        pairs
    }

    /// Of each call, whether it comes before all that stand behind it on every night.
    fn fences(&self) -> Vec<bool> {
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
        let others = self.calls.iter().filter(|one| one.cue != first.cue && one.cue != next.cue);
        self.is_certain
            || !others
                .into_iter()
                .any(|one| first.comes_before(one, night) && one.comes_before(next, night))
    }
}
