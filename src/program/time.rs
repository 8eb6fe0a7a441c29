//! `throwbook time`: the timing sheet.

use throwbook::export::{timing_json, timing_text};

use super::arguments::{Format, Time};
use super::output::{Output, width_of_results};
use super::routine_file::{Ready, RoutineFile};
use super::{Failure, Outcome};

/// Prints the timing sheet or the list of moves.
pub(crate) fn run(arguments: &Time, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let Some(Ready { routine, timeline, .. }) = file.ready(output) else {
        return Ok(Outcome::Faulty);
    };
    let sheet = match (arguments.format, arguments.moves) {
        (Format::Text, false) => timing_text::text(&routine, &timeline, width_of_results()),
        (Format::Text, true) => timing_text::moves_text(&routine, &timeline, width_of_results()),
        (Format::Json, false) => timing_json::json(&routine, &timeline),
        (Format::Json, true) => timing_json::moves_json(&routine, &timeline),
    };
    output.results(&sheet)?;
    Ok(Outcome::Fine)
}
