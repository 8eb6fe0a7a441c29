//! What has moved between two acts, in one shape.
//!
//! What an offer says of itself is read from it, and so is whatever else holds one act against
//! another. The old act stands first: what is later in the new one is above zero. Sections are
//! matched by name, then by content; cues by crew and number, then by content. Unit: seconds.

mod causes;
mod cues;
mod faults;
mod limits;
mod sections;

pub use causes::{Cause, Comparison, Side};
pub use cues::{CueChange, CueDifference, between_papers};
pub use faults::{About, Fault, FaultDifference};
pub use limits::{InWhich, LimitDifference};
pub use sections::{CountDifference, SectionDifference, ThrowColour};

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::Opened;
use crate::act::Act;
use crate::time::{Seconds, Time, TimeRange};

/// Between two routine files as they were opened.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Difference {
    /// Between the two acts; `None` where one of the files gives none.
    pub act: Option<ActDifference>,
    /// Between their encores, on their own clocks; `None` where one of the acts has none.
    pub encore: Option<ActDifference>,
    /// Which of the acts has an encore, where only one of them has.
    pub encore_only_in: Option<InWhich>,
    /// The faults that are there in one of them only.
    pub faults: FaultDifference,
}

/// Between two acts, or between the encores of two acts.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct ActDifference {
    /// How much longer the act lasts, from the start of its first section to the end of its last;
    /// `None` where one of the two is not known.
    pub lasts: Option<Later>,
    /// How much later it ends on the show clock.
    pub ends: Option<Later>,
    /// Beats that it has more, transitions and waits included.
    pub beats: i64,
    /// The sections that are in both acts, in the order of the new score.
    pub sections: Vec<SectionDifference>,
    /// The names of sections that only the new act has.
    pub added: Vec<String>,
    /// The names of sections that only the old act has.
    pub gone: Vec<String>,
    /// The cues that are not as they were, or may not be: those of the old act first, in the order of
    /// their files.
    pub cues: Vec<CueDifference>,
    /// The limits whose verdict or whose room is not what it was, and those of one act only.
    pub limits: Vec<LimitDifference>,
}

/// How much later a time is in the new act; below zero where it is earlier.
#[derive(Clone, Debug, PartialEq)]
pub struct Later {
    /// With every open length at its shortest.
    pub shortest: Seconds,
    /// The earliest against the earliest.
    pub earliest: Seconds,
    /// The latest against the latest; `None` where both times are certain.
    pub latest: Option<Seconds>,
    /// The difference itself, where both acts leave the same lengths open.
    pub time: Option<Time>,
}

impl Later {
    /// From a time of the old act to one of the new; `None` where one of them is not known.
    fn between(both: &Both<'_>, old: &Time, new: &Time) -> Option<Later> {
        let later = Later::of_ranges(&old.range(), &new.range())?;
        let shortest = new.shortest() - old.shortest();
        Some(Later { shortest, time: both.leave_the_same_open.then(|| new - old), ..later })
    }

    /// From one range to another, where only their ends are known.
    fn of_ranges(was: &TimeRange, is: &TimeRange) -> Option<Later> {
        let certain = was.is_certain() && is.is_certain();
        let earliest = is.earliest()? - was.earliest()?;
        let latest = is.latest()? - was.latest()?;
        let latest = (!certain).then_some(latest);
        Some(Later { shortest: earliest.clone(), earliest, latest, time: None })
    }

    /// With every open length at its shortest, as a plain number: what is zero but for the last
    /// digits after a ramp is zero.
    #[must_use]
    pub fn shortest_s(&self) -> f64 {
        if self.shortest == Seconds::zero() { 0.0 } else { self.shortest.to_f64() }
    }

    /// Whether the time is another one, on whatever night.
    #[must_use]
    pub fn is_moved(&self) -> bool {
        let moved = |by: &Seconds| *by != Seconds::zero();
        let by_ends = moved(&self.earliest) || self.latest.as_ref().is_some_and(moved);
        self.time.as_ref().map_or(by_ends, |time| time.certain().is_none_or(moved))
    }
}

/// Which of the old are which of the new, as indices.
struct Pairs {
    /// The old and the new of one thing, as they were found.
    matched: Vec<(usize, usize)>,
    /// The old that are left, in order.
    old: Vec<usize>,
    /// The new that are left, in order.
    new: Vec<usize>,
}

impl Pairs {
    /// So many old and so many new, none matched yet.
    fn of(old: usize, new: usize) -> Pairs {
        Pairs { matched: Vec::new(), old: (0..old).collect(), new: (0..new).collect() }
    }

    /// Matches of what is left the first old and the first new of a key, then the second of both,
    /// and so on; what has no key is left.
    fn match_by<K: Ord>(
        &mut self,
        old_key: impl Fn(usize) -> Option<K>,
        new_key: impl Fn(usize) -> Option<K>,
    ) {
        let mut waiting: BTreeMap<K, VecDeque<usize>> = BTreeMap::new();
        for &old in &self.old {
            if let Some(key) = old_key(old) {
                waiting.entry(key).or_default().push_back(old);
            }
        }
        let mut is_matched = BTreeSet::new();
        self.new.retain(|&new| {
            let found = new_key(new).and_then(|key| waiting.get_mut(&key)?.pop_front());
            is_matched.extend(found);
            self.matched.extend(found.map(|old| (old, new)));
            found.is_none()
        });
        self.old.retain(|old| !is_matched.contains(old));
    }
}

/// The two acts.
struct Both<'a> {
    old: &'a Act,
    new: &'a Act,
    leave_the_same_open: bool,
}

impl Difference {
    /// Between a file and the same or another one.
    #[must_use]
    pub fn between(old: &Opened, new: &Opened) -> Difference {
        let acts = old.act.as_ref().zip(new.act.as_ref());
        let encore = |(old, new): (&Act, &Act)| {
            Some(ActDifference::between(old.encore.as_deref()?, new.encore.as_deref()?))
        };
        let difference = Difference {
            act: acts.map(|(old, new)| ActDifference::between(old, new)),
            encore: acts.and_then(encore),
            encore_only_in: acts.and_then(|(old, new)| {
                match (old.encore.is_some(), new.encore.is_some()) {
                    (true, false) => Some(InWhich::Old),
                    (false, true) => Some(InWhich::New),
                    _ => None,
                }
            }),
            faults: FaultDifference::default(),
        };
        let faults = FaultDifference::between(old, new, &difference);
        Difference { faults, ..difference }
    }

    /// Whether nothing of the two is different, as far as it is known.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let FaultDifference { come, gone } = &self.faults;
        come.is_empty()
            && gone.is_empty()
            && self.encore_only_in.is_none()
            && self.acts().all(ActDifference::is_empty)
    }

    /// The differences of the act and of its encore, as far as there are any.
    pub fn acts(&self) -> impl Iterator<Item = &ActDifference> {
        self.act.iter().chain(&self.encore)
    }

    /// Whether another hand leads a section of both; `None` where that is not known.
    #[must_use]
    pub fn flips_lead(&self) -> Option<bool> {
        self.of_some_section(|section| section.flips_lead)
    }

    /// Whether an own throw of a section of both shows another colour; `None` where that is not
    /// known.
    #[must_use]
    pub fn moves_colours(&self) -> Option<bool> {
        self.of_some_section(|section| section.moves_colours)
    }

    fn of_some_section(&self, is: impl Fn(&SectionDifference) -> Option<bool>) -> Option<bool> {
        self.act.as_ref()?;
        let all = || self.acts().flat_map(|act| &act.sections);
        if all().any(|section| is(section) == Some(true)) {
            return Some(true);
        }
        all().all(|section| is(section).is_some()).then_some(false)
    }
}

impl ActDifference {
    /// Between two acts, or between two encores; their own encores are left out.
    #[must_use]
    pub fn between(old: &Act, new: &Act) -> ActDifference {
        let both = Both { old, new, leave_the_same_open: old.open == new.open };
        let ends = |act: &Act| act.timeline.ends().cloned();
        let beats =
            |act: &Act| -> i64 { act.timeline.runs.iter().map(|run| i64::from(run.beats)).sum() };
        let pairs = sections::in_both(old, new);
        let names = |act: &Act, of: &[usize]| -> Vec<String> {
            of.iter().map(|&index| act.routine.score[index].name.value.clone()).collect()
        };
        ActDifference {
            lasts: Later::between(&both, &old.timeline.lasts(), &new.timeline.lasts()),
            ends: ends(old).zip(ends(new)).and_then(|(old, new)| Later::between(&both, &old, &new)),
            beats: beats(new) - beats(old),
            sections: pairs
                .matched
                .iter()
                .map(|&(old, new)| SectionDifference::between(&both, old, new))
                .collect(),
            added: names(new, &pairs.new),
            gone: names(old, &pairs.old),
            cues: cues::between(&both),
            limits: limits::between(old, new),
        }
    }

    /// Whether nothing of the two is different, as far as it is known.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let moved = |later: &Option<Later>| later.as_ref().is_some_and(Later::is_moved);
        !moved(&self.lasts)
            && !moved(&self.ends)
            && self.added.is_empty()
            && self.gone.is_empty()
            && !self.cues.iter().any(CueDifference::is_changed)
            && self.limits.is_empty()
            && !self.sections.iter().any(SectionDifference::is_changed)
    }

    /// The cues that come at another time.
    pub fn cues_that_move(&self) -> impl Iterator<Item = &CueDifference> {
        self.cues.iter().filter(|cue| cue.moves())
    }
}

#[cfg(test)]
mod tests;
