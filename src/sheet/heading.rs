//! What stands at the head of every sheet: the act's title, its issue, whether that is what was
//! handed out, and whether the sheet is a draft.

use crate::act::Act;
use crate::diagnostic::words::counted;
use crate::routine::Routine;

use super::words::{self, plain};

/// The head of a sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heading {
    /// The routine's title.
    pub title: String,
    /// Its issue.
    pub issue: u32,
    /// How many errors the act has: above 0 the sheet is a draft.
    pub errors: usize,
    /// Whether the cues are no longer what was handed out under the issue's number; `None` where an
    /// error hides it.
    pub unissued: Option<bool>,
    /// What may be missing of the sheets because it could not be read; empty where nothing is.
    pub missing: Vec<&'static str>,
}

impl Heading {
    /// That of the sheets of an act.
    #[must_use]
    pub fn of(act: &Act) -> Heading {
        let Act { routine, errors, unissued, .. } = act;
        let hides_cues = routine.with_encore().any(|one| one.hidden.cues);
        let hidden = [
            (hides_cues, "cues"),
            (routine.hidden.limits, "limits"),
            (routine.hidden.encore, "an encore"),
        ];
        let missing = hidden.iter().filter_map(|(is_hidden, what)| is_hidden.then_some(*what));
        Heading {
            title: plain(&routine.title.value),
            issue: routine.issue,
            errors: *errors,
            unissued: *unissued,
            missing: missing.collect(),
        }
    }

    /// What the sheet is, as in `Lantern Quay · timing sheet · issue 3`.
    #[must_use]
    pub fn line(&self, what: &str) -> String {
        format!("{} · {what} · {}", self.title, self.issue_words())
    }

    /// The same with the mark of a draft before it: the name of a page or of a document.
    #[must_use]
    pub fn marked_line(&self, what: &str) -> String {
        let draft = self.draft().map(|mark| format!("{mark} · ")).unwrap_or_default();
        draft + &self.line(what)
    }

    /// Its issue, as in `issue 3` or `UNISSUED CHANGES to issue 3`.
    #[must_use]
    pub fn issue_words(&self) -> String {
        match self.is_unissued() {
            true => format!("{UNISSUED} to issue {}", self.issue),
            false => format!("issue {}", self.issue),
        }
    }

    /// Whether it is known that the cues are not what was handed out under the issue's number.
    #[must_use]
    pub fn is_unissued(&self) -> bool {
        self.unissued == Some(true)
    }

    /// The mark that a sheet has that nobody may work from yet: that of a draft, else that of changes
    /// that were not handed out.
    #[must_use]
    pub fn mark(&self) -> Option<String> {
        self.draft().or_else(|| self.is_unissued().then(|| UNISSUED.to_owned()))
    }

    /// The mark of a draft, as in `DRAFT: 2 errors`; `None` where nothing is an error.
    #[must_use]
    pub fn draft(&self) -> Option<String> {
        (self.errors > 0).then(|| format!("DRAFT: {}", counted(self.errors, "error")))
    }
}

/// The mark of a sheet whose cues are not what was handed out under its issue's number.
pub const UNISSUED: &str = "UNISSUED CHANGES";

/// Where the show clock reads zero, in words.
pub(crate) fn zero(routine: &Routine) -> String {
    match routine.hidden.zero {
        true => "a moment that could not be read".to_owned(),
        false => words::moment(&routine.zero.value),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};

    #[test]
    fn a_sheet_of_an_act_with_errors_says_that_it_is_a_draft() {
        let mut act = compiled(&lantern_quay());
        assert_eq!(Heading::of(&act).draft(), None);
        for (errors, mark) in [(1, "DRAFT: 1 error"), (2, "DRAFT: 2 errors")] {
            act.set_errors(errors);
            assert_eq!(Heading::of(&act).draft().as_deref(), Some(mark));
        }
        assert_eq!(Heading::of(&act).line("colours"), "Lantern Quay · colours · issue 3");
    }

    #[test]
    fn changes_that_were_not_handed_out_never_pass_for_their_issue() {
        let mut act = compiled(&lantern_quay());
        assert_eq!(Heading::of(&act).mark(), None);
        act.set_unissued(Some(true));
        let heading = Heading::of(&act);
        assert_eq!(heading.line("x"), "Lantern Quay · x · UNISSUED CHANGES to issue 3");
        assert_eq!(heading.mark().as_deref(), Some("UNISSUED CHANGES"));
        // A draft is held against nothing, and says so by its own mark.
        act.set_unissued(None);
        act.set_errors(1);
        assert_eq!(Heading::of(&act).mark().as_deref(), Some("DRAFT: 1 error"));
        assert_eq!(Heading::of(&act).line("x"), "Lantern Quay · x · issue 3");
    }
}
