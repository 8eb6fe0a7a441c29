//! A pattern explained, as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Throws are strings as written; places are
//! characters of the text from 0, the end excluded.

use serde::Serialize;

use crate::hand::Hand;
use crate::notation::{Fault, Kind, Severity};
use crate::patterns::orbit;
use crate::sheet::pattern::{PatternSheet, compose};

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
    fn a_text_that_is_no_pattern_comes_with_its_faults() {
        let (document, valid) = explained("4x[5");
        assert!(!valid);
        let faults = json!([{
            "code": "unclosed-bracket",
            "message": "This square bracket opens a multiplex that is never closed.",
            "at": [2, 3],
        }]);
        assert_eq!(document, json!({"pattern": "4x[5", "valid": false, "faults": faults}));
    }
}
