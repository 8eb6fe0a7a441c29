//! Texts of valid patterns, made at random from where their props land.

use proptest::collection::vec;
use proptest::prelude::*;

/// Alternating, multiplexes and empty hands among them.
pub(crate) fn alternating() -> impl Strategy<Value = String> {
    (1_usize..7).prop_flat_map(|period| {
        vec(0_usize..4, period).prop_flat_map(move |at_once| {
            let slots = slots(&at_once);
            (Just(at_once), Just(slots.clone()).prop_shuffle(), vec(0_usize..2, slots.len()))
                .prop_map(move |(at_once, targets, laps)| {
                    let mut throws = vec![String::new(); at_once.len()];
                    for ((from, to), laps) in slots.iter().zip(targets).zip(laps) {
                        let value = later(*from, to, period) + laps * period;
                        throws[*from].push(digit(value));
                    }
                    throws.iter().map(|hand| written(hand)).collect()
                })
        })
    })
}

/// Pairs, and pairs with a star.
pub(crate) fn pairs() -> impl Strategy<Value = String> {
    (1_usize..5, any::<bool>()).prop_flat_map(|(pairs, starred)| {
        vec(0_usize..3, 2 * pairs).prop_flat_map(move |at_once| {
            let slots = slots(&at_once);
            (Just(at_once), Just(slots.clone()).prop_shuffle(), vec(0_usize..2, slots.len()))
                .prop_map(move |(at_once, targets, laps)| {
                    let mut throws = vec![String::new(); at_once.len()];
                    for ((from, to), laps) in slots.iter().zip(targets).zip(laps) {
                        let later = later(from / 2, to / 2, pairs) + laps * pairs;
                        // A star exchanges the hands from half to half.
                        let exchanged = starred && ((from / 2 + later) / pairs) % 2 == 1;
                        let crosses = (from % 2 != to % 2) != exchanged;
                        throws[*from].push(digit(2 * later));
                        throws[*from].push_str(if crosses { "x" } else { "" });
                    }
                    let mut text: String = throws
                        .chunks(2)
                        .map(|hands| format!("({},{})", written(&hands[0]), written(&hands[1])))
                        .collect();
                    text.push_str(if starred { "*" } else { "" });
                    text
                })
        })
    })
}

/// Either.
pub(crate) fn any_pattern() -> impl Strategy<Value = String> {
    prop_oneof![alternating(), pairs()]
}

/// Each slot as often as props are thrown from it.
fn slots(at_once: &[usize]) -> Vec<usize> {
    at_once.iter().enumerate().flat_map(|(slot, &props)| vec![slot; props]).collect()
}

/// How much later one place of a cycle comes after another: 1 to the whole period.
fn later(from: usize, to: usize, period: usize) -> usize {
    (to + period - from - 1) % period + 1
}

fn digit(value: usize) -> char {
    char::from_digit(u32::try_from(value).expect("a small value"), 36).expect("at most z")
}

/// What one hand throws, each throw a digit with or without an `x`.
fn written(hand: &str) -> String {
    match hand.chars().filter(|&character| character != 'x').count() {
        0 => "0".to_owned(),
        1 => hand.to_owned(),
        _ => format!("[{hand}]"),
    }
}
