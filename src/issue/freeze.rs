//! Adding an issue to what was handed out.

use crate::diagnostic::{Diagnostic, Place, Placed, Severity};
use crate::routine::{CueOnPaper, Issue, Issued, Routine};

use super::{Paper, check};

/// What came of freezing an issue.
#[derive(Clone, Debug, PartialEq)]
pub enum Frozen {
    /// What was handed out, with this issue.
    Added(Issued),
    /// This issue stands there already, with the same cues.
    Stands,
    /// It may not be handed out as it is: at least one error.
    Refused(Vec<Diagnostic>),
}

/// Freezes the routine's issue with these cues of the act and its encore, in order of GO.
#[must_use]
pub fn freeze(routine: &Routine, papers: &[Paper]) -> Frozen {
    let cues: Vec<CueOnPaper> = papers.iter().map(|paper| paper.cue.clone()).collect();
    let issue = Issue { at: Place::default(), number: routine.issue, cues, text: None };
    let Some(issued) = &routine.issued else {
        let title = Placed { value: routine.title.value.clone(), at: Place::default() };
        return Frozen::Added(Issued { title, issues: vec![issue] });
    };
    let mut refused = check::refused(routine, issued, papers);
    if !refused.is_empty() {
        refused.iter_mut().for_each(|fault| fault.severity = Severity::Error);
        return Frozen::Refused(refused);
    }
    if issued.issue(issue.number).is_some() {
        return Frozen::Stands;
    }
    let mut issued = issued.clone();
    issued.issues.push(issue);
    Frozen::Added(issued)
}
