//! What of the colours does not come about, why, and what would bring it about.

use crate::diagnostic::Place;
use crate::routine::{HandColours, Routine};
use crate::time::Seconds;
use crate::timeline::Compiled;

use super::Choices;
use super::demand::Requirement;

/// What is to be said of the colours of a routine.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Verdict {
    /// Everything that is asked and not met, in the order of the score; none where all is met.
    pub unmet: Vec<Unmet>,
    /// The smallest set of requirements that cannot be met together, where there is one.
    pub clash: Vec<Requirement>,
    /// What would bring everything about, cheapest first.
    pub repairs: Vec<Repair>,
}

/// A requirement that is not met.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    /// Which.
    pub requirement: Requirement,
    /// The number of the throw that it is about; of several, the first. `None` for a catch of no
    /// numbered throw.
    pub throw: Option<u32>,
    /// Where it is written.
    pub at: Place,
    /// Why it is not met, one sentence without a full stop.
    pub reason: String,
}

/// A change that brings everything about.
#[derive(Clone, Debug, PartialEq)]
pub struct Repair {
    /// What to do, an imperative without a full stop.
    pub what: String,
    /// The changes of the file: places and what to write there.
    pub edits: Vec<(Place, String)>,
    /// The loading that it brings, with the section that starts cold with it (an index into the
    /// score).
    pub loading: Option<(usize, HandColours)>,
    /// Beats that it adds to the act, or takes away.
    pub beats: i64,
    /// Seconds that it adds, or takes away.
    pub seconds: Seconds,
    /// Whether another hand leads a later section.
    pub lead_flips: bool,
    /// The cues that come at another time, by desk and number.
    pub cues_that_move: Vec<String>,
}

/// The colours of a routine: what was chosen for them, and what of them comes about.
#[derive(Clone, Debug, PartialEq)]
pub struct Colours {
    /// What the line-up chose.
    pub choices: Choices,
    /// What comes about.
    pub verdict: Verdict,
}

impl Colours {
    /// Those of a routine as it is `written`; `routine` has the choices written out in it, and
    /// `compiled` is what came of compiling that.
    #[must_use]
    pub fn of(
        _written: &Routine,
        choices: Choices,
        _routine: &Routine,
        _compiled: &Compiled,
    ) -> Colours {
        Colours { choices, verdict: Verdict::default() }
    }
}
