//! Tempo: exact where it is steady, the published law where it ramps.

use throwbook::time::{Seconds, ramp_s};

use super::written::{Written, score};
use super::{certain, is_exactly, spans};

/// Seconds at a beat of a ramp that is linear in beats: the integral of 60/v, checked by numerical
/// quadrature where the table was made.
#[test]
fn a_ramp_is_linear_in_beats() {
    let mut rows = 0;
    let mut table = csv::Reader::from_path("tests/data/tempo_ramp.csv").unwrap();
    for row in table.records() {
        let row = row.unwrap();
        let number = |column: usize| -> f64 { row[column].parse().unwrap() };
        let law = ramp_s(number(1), number(2), number(3), number(4));
        let difference = (law - number(5)).abs();
        if &row[0] == "linear_in_beats" {
            assert!(difference < 1e-9, "{row:?} gives {law}");
            rows += 1;
        } else if number(1) != number(2) && number(4) > 0.0 {
            assert!(difference > 1e-6, "{row:?} is the other law");
        }
    }
    assert!(rows >= 10, "{rows} rows");
}

#[test]
fn six_hundred_beats_at_200_a_minute_are_exactly_three_minutes() {
    let act = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(600)), \
                     Juggle(name: \"b\", pattern: \"3\", lasts: Beats(3))",
    );
    assert!(is_exactly(&spans(&act)[0].ends, 180, 1));
}

#[test]
fn half_the_throws_at_90_and_half_at_150_take_more_than_all_at_the_mean() {
    let act = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(32), tempo: PerMinute(90)), \
         Juggle(name: \"b\", pattern: \"3\", lasts: Beats(32), tempo: PerMinute(150)), \
         Juggle(name: \"c\", pattern: \"3\", lasts: Beats(3))",
    );
    // 32·60/90 + 32·60/150 = 34.1333…, not 64·60/120 = 32.
    assert!(is_exactly(&spans(&act)[1].ends, 512, 15));
}

#[test]
fn a_ramp_leaves_its_last_tempo_in_force_and_starts_from_the_one_before() {
    let ramp = |tempo: &str| {
        let act = score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(16), tempo: {tempo}), \
             Juggle(name: \"b\", pattern: \"3\", lasts: Beats(10)), \
             Juggle(name: \"c\", pattern: \"3\", lasts: Beats(3))"
        ));
        spans(&Written { tempo: "PerMinute(60)".to_owned(), ..act })
    };
    for tempo in ["Ramp(from: 60, to: 120)", "Ramp(to: 120)"] {
        let spans = ramp(tempo);
        let sixteen = 16.0 * std::f64::consts::LN_2;
        assert!((certain(&spans[0].ends).to_f64() - sixteen).abs() < 1e-9, "{tempo}");
        let after = certain(&(&spans[1].ends - &spans[1].starts)).to_f64();
        assert!((after - 5.0).abs() < 1e-9, "ten beats at 120 a minute take {after}");
    }
}

#[test]
fn a_transition_is_at_the_tempo_of_the_section_that_it_leads_into() {
    let act = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(10), tempo: PerMinute(60)), \
         Juggle(name: \"b\", pattern: \"51\", lasts: Cycles(5), tempo: PerMinute(120), \
         transition: Throws(\"4\")), \
         Juggle(name: \"c\", pattern: \"3\", lasts: Beats(3), transition: Throws(\"2\"))",
    );
    let spans = spans(&act);
    assert!(is_exactly(&spans[1].starts, 10, 1));
    assert!(is_exactly(&spans[1].ends, 31, 2));
}

#[test]
fn thirty_prime_tempos_stay_exact() {
    let primes = [
        101, 103, 107, 109, 113, 127, 131, 137, 139, 149, 151, 157, 163, 167, 173, 179, 181, 191,
        193, 197, 199, 211, 223, 227, 229, 233, 239, 241, 251, 257,
    ];
    let sections: Vec<String> = primes
        .iter()
        .map(|prime| {
            format!(
                "Juggle(name: \"s{prime}\", {}pattern: \"3\", lasts: Beats({prime}), tempo: \
                 PerMinute({prime}))",
                if *prime == 101 { "set: \"3\", " } else { "" }
            )
        })
        .collect();
    let spans = spans(&score(&sections.join(",\n")));
    // Each lasts one minute; the last starts when the others are over.
    assert!(is_exactly(&spans[29].starts, 29 * 60, 1));
    assert!(matches!(certain(&spans[29].ends), Seconds::Exact(_)));
}
