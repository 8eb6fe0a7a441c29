//! `throwbook strip`: the timing strip.

use super::arguments::Strip;
use super::output::Output;
use super::routine_file::RoutineFile;
use super::{Failure, Outcome};

/// Writes the drawing.
pub(crate) fn run(arguments: &Strip, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let diagnostics = file.diagnostics();
    if file.show(&diagnostics, output) == Outcome::Faulty {
        return Ok(Outcome::Faulty);
    }
    // CALL SITE: compose and export here.
    Err(Failure::new("`strip` is not joined to the library yet"))
}
