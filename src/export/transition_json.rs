//! The shortest ways between two patterns as JSON: a contract, read by other programs.

use serde::Serialize;

use crate::hand::Hand;
use crate::sheet::transition::{Outcome, Refusal, Side, TransitionSheet, WayLine};

use super::json::written;

#[derive(Serialize)]
struct Document<'a> {
    from: &'a str,
    to: &'a str,
    #[serde(flatten)]
    outcome: Told<'a>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum Told<'a> {
    Ways { beats: Option<u32>, ways: Vec<ToldWay<'a>> },
    Refused { faults: Vec<ToldFault> },
}

#[derive(Serialize)]
struct ToldWay<'a> {
    throws: &'a str,
    beats: u32,
    waits: Option<&'static str>,
    flips_lead: bool,
}

#[derive(Serialize)]
struct ToldFault {
    code: &'static str,
    message: String,
    /// Which of the two patterns `at` speaks of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pattern: Option<&'static str>,
    /// Characters from 0, end excluded.
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<[usize; 2]>,
}

/// The sheet as one JSON object and a line end.
#[must_use]
pub fn json(sheet: &TransitionSheet) -> String {
    let outcome = match &sheet.outcome {
        Outcome::Refused(refusals) => {
            Told::Refused { faults: refusals.iter().map(ToldFault::of).collect() }
        }
        Outcome::NoWay { .. } => Told::Ways { beats: None, ways: Vec::new() },
        Outcome::Ways { ways, .. } => Told::Ways {
            beats: ways.first().map(|way| way.beats),
            ways: ways.iter().map(ToldWay::of).collect(),
        },
    };
    let document = Document { from: &sheet.from, to: &sheet.to, outcome };
    written(&document)
}

impl<'a> ToldWay<'a> {
    fn of(way: &'a WayLine) -> ToldWay<'a> {
        ToldWay {
            throws: &way.throws,
            beats: way.beats,
            waits: way.waits.map(Hand::word),
            flips_lead: way.flips_lead,
        }
    }
}

impl ToldFault {
    fn of(refusal: &Refusal) -> ToldFault {
        let fault = &refusal.fault;
        ToldFault {
            code: fault.code,
            message: fault.in_full(),
            pattern: refusal.side.map(|side| match side {
                Side::From => "from",
                Side::To => "to",
            }),
            at: refusal.side.map(|_| [fault.at.start, fault.at.end]),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::transition::compose;
    use crate::transition::Bounds;

    fn told(from: &str, to: &str, lead: Option<Hand>) -> String {
        json(&compose(from, to, Bounds::default(), lead))
    }

    #[test]
    fn ways_are_told_as_the_contract_says() {
        for (from, to, lead, expected) in [
            (
                "3",
                "51",
                None,
                r#"{"from":"3","to":"51","beats":1,"ways":[{"throws":"4","beats":1,"waits":null,"flips_lead":true}]}"#,
            ),
            (
                "3",
                "51",
                Some(Hand::Right),
                r#"{"from":"3","to":"51","beats":2,"ways":[{"throws":"34","beats":2,"waits":null,"flips_lead":false},{"throws":"52","beats":2,"waits":null,"flips_lead":false}]}"#,
            ),
            (
                "3",
                "531",
                None,
                r#"{"from":"3","to":"531","beats":0,"ways":[{"throws":"","beats":0,"waits":null,"flips_lead":false}]}"#,
            ),
            (
                "4",
                "(4,4)",
                None,
                r#"{"from":"4","to":"(4,4)","beats":1,"ways":[{"throws":"","beats":1,"waits":"right","flips_lead":false}]}"#,
            ),
            (
                "(4,2x)(2x,4)",
                "3",
                None,
                r#"{"from":"(4,2x)(2x,4)","to":"3","beats":0,"ways":[{"throws":"","beats":0,"waits":"left","flips_lead":false}]}"#,
            ),
        ] {
            assert_eq!(told(from, to, lead), format!("{expected}\n"));
        }
    }

    #[test]
    fn beside_pairs_no_lead_is_flipped() {
        let sheet = compose("(4,2x)(2x,4)", "3", Bounds::default(), Some(Hand::Left));
        assert!(json(&sheet).contains(r#""flips_lead":false"#));
        assert!(!json(&sheet).contains(r#""flips_lead":true"#));
    }

    #[test]
    fn no_way_within_the_bounds_is_null_beats() {
        let bounds = Bounds { beats: 2, ..Bounds::default() };
        let sheet = compose("5", "91", bounds, None);
        assert_eq!(json(&sheet), "{\"from\":\"5\",\"to\":\"91\",\"beats\":null,\"ways\":[]}\n");
        assert!(!sheet.found());
    }

    #[test]
    fn what_cannot_be_asked_is_told_with_its_faults() {
        let unequal = told("3", "5", None);
        assert!(unequal.starts_with(r#"{"from":"3","to":"5","faults":[{"code":"prop-count","#));
        let clash: serde_json::Value =
            serde_json::from_str(&told("3", "432", None)).unwrap_or_default();
        assert_eq!(clash["faults"][0]["code"], "landing-clash");
        assert_eq!(clash["faults"][0]["pattern"], "to");
        assert!(clash["faults"][0]["at"][1].as_u64() > clash["faults"][0]["at"][0].as_u64());
        let both: serde_json::Value =
            serde_json::from_str(&told("54", "", None)).unwrap_or_default();
        assert_eq!(both["faults"][0]["pattern"], "from");
        assert_eq!(both["faults"][1]["pattern"], "to");
        assert!(told("3", "(4,2x)*", Some(Hand::Left)).contains("pairs-have-no-lead"));
        assert!(serde_json::from_str::<serde_json::Value>(&told("\u{1b}\"", "\\", None)).is_ok());
    }
}
