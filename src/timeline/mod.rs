//! The timeline: every prop, throw, catch, rest and hold of the routine, with hand and time.
//!
//! [`compile`] makes it from a [`crate::routine::Routine`]. Beats count from 0 in each run; times
//! are on the show clock. Sheets, the strip and the exporters read it and compute nothing anew.

mod compile;
mod moments;
mod run;
mod section;
mod trouble;

pub use compile::{Compiled, compile};
pub use moments::Unresolved;
pub use run::{Action, Gather, HandLoading, Prop, Run};
pub use section::{JuggleSpan, SectionSpan, TakenTransition};
pub use trouble::Trouble;

use num_rational::Ratio;

use crate::time::Seconds;

/// The compiled routine.
#[derive(Clone, Debug, PartialEq)]
pub struct Timeline {
    /// From cold start to gather, in order.
    pub runs: Vec<Run>,
    /// One for each entry of the score, in order.
    pub sections: Vec<SectionSpan>,
    /// When the music starts, on the show clock.
    pub track_start: Option<Seconds>,
    /// The dwell ratio.
    pub dwell: Ratio<i64>,
}
