//! What is told where colour requests are not met: every repair written into the file brings
//! everything about with the side effects stated, and the clash is a smallest one.

use throwbook::act::Act;
use throwbook::diagnostic::Edit;
use throwbook::lineup::{Requirement, Wanted};
use throwbook::open;

use super::{Air, Asked, COLOURS, Dice, Section, cheapest, orders, random, text};

fn beats(act: &Act) -> i64 {
    act.timeline.runs.iter().map(|run| i64::from(run.beats)).sum()
}

#[test]
fn every_repair_does_what_it_says() {
    let mut dice = Dice(7);
    let mut told = 0;
    for case in 0..900 {
        let (set, _, sections) = random(&mut dice);
        let written = text(&set, false, &sections);
        let opened = open(&written);
        let (Some(before), Some(colours)) = (opened.finished(), &opened.colours) else { continue };
        let repairs = &colours.verdict.repairs;
        let costs: Vec<_> = repairs.iter().map(|repair| repair.adds.abs()).collect();
        assert!(costs.is_sorted(), "case {case}: {costs:?}\n{written}");
        for repair in repairs {
            told += 1;
            let mut edits = repair.edits.clone();
            edits.sort_by_key(|edit| std::cmp::Reverse(edit.at.start));
            let mut mended = written.clone();
            for Edit { at, insert } in &edits {
                mended.replace_range(at.start..at.end, insert);
            }
            let said = &repair.what;
            let after = open(&mended);
            let unmet = after.colours.as_ref().map(|colours| colours.verdict.unmet.clone());
            assert_eq!(unmet, Some(Vec::new()), "case {case}: {said}\n{written}{mended}");
            let now = after.finished().unwrap_or_else(|| {
                let codes: Vec<_> = after.diagnostics.iter().map(|d| &d.message).collect();
                panic!("case {case}: {said}: {codes:?}\n{mended}")
            });
            let more = beats(now) - beats(before);
            assert_eq!(repair.beats, more, "case {case}: {said}\n{mended}");
            let leads = |act: &Act| -> Vec<_> {
                let sections = act.timeline.sections.iter();
                sections.map(|s| s.juggle.as_ref().and_then(|j| j.lead)).collect()
            };
            let flips = leads(now) != leads(before);
            assert_eq!(repair.flips_lead, flips, "case {case}: {said}\n{mended}");
        }
    }
    assert!(told > 50, "{told} repairs");
}

/// Whether a section keeps this of what it asks.
fn is_kept(kept: &[Requirement], section: usize, asked: &Asked, all: &[Asked]) -> bool {
    let place = |like: fn(&Asked) -> bool| {
        all.iter().filter(|a| like(a)).position(|a| std::ptr::eq(a, asked)).unwrap_or(0)
    };
    let wanted = match asked {
        Asked::Shows(..) => Wanted::Shown(place(|a| matches!(a, Asked::Shows(..)))),
        Asked::Solid => Wanted::Solid,
        Asked::Alike(..) => Wanted::Alike(place(|a| matches!(a, Asked::Alike(..)))),
        Asked::Unlike(..) => Wanted::Unlike(place(|a| matches!(a, Asked::Unlike(..)))),
    };
    kept.contains(&Requirement { section, wanted })
}

#[test]
fn a_clash_is_a_smallest_one() {
    let mut dice = Dice(11);
    let mut told = 0;
    for case in 0..150 {
        let (set, _, sections) = random(&mut dice);
        let written = text(&set, true, &sections);
        let opened = open(&written);
        let Some(colours) = opened.colours else { continue };
        let clash = &colours.verdict.clash;
        if clash.is_empty() {
            continue;
        }
        told += 1;
        let mut counts = vec![0; COLOURS.len()];
        set.iter().for_each(|&colour| counts[colour] += 1);
        let mut loadings = Vec::new();
        orders(&mut counts, &mut Vec::new(), &mut loadings);
        let is_met = |kept: &[Requirement]| {
            let fewer: Vec<Section> = sections
                .iter()
                .enumerate()
                .map(|(place, section)| {
                    let mut fewer = section.clone();
                    let all = &section.asked;
                    let keeps = |asked: &&Asked| is_kept(kept, place, asked, all);
                    fewer.asked = all.iter().filter(keeps).cloned().collect();
                    fewer
                })
                .collect();
            loadings.iter().any(|of| cheapest(&fewer, &Air::default(), of).is_some())
        };
        assert!(!is_met(clash), "case {case}: {clash:?}\n{written}");
        let all = throwbook::lineup::requirements(&opened.act.unwrap().routine);
        for chosen in 0_u32..1 << all.len() {
            if (chosen.count_ones() as usize) < clash.len() {
                let some = (0..all.len()).filter(|at| chosen >> at & 1 == 1);
                let some: Vec<Requirement> = some.map(|at| all[at]).collect();
                assert!(is_met(&some), "case {case}: {some:?} clash, told {clash:?}\n{written}");
            }
        }
    }
    assert!(told > 20, "{told} clashes");
}
