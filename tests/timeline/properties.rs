//! What holds for every routine: no prop is lost, a mirrored act has mirrored counts, and equal
//! input gives equal bytes.

use throwbook::export::{cues_csv, cues_json, cues_page, cues_text, timing_json, timing_text};
use throwbook::hand::Hand;
use throwbook::measure::calls::calls;
use throwbook::measure::counts::of_section;
use throwbook::strip;

use super::compiled;
use super::written::{Written, score};

const ACTS: [&str; 3] = [
    include_str!("../../routines/night-ferry.ron"),
    include_str!("../../routines/paper-boats.ron"),
    include_str!("../../routines/salt-flat.ron"),
];

#[test]
fn every_prop_that_goes_in_comes_out_and_is_in_one_place_at_a_time() {
    for text in ACTS {
        let timeline = throwbook::open(text).timeline.unwrap();
        for run in &timeline.runs {
            let props = run.colours.len();
            for hands in [&run.loading, &run.gather.hands] {
                let mut all: Vec<_> = hands.hands.iter().flatten().copied().collect();
                all.sort_unstable();
                all.dedup();
                assert_eq!(all.len(), props);
            }
            for prop in 0..props {
                let own = run
                    .actions
                    .iter()
                    .filter(|action| action.prop.is_some_and(|of| usize::from(of.0) == prop));
                let own: Vec<_> = own.collect();
                for pair in own.windows(2) {
                    let [before, after] = pair else { continue };
                    // It leaves the hand that it came to, on the beat on which it is due, and was
                    // caught before.
                    assert_eq!((before.to, before.due), (after.hand, after.beat));
                    if let Some(caught) = before.caught(timeline.dwell) {
                        assert!(caught < i64::from(after.beat).into());
                    }
                }
                let last = own.last().unwrap();
                let hand = run.gather.hands.in_hand(last.to);
                assert!(hand.iter().any(|of| usize::from(of.0) == prop));
            }
        }
    }
}

/// An act with written transitions, led by `lead`; its pairs have the hands as `pair` puts them.
fn mirrored_act(lead: &'static str, pair: impl Fn(&str, &str) -> String) -> Written {
    let sync = pair("6x", "2x") + "*";
    let score_text = format!(
        "Juggle(name: \"a\", set: \"4\", pattern: \"4\", lasts: Beats(9)), \
         Juggle(name: \"b\", pattern: \"534\", lasts: Cycles(3)), \
         Juggle(name: \"c\", pattern: \"71\", lasts: Cycles(3), transition: Throws(\"56\")), \
         Juggle(name: \"d\", pattern: \"4\", lasts: Beats(5), transition: Throws(\"23\")), \
         Pause(name: \"p\", lasts: For(\"0:01\")), \
         Juggle(name: \"e\", transition: Auto, pattern: \"{sync}\", lasts: Cycles(3))"
    );
    Written { lead, ..score(&score_text) }
}

#[test]
fn a_mirrored_routine_has_mirrored_counts() {
    let act = mirrored_act("Right", |left, right| format!("({left},{right})"));
    let mirror = mirrored_act("Left", |left, right| format!("({right},{left})"));
    let (routine, timeline) = compiled(&act);
    let (_, mirrored) = compiled(&mirror);
    for section in 0..routine.score.len() {
        let Some(counts) = of_section(&timeline, section) else { continue };
        let other = of_section(&mirrored, section).unwrap();
        for hand in Hand::BOTH {
            let (one, two) = (&counts.hands[hand.index()], &other.hands[hand.other().index()]);
            assert_eq!(one, two, "section {section}, {hand} hand");
        }
        assert_eq!(counts.catches, other.catches);
    }
}

#[test]
fn equal_input_gives_equal_bytes() {
    for text in ACTS {
        let documents = || {
            let opened = throwbook::open(text);
            let (routine, timeline) = (opened.routine.unwrap(), opened.timeline.unwrap());
            let calls = calls(&routine, &timeline).calls;
            [
                timing_text::text(&routine, &timeline, 80),
                timing_json::json(&routine, &timeline),
                cues_text::text(&routine, &timeline, None, 80),
                cues_json::json(&routine, &timeline, None),
                cues_csv::csv(&routine, &timeline, None),
                cues_page::page(&routine, &timeline, None),
                strip::strip(&routine, &timeline, &calls),
                strip::overview(&routine, &timeline, &calls),
            ]
        };
        assert!(documents() == documents());
    }
}
