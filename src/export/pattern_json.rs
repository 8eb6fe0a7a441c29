//! A pattern explained, as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Throws are strings as written; places are
//! characters of the text from 0, the end excluded.

use serde::Serialize;

use crate::hand::Hand;
use crate::notation::{Fault, Kind, Severity};
use crate::patterns::effect::HandOfThrow;
use crate::patterns::orbit;
use crate::sheet::pattern::{self, PatternSheet, compose};

use super::json::written;
use super::timing_json::{Hands, hands};

#[derive(Serialize)]
struct Document<'a> {
    pattern: &'a str,
    valid: bool,
    kind: &'static str,
    props: u32,
    period: u32,
    schedule: &'a [Vec<u8>],
    ground: bool,
    start: Start,
    orbits: Vec<Orbit>,
    hands: Hands,
    beats_to_repeat: u32,
    multiplex_orders: Vec<MultiplexOrder<'a>>,
    multiplex_orders_in_all: Option<u32>,
}

#[derive(Serialize)]
struct Start {
    right: u32,
    left: u32,
}

#[derive(Serialize)]
struct Orbit {
    throws: Vec<String>,
    props: u32,
}

#[derive(Serialize)]
struct MultiplexOrder<'a> {
    pattern: &'a str,
    #[serde(flatten)]
    held: Shown<'a>,
    twos_thrown: Option<Shown<'a>>,
}

#[derive(Serialize)]
struct Shown<'a> {
    orbits: Vec<NumberedOrbit<'a>>,
    keeps: &'a [u32],
    solid: &'a [u32],
    comes_round: u64,
}

#[derive(Serialize)]
struct NumberedOrbit<'a> {
    throws: Vec<String>,
    numbers: &'a [u32],
    cycles: &'a [u32],
    props: u32,
    hand: &'static str,
}

#[derive(Serialize)]
struct Refusal<'a> {
    pattern: &'a str,
    valid: bool,
    faults: Vec<WrittenFault>,
}

/// A fault of a written pattern, as documents carry it.
#[derive(Serialize)]
pub(super) struct WrittenFault {
    code: &'static str,
    message: String,
    at: [usize; 2],
}

impl WrittenFault {
    /// Translates one.
    pub(super) fn of(fault: &Fault) -> WrittenFault {
        let at = [fault.at.start, fault.at.end];
        WrittenFault { code: fault.code, message: fault.in_full(), at }
    }
}

/// Explains a written pattern, or says what is wrong with it; and whether it is a pattern.
#[must_use]
pub fn explain(text: &str) -> (String, bool) {
    match compose(text) {
        Ok((sheet, _)) => (json(&sheet), true),
        Err(faults) => (refusal(text, &faults), false),
    }
}

/// A pattern explained.
#[must_use]
pub fn json(sheet: &PatternSheet) -> String {
    written(&Document {
        pattern: &sheet.written,
        valid: true,
        kind: kind_word(sheet.kind),
        props: sheet.props,
        period: sheet.period,
        schedule: &sheet.schedule,
        ground: sheet.ground,
        start: Start {
            right: sheet.start[Hand::Right.index()],
            left: sheet.start[Hand::Left.index()],
        },
        orbits: sheet.orbits.iter().map(orbit).collect(),
        hands: hands(&sheet.hands),
        beats_to_repeat: sheet.beats_to_repeat,
        multiplex_orders: sheet.multiplex_orders.iter().map(order).collect(),
        multiplex_orders_in_all: sheet.multiplex_orders_in_all,
    })
}

/// What is wrong with a text that is no pattern; its warnings are left out.
#[must_use]
pub fn refusal(text: &str, faults: &[Fault]) -> String {
    let errors = faults.iter().filter(|fault| fault.severity == Severity::Error);
    written(&Refusal {
        pattern: text,
        valid: false,
        faults: errors.map(WrittenFault::of).collect(),
    })
}

fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Async => "async",
        Kind::Sync => "sync",
    }
}

fn orbit(orbit: &orbit::Orbit) -> Orbit {
    Orbit { throws: orbit.throws.iter().map(ToString::to_string).collect(), props: orbit.props }
}

fn order(order: &pattern::MultiplexOrder) -> MultiplexOrder<'_> {
    MultiplexOrder {
        pattern: &order.pattern,
        held: shown(&order.held),
        twos_thrown: order.thrown.as_ref().map(shown),
    }
}

fn shown(shown: &pattern::Shown) -> Shown<'_> {
    let orbits = shown.orbits.iter().map(|(orbit, hand)| NumberedOrbit {
        throws: orbit.throws.iter().map(ToString::to_string).collect(),
        numbers: &orbit.numbers,
        cycles: &orbit.cycles,
        props: orbit.props,
        hand: match hand {
            HandOfThrow::Fixed => "fixed",
            HandOfThrow::Alternates => "alternates",
            HandOfThrow::EachItsOwn => "each_its_own",
        },
    });
    Shown {
        orbits: orbits.collect(),
        keeps: &shown.effects.keeps,
        solid: &shown.effects.solid,
        comes_round: shown.effects.comes_round,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;

    fn explained(text: &str) -> (Value, bool) {
        let (text, valid) = explain(text);
        (serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}")), valid)
    }

    #[test]
    fn a_pattern_is_explained_field_by_field() {
        let hand = json!({"thrown": 2, "handed_across": 1, "held": 0, "empty": 0, "releases": 3});
        let expected = json!({
            "pattern": "531", "valid": true, "kind": "async", "props": 3, "period": 3,
            "schedule": [[1], [1], [1]], "ground": true, "start": {"right": 2, "left": 1},
            "orbits": [{"throws": ["5", "1"], "props": 2}, {"throws": ["3"], "props": 1}],
            "hands": {"right": hand, "left": hand}, "beats_to_repeat": 6,
            "multiplex_orders": [{
                "pattern": "531",
                "orbits": [
                    {"throws": ["5", "1"], "numbers": [1, 3], "cycles": [0, 1], "props": 2,
                     "hand": "each_its_own"},
                    {"throws": ["3"], "numbers": [2], "cycles": [0], "props": 1,
                     "hand": "alternates"},
                ],
                "keeps": [2], "solid": [2, 1], "comes_round": 2, "twos_thrown": null,
            }],
            "multiplex_orders_in_all": 1,
        });
        assert_eq!(explained("531"), (expected, true));
    }

    #[test]
    fn pairs_are_written_left_hand_first() {
        let (document, valid) = explained("(4,2x)*");
        assert!(valid);
        assert_eq!(document["kind"], "sync");
        assert_eq!(document["schedule"], json!([[1, 1], [0, 1]]));
        assert_eq!(document["start"], json!({"right": 2, "left": 1}));
        assert_eq!(document["orbits"][2], json!({"throws": ["2x", "2x"], "props": 1}));
    }

    #[test]
    fn each_multiplex_order_keeps_the_numbers_of_the_pattern_asked_about() {
        let (document, _) = explained("[54]24");
        assert_eq!(document["multiplex_orders_in_all"], 2);
        let other = &document["multiplex_orders"][1];
        assert_eq!(other["pattern"], "[45]24");
        let orbits = json!([
            {"throws": ["5", "4"], "numbers": [1, 4], "cycles": [0, 1], "props": 3,
             "hand": "alternates"},
            {"throws": ["4", "2"], "numbers": [2, 3], "cycles": [0, 1], "props": 2,
             "hand": "each_its_own"},
        ]);
        assert_eq!(other["orbits"], orbits);
        assert_eq!(other["twos_thrown"]["solid"], json!([5]));
        assert_eq!(explained(&"[987654321]".repeat(9)).0["multiplex_orders_in_all"], json!(null));
    }

    #[test]
    fn a_text_that_is_no_pattern_comes_with_its_faults() {
        let (document, valid) = explained("4x[5");
        assert!(!valid);
        let faults = json!([{
            "code": "unclosed-bracket",
            "message": "This square bracket opens a multiplex that is never closed. Write ] after the \
                            multiplex's last throw.",
            "at": [2, 3],
        }]);
        assert_eq!(document, json!({"pattern": "4x[5", "valid": false, "faults": faults}));
    }
}
