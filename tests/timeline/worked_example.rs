//! The example routine, with times, hands and colours worked on paper.
//!
//! Dwell 2/3, show clock. tide: 26 beats of 0.3 s from 7.5. beam: 24 beats from 15.3. wake: a `4`
//! and 20 beats from 22.5. ebb: a `2` and 6 beats from 28.8, so its last throw is on the run's
//! beat 77, at 30.6; that 3 is caught 3 − 4/3 = 5/3 beats later, at 31.1. fleet: 250 beats of
//! 0.25 s from 37.1: its last throw is at 99.35.

use throwbook::hand::Hand;
use throwbook::open;
use throwbook::time::{Seconds, Time};
use throwbook::timeline::Timeline;

const LANTERN: &str = include_str!("../routines/lantern.ron");

fn lantern() -> (throwbook::routine::Routine, Timeline) {
    let opened = open(LANTERN);
    assert_eq!(opened.diagnostics, []);
    let act = opened.finished().unwrap();
    (act.routine.clone(), act.timeline.clone())
}

#[test]
fn the_example_compiles_clean_with_the_times_worked_by_hand() {
    let (routine, timeline) = lantern();
    let tenths = |tenths| Seconds::fraction(tenths, 10);
    for (name, starts, ends) in [
        ("walk on", tenths(-60), tenths(0)),
        ("stillness", tenths(0), tenths(75)),
        ("tide", tenths(75), tenths(153)),
        ("beam", tenths(153), tenths(225)),
        ("wake", tenths(225), tenths(288)),
        ("ebb", tenths(288), tenths(311)),
        ("pick up two", tenths(311), tenths(371)),
        ("fleet", tenths(371), Seconds::fraction(754, 15)),
        ("bow", Seconds::fraction(754, 15), Seconds::fraction(829, 15)),
    ] {
        let span = &timeline.sections[routine.section(name).unwrap()];
        assert!(is_exactly(&span.starts, &starts), "{name} starts {:?}", span.starts);
        assert!(is_exactly(&span.ends, &ends), "{name} ends {:?}", span.ends);
    }
    assert_eq!(timeline.tracks[0].starts, Some(Time::zero()));
    assert_eq!(timeline.runs.len(), 2);
    let last = |run: usize| timeline.runs[run].gather.last_catch.clone().unwrap();
    assert!(is_exactly(&last(0), &tenths(311)));
    assert!(is_exactly(&last(1), &Seconds::fraction(754, 15)));
}

fn is_exactly(time: &Time, wanted: &Seconds) -> bool {
    matches!(
        (time.certain(), wanted),
        (Some(Seconds::Exact(time)), Seconds::Exact(wanted)) if time == wanted
    )
}

#[test]
fn the_left_hand_leads_wake_after_a_4_from_the_right_and_the_right_leads_ebb_after_a_held_2() {
    let (routine, timeline) = lantern();
    let juggle =
        |name: &str| timeline.sections[routine.section(name).unwrap()].juggle.clone().unwrap();
    let wake = juggle("wake");
    let four = timeline.runs[0].actions[wake.actions.start];
    assert_eq!((four.throw.to_string().as_str(), four.hand), ("4", Hand::Right));
    assert_eq!((wake.lead, wake.beats, wake.cycles), (Some(Hand::Left), 20, (10, 0)));
    let ebb = juggle("ebb");
    let two = timeline.runs[0].actions[ebb.actions.start];
    assert_eq!((two.throw.to_string().as_str(), two.hand), ("2", Hand::Left));
    assert!(!two.is_release());
    assert_eq!(ebb.lead, Some(Hand::Right));
    for (name, throws) in [("tide", None), ("beam", None), ("wake", Some("4")), ("ebb", Some("2"))]
    {
        let taken = juggle(name).transition.map(|taken| (taken.throws.to_string(), taken.beats));
        assert_eq!(taken, throws.map(|throws| (throws.to_owned(), 1)), "{name}");
    }
}

#[test]
fn after_the_last_catch_of_ebb_two_balls_are_right_and_one_is_left() {
    let (_, timeline) = lantern();
    let gather = &timeline.runs[0].gather;
    assert_eq!(gather.hands.in_hand(Hand::Right).len(), 2);
    assert_eq!(gather.hands.in_hand(Hand::Left).len(), 1);
}

#[test]
fn the_middle_throw_of_beam_is_coral_in_every_cycle() {
    let (routine, timeline) = lantern();
    let beam = timeline.sections[routine.section("beam").unwrap()].juggle.clone().unwrap();
    let run = &timeline.runs[0];
    let middle: Vec<&str> = run.actions[beam.actions]
        .iter()
        .filter(|action| action.written == 2)
        .map(|action| run.colours[usize::from(action.prop.unwrap().0)])
        .map(|colour| routine.colours[colour].name.value.as_str())
        .collect();
    assert_eq!(middle, ["coral"; 8]);
}
