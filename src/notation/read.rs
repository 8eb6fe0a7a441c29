//! Reads written throws, throw by throw, and goes on after a fault so that all are found.

use super::{Fault, Kind, Sequence};

impl Sequence {
    /// Reads throws that may mix the two notations, as a written transition may.
    ///
    /// # Errors
    /// Every fault of the text; `Ok` carries the warnings.
    pub fn read(text: &str) -> Result<(Sequence, Vec<Fault>), Vec<Fault>> {
        let _ = text;
        todo!()
    }

    /// Beats of one written pass.
    #[must_use]
    pub fn beats(&self) -> u32 {
        self.steps.iter().map(super::Step::beats).sum()
    }

    /// The notation, where it is one; `None` for an empty or a mixed sequence.
    #[must_use]
    pub fn kind(&self) -> Option<Kind> {
        todo!()
    }
}

impl std::fmt::Display for Sequence {
    fn fmt(&self, _f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        todo!()
    }
}
