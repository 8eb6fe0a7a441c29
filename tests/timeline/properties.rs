//! What holds of every routine: written transitions, mirrors, cycles, equal bytes.

use std::collections::BTreeMap;

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::measure::counts;
use throwbook::notation::Sequence;
use throwbook::routine::{Part, Routine};
use throwbook::timeline::{Run, Timeline};

use crate::documents::documents;
use crate::few;
use crate::random_score::{RandomScore, random_score};
use crate::written::{Written, score};

/// What was found for each juggled section, written out.
fn found(random: &RandomScore, routine: &Routine, timeline: &Timeline) -> Vec<String> {
    (0..random.entries.len())
        .map(|index| {
            let section = routine.section(&format!("s{index}")).unwrap();
            let span = timeline.sections[section].juggle.as_ref().unwrap();
            match &span.transition {
                Some(taken) if !taken.throws.steps.is_empty() => {
                    format!("Throws(\"{}\")", taken.throws)
                }
                _ => "Direct".to_owned(),
            }
        })
        .collect()
}

/// The same text with every pair's hands exchanged, and every lead.
fn mirrored(written: &Written) -> Written {
    let mut score = String::new();
    for (index, part) in written.score.split('"').enumerate() {
        if index > 0 {
            score.push('"');
        }
        if part.contains('(') && index % 2 == 1 {
            let (throws, _) = Sequence::read(part).unwrap();
            score.push_str(&Sequence::mirrored(&throws).to_string());
        } else {
            score.push_str(part);
        }
    }
    let lead = if written.lead == "Left" { "Right" } else { "Left" };
    Written { lead, score, ..written.clone() }
}

proptest! {
    #![proptest_config(few(120))]

    #[test]
    fn a_transition_that_was_found_can_be_written_and_nothing_shorter_joins(
        random in random_score(),
    ) {
        let auto = random.written().open();
        let Some(act) = auto.finished() else {
            return Ok(());
        };
        let found = found(&random, &act.routine, &act.timeline);
        let written = random.written_with(|index| found[index].clone()).open();
        prop_assert_eq!(written.finished().map(|act| &act.timeline), Some(&act.timeline));
        for (index, throws) in found.iter().enumerate() {
            if throws.starts_with("Throws") && !random.entries[index].pause_before && index > 0 {
                let direct = random.written_with(|other| {
                    if other == index { "Direct".to_owned() } else { found[other].clone() }
                });
                let direct = direct.open();
                prop_assert!(direct.finished().is_none(), "{} joins without {}", index, throws);
            }
        }
    }

    #[test]
    fn a_routine_and_its_mirror_have_mirrored_counts(random in random_score()) {
        let auto = random.written().open();
        let Some(act) = auto.finished() else {
            return Ok(());
        };
        let found = found(&random, &act.routine, &act.timeline);
        let written = random.written_with(|index| found[index].clone());
        let mirror = mirrored(&written).open();
        prop_assert!(mirror.finished().is_some(), "{:?}", mirror.diagnostics);
        let (timeline, mirror) = (&act.timeline, &mirror.finished().unwrap().timeline);
        for section in 0..timeline.sections.len() {
            let mut counted = counts::of_section(mirror, section);
            if let Some(counted) = &mut counted {
                counted.hands.reverse();
            }
            prop_assert_eq!(counts::of_section(timeline, section), counted, "section {}", section);
            let (one, other) = (&timeline.sections[section], &mirror.sections[section]);
            prop_assert_eq!(&one.starts, &other.starts);
            prop_assert_eq!(&one.ends, &other.ends);
        }
        for (run, mirror) in timeline.runs.iter().zip(&mirror.runs) {
            let held = |run: &Run, hand| run.gather.hands.in_hand(hand).len();
            for hand in Hand::BOTH {
                prop_assert_eq!(held(run, hand), held(mirror, hand.other()));
            }
            prop_assert_eq!(run.lead, mirror.lead.map(Hand::other));
        }
    }

    #[test]
    fn equal_files_give_equal_bytes(random in random_score()) {
        let text = random.written().text();
        prop_assert_eq!(documents(&text), documents(&text));
    }
}

#[test]
fn the_shipped_routines_give_equal_bytes_every_time() {
    for text in crate::SHIPPED {
        let documents_of = documents(text);
        assert_eq!(documents_of.len(), 15);
        assert_eq!(documents_of, documents(text));
    }
}

/// What is due from a beat on, by hand and beats to come, from the run's own actions.
fn due(run: &Run, beat: u32) -> BTreeMap<(Hand, u32), u32> {
    let mut due = BTreeMap::new();
    let flying = run.actions.iter().filter(|action| action.prop.is_some());
    for action in flying.filter(|action| action.beat < beat && action.due >= beat) {
        *due.entry((action.to, action.due - beat)).or_default() += 1;
    }
    due
}

#[test]
fn the_schedule_returns_after_every_cycle() {
    for (pattern, set) in [
        ("3", 3),
        ("531", 3),
        ("51", 3),
        ("423", 3),
        ("[43]23", 4),
        ("[54]24", 5),
        ("[45]24", 5),
        ("744", 5),
        ("(4,2x)*", 3),
        ("(4,2x)(2x,4)", 3),
        ("([44x],2)*", 5),
        ("(6x,4)*", 5),
    ] {
        let text = format!(
            "Juggle(name: \"s\", set: \"{set}\", pattern: \"{pattern}\", lasts: Cycles(24)),"
        );
        let opened = score(&text).open();
        assert_eq!(opened.diagnostics, [], "{pattern}");
        let act = opened.finished().unwrap();
        let Part::Juggle(juggle) = &act.routine.score[0].part else { panic!("juggled") };
        let period = juggle.pattern.pattern.period();
        let run = &act.timeline.runs[0];
        // By the ninth beat every prop has been thrown.
        let from = 9_u32.next_multiple_of(period);
        let first = due(run, from);
        assert_eq!(first.values().sum::<u32>(), set, "{pattern}");
        for cycle in 1..10 {
            let beats = cycle * period;
            let again = due(run, from + beats);
            let changed = first.iter().map(|(&(hand, beat), &n)| ((hand.after(beats), beat), n));
            let changed: BTreeMap<(Hand, u32), u32> = changed.collect();
            assert_eq!(again, changed, "{pattern}, cycle {cycle}");
        }
    }
}
