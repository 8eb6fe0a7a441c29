//! `throwbook strip`: the timing strip.

use throwbook::measure::calls::calls;
use throwbook::strip;

use super::arguments::Strip;
use super::output::{Output, write_whole};
use super::routine_file::{Ready, RoutineFile};
use super::{Failure, Outcome};

/// Writes the drawing: the whole strip, or the overview in one row.
pub(crate) fn run(arguments: &Strip, output: &mut Output) -> Result<Outcome, Failure> {
    // A slip of the pen must not cost a routine.
    if arguments.output.extension().is_some_and(|extension| extension == "ron") {
        return Err(Failure::new(format!(
            "{} is a routine file; a strip is an SVG file, such as strip.svg",
            arguments.output.display()
        )));
    }
    let file = RoutineFile::read(&arguments.file)?;
    let Some(Ready { routine, timeline, tracks, .. }) = file.ready(output) else {
        return Ok(Outcome::Faulty);
    };
    let calls = calls(&routine, &timeline).calls;
    let drawing = if arguments.overview {
        strip::overview(&routine, &timeline, &calls)
    } else {
        strip::strip_with(&routine, &timeline, &calls, &tracks)
    };
    write_whole(&arguments.output, drawing.as_bytes())?;
    output.results(&format!("wrote {}\n", arguments.output.display()))?;
    Ok(Outcome::Fine)
}
