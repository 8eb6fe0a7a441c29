//! What is wrong with what is said of random acts, told kind by kind.

use std::collections::{BTreeMap, BTreeSet};

use super::chance::of_each;

/// Something that is said and is not so, or is not said.
#[derive(Clone, Debug)]
pub(crate) struct Failure {
    /// What it is, apart from the act.
    pub(crate) kind: String,
    pub(crate) detail: String,
}

impl Failure {
    pub(crate) fn new(kind: impl Into<String>, detail: impl Into<String>) -> Failure {
        Failure { kind: kind.into(), detail: detail.into() }
    }
}

/// The failures of one act.
pub(crate) struct Failed<'a> {
    pub(crate) seed: u64,
    /// The smaller the act is, the sooner it is shown.
    pub(crate) size: usize,
    pub(crate) failures: &'a [Failure],
}

struct Kind {
    times: usize,
    seed: u64,
    size: usize,
    failure: Failure,
}

/// Every kind of failure with an act that shows it, and at the end how often each was found; empty
/// where nothing failed. `act` gives the act of a seed, `smaller` all acts with one thing less,
/// `fails` what is wrong with an act.
pub(crate) fn report<A>(
    failed: &[Failed<'_>],
    act: impl Fn(u64) -> A + Sync,
    text: impl Fn(&A) -> String + Sync,
    smaller: impl Fn(&A) -> Vec<A> + Sync,
    fails: impl Fn(&A, u64) -> Vec<Failure> + Sync,
) -> String {
    let make_small = std::env::var("THROWBOOK_SMALL").is_ok();
    let kinds: Vec<(String, Kind)> = kinds(failed).into_iter().collect();
    let told = of_each(&kinds, |(kind, found)| {
        let (seed, mut act, mut failure) = (found.seed, act(found.seed), found.failure.clone());
        let again = |act: &A| fails(act, seed).into_iter().find(|one| one.kind == *kind);
        let smaller_still = |act: &A| {
            let acts = smaller(act).into_iter().filter(|_| make_small);
            acts.map(|act| (again(&act), act)).find_map(|(one, act)| Some((one?, act)))
        };
        while let Some(smaller) = smaller_still(&act) {
            (failure, act) = smaller;
        }
        format!("{kind}\nseed {seed}: {}\n{}", failure.detail, text(&act))
    });
    let counts = kinds.iter().map(|(kind, found)| format!("{:5} acts: {kind}", found.times));
    told.into_iter().chain(counts).collect::<Vec<_>>().join("\n")
}

fn kinds(failed: &[Failed<'_>]) -> BTreeMap<String, Kind> {
    let mut kinds: BTreeMap<String, Kind> = BTreeMap::new();
    for &Failed { seed, size, failures } in failed {
        let mut counted = BTreeSet::new();
        for failure in failures {
            let new = || Kind { times: 0, seed, size, failure: failure.clone() };
            let kind = kinds.entry(failure.kind.clone()).or_insert_with(new);
            kind.times += usize::from(counted.insert(&failure.kind));
            if size < kind.size {
                *kind = Kind { times: kind.times, ..new() };
            }
        }
    }
    kinds
}
