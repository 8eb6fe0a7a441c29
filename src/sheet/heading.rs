//! What stands at the head of every sheet: the act's title, its issue, and whether it is a draft.

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
    /// What may be missing of the sheets because it could not be read; empty where nothing is.
    pub missing: Vec<&'static str>,
}

impl Heading {
    /// That of the sheets of an act.
    #[must_use]
    pub fn of(act: &Act) -> Heading {
        let Act { routine, errors, .. } = act;
        let hidden = [(routine.hidden.cues, "cues"), (routine.hidden.limits, "limits")];
        let missing = hidden.iter().filter_map(|(is_hidden, what)| is_hidden.then_some(*what));
        Heading {
            title: plain(&routine.title.value),
            issue: routine.issue,
            errors: *errors,
            missing: missing.collect(),
        }
    }

    /// What the sheet is, as in `Lantern Quay · timing sheet · issue 3`.
    #[must_use]
    pub fn line(&self, what: &str) -> String {
        format!("{} · {what} · issue {}", self.title, self.issue)
    }

    /// The mark of a draft, as in `DRAFT: 2 errors`; `None` where nothing is an error.
    #[must_use]
    pub fn draft(&self) -> Option<String> {
        (self.errors > 0).then(|| format!("DRAFT: {}", counted(self.errors, "error")))
    }
}

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
}
