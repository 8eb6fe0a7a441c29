//! What stops the compiler: typed, without words. The checks put them into sentences.

use crate::hand::Hand;
use crate::patterns::Schedule;
use crate::transition::Origin;

/// Something that the compiler could not do. Sections are indices into the score.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// The schedule that is left is not the one that the section needs.
    Junction {
        /// The section that is joined.
        section: usize,
        /// What is left before the join, its written transition not yet thrown.
        origin: Origin,
        /// What is left when the section's own first throw comes, from that beat on.
        left: Schedule,
        /// What the section needs there.
        needed: Schedule,
        /// The hand of the section's own first throw; `None` for pairs.
        lead: Option<Hand>,
    },
}
