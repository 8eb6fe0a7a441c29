//! Shannon's relation, measured over compiled timelines: (F + D)·H = (V + D)·N.
//!
//! C. Shannon, "Scientific Aspects of Juggling", Collected Papers, IEEE Press 1993, 850–864:
//! F mean time in flight, D mean dwell of a prop in a hand, V mean time for which a hand is vacant,
//! H hands, N props, of uniform juggling. His figures are read from `tests/data/shannon.csv`.
//! Every time here is taken from releases and catches of the timeline, none from a formula.

use num_rational::BigRational;
use throwbook::hand::Hand;
use throwbook::time::Seconds;
use throwbook::timeline::Timeline;

use crate::written::{Written, score};

const UNIFORM: [(&str, u32); 6] =
    [("3", 3), ("4", 4), ("5", 5), ("7", 7), ("(4,4)", 4), ("(6x,6x)", 6)];
const DWELLS: [&str; 5] = ["0.5", "0.59", "0.62", "0.75", "0.9"];

fn exact(time: &Seconds) -> BigRational {
    match time {
        Seconds::Exact(exact) => exact.clone(),
        Seconds::Near(near) => panic!("{near} is not exact"),
    }
}

fn whole(number: u32) -> BigRational {
    BigRational::from_integer(number.into())
}

fn mean(times: &[BigRational]) -> BigRational {
    assert!(times.len() > 20, "enough of them");
    times.iter().sum::<BigRational>() / whole(u32::try_from(times.len()).unwrap())
}

/// Mean flight, dwell and vacant time, from the tenth second to the twentieth.
struct Measured {
    flight: BigRational,
    dwell: BigRational,
    vacant: BigRational,
}

fn uniform(pattern: &str, props: u32, dwell: &str) -> Timeline {
    let text = format!(
        "Juggle(name: \"s\", set: \"{props}\", pattern: \"{pattern}\", lasts: Beats(120)),"
    );
    let written = Written { dwell: Some(dwell.to_owned()), ..score(&text) };
    let opened = written.open();
    assert_eq!(opened.diagnostics, [], "{pattern}");
    opened.timeline.unwrap()
}

fn measured(timeline: &Timeline) -> Measured {
    let run = &timeline.runs[0];
    let (from, to) = (whole(10), whole(20));
    // Each release, the catch of that prop, and where.
    let flights: Vec<_> = run
        .actions
        .iter()
        .filter(|action| action.is_release())
        .map(|action| {
            let caught = run.catch_of(action, timeline.dwell).unwrap();
            (exact(&run.time_of(action)), action.hand, action.prop, exact(&caught), action.to)
        })
        .collect();
    let (mut flying, mut resting, mut vacant) = (Vec::new(), Vec::new(), Vec::new());
    for (released, hand, prop, caught, _) in &flights {
        if *released < from || *released > to {
            continue;
        }
        flying.push(caught - released);
        let again = flights.iter().find(|next| next.2 == *prop && next.0 > *caught).unwrap();
        resting.push(&again.0 - caught);
        // The hand is vacant until the next catch that comes to it.
        let refilled = flights
            .iter()
            .filter(|other| other.4 == *hand && other.3 > *released)
            .map(|other| other.3.clone())
            .min()
            .unwrap();
        vacant.push(refilled - released);
    }
    Measured { flight: mean(&flying), dwell: mean(&resting), vacant: mean(&vacant) }
}

#[test]
fn flight_dwell_and_vacant_time_of_a_timeline_keep_shannons_relation() {
    let hands = whole(u32::try_from(Hand::BOTH.len()).unwrap());
    for (pattern, props) in UNIFORM {
        for dwell in DWELLS {
            let Measured { flight, dwell: rests, vacant } =
                measured(&uniform(pattern, props, dwell));
            let left = (&flight + &rests) * &hands;
            let right = (&vacant + &rests) * whole(props);
            assert_eq!(left, right, "{pattern} with dwell {dwell}");
            // The dwell ratio is the part of the hand's cycle for which it holds a prop.
            let ratio = Seconds::Exact(&rests / (&vacant + &rests));
            assert_eq!(ratio, Seconds::decimal(dwell.parse().unwrap()).unwrap(), "{pattern}");
        }
    }
}

/// The rows of a quantity: inputs and value.
fn published(quantity: &str) -> Vec<(String, String)> {
    let mut rows = csv::Reader::from_path("tests/data/shannon.csv").unwrap();
    let rows = rows.records().map(|row| row.unwrap());
    let rows = rows.filter(|row| &row[0] == quantity);
    rows.map(|row| (row[1].to_owned(), row[2].to_owned())).collect()
}

fn fraction(text: &str) -> BigRational {
    let (over, under) = text.split_once('/').unwrap_or((text, "1"));
    BigRational::new(over.parse().unwrap(), under.parse().unwrap())
}

#[test]
fn the_slowest_is_to_the_fastest_at_one_flight_time_as_published() {
    let mut seen = 0;
    for (inputs, ratio) in published("period ratio max/min at fixed flight time") {
        let Some(props) = inputs.strip_prefix("B=").and_then(|rest| rest.strip_suffix(" H=2"))
        else {
            continue;
        };
        let count: u32 = props.parse().unwrap();
        // Flight is linear in the dwell ratio: two measurements give it at none and at all.
        let flight = |dwell: &str| measured(&uniform(props, count, dwell)).flight;
        let (quarter, three_quarters) = (flight("0.25"), flight("0.75"));
        let half = (&quarter - &three_quarters) / whole(2);
        let (never_held, always_held) = (&quarter + &half, &three_quarters - &half);
        // At one flight time, the beat is the longer the smaller the flight in beats.
        assert_eq!(never_held / always_held, fraction(&ratio), "{props} props");
        seen += 1;
    }
    assert_eq!(seen, 4);
}

#[test]
fn the_dwell_ratio_that_nobody_wrote_is_a_published_one() {
    let timeline = score("Juggle(name: \"s\", set: \"3\", pattern: \"3\", lasts: Beats(120)),")
        .open()
        .timeline
        .unwrap();
    let Measured { dwell, vacant, .. } = measured(&timeline);
    let ratio = Seconds::Exact(&dwell / (vacant + &dwell)).to_f64();
    let (_, range) = &published("dwell ratio D/(V+D)")[0];
    let (low, high) = range.split_once("..").unwrap();
    assert!((low.parse().unwrap()..=high.parse().unwrap()).contains(&ratio), "{ratio} in {range}");
}
