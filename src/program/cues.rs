//! `throwbook cues`: the cue sheet.

use throwbook::export::{cues_csv, cues_json, cues_page, cues_text, state_text};
use throwbook::paper::html;
use throwbook::routine::Crew;
use throwbook::sheet::cues::compose;
use throwbook::sheet::stamp::TimecodeClock;

use super::arguments::{CueFormat, Cues};
use super::output::{Output, width_of_results};
use super::paper::{paper, say_missing};
use super::routine_file::{RoutineFile, UNSAFE};
use super::timecode::timecode;
use super::{Failure, Outcome};

/// Prints the cue sheet, of all crews or of one.
pub(crate) fn run(arguments: &Cues, output: &mut Output) -> Result<Outcome, Failure> {
    let start = timecode(&arguments.timecode)?;
    if arguments.for_spreadsheet && arguments.format != CueFormat::Csv {
        return Err(Failure::new("--for-spreadsheet is for --format csv".to_owned()));
    }
    let has_pages = arguments.format == CueFormat::Page;
    if !has_pages && (arguments.paper.date.is_some() || !arguments.paper.font.is_empty()) {
        return Err(Failure::new("--date and --font are for --format page".to_owned()));
    }
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.draft(output) else {
        return Ok(Outcome::Faulty);
    };
    if ready.is_unsafe {
        output.complaint(&format!("no cue sheet: {UNSAFE}\n"));
        return Ok(Outcome::Faulty);
    }
    let act = &ready.act;
    let crew = arguments.crew.map(Crew::from);
    if arguments.state {
        let sheet = compose(act, None);
        output.results(&state_text::of_sheet(&sheet, width_of_results()))?;
        return Ok(ready.outcome());
    }
    let mut sheet = compose(act, crew);
    if let Some(start) = start {
        sheet = sheet.with_timecode(&TimecodeClock::new(act, start));
    }
    let text = match arguments.format {
        CueFormat::Text => cues_text::of_sheet(&sheet, width_of_results()),
        CueFormat::Json => cues_json::of_sheet(&sheet),
        CueFormat::Csv if arguments.for_spreadsheet => {
            cues_csv::for_spreadsheet(&cues_csv::of_sheet(&sheet))
        }
        CueFormat::Csv => cues_csv::of_sheet(&sheet),
        CueFormat::Page => {
            let paper = paper(&arguments.paper)?;
            let document = cues_page::document(&sheet, &paper);
            say_missing(&document.missing(&paper.fonts), output);
            html(&document)
        }
    };
    output.results(&text)?;
    Ok(ready.outcome())
}
