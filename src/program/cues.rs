//! `throwbook cues`: the cue sheet.

use throwbook::export::{cues_csv, cues_json, cues_page, cues_text};
use throwbook::routine::Desk;

use super::arguments::{CueFormat, Cues};
use super::output::{Output, width_of_results};
use super::routine_file::{Ready, RoutineFile};
use super::{Failure, Outcome};

/// Prints the cue sheet, of all desks or of one.
pub(crate) fn run(arguments: &Cues, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let Some(Ready { routine, timeline, .. }) = file.ready(output) else {
        return Ok(Outcome::Faulty);
    };
    let desk = arguments.desk.map(Desk::from);
    let sheet = match arguments.format {
        CueFormat::Text => cues_text::text(&routine, &timeline, desk, width_of_results()),
        CueFormat::Json => cues_json::json(&routine, &timeline, desk),
        CueFormat::Csv => cues_csv::csv(&routine, &timeline, desk),
        CueFormat::Page => cues_page::page(&routine, &timeline, desk),
    };
    output.results(&sheet)?;
    Ok(Outcome::Fine)
}
