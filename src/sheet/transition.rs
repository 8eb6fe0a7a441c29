//! What `transition A B` tells: the shortest ways from one pattern to another, or why there is
//! none.

use crate::diagnostic::words::counted;
use crate::hand::Hand;
use crate::notation::{Fault, Kind, Severity};
use crate::patterns::Pattern;
use crate::transition::{Bounds, Goal, Origin, Way, entries, ways};

/// As many ways as are told.
pub const MOST_WAYS: usize = 20;

/// As many other entries as are told.
const MOST_ENTRIES: usize = 5;

/// How far to look for the beats that a way outside the bounds would take.
const FAR_BEATS: u32 = 72;

/// The shortest ways from one pattern to another.
#[derive(Clone, Debug, PartialEq)]
pub struct TransitionSheet {
    /// The pattern before, as written; begun by the right hand and run for whole cycles, an even
    /// number of them.
    pub from: String,
    /// The pattern that it leads to, as written.
    pub to: String,
    /// What the ways may use.
    pub bounds: Bounds,
    /// The hand that must lead.
    pub lead: Option<Hand>,
    /// What came of it.
    pub outcome: Outcome,
}

/// What came of looking for ways.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It cannot be asked.
    Refused(Vec<Refusal>),
    /// Nothing lies within the bounds.
    NoWay {
        /// How many props both patterns have.
        props: u32,
        /// The beats that the shortest way takes, were they allowed.
        beats: Option<u32>,
    },
    /// The ways of least length, in order; at least one.
    Ways {
        /// How many props both patterns have.
        props: u32,
        /// The ways.
        ways: Vec<WayLine>,
        /// Rotations of the second pattern that join without a throw, where it does not itself.
        entries: Vec<String>,
    },
}

/// Why the question cannot be asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Which pattern the fault is in, and where; `None` where it lies between the two.
    pub side: Option<Side>,
    /// The fault.
    pub fault: Fault,
}

/// One of the two patterns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The pattern before.
    From,
    /// The pattern that it leads to.
    To,
}

/// A way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WayLine {
    /// Its throws as written; empty for a direct join.
    pub throws: String,
    /// Beats, that of an async-to-sync wait included.
    pub beats: u32,
    /// The hand that waits.
    pub waits: Option<Hand>,
    /// The hand of the first throw, the transition's or else the pattern's, where that alternates.
    pub begins: Option<Hand>,
    /// The hand that leads the second pattern; `None` for pairs.
    pub lead: Option<Hand>,
    /// Whether that is another hand than would have led the first pattern on. Never beside pairs.
    pub flips_lead: bool,
}

/// Finds the shortest ways between two written patterns.
#[must_use]
pub fn compose(from: &str, to: &str, bounds: Bounds, lead: Option<Hand>) -> TransitionSheet {
    TransitionSheet {
        from: from.to_owned(),
        to: to.to_owned(),
        bounds,
        lead,
        outcome: outcome(from, to, bounds, lead),
    }
}

impl TransitionSheet {
    /// Whether there is a way.
    #[must_use]
    pub fn found(&self) -> bool {
        matches!(self.outcome, Outcome::Ways { .. })
    }
}

fn outcome(from: &str, to: &str, bounds: Bounds, lead: Option<Hand>) -> Outcome {
    let (from, to) = match (read(from, Side::From), read(to, Side::To)) {
        (Ok(from), Ok(to)) => (from, to),
        (from, to) => {
            let refusals = [from, to].into_iter().filter_map(Result::err).flatten();
            return Outcome::Refused(refusals.collect());
        }
    };
    let refusals = between(&from, &to, lead);
    if !refusals.is_empty() {
        return Outcome::Refused(refusals);
    }
    let props = to.props();
    let origin = Origin::after(&from, Hand::Right);
    let goal = Goal { pattern: &to, lead, preferred: Hand::Right };
    let found = ways(&origin, goal, bounds, MOST_WAYS);
    let Some(first) = found.first() else {
        let far = ways(&origin, goal, Bounds { beats: FAR_BEATS, ..bounds }, 1);
        return Outcome::NoWay { props, beats: far.first().map(|way| way.beats) };
    };
    let entries = match first.throws.steps.is_empty() {
        true => Vec::new(),
        false => entries(&origin, goal, MOST_ENTRIES),
    };
    let ways = found.iter().map(|way| WayLine::of(way, &origin)).collect();
    Outcome::Ways { props, ways, entries }
}

impl WayLine {
    fn of(way: &Way, origin: &Origin) -> WayLine {
        WayLine {
            throws: way.throws.to_string(),
            beats: way.beats,
            waits: way.waits,
            begins: way.begins,
            lead: way.lead,
            flips_lead: way.flips_lead(origin),
        }
    }
}

fn read(text: &str, side: Side) -> Result<Pattern, Vec<Refusal>> {
    Pattern::read(text).map(|(pattern, _)| pattern).map_err(|faults| {
        let errors = faults.into_iter().filter(|fault| fault.severity == Severity::Error);
        errors.map(|fault| Refusal { side: Some(side), fault }).collect()
    })
}

/// What stands between two patterns that are both valid.
fn between(from: &Pattern, to: &Pattern, lead: Option<Hand>) -> Vec<Refusal> {
    let refuse = |code, message| {
        let severity = Severity::Error;
        let fault = Fault { severity, code, message, at: 0..0, helps: Vec::new() };
        Refusal { side: None, fault }
    };
    let mut refusals = Vec::new();
    if from.props() != to.props() {
        let message = format!(
            "The first pattern has {} and the second {}; a transition neither adds nor takes one.",
            counted(from.props(), "prop"),
            to.props()
        );
        refusals.push(refuse("prop-count", message));
    }
    if let (Kind::Sync, Some(lead)) = (to.kind(), lead) {
        let message = format!(
            "The second pattern is of pairs, which no hand leads, so the {lead} hand cannot lead \
             it."
        );
        refusals.push(refuse("pairs-have-no-lead", message));
    }
    refusals
}
