//! What can be wrong with written throws: a code, a sentence, and the characters it speaks of.

use std::ops::Range;

/// Whether a fault stops the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// It cannot be compiled, or is unsafe.
    Error,
    /// It compiles; the juggler should know.
    Warning,
}

/// A fault in a written pattern or in written throws.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Error or warning.
    pub severity: Severity,
    /// A stable name, such as `landing-clash`.
    pub code: &'static str,
    /// A full sentence in the trade's terms.
    pub message: String,
    /// The characters it speaks of, counted from 0, end excluded. Empty (start = end) where
    /// something is missing.
    pub at: Range<usize>,
    /// Ways out, each a full sentence with the text to write in place of the characters `at`, if
    /// there is one.
    pub helps: Vec<(String, Option<String>)>,
}

impl Fault {
    /// An error.
    pub(crate) fn error(code: &'static str, at: Range<usize>, message: impl Into<String>) -> Fault {
        Fault { severity: Severity::Error, code, message: message.into(), at, helps: Vec::new() }
    }

    /// A warning.
    pub(crate) fn warning(
        code: &'static str,
        at: Range<usize>,
        message: impl Into<String>,
    ) -> Fault {
        Fault { severity: Severity::Warning, ..Fault::error(code, at, message) }
    }

    /// Adds a way out that only the juggler can choose.
    pub(crate) fn help(mut self, text: impl Into<String>) -> Fault {
        self.helps.push((text.into(), None));
        self
    }

    /// Adds a way out that is a text to write in place of the characters `at`.
    pub(crate) fn help_write(mut self, text: impl Into<String>, write: impl Into<String>) -> Fault {
        self.helps.push((text.into(), Some(write.into())));
        self
    }
}

impl Fault {
    /// The message with its ways out behind it, in one line.
    #[must_use]
    pub fn in_full(&self) -> String {
        let helps = self.helps.iter().map(|(help, _)| help.as_str());
        std::iter::once(self.message.as_str()).chain(helps).collect::<Vec<_>>().join(" ")
    }
}
