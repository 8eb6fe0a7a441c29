//! Moments of a timeline: when they come, on the show clock.

use crate::routine::{Moment, When};
use crate::time::Seconds;

use super::Timeline;

/// Why a moment has no time.
#[derive(Clone, Debug, PartialEq)]
pub enum Unresolved {
    /// There is no music.
    NoMusic,
}

impl Timeline {
    /// When a moment comes, on the show clock.
    ///
    /// # Errors
    /// Why it never does.
    pub fn moment(&self, moment: &Moment) -> Result<Seconds, Unresolved> {
        let _ = moment;
        todo!()
    }

    /// When a moment and its shift come, on the show clock.
    ///
    /// # Errors
    /// Why it never does.
    pub fn when(&self, when: &When) -> Result<Seconds, Unresolved> {
        Ok(&self.moment(&when.moment.value)? + &when.shift)
    }
}
