//! What throwbook says of a routine: errors and warnings with their place, notes and ways out.
//!
//! A [`Diagnostic`] is plain data. [`render()`] draws it for people, [`json()`] for programs; both are
//! pure functions of the diagnostic and the file's text. What each code means is an [`Explanation`].

mod change;
mod explanation;
mod json;
mod lines;
mod render;
mod topic;
pub mod words;

pub use change::{Lines, changed, lines_changed};
pub use explanation::{Beside, Explanation, Form};
pub use json::{EditEntry, Entry, HelpEntry, Report, json};
pub use render::{render, tally};
pub use topic::Topic;

use std::fmt;
use std::ops::Range;

use crate::notation::Fault;

pub use crate::notation::Severity;

/// Bytes of the routine file, end excluded.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl From<Range<usize>> for Place {
    fn from(range: Range<usize>) -> Place {
        Place { start: range.start, end: range.end }
    }
}

/// A value read from the file, with the place where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed<T> {
    /// The value.
    pub value: T,
    /// Where it was written.
    pub at: Place,
}

/// One error or warning.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    /// Error (no sheet is written) or warning.
    pub severity: Severity,
    /// Stable name of the fault, such as `junction-clash`.
    pub code: &'static str,
    /// What is wrong, one full sentence.
    pub message: String,
    /// Where.
    pub at: Place,
    /// A few words under the marked text; may be empty.
    pub label: String,
    /// More to know, each possibly with a place of its own.
    pub notes: Vec<Note>,
    /// Ways out, the best first.
    pub helps: Vec<Help>,
}

/// A further fact beside a diagnostic.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// A full sentence.
    pub text: String,
    /// The place it speaks of, if it is another one.
    pub at: Option<Place>,
}

/// A way out.
#[derive(Clone, Debug, PartialEq)]
pub struct Help {
    /// What to do, one full sentence.
    pub text: String,
    /// The change of the file that does it; may be empty where only the juggler can choose.
    pub edits: Vec<Edit>,
    /// What else the change does, once it was tried.
    pub effects: Option<Effects>,
}

/// Text to put in place of other text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// What is replaced; empty to insert.
    pub at: Place,
    /// What to write there.
    pub insert: String,
}

/// The side effects of a way out, as they were seen once it was tried; `None` where one is not
/// known.
#[derive(Clone, Debug, PartialEq)]
pub struct Effects {
    /// How many seconds later the act ends, with all that is open at its shortest; negative when
    /// it gets shorter.
    pub adds_s: Option<f64>,
    /// Whether another hand leads a section.
    pub flips_lead: Option<bool>,
    /// Whether a throw shows another colour.
    pub moves_colours: Option<bool>,
    /// Whether nothing else is different after it: no time, hand, colour, height, limit or other cue,
    /// and no other fault; false where that is not known.
    pub is_safe: bool,
}

impl Help {
    /// A way out with its changes of the file, if there are any.
    #[must_use]
    pub fn new(text: impl Into<String>, edits: Vec<Edit>) -> Help {
        Help { text: words::sentence(&text.into()), edits, effects: None }
    }

    /// What to do, with what else that does.
    #[must_use]
    pub fn said(&self) -> String {
        render::said(self)
    }

    /// A way out that is one replacement of text.
    #[must_use]
    pub fn edit(text: impl Into<String>, at: Place, insert: impl Into<String>) -> Help {
        Help::new(text, vec![Edit { at, insert: insert.into() }])
    }
}

impl fmt::Display for Diagnostic {
    /// Its severity, its code and its message in one line.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let severity = match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        write!(f, "{severity}[{}]: {}", self.code, self.message)
    }
}

impl std::error::Error for Diagnostic {}

impl Diagnostic {
    /// An error.
    #[must_use]
    pub fn error(code: &'static str, at: Place, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(Severity::Error, code, at, message)
    }

    /// A fault of written throws; `place` turns characters of their text into bytes of the file.
    #[must_use]
    pub fn of_fault(fault: &Fault, place: impl Fn(Range<usize>) -> Place) -> Diagnostic {
        let at = place(fault.at.clone());
        let diagnostic =
            Diagnostic::new(fault.severity, fault.code, at.clone(), fault.message.clone());
        fault.helps.iter().fold(diagnostic, |diagnostic, (text, write)| match write {
            Some(write) => diagnostic.help_edit(text, at.clone(), write),
            None => diagnostic.help(text),
        })
    }

    /// A warning.
    #[must_use]
    pub fn warning(code: &'static str, at: Place, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(Severity::Warning, code, at, message)
    }

    fn new(
        severity: Severity,
        code: &'static str,
        at: Place,
        message: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic {
            severity,
            code,
            message: words::sentence(&message.into()),
            at,
            label: String::new(),
            notes: Vec::new(),
            helps: Vec::new(),
        }
    }

    /// Puts a few words under the marked text.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Diagnostic {
        self.label = label.into();
        self
    }

    /// Adds a fact.
    #[must_use]
    pub fn note(mut self, text: impl Into<String>) -> Diagnostic {
        self.notes.push(Note { text: words::sentence(&text.into()), at: None });
        self
    }

    /// Adds a fact about another place.
    #[must_use]
    pub fn note_at(mut self, at: Place, text: impl Into<String>) -> Diagnostic {
        self.notes.push(Note { text: words::sentence(&text.into()), at: Some(at) });
        self
    }

    /// Adds a way out that only the juggler can choose.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Diagnostic {
        self.helps.push(Help::new(text, Vec::new()));
        self
    }

    /// Adds a way out that is a replacement of text.
    #[must_use]
    pub fn help_edit(
        mut self,
        text: impl Into<String>,
        at: Place,
        insert: impl Into<String>,
    ) -> Diagnostic {
        self.helps.push(Help::edit(text, at, insert));
        self
    }
}

/// Puts diagnostics in their one order: by place, then by code, then by message.
pub fn sort(diagnostics: &mut [Diagnostic]) {
    diagnostics.sort_by(|a, b| {
        (&a.at, a.code, a.severity, &a.message).cmp(&(&b.at, b.code, b.severity, &b.message))
    });
}
