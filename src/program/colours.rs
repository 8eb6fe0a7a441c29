//! `throwbook colours`: the colour sheet.

use throwbook::export::{colours_json, colours_text};

use super::arguments::{Colours, Format};
use super::output::{Output, width_of_results};
use super::routine_file::{Ready, RoutineFile};
use super::{Failure, Outcome};

/// Prints the colour sheet. A request that is not met is a fault of the routine, told
/// on the sheet too.
pub(crate) fn run(arguments: &Colours, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.draft(output) else {
        return Ok(Outcome::Faulty);
    };
    let Ready { act, colours, .. } = &ready;
    let sheet = match arguments.format {
        Format::Text => colours_text::text(act, colours, width_of_results()),
        Format::Json => colours_json::json(act, colours),
    };
    output.results(&sheet)?;
    Ok(if colours.are_possible() { ready.outcome() } else { Outcome::Faulty })
}
