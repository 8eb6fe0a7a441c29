//! Shannon's relation over compiled timelines: (F + D)·H = (V + D)·N.
//!
//! F flight, D dwell (a prop's rest in a hand), V the time a hand is vacant, H hands, N props; of
//! uniform juggling. Source: C. Shannon, "Scientific Aspects of Juggling", Collected Papers, IEEE
//! Press 1993, Theorem 1. Every figure is taken from the timeline's own throws and catches.

use num_rational::{BigRational, Ratio};

use crate::routine::Length;
use crate::time::{Seconds, Time};
use crate::timeline::Timeline;

use super::examples::{balls, compiled, juggle, name, placed, routine, section};

/// Flight, dwell and vacant time of the middle of a run of a uniform pattern, and its props.
struct Uniform {
    flight: Seconds,
    dwell: Seconds,
    vacant: Seconds,
    props: i64,
}

fn timeline(pattern: &str, props: usize, dwell: Ratio<i64>) -> Timeline {
    let (entry, mut juggled) = juggle("uniform", pattern, Length::Beats(60));
    juggled.set = Some(name("set"));
    juggled.tempo = Some(placed(super::examples::per_minute(211)));
    let set = balls("set", &vec!["coral"; props]);
    let mut routine = routine(vec![section((entry, juggled))], vec![set]);
    routine.dwell = dwell;
    compiled(&routine).timeline
}

fn certain(time: &Time) -> Seconds {
    time.certain().expect("nothing is left open").clone()
}

fn measured(timeline: &Timeline) -> Uniform {
    let run = &timeline.runs[0];
    let middle = run.actions.iter().position(|action| action.beat == 20).unwrap();
    let thrown = run.actions[middle];
    let release = certain(&run.time_of(&thrown));
    let catch = certain(&run.catch_of(&thrown, timeline.dwell).unwrap());
    // The same prop's next throw, and the next catch in the hand that threw.
    let again = run.actions[middle + 1..].iter().find(|next| next.prop == thrown.prop).unwrap();
    let refilled = run
        .actions
        .iter()
        .filter(|other| other.to == thrown.hand)
        .filter_map(|other| run.catch_of(other, timeline.dwell))
        .map(|caught| certain(&caught))
        .find(|caught| *caught > release)
        .unwrap();
    Uniform {
        flight: &catch - &release,
        dwell: &certain(&run.time_of(again)) - &catch,
        vacant: &refilled - &release,
        props: i64::try_from(run.colours.len()).unwrap(),
    }
}

#[test]
fn flight_dwell_and_vacant_time_keep_shannons_relation() {
    let number = |number: i64| BigRational::from_integer(number.into());
    for (pattern, props) in [("3", 3), ("4", 4), ("5", 5), ("7", 7), ("(4,4)", 4), ("(6x,6x)", 6)] {
        for dwell in [Ratio::new(1, 2), Ratio::new(2, 3), Ratio::new(9, 10)] {
            let uniform = measured(&timeline(pattern, props, dwell));
            let hands = &(&uniform.flight + &uniform.dwell) * &number(2);
            let props = &(&uniform.vacant + &uniform.dwell) * &number(uniform.props);
            assert_eq!(hands, props, "{pattern}, dwell {dwell}");
            assert!(uniform.vacant > Seconds::zero(), "{pattern}, dwell {dwell}");
        }
    }
}

#[test]
fn the_periods_at_one_flight_time_lie_as_far_apart_as_published() {
    // From the shortest dwell to the longest, a hand's period at one flight time grows by
    // N/(N − H); the first rows of the published values, those with two hands.
    let mut rows = csv::Reader::from_path("tests/data/shannon.csv").unwrap();
    let mut checked = 0;
    for row in rows.records() {
        let row = row.unwrap();
        let Some(props) = row[1].strip_prefix("B=").and_then(|rest| rest.strip_suffix(" H=2"))
        else {
            continue;
        };
        let (numerator, denominator) = row[2].split_once('/').unwrap_or((&row[2], "1"));
        let published: f64 =
            numerator.parse::<f64>().unwrap() / denominator.parse::<f64>().unwrap();
        let period_by_flight = |dwell| {
            let uniform = measured(&timeline(props, props.parse().unwrap(), dwell));
            (&uniform.vacant + &uniform.dwell).to_f64() / uniform.flight.to_f64()
        };
        let longest = period_by_flight(Ratio::new(9_999, 10_000));
        let ratio = longest / period_by_flight(Ratio::new(1, 10_000));
        assert!((ratio / published - 1.0).abs() < 1e-3, "{props} props: {ratio}");
        checked += 1;
    }
    assert_eq!(checked, 4);
}
