//! `throwbook cues`: the cue sheet.

use throwbook::export::{cues_csv, cues_json, cues_page, cues_text, state_text};
use throwbook::routine::Crew;
use throwbook::sheet::cues::compose;
use throwbook::sheet::timecode::TimecodeClock;

use super::arguments::{CueFormat, Cues};
use super::output::{Output, width_of_results};
use super::routine_file::{Ready, RoutineFile};
use super::timecode::timecode;
use super::{Failure, Outcome};

/// Prints the cue sheet, of all crews or of one.
pub(crate) fn run(arguments: &Cues, output: &mut Output) -> Result<Outcome, Failure> {
    let start = timecode(&arguments.timecode)?;
    let file = RoutineFile::read(&arguments.file)?;
    let Some(Ready { routine, timeline, .. }) = file.ready(output) else {
        return Ok(Outcome::Faulty);
    };
    let crew = arguments.crew.map(Crew::from);
    if arguments.state {
        output.results(&state_text::text(&routine, &timeline, width_of_results()))?;
        return Ok(Outcome::Fine);
    }
    let mut sheet = compose(&routine, &timeline, crew);
    if let Some(start) = start {
        sheet = sheet.with_timecode(TimecodeClock::new(&routine, &timeline, start));
    }
    let text = match arguments.format {
        CueFormat::Text => cues_text::of_sheet(&sheet, width_of_results()),
        CueFormat::Json => cues_json::of_sheet(&sheet),
        CueFormat::Csv => cues_csv::of_sheet(&sheet),
        CueFormat::Page => cues_page::of_sheet(&sheet),
    };
    output.results(&text)?;
    Ok(Outcome::Fine)
}
