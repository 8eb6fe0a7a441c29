//! What the limits of two acts say.

use crate::act::Act;
use crate::measure::limit_range::judged_range;
use crate::measure::limits::{Judgement, Verdict};
use crate::time::Seconds;

/// A limit of both acts that does not say what it said.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LimitDifference {
    /// Its rule.
    pub rule: String,
    /// The worst that can come of it in the old act; `None` where that is not known.
    pub was: Option<Verdict>,
    /// The same in the new act.
    pub now: Option<Verdict>,
    /// How much more room it leaves in the new act at the worst, in seconds; what is beyond its edge
    /// counts below zero.
    pub room: Option<Seconds>,
}

pub(super) fn between(old: &Act, new: &Act) -> Vec<LimitDifference> {
    let judged = |act: &Act, limit| judged_range(act, limit).map(|judged| judged.worst);
    let limits = new.routine.limits.iter().filter_map(|limit| {
        let before = old.routine.limits.iter().find(|other| other.rule == limit.rule)?;
        let (was, now) = (judged(old, before), judged(new, limit));
        let room = was.as_ref().and_then(room).zip(now.as_ref().and_then(room));
        let difference = LimitDifference {
            rule: limit.rule.clone(),
            was: was.map(|judged| judged.verdict),
            now: now.map(|judged| judged.verdict),
            room: room.map(|(was, now)| &now - &was),
        };
        let moved = difference.room.as_ref().is_some_and(|room| *room != Seconds::zero());
        (moved || difference.was != difference.now).then_some(difference)
    });
    limits.collect()
}

/// The room that a limit leaves; below zero beyond its edge.
fn room(judged: &Judgement) -> Option<Seconds> {
    let by = judged.by.as_ref()?;
    Some(match judged.verdict {
        Verdict::Inside => by.clone(),
        Verdict::Grace | Verdict::Over | Verdict::Under => &Seconds::zero() - by,
    })
}
