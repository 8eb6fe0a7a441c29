//! The encore: sections, music and cues that come after the act, only if they are called for.

use crate::diagnostic::Place;

use super::Routine;

/// An encore.
///
/// It is a small routine of its own: it has the act's props, palette, room and strike, its own
/// score, music and cues, and a clock that reads zero where its first section starts. So nothing of
/// the act counts it: the act's `LastCatch` and `End` are the act's.
#[derive(Clone, Debug, PartialEq)]
pub struct Encore {
    /// The whole entry.
    pub at: Place,
    /// The routine that it is. It has no limits, no set-up and no encore.
    pub routine: Routine,
}
