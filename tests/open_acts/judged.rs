//! What is wrong with what is said of an act, and the acts that are a little smaller.

use std::collections::BTreeSet;

use crate::act::Act;
use crate::faults::OF_OPEN_ACTS;
use crate::fixed::turns;
use crate::said::failures::Failure;
use crate::said::{PANIC, Wanted, errors, said};
use crate::{faults, ranges};

/// What was found of one act.
#[derive(Default)]
pub(crate) struct Judged {
    /// How many lengths it leaves open.
    pub(crate) opens: usize,
    pub(crate) failures: Vec<Failure>,
    /// Whether it has no errors.
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
    let (opens, compiled) = (act.opens().len(), errors(&open.check).is_empty());
    let mut judged = Judged { opens, compiled, ..Judged::default() };
    judged.failures = ranges::judge(act, &open, &turns);
    faults::judge(act, &open, &turns, &mut judged);
    judged.on_its_errors(act, &open.check, &turns);
    let all = turns.all().map(|fixed| &fixed.said).chain([&open]);
    if let Some(said) = all.into_iter().find(|said| errors(&said.check).contains(&PANIC)) {
        judged.fail(Failure::new("a panic", said.check.to_string()));
    }
    judged
}

impl Judged {
    /// An act that may turn out well whatever its lengths is not refused, but for the reason that
    /// it is open.
    fn on_its_errors(&mut self, act: &Act, check: &serde_json::Value, turns: &crate::fixed::Turns) {
        let are_fine = turns.all().all(|fixed| errors(&fixed.said.check).is_empty());
        let refused: BTreeSet<&str> = errors(check).into_iter().collect();
        if are_fine && !act.opens().is_empty() {
            for code in refused.iter().filter(|code| !OF_OPEN_ACTS.contains(code)) {
                let kind = format!("refused though no fixed act is: {code}");
                self.fail(Failure::new(kind, ""));
            }
        }
    }
}

/// The act with one thing less, each. With fewer open lengths it is held against fewer acts, so
/// those come first.
pub(crate) fn smaller(act: &Act) -> Vec<Act> {
    let mut smaller = Vec::new();
    let mut without = |change: &dyn Fn(&mut Act)| {
        let mut one = act.clone();
        change(&mut one);
        smaller.push(one);
    };
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
        (0..track.holds.len())
            .for_each(|hold| without(&|act| drop(act.tracks[at].holds.remove(hold))));
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
