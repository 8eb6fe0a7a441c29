//! Shortest transitions: the throws to put between two patterns so that the junction is valid.
//!
//! *Shortest* means fewest beats; then fewest multiplex throws; then the lowest highest throw;
//! then the lowest throws in order (straight before crossing, left before right, a multiplex's
//! highest first). The search works on implicit schedules: no graph is ever built in full.
//!
//! [`ways`] tries one *shape* after another (`shape.rs`: which hands act on which beats, and which
//! hand waits), shortest first, asks by counting whether its throws can be made at all
//! (`completion.rs`), and goes through those that can (`search.rs`).

mod completion;
mod entries;
mod search;
mod shape;
mod writing;

pub use entries::entries;
pub use search::{ways, ways_into, ways_of};

use crate::hand::Hand;
use crate::notation::{Kind, Sequence};
use crate::patterns::{Pattern, Schedule};

/// What a found transition may use. Concerns its own throws, and is never below what the two
/// patterns use themselves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bounds {
    /// The highest throw value.
    pub highest: u8,
    /// The most props that one hand throws at once.
    pub at_once: u8,
    /// The most beats, that of an async-to-sync wait included.
    pub beats: u32,
}

impl Default for Bounds {
    fn default() -> Bounds {
        Bounds { highest: 9, at_once: 1, beats: 6 }
    }
}

/// What a transition starts from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Props in flight and in hand after alternating throws.
    Alternating {
        /// Due from the next beat on.
        schedule: Schedule,
        /// The hand due on the next beat.
        next: Hand,
        /// The highest value and the most props at once that the pattern before uses.
        uses: (u8, u8),
    },
    /// Props in flight and in hand after pairs.
    Pairs {
        /// Due from the next pair on.
        schedule: Schedule,
        /// The highest value and the most props at once that the pattern before uses.
        uses: (u8, u8),
    },
    /// A cold start: props at rest, to be thrown at any of their hand's beats.
    AtRest {
        /// Props in the right hand.
        right: u32,
        /// Props in the left hand.
        left: u32,
    },
}

/// What it leads to.
#[derive(Clone, Copy, Debug)]
pub struct Goal<'a> {
    /// The pattern, entered at its first written throw.
    pub pattern: &'a Pattern,
    /// The hand that must make its first throw; `None` where any may. Ignored for pairs.
    pub lead: Option<Hand>,
    /// Where two ways differ only in the hand that leads, this hand's comes first.
    pub preferred: Hand,
}

/// How a pattern is entered: what the search must know of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Alternating hands or pairs.
    pub kind: Kind,
    /// What must be due from the pattern's first throw on. Alternating hands: led by the right.
    pub schedule: Schedule,
    /// The highest value and the most props at once that the pattern uses.
    pub uses: (u8, u8),
    /// The hand that must make its first throw; `None` where any may. Ignored for pairs.
    pub lead: Option<Hand>,
    /// Where two ways differ only in the hand that leads, this hand's comes first.
    pub preferred: Hand,
}

impl Entry {
    /// Of a pattern, at its first written throw.
    #[must_use]
    pub fn of(goal: Goal<'_>) -> Entry {
        Entry {
            kind: goal.pattern.kind(),
            schedule: goal.pattern.schedule().clone(),
            uses: goal.pattern.sequence().uses(),
            lead: goal.lead,
            preferred: goal.preferred,
        }
    }
}

impl Origin {
    /// All props.
    #[must_use]
    pub fn props(&self) -> u32 {
        match self {
            Origin::Alternating { schedule, .. } | Origin::Pairs { schedule, .. } => {
                schedule.props()
            }
            Origin::AtRest { right, left } => right + left,
        }
    }

    /// After whole cycles of a pattern, an even number of them, begun by `lead`.
    #[must_use]
    pub fn after(pattern: &Pattern, lead: Hand) -> Origin {
        let schedule = pattern.schedule_led_by(lead);
        let uses = pattern.sequence().uses();
        match pattern.kind() {
            Kind::Async => Origin::Alternating { schedule, next: lead, uses },
            Kind::Sync => Origin::Pairs { schedule, uses },
        }
    }
}

/// One transition.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// Its throws; empty for a direct join.
    pub throws: Sequence,
    /// Beats it takes, that of an async-to-sync wait included.
    pub beats: u32,
    /// The hand that waits where the notation changes.
    pub waits: Option<Hand>,
    /// The hand of the run's next throw (the transition's first, or the pattern's), where that is
    /// alternating; matters from pairs and from rest.
    pub begins: Option<Hand>,
    /// The hand of the pattern's first throw; `None` for pairs.
    pub lead: Option<Hand>,
}

impl Way {
    /// Whether another hand leads the pattern than would have led what it comes from on. Never
    /// beside pairs.
    #[must_use]
    pub fn flips_lead(&self, origin: &Origin) -> bool {
        matches!((origin, self.lead), (Origin::Alternating { next, .. }, Some(lead)) if lead != *next)
    }
}
