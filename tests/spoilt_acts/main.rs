//! Valid acts made up at random and spoilt in one or two places: every change that a message then
//! offers is made, and the two acts are held against each other.
//!
//! `THROWBOOK_ACTS=1000 cargo test --test spoilt_acts` goes through more of them,
//! `THROWBOOK_SEED=7` through others, and `THROWBOOK_SMALL=1` makes the act of each failure as
//! small as it can be.
#![allow(missing_docs)]
#![allow(clippy::print_stdout, reason = "a test tells how much it has gone through")]

mod act;
mod difference;
mod draft;
mod encore;
#[path = "../folder/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;
mod offers;
mod repairs;
#[path = "../said/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod said;
mod spoil;
mod valid;
mod worked;

use offers::{Looked, Spoilt};
use said::chance::{Chance, acts, first_seed, of_each};
use said::failures::{Failed, Failure, report};
use said::{Wanted, said as said_of};

/// An act, and the same act unspoilt and spoilt in one of two places.
#[derive(Clone)]
struct Case {
    act: act::Act,
    others: Vec<act::Act>,
    /// How it was spoilt.
    slips: Vec<&'static str>,
    /// Whether the act that it was made of has an error.
    was_faulty: bool,
}

/// The spoilt act of a seed.
fn case(seed: u64) -> Case {
    let mut chance = Chance::new(seed);
    let (valid, said) = valid::act(&mut chance);
    let mut act = valid.clone();
    let mut others = vec![valid.clone()];
    let mut slips = Vec::new();
    for _ in 0..1 + chance.below(2) {
        let again = chance.clone();
        slips.extend(spoil::spoil(&mut act, &mut chance));
        // The same slip alone.
        let mut alone = valid.clone();
        if spoil::spoil(&mut alone, &mut again.clone()).is_some() {
            others.push(alone);
        }
    }
    if slips.len() < 2 {
        others.truncate(1);
    }
    Case { act, others, slips, was_faulty: !said::errors(&said.check).is_empty() }
}

fn judge(case: &Case) -> Looked {
    let text = case.act.text();
    let said = said_of(&text, Wanted::All);
    let others: Vec<_> = case
        .others
        .iter()
        .map(|act| {
            let text = act.text();
            let check = said_of(&text, Wanted::Check).check;
            (text, check)
        })
        .collect();
    let spoilt = Spoilt { text: &text, said: &said, others: &others };
    let mut looked = offers::judge(&spoilt);
    if said::errors(&said.check).contains(&said::PANIC) {
        looked.failures.push(Failure::new("a panic", ""));
    }
    let touched = case.slips.iter().any(|slip| ["colours", "a loading"].contains(slip));
    looked.failures.extend(offers::colours_beside_an_error(&spoilt, touched));
    looked.failures.extend(repairs::judge(&text, &said));
    looked
}

#[test]
fn every_change_that_is_offered_does_what_it_says() {
    let acts = acts(60);
    let seeds: Vec<u64> = (first_seed()..).take(acts).collect();
    let cases = of_each(&seeds, |&seed| case(seed));
    let valid = cases.iter().filter(|case| !case.was_faulty).count();
    let looked = of_each(&cases, judge);
    let offers: usize = looked.iter().map(|looked| looked.offers).sum();
    let compared: usize = looked.iter().map(|looked| looked.compared).sum();
    println!("{valid} of {acts} acts were valid; {offers} offers, {compared} of them compared");
    assert!(valid * 100 >= acts * 80, "only {valid} of {acts} acts were valid");
    assert!(offers >= acts, "only {offers} offers of {acts} acts");
    let failed: Vec<_> = seeds
        .iter()
        .zip(cases.iter().zip(&looked))
        .map(|(&seed, (case, looked))| {
            let size = case.act.text().len();
            Failed { seed, size, failures: &looked.failures }
        })
        .collect();
    let smaller = |case: &Case| {
        let acts = case.act.smaller().into_iter();
        acts.map(|act| Case { act, ..case.clone() }).collect()
    };
    let text = |case: &Case| format!("spoilt: {:?}\n{}", case.slips, case.act.text());
    let report = report(&failed, case, text, smaller, |case, _| judge(case).failures);
    assert!(report.is_empty(), "of {acts} acts\n{report}");
}

#[test]
fn two_acts_held_against_each_other_keep_to_the_laws_of_a_difference() {
    let acts = acts(30);
    let pairs = |seed: u64| {
        let case = case(seed);
        let another = crate::case(seed + 1).act.text();
        let valid = case.others.first().map_or_else(String::new, act::Act::text);
        [(valid, case.act.text()), (case.act.text(), another)]
    };
    let report = said::compared::of_pairs(acts, pairs);
    assert!(report.is_empty(), "of {acts} acts\n{report}");
}

#[test]
fn offers_that_are_taken_remove_their_faults_and_bring_what_they_say() {
    let acts = acts(40);
    let seeds: Vec<u64> = (first_seed()..).take(acts).collect();
    let judged = of_each(&seeds, |&seed| said::mended::judge(&case(seed).act.text()));
    let offers: usize = judged.iter().map(|(_, offers)| offers).sum();
    println!("{offers} offers of {acts} acts were taken");
    assert!(offers * 2 >= acts, "only {offers} offers of {acts} acts");
    let failed: Vec<_> = seeds
        .iter()
        .zip(&judged)
        .map(|(&seed, (failures, _))| Failed { seed, size: 0, failures })
        .collect();
    let text = |seed: &u64| case(*seed).act.text();
    let fails = |seed: &u64, _| said::mended::judge(&text(seed)).0;
    let report = report(&failed, |seed| seed, text, |_| Vec::new(), fails);
    assert!(report.is_empty(), "of {acts} acts\n{report}");
}
