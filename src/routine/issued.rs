//! What was handed out: the cue lists of earlier issues, as they stand on paper.
//!
//! A record of it lies beside the routine file, so that numbers are kept and changes are told.
//! Times and counts are what is printed, not what was computed: a cue has changed when its paper
//! has.

use crate::diagnostic::{Place, Placed};

use super::{Crew, CueNumber};

/// Everything that was handed out of a routine.
#[derive(Clone, Debug, PartialEq)]
pub struct Issued {
    /// The routine's title.
    pub title: Placed<String>,
    /// The issues, the first first; at least one.
    pub issues: Vec<Issue>,
}

/// One issue.
#[derive(Clone, Debug, PartialEq)]
pub struct Issue {
    /// Its entry in the record.
    pub at: Place,
    /// Its number.
    pub number: u32,
    /// Its cues in order of GO, those of the encore last.
    pub cues: Vec<CueOnPaper>,
    /// The text of the routine file that it was made from; `None` in a record from before that was
    /// kept, and where it was left out so that the record can be read again.
    pub text: Option<String>,
}

/// A cue as a cue sheet has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CueOnPaper {
    /// Its crew.
    pub crew: Crew,
    /// Its number.
    pub number: Option<CueNumber>,
    /// Whether it belongs to the encore, whose times have a zero of their own.
    pub encore: bool,
    /// GO, as in `0:31.1`.
    pub go: String,
    /// When to stand by, so written too.
    pub standby: Option<String>,
    /// How it is taken: `see`, `hear`, `called` or `follow`.
    pub trigger: String,
    /// What is seen, heard, called or followed.
    pub when: String,
    /// What the crew does.
    pub does: String,
    /// Seconds from GO to completion, as in `2.5`.
    pub count: Option<String>,
    /// What becomes of it when a prop drops, where its user says so.
    pub on_drop: Option<String>,
    /// Whether the stage goes dark.
    pub dark: bool,
}

impl CueOnPaper {
    /// Whether it waits for what another waits for. A name may stand there with or without quotation
    /// marks: older records have none.
    #[must_use]
    pub fn waits_as(&self, other: &CueOnPaper) -> bool {
        let words = |cue: &CueOnPaper| cue.when.replace('"', "");
        self.when == other.when || words(self) == words(other)
    }
}

impl Issued {
    /// The newest issue before one of this number.
    #[must_use]
    pub fn before(&self, number: u32) -> Option<&Issue> {
        self.issues.iter().rev().find(|issue| issue.number < number)
    }

    /// The issue of this number.
    #[must_use]
    pub fn issue(&self, number: u32) -> Option<&Issue> {
        self.issues.iter().find(|issue| issue.number == number)
    }

    /// Keeps the text of the routine file with the newest issue.
    pub fn keep_text(&mut self, text: &str) {
        if let Some(newest) = self.issues.last_mut() {
            newest.text = Some(text.to_owned());
        }
    }

    /// Leaves the text out of the oldest issue that has one, and says which that is; the newest keeps
    /// it to the last.
    pub fn leave_out_a_text(&mut self) -> Option<u32> {
        let oldest = self.issues.iter_mut().find(|issue| issue.text.is_some())?;
        oldest.text = None;
        Some(oldest.number)
    }

    /// The newest issue.
    #[must_use]
    pub fn newest(&self) -> Option<&Issue> {
        self.issues.last()
    }
}
