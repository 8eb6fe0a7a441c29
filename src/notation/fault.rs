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
    /// The characters it speaks of, counted from 0, end excluded.
    pub at: Range<usize>,
    /// Ways out, each a full sentence with the text to write instead, if there is one.
    pub helps: Vec<(String, Option<String>)>,
}
