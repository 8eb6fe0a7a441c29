//! `throwbook time`: the timing sheet.

use super::arguments::Time;
use super::output::Output;
use super::routine_file::RoutineFile;
use super::{Failure, Outcome};

/// Prints the timing sheet or the list of moves.
pub(crate) fn run(arguments: &Time, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let diagnostics = file.diagnostics();
    if file.show(&diagnostics, output) == Outcome::Faulty {
        return Ok(Outcome::Faulty);
    }
    // CALL SITE: compose and export here.
    Err(Failure::new("`time` is not joined to the library yet"))
}
