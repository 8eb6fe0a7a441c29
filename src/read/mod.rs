//! From the text of a routine file to a [`Routine`], and everything that is wrong with the text.

use crate::diagnostic::Diagnostic;
use crate::routine::Routine;

/// What was read.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The routine, as far as it could be read; `None` when there is nothing to go on with.
    pub routine: Option<Routine>,
    /// Errors and warnings of the file's text.
    pub diagnostics: Vec<Diagnostic>,
}

/// Reads a routine file.
#[must_use]
pub fn read(text: &str) -> Reading {
    let _ = text;
    todo!()
}
