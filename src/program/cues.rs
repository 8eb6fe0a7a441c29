//! `throwbook cues`: the cue sheet.

use super::arguments::Cues;
use super::output::Output;
use super::routine_file::RoutineFile;
use super::{Failure, Outcome};

/// Prints the cue sheet, of all desks or of one.
pub(crate) fn run(arguments: &Cues, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let diagnostics = file.diagnostics();
    if file.show(&diagnostics, output) == Outcome::Faulty {
        return Ok(Outcome::Faulty);
    }
    // CALL SITE: compose and export here.
    Err(Failure::new("`cues` is not joined to the library yet"))
}
