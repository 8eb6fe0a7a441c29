//! A pattern: a valid sequence in one notation that can repeat for ever.

use crate::hand::Hand;
use crate::notation::{Fault, Kind, Sequence};

use super::Schedule;

/// A valid pattern. Made by [`Pattern::read`] only, so every `Pattern` can be juggled for ever.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    sequence: Sequence,
    kind: Kind,
    props: u32,
    period: u32,
    schedule: Schedule,
}

impl Pattern {
    /// One written cycle (both halves of a starred pattern).
    #[must_use]
    pub fn sequence(&self) -> &Sequence {
        &self.sequence
    }

    /// Alternating hands or pairs.
    #[must_use]
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// How many props it needs.
    #[must_use]
    pub fn props(&self) -> u32 {
        self.props
    }

    /// Beats of one cycle.
    #[must_use]
    pub fn period(&self) -> u32 {
        self.period
    }

    /// The schedule before its first written throw. Alternating hands: led by the right.
    #[must_use]
    pub fn schedule(&self) -> &Schedule {
        &self.schedule
    }

    /// The schedule before its first written throw with `lead` throwing it. Pairs have no lead:
    /// the same either way.
    #[must_use]
    pub fn schedule_led_by(&self, lead: Hand) -> Schedule {
        match (self.kind, lead) {
            (Kind::Async, Hand::Left) => self.schedule.mirrored(),
            _ => self.schedule.clone(),
        }
    }
}

impl Pattern {
    /// Reads a pattern.
    ///
    /// # Errors
    /// Every fault of the text; `Ok` carries the warnings.
    pub fn read(text: &str) -> Result<(Pattern, Vec<Fault>), Vec<Fault>> {
        let _ = text;
        todo!()
    }
}
