//! `throwbook check`: everything that is wrong with routine files.

use throwbook::diagnostic::{Diagnostic, Report, Severity, json, tally};
use throwbook::export::in_short_text;
use throwbook::export::json::written;

use super::arguments::{Check, Format};
use super::build::check_built;
use super::output::{Output, shown, width_of_results};
use super::routine_file::{Checked, RoutineFile, found};
use super::{Failure, Outcome};

/// Checks every file; one that cannot be read does not keep the others from being checked.
pub(crate) fn run(arguments: &Check, output: &mut Output) -> Result<Outcome, Failure> {
    let mut outcome = Outcome::Fine;
    let mut report = Report::default();
    let mut unread = None;
    for path in found(&arguments.files)? {
        let file = match RoutineFile::read(&path) {
            Ok(file) => file,
            Err(failure) => {
                if let Some(before) = unread.replace(failure) {
                    output.failure(&before);
                }
                continue;
            }
        };
        let Checked { found, act } = file.checked();
        let all: Vec<Diagnostic> = found.iter().flat_map(|(_, found)| found).cloned().collect();
        let counts = |severity| all.iter().any(|one| one.severity == severity);
        if counts(Severity::Error) || (arguments.strict && counts(Severity::Warning)) {
            outcome = Outcome::Faulty;
        }
        let says = arguments.format == Format::Text;
        if let Some(folder) = &arguments.built
            && check_built(&path, &file, folder, says, output)? == Outcome::Faulty
        {
            outcome = Outcome::Faulty;
        }
        match arguments.format {
            Format::Json => {
                for (file, diagnostics) in found {
                    report.append(json(&diagnostics, &file.name, &file.text));
                }
            }
            Format::Text => {
                for (file, diagnostics) in found {
                    file.show(&diagnostics, output);
                }
                output.results(&format!("{}: {}\n", shown(&path), tally(&all)))?;
                if let Some(act) = act {
                    output.results(&in_short_text::text(&act, width_of_results()))?;
                }
            }
        }
    }
    if arguments.format == Format::Json {
        output.results(&written(&report))?;
    }
    unread.map_or(Ok(outcome), Err)
}
