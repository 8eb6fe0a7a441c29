//! `throwbook time`: the timing sheet.

use throwbook::export::{timing_json, timing_text};
use throwbook::sheet::stamp::TimecodeClock;
use throwbook::sheet::timing::compose;

use super::arguments::{Format, Time};
use super::output::{Output, width_of_results};
use super::routine_file::RoutineFile;
use super::timecode::timecode;
use super::{Failure, Outcome};

/// Prints the timing sheet or the list of moves.
pub(crate) fn run(arguments: &Time, output: &mut Output) -> Result<Outcome, Failure> {
    let start = timecode(&arguments.timecode)?;
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.draft(output) else {
        return Ok(Outcome::Faulty);
    };
    let act = &ready.act;
    let sheet = || {
        let sheet = compose(act);
        match start {
            Some(start) => sheet.with_timecode(TimecodeClock::new(act, start)),
            None => sheet,
        }
    };
    let text = match (arguments.format, arguments.moves) {
        (Format::Text, false) => timing_text::of_sheet(&sheet(), width_of_results()),
        (Format::Text, true) => timing_text::moves_text(act, width_of_results()),
        (Format::Json, false) => timing_json::of_sheet(&sheet()),
        (Format::Json, true) => timing_json::moves_json(act),
    };
    output.results(&text)?;
    Ok(ready.outcome())
}
