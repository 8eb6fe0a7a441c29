//! What the limits of two acts say.

use crate::act::Act;
use crate::measure::limit_range::judged_range;
use crate::measure::limits::{Judgement, Verdict};
use crate::routine::Limit;
use crate::time::Seconds;

use super::Pairs;

/// A limit that does not say what it said, or that only one of the acts has.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LimitDifference {
    /// Its rule.
    pub rule: String,
    /// Which of the acts have it.
    pub of: InWhich,
    /// The worst that can come of it in the old act; `None` where that is not known, and where that
    /// act has no such limit.
    pub was: Option<Verdict>,
    /// The same in the new act.
    pub now: Option<Verdict>,
    /// How much more room it leaves in the new act at the worst, in seconds; what is beyond its edge
    /// counts below zero.
    pub room: Option<Seconds>,
}

/// Which of two acts has something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InWhich {
    /// The old one only.
    Old,
    /// The new one only.
    New,
    /// Both.
    Both,
}

pub(super) fn between(old: &Act, new: &Act) -> Vec<LimitDifference> {
    let (were, are) = (&old.routine.limits, &new.routine.limits);
    let mut pairs = Pairs::of(were.len(), are.len());
    pairs.match_by(|index| Some(&were[index].rule), |index| Some(&are[index].rule));
    pairs.matched.sort_by_key(|&(_, new)| new);
    let judged = |act: &Act, limit: &Limit| judged_range(act, limit).map(|judged| judged.worst);
    let both = pairs.matched.iter().filter_map(|&(before, now)| {
        let (was, now) = (judged(old, &were[before]), judged(new, &are[now]));
        let room = was.as_ref().and_then(room).zip(now.as_ref().and_then(room));
        let difference = LimitDifference {
            rule: were[before].rule.clone(),
            of: InWhich::Both,
            was: was.map(|judged| judged.verdict),
            now: now.map(|judged| judged.verdict),
            room: room.map(|(was, now)| &now - &was),
        };
        let moved = difference.room.as_ref().is_some_and(|room| *room != Seconds::zero());
        (moved || difference.was != difference.now).then_some(difference)
    });
    let alone = |act: &Act, limit: &Limit, of| {
        let verdict = judged(act, limit).map(|judged| judged.verdict);
        LimitDifference {
            rule: limit.rule.clone(),
            of,
            was: verdict.filter(|_| of == InWhich::Old),
            now: verdict.filter(|_| of == InWhich::New),
            room: None,
        }
    };
    let gone = pairs.old.iter().map(|&limit| alone(old, &were[limit], InWhich::Old));
    let added = pairs.new.iter().map(|&limit| alone(new, &are[limit], InWhich::New));
    both.chain(gone).chain(added).collect()
}

/// The room that a limit leaves; below zero beyond its edge.
fn room(judged: &Judgement) -> Option<Seconds> {
    let by = judged.by.as_ref()?;
    Some(match judged.verdict {
        Verdict::Inside => by.clone(),
        Verdict::Grace | Verdict::Over | Verdict::Under => &Seconds::zero() - by,
    })
}
