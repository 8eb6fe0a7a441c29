//! `throwbook pattern`: one pattern explained.

use super::arguments::Pattern;
use super::output::Output;
use super::{Failure, Outcome};

/// Explains the pattern, or says what is wrong with it.
pub(crate) fn run(arguments: &Pattern, output: &mut Output) -> Result<Outcome, Failure> {
    // CALL SITE: read, compute and export here.
    let _ = (arguments, output);
    Err(Failure::new("`pattern` is not joined to the library yet"))
}
