//! `throwbook fit`: the cycles and tempos that fit, before a juggler commits.

use throwbook::diagnostic::words::all_of;
use throwbook::export::{fit_json, fit_text};
use throwbook::sheet::fit::compose;

use super::arguments::{Fit, Format};
use super::output::{Output, width_of_results};
use super::routine_file::RoutineFile;
use super::{Failure, Outcome};

/// Prints what fits. A section that does not land as it is written is no fault here: that is what
/// is asked about.
pub(crate) fn run(arguments: &Fit, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let Some(act) = file.ready_to_fit(output) else {
        return Ok(Outcome::Faulty);
    };
    let (part, only) = match &arguments.section {
        Some(name) => {
            let mut found = act.with_encore().map(|part| (part, part.routine.section(name)));
            found.find(|(_, section)| section.is_some()).ok_or_else(|| {
                let sections = act.with_encore().flat_map(|part| &part.routine.score);
                let names = sections.map(|section| format!("{:?}", section.name.value));
                let names = all_of(&names.collect::<Vec<_>>());
                Failure::new(format!("no section is called {name:?}; there are {names}"))
            })?
        }
        None => (&act, None),
    };
    let sheet = compose(part, only);
    let text = match (arguments.format, only) {
        (Format::Text, _) => fit_text::of_sheet(&sheet, width_of_results()),
        (Format::Json, Some(_)) => fit_json::of_one(&sheet),
        (Format::Json, None) => fit_json::of_sheet(&sheet),
    };
    output.results(&text)?;
    Ok(Outcome::Fine)
}
