//! Published numbers of patterns and schedules, counted again by our own reader and stepping.
//!
//! The tables stand in `tests/data/`; each test names its source. A row that would take more than
//! a second or two is left to the formula it was published with.

use std::collections::{BTreeMap, BTreeSet};

use throwbook::hand::Hand;
use throwbook::notation::{Kind, Step, Throw, WrittenThrow};
use throwbook::patterns::{Pattern, Schedule};

/// The rows of a table, by heading.
fn rows(table: &str) -> Vec<BTreeMap<String, String>> {
    let path = format!("{}/tests/data/{table}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(&path).expect("the table stands beside the test");
    reader.deserialize().map(|row| row.expect("a row of the table")).collect()
}

fn figure(row: &BTreeMap<String, String>, heading: &str) -> u64 {
    row[heading].parse().unwrap_or_else(|_| panic!("{heading} of {row:?} is a figure"))
}

/// All rows of `length` values that sum to `sum`, as texts.
fn texts(length: u64, sum: u64) -> Vec<String> {
    if length == 1 {
        return vec![Throw::digit(u8::try_from(sum).expect("at most z")).to_string()];
    }
    (0..=sum)
        .flat_map(|first| {
            let digit = Throw::digit(u8::try_from(first).expect("at most z"));
            texts(length - 1, sum - first).into_iter().map(move |rest| format!("{digit}{rest}"))
        })
        .collect()
}

/// How many [`texts`] there are.
fn how_many(length: u64, sum: u64) -> u64 {
    (1..length).fold(1, |product, k| product * (sum + k) / k)
}

/// All patterns of so many throws with so many props.
fn patterns(throws: u64, props: u64) -> Vec<String> {
    texts(throws, throws * props)
        .into_iter()
        .filter(|text| Pattern::read(text).is_ok_and(|(read, _)| u64::from(read.props()) == props))
        .collect()
}

/// Enumerable in a moment.
fn few(throws: u64, props: u64) -> bool {
    throws * props <= 35 && how_many(throws, throws * props) <= 7_000
}

/// The same throws from each of them in turn.
fn rotations(text: &str) -> impl Iterator<Item = String> {
    (0..text.len()).map(|from| format!("{}{}", &text[from..], &text[..from]))
}

/// J. Buhler, D. Eisenbud, R. Graham, C. Wright, "Juggling Drops and Descents", Amer. Math.
/// Monthly 101(6) (1994) 507–519.
#[test]
fn patterns_of_n_throws_with_exactly_b_props_number_as_published() {
    let mut counted = 0;
    for row in rows("siteswap_counts") {
        let (throws, props) = (figure(&row, "n"), figure(&row, "b"));
        if few(throws, props) {
            let found = patterns(throws, props).len() as u64;
            assert_eq!(found, figure(&row, "count"), "{throws} throws, {props} props");
            counted += 1;
        }
    }
    assert!(counted >= 35, "{counted} rows were counted");
}

/// OEIS A065177, A059966, A065178, A065179, A065180; M. Macauley, "Braids and Juggling Patterns"
/// (2003). Rotations are one pattern.
#[test]
fn patterns_of_exact_period_number_as_published() {
    let mut counted = 0;
    for row in rows("siteswap_exact_period") {
        let (throws, props) = (figure(&row, "n"), figure(&row, "b"));
        if few(throws, props) {
            let exact = patterns(throws, props)
                .iter()
                .filter(|&text| rotations(text).skip(1).all(|rotation| rotation != *text))
                .count() as u64;
            assert_eq!(exact, throws * figure(&row, "count"), "{throws} throws, {props} props");
            counted += 1;
        }
    }
    assert!(counted >= 25, "{counted} rows were counted");
}

/// OEIS A065179.
#[test]
fn three_props_in_exact_period_three_are_the_twelve_known_patterns() {
    let greatest = |text: &str| rotations(text).max();
    let known = "423 441 450 522 531 603 612 630 711 720 801 900";
    let known: BTreeSet<_> = known.split(' ').map(greatest).collect();
    let found: BTreeSet<_> =
        patterns(3, 3).iter().filter(|text| *text != "333").map(|text| greatest(text)).collect();
    assert_eq!(found, known);
}

/// A step of the hand that acts next.
fn alternating(values: &[u8]) -> Step {
    let values = if values.is_empty() { &[0] } else { values };
    let throws = values.iter().map(|&value| WrittenThrow {
        throw: Throw::straight(value),
        number: 1,
        at: 0..1,
    });
    Step::Alternating(throws.collect())
}

/// The schedule after a throw of the right hand, exchanged so that the right hand is next again.
fn thrown(schedule: &Schedule, values: &[u8]) -> Option<Schedule> {
    let after = schedule.step(&alternating(values), Hand::Right).ok()?;
    Some(after.mirrored())
}

/// A schedule with so many props due on each coming beat, the right hand first.
fn due(props: &[u8]) -> Schedule {
    let mut schedule = Schedule::empty();
    for (&props, beat) in props.iter().zip(0..) {
        for _ in 0..props {
            schedule.add(Hand::Right.after(beat), beat);
        }
    }
    schedule
}

/// Props due on a beat, the right hand being the first.
fn due_on(schedule: &Schedule, beat: u32) -> u8 {
    schedule.due(Hand::Right.after(beat), beat)
}

/// Every choice of `props` throws, highest first, up to `highest`.
fn choices(props: u8, highest: u8) -> Vec<Vec<u8>> {
    if props == 0 {
        return vec![Vec::new()];
    }
    (1..=highest)
        .flat_map(|first| {
            choices(props - 1, first).into_iter().map(move |mut rest| {
                rest.insert(0, first);
                rest
            })
        })
        .collect()
}

/// In how many ways `beats` throws lead from a schedule back to it, never more than `capacity`
/// props in a hand at once; without meeting it on the way, if `primitive`.
fn ways_round(base: &Schedule, capacity: u8, beats: u32, primitive: bool) -> u64 {
    let mut reached = BTreeMap::from([(base.clone(), 1_u64)]);
    for left in (0..beats).rev() {
        let mut next: BTreeMap<Schedule, u64> = BTreeMap::new();
        // What lands later than this cannot be where the base has it when the beats are over.
        let latest = base.span() + left;
        for (schedule, ways) in reached {
            let props = due_on(&schedule, 0);
            for values in choices(props, u8::try_from(latest).expect("few beats")) {
                let after = thrown(&schedule, &values).expect("all props due are thrown");
                let room = (0..after.span()).all(|beat| due_on(&after, beat) <= capacity);
                let too_early = primitive && left > 0 && after == *base;
                if room && after.span() <= latest && !too_early {
                    *next.entry(after).or_default() += ways;
                }
            }
        }
        reached = next;
    }
    reached.get(base).copied().unwrap_or(0)
}

/// F. Chung, R. Graham, "Primitive Juggling Sequences", Amer. Math. Monthly 115(3) (2008)
/// 185–194; OEIS A084509, A084519.
#[test]
fn ways_from_ground_to_ground_number_as_published() {
    for row in rows("ground_counts") {
        let (props, beats) = (figure(&row, "b"), figure(&row, "n"));
        if props + beats > 12 {
            continue;
        }
        let ground = due(&vec![1; props as usize]);
        assert!(ground.is_ground(Kind::Async));
        let found = ways_round(&ground, 1, beats as u32, row["kind"] == "primitive");
        assert_eq!(found, figure(&row, "count"), "{row:?}");
    }
}

/// Chung and Graham, as above; the schedule that it begins with is ⟨1,1,0,1⟩.
#[test]
fn a_published_sequence_meets_its_first_schedule_where_it_is_said_to() {
    let pattern = Pattern::read("5304252612").expect("ten throws").0;
    assert_eq!(*pattern.schedule(), due(&[1, 1, 0, 1]));
    let mut schedule = pattern.schedule().clone();
    let mut met = Vec::new();
    for (step, beat) in pattern.sequence().steps.iter().zip(0..) {
        let next = Hand::Right.after(beat);
        schedule = schedule.step(step, next).expect("every throw fits");
        if schedule == pattern.schedule_led_by(next.other()) {
            met.push(beat + 1);
        }
    }
    assert_eq!(met, [4, 7, 10]);
}

/// S. Butler, R. Graham, "Enumerating (multiplex) juggling sequences", Annals of Combinatorics
/// 13(4) (2010) 413–424; OEIS A136775–A136786.
#[test]
fn multiplex_ways_round_number_as_published() {
    let mut counted = 0;
    for row in rows("multiplex_counts") {
        let base: Vec<u8> =
            row["base"].split(' ').map(|props| props.parse().expect("props")).collect();
        let props: u8 = base.iter().sum();
        let beats = figure(&row, "n");
        if beats > [9, 9, 9, 7, 5][usize::from(props)] {
            continue;
        }
        let capacity = row["capacity"].parse().expect("a capacity");
        let found = ways_round(&due(&base), capacity, beats as u32, row["kind"] == "primitive");
        assert_eq!(found, figure(&row, "count"), "{row:?}");
        counted += 1;
    }
    assert!(counted >= 80, "{counted} rows were counted");
}

/// Schedules: G. Warrington, "Juggling Probabilities", Amer. Math. Monthly 112 (2005) 105–118;
/// the edges were derived and counted by brute force.
#[test]
fn schedules_and_the_throws_between_them_number_as_published() {
    for row in rows("state_graph") {
        let highest = figure(&row, "max_throw") as u8;
        let ground = due(&vec![1; figure(&row, "b") as usize]);
        let mut known = BTreeSet::from([ground.clone()]);
        let mut open = vec![ground];
        let mut edges = 0;
        while let Some(schedule) = open.pop() {
            for values in choices(due_on(&schedule, 0), highest) {
                let after = thrown(&schedule, &values).expect("the prop due is thrown");
                if (0..after.span()).all(|beat| due_on(&after, beat) <= 1) {
                    edges += 1;
                    if known.insert(after.clone()) {
                        open.push(after);
                    }
                }
            }
        }
        let found = (known.len() as u64, edges);
        assert_eq!(found, (figure(&row, "states"), figure(&row, "edges")), "{row:?}");
    }
}

/// Common practice, no source: with one prop of the multiplex left out, `[43]23` is `423`.
#[test]
fn a_multiplex_pattern_without_one_of_its_orbits_is_a_known_pattern() {
    let pattern = Pattern::read("[43]23").expect("a pattern").0;
    let orbits = throwbook::patterns::orbit::orbits(&pattern, false);
    let Some(left_out) = orbits.iter().find(|orbit| orbit.numbers == [2]) else {
        panic!("the 3 of the multiplex is an orbit of its own: {orbits:?}");
    };
    assert_eq!(left_out.props, 1);
    let mut rest = pattern.sequence().clone();
    if let Step::Alternating(throws) = &mut rest.steps[0] {
        throws.retain(|one| !left_out.numbers.contains(&one.number));
    }
    assert_eq!(rest.to_string(), "423");
    assert!(Pattern::read("423").is_ok());
}

/// Common practice, no source: `[43]23` begins cold from two props in each hand with a crossing 3
/// in front, and the multiplex then comes from the other hand.
#[test]
fn a_crossing_3_in_front_of_a_multiplex_begins_from_two_props_in_each_hand() {
    let pattern = Pattern::read("3[43]2").expect("a pattern").0;
    for hand in Hand::BOTH {
        assert_eq!(pattern.schedule().in_hand(hand), 2);
    }
    assert_eq!(Throw::straight(3).to(Hand::Right, Kind::Async), Hand::Left);
    let after = pattern.schedule().step(&pattern.sequence().steps[0], Hand::Right);
    let after = after.expect("the 3 fits");
    assert_eq!((after.due(Hand::Left, 0), after.due(Hand::Right, 0)), (2, 0));
}
