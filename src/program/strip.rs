//! `throwbook strip`: the timing strip.

use std::path::Path;

use throwbook::strip;

use super::arguments::Strip;
use super::output::{Output, shown, write_whole};
use super::routine_file::RoutineFile;
use super::{Failure, Outcome};

/// A slip of the pen must not cost a routine.
pub(crate) fn refuse_routine(path: &Path) -> Result<(), Failure> {
    if path.extension().is_none_or(|extension| extension != "ron") {
        return Ok(());
    }
    Err(Failure::new(format!(
        "{} is a routine file; a strip is an SVG file, such as strip.svg",
        path.display()
    )))
}

/// Writes the drawing: the whole strip, or the overview in one row.
pub(crate) fn run(arguments: &Strip, output: &mut Output) -> Result<Outcome, Failure> {
    refuse_routine(&arguments.output)?;
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.draft(output) else {
        return Ok(Outcome::Faulty);
    };
    let drawing = match (arguments.overview, arguments.seconds_per_row) {
        (true, _) => strip::overview(&ready.act),
        (false, None) => strip::strip(&ready.act),
        (false, Some(seconds)) => strip::strip_in_rows(&ready.act, seconds),
    };
    write_whole(&arguments.output, drawing.as_bytes())?;
    output.results(&format!("wrote {}\n", shown(&arguments.output)))?;
    Ok(ready.outcome())
}
