//! `throwbook colours`: the colour sheet.

use throwbook::export::{colours_json, colours_text};
use throwbook::sheet::colours::compose;

use super::arguments::{Colours, Format};
use super::output::{Output, width_of_results};
use super::routine_file::{Ready, RoutineFile};
use super::{Failure, Outcome};

/// Prints the colour sheet. A request that is not met is a fault of the routine, told
/// on the sheet too.
pub(crate) fn run(arguments: &Colours, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.draft_explained(output) else {
        return Ok(Outcome::Faulty);
    };
    let Ready { act, colours, .. } = &ready;
    let mut composed = compose(act, colours);
    if arguments.all {
        composed = composed.with_others(act, colours);
    }
    let sheet = match arguments.format {
        Format::Text => colours_text::of_sheet(&composed, width_of_results()),
        Format::Json => colours_json::of_sheet(&composed),
    };
    output.results(&sheet)?;
    Ok(if colours.are_possible() { ready.outcome() } else { Outcome::Faulty })
}
