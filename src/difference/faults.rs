//! The faults that only one of two files has.
//!
//! A fault is known by its code and by what it is about, never by its place: a change of the file
//! moves every place behind it.

use crate::Opened;
use crate::diagnostic::{Diagnostic, Severity};
use crate::routine::{Crew, CueNumber};

use super::Difference;

/// Faults that have come and gone.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FaultDifference {
    /// Those that only the new file has.
    pub come: Vec<Fault>,
    /// Those that only the old file had.
    pub gone: Vec<Fault>,
}

/// A fault. Its words may change with every figure: it is the same fault without them.
#[derive(Clone, Debug)]
pub struct Fault {
    /// Error or warning.
    pub severity: Severity,
    /// Its code.
    pub code: &'static str,
    /// What it is about.
    pub about: About,
    /// What its message says.
    pub says: String,
}

impl PartialEq for Fault {
    fn eq(&self, other: &Fault) -> bool {
        let apart = |fault: &Fault| (fault.severity, fault.code);
        apart(self) == apart(other) && self.about == other.about
    }
}

/// What a fault is about.
#[derive(Clone, Debug, PartialEq)]
pub enum About {
    /// The section of that name, of the act or of its encore; in the old act's words.
    Section(String),
    /// A cue.
    Cue(Crew, Option<CueNumber>),
    /// The limit of that rule.
    Limit(String),
    /// Anything else of the file.
    File,
}

impl Fault {
    /// The fault that a message speaks of.
    #[must_use]
    pub fn of(opened: &Opened, diagnostic: &Diagnostic) -> Fault {
        let Diagnostic { severity, code, message, .. } = diagnostic;
        let about = About::of(opened, diagnostic);
        Fault { severity: *severity, code, about, says: message.clone() }
    }

    /// Whether it is the other one again, be it that only one of the files says what it is about.
    fn is_again(&self, other: &Fault, act_in_both: bool) -> bool {
        self.code == other.code && (!act_in_both || self.about == other.about)
    }
}

impl About {
    fn of(opened: &Opened, diagnostic: &Diagnostic) -> About {
        let from = diagnostic.at.start;
        let holds = |at: &crate::diagnostic::Place| at.start <= from && from < at.end;
        for act in opened.act.iter().flat_map(|act| act.with_encore()) {
            let routine = &act.routine;
            if let Some(section) = routine.score.iter().find(|section| holds(&section.at)) {
                return About::Section(section.name.value.clone());
            }
            if let Some(cue) = routine.cues.iter().find(|cue| holds(&cue.at)) {
                return About::Cue(cue.crew.value, cue.number.as_ref().map(|number| number.value));
            }
            if let Some(limit) = routine.limits.iter().find(|limit| holds(&limit.at)) {
                return About::Limit(limit.rule.clone());
            }
        }
        About::File
    }
}

impl FaultDifference {
    /// What `sections` says of names that have changed is taken into account.
    pub(super) fn between(old: &Opened, new: &Opened, sections: &Difference) -> FaultDifference {
        let in_both = old.act.is_some() && new.act.is_some();
        let faults = |opened: &Opened| -> Vec<Fault> {
            opened.diagnostics.iter().map(|one| Fault::of(opened, one)).collect()
        };
        let old_name = |name: &String| {
            let all = sections.acts().flat_map(|act| &act.sections);
            all.filter(|section| section.name == *name).find_map(|section| section.was.clone())
        };
        let mut gone = faults(old);
        let mut come = Vec::new();
        for mut fault in faults(new) {
            if let About::Section(name) = &mut fault.about {
                *name = old_name(name).unwrap_or_else(|| name.clone());
            }
            match gone.iter().position(|other| fault.is_again(other, in_both)) {
                Some(place) => drop(gone.remove(place)),
                None => come.push(fault),
            }
        }
        FaultDifference { come, gone }
    }
}
