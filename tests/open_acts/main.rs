//! Acts that leave lengths open, made up at random and held against the same acts with every
//! length fixed. What the program says of an act of fixed lengths is taken to be right.
//!
//! `THROWBOOK_ACTS=1000 cargo test --test open_acts` goes through more of them, `THROWBOOK_SEED=7`
//! through others, and
//! `THROWBOOK_SMALL=1` makes the act of each failure as small as it can be.
#![allow(missing_docs)]
#![allow(clippy::print_stdout, reason = "a test tells how much it has gone through")]

mod act;
mod around;
mod estimate;
mod faults;
mod fixed;
mod judged;
mod lengths_named;
mod random;
mod ranges;
#[path = "../said/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod said;
mod worked;
mod worked_clocks;

use said::chance::{acts, first_seed, of_each};
use said::failures::{Failed, report};

#[test]
fn nothing_is_said_of_an_open_act_that_a_fixed_one_does_not_bear_out() {
    let acts = acts(60);
    let seeds: Vec<u64> = (first_seed()..).take(acts).collect();
    let judged = of_each(&seeds, |&seed| judged::judge(&random::act(seed), seed));
    let compiled = judged.iter().filter(|judged| judged.compiled).count();
    let on_the_safe_side: usize = judged.iter().map(|judged| judged.on_the_safe_side).sum();
    println!("{compiled} of {acts} acts compile; {on_the_safe_side} faults are on the safe side");
    assert!(compiled * 100 >= acts * 60, "only {compiled} of {acts} acts compile");
    let failed: Vec<_> = seeds
        .iter()
        .zip(&judged)
        .map(|(&seed, judged)| Failed { seed, size: judged.opens, failures: &judged.failures })
        .collect();
    let fails = |act: &act::Act, seed| judged::judge(act, seed).failures;
    let report = report(&failed, random::act, act::Act::text, judged::smaller, fails);
    assert!(report.is_empty(), "of {acts} acts\n{report}");
}
