//! A cue list that survives issue: what was handed out, what has changed since, and what must not.
//!
//! [`Issued`] is what lies beside the routine file: the cue lists of earlier issues as they stood
//! on paper. [`changes`] holds the cues of now against it, [`check()`] says where a number was
//! changed, used again or is missing, [`freeze()`] adds the routine's issue, and [`written()`] is the
//! text that the reader takes back. Nothing here knows a file or a clock.

mod check;
mod compare;
mod freeze;
pub mod number;
mod written;

pub(crate) use check::NOT_RAISED;
pub use check::{CHECKS, check};
pub use compare::{Compared, Told, compare};
pub use freeze::{Frozen, freeze};
pub use written::written;

use crate::diagnostic::Place;
use crate::routine::{CueOnPaper, Issue, Issued};

/// A cue of now, as it would stand on paper, and where it is written.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// As it would stand on paper.
    pub cue: CueOnPaper,
    /// Its crew's place in the file.
    pub crew_at: Place,
    /// Its number's place in the file, if it has one.
    pub number_at: Option<Place>,
}

/// What has changed since an issue.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changes {
    /// The issue that the cues are held against.
    pub since: u32,
    /// What has changed.
    pub compared: Compared,
}

/// Holds the cues of now against the issue before: the newest one of a lower number than
/// `issue`; where `issue` itself or a later one was handed out with other cues, against that.
/// `None` where nothing was handed out before.
#[must_use]
pub fn changes(issued: &Issued, issue: u32, now: &[CueOnPaper]) -> Option<Changes> {
    let against = |before: &Issue| Changes { since: before.number, compared: compare(before, now) };
    let newest = issued.newest()?;
    if newest.number >= issue {
        let same = issued.issue(issue).unwrap_or(newest);
        let changes = against(same);
        if !changes.compared.is_same() {
            return Some(changes);
        }
    }
    issued.before(issue).map(against)
}
