//! What is wrong with what is said of an act, and the smallest act of which it is still wrong.

use std::collections::{BTreeMap, BTreeSet};

use crate::act::Act;
use crate::fixed::turns;
use crate::said::{Wanted, errors, said};
use crate::{faults, ranges};

/// Something that is said of an open act and is not so, or is not said.
#[derive(Clone, Debug)]
pub(crate) struct Failure {
    /// What it is, apart from the act.
    pub(crate) kind: String,
    pub(crate) detail: String,
}

impl Failure {
    pub(crate) fn within(self, document: &str) -> Failure {
        Failure { kind: format!("{document}: {}", self.kind), ..self }
    }
}

/// What was found of one act.
#[derive(Default)]
pub(crate) struct Judged {
    pub(crate) seed: u64,
    /// How many lengths it leaves open.
    pub(crate) opens: usize,
    pub(crate) failures: Vec<Failure>,
    /// Whether it has all its documents.
    pub(crate) compiled: bool,
    /// Faults that are judged on the safe side.
    pub(crate) on_the_safe_side: usize,
}

impl Judged {
    pub(crate) fn fail(&mut self, failure: Failure) {
        self.failures.push(failure);
    }
}

/// Holds an act against what it may turn out to be.
pub(crate) fn judge(act: &Act, seed: u64) -> Judged {
    let open = said(&act.text(), Wanted::Times);
    let turns = turns(act, seed);
    let (opens, compiled) = (act.opens().len(), open.time.is_some());
    let mut judged = Judged { seed, opens, compiled, ..Judged::default() };
    judged.failures = ranges::judge(act, &open, &turns);
    faults::judge(act, &open, &turns, &mut judged);
    judged.on_its_errors(act, &open.check, &turns);
    judged
}

impl Judged {
    /// An act that may turn out well whatever its lengths is not refused, but for the reason that
    /// it is open.
    fn on_its_errors(
        &mut self,
        act: &Act,
        check: &serde_json::Value,
        turns: &crate::fixed::Turns,
    ) {
        let are_fine = turns.all().all(|fixed| errors(&fixed.said.check).is_empty());
        let refused: BTreeSet<&str> = errors(check).into_iter().collect();
        if are_fine && !act.opens().is_empty() {
            for code in refused {
                let kind = format!("refused though no fixed act is: {code}");
                self.fail(Failure { kind, detail: String::new() });
            }
        }
    }
}

/// A smaller act that fails in the same way: entries are left out and lengths are fixed as long as
/// it still does.
pub(crate) fn smallest(act: &Act, seed: u64, kind: &str) -> (Act, Failure) {
    let fails = |act: &Act| judge(act, seed).failures.into_iter().find(|one| one.kind == kind);
    let mut best = act.clone();
    let mut failure = fails(&best).unwrap_or_else(|| unreachable!("it failed before"));
    loop {
        let smaller = smaller(&best).into_iter().find_map(|act| fails(&act).map(|one| (act, one)));
        match smaller {
            Some((act, one)) => (best, failure) = (act, one),
            None => return (best, failure),
        }
    }
}

/// The act with one thing less, each.
fn smaller(act: &Act) -> Vec<Act> {
    let mut smaller = Vec::new();
    let mut without = |change: &dyn Fn(&mut Act)| {
        let mut one = act.clone();
        change(&mut one);
        smaller.push(one);
    };
    // With fewer open lengths there are fewer acts to hold it against.
    for (open, length) in act.opens().iter().enumerate() {
        let (least, most) = (length.least, length.most);
        without(&|act| *act = act.fixing(open, least));
        without(&|act| *act = act.fixing(open, most));
    }
    if act.encore.is_some() {
        without(&|act| act.encore = None);
    }
    (0..act.tracks.len()).for_each(|at| without(&|act| drop(act.tracks.remove(at))));
    (0..act.limits.len()).for_each(|at| without(&|act| drop(act.limits.remove(at))));
    (0..act.cues.len()).for_each(|at| without(&|act| drop(act.cues.remove(at))));
    (0..act.score.len()).for_each(|at| without(&|act| drop(act.score.remove(at))));
    if act.burn.is_some() {
        without(&|act| act.burn = None);
    }
    for (at, track) in act.tracks.iter().enumerate() {
        (0..track.holds.len()).for_each(|hold| without(&|act| drop(act.tracks[at].holds.remove(hold))));
    }
    if let Some(encore) = &act.encore {
        let of = |act: &mut Act, change: &dyn Fn(&mut crate::act::Encore)| {
            act.encore.iter_mut().for_each(change);
        };
        (0..encore.cues.len())
            .for_each(|at| without(&|act| of(act, &|encore| drop(encore.cues.remove(at)))));
        (0..encore.score.len())
            .for_each(|at| without(&|act| of(act, &|encore| drop(encore.score.remove(at)))));
    }
    (3..act.head.len()).for_each(|at| without(&|act| drop(act.head.remove(at))));
    smaller
}

/// One kind of failure: how often it was found, and the act with the fewest open lengths of which
/// it was.
pub(crate) struct Kind {
    pub(crate) times: usize,
    pub(crate) seed: u64,
    pub(crate) opens: usize,
    pub(crate) failure: Failure,
}

/// The failures of many acts, kind by kind.
pub(crate) fn kinds(judged: &[Judged]) -> BTreeMap<String, Kind> {
    let mut kinds: BTreeMap<String, Kind> = BTreeMap::new();
    for Judged { seed, opens, failures, .. } in judged {
        let mut counted = BTreeSet::new();
        for failure in failures {
            let (seed, opens) = (*seed, *opens);
            let new = || Kind { times: 0, seed, opens, failure: failure.clone() };
            let kind = kinds.entry(failure.kind.clone()).or_insert_with(new);
            kind.times += usize::from(counted.insert(&failure.kind));
            if opens < kind.opens {
                *kind = Kind { times: kind.times, ..new() };
            }
        }
    }
    kinds
}
