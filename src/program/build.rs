//! `throwbook build`: all documents at once.

use super::arguments::Build;
use super::output::Output;
use super::routine_file::RoutineFile;
use super::{Failure, Outcome};

/// Writes all documents into a folder and says what it wrote.
pub(crate) fn run(arguments: &Build, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let diagnostics = file.diagnostics();
    if file.show(&diagnostics, output) == Outcome::Faulty {
        return Ok(Outcome::Faulty);
    }
    // CALL SITE: compose and export here.
    Err(Failure::new("`build` is not joined to the library yet"))
}
