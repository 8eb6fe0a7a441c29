//! `throwbook compare`: what has moved between two acts, and which edit moves it.

use std::path::Path;

use throwbook::Opened;
use throwbook::diagnostic::words::all_of;
use throwbook::difference::{Comparison, Side, between_papers};
use throwbook::export::difference_text::Names;
use throwbook::export::{difference_json, difference_text};
use throwbook::issue::Paper;
use throwbook::read;
use throwbook::routine::{CueOnPaper, Issue, Issued};
use throwbook::sheet::cues::papers;
use throwbook::strip;

use super::arguments::{Compare, Format};
use super::output::{Output, shown, width_of_results, write_whole};
use super::routine_file::{RoutineFile, TextFile, record_path};
use super::strip::refuse_routine;
use super::{Failure, Outcome, git};

/// Prints what has moved.
pub(crate) fn run(arguments: &Compare, output: &mut Output) -> Result<Outcome, Failure> {
    let path = &arguments.file;
    if let Some(drawing) = &arguments.strip {
        refuse_routine(drawing)?;
    }
    let folder = path.parent().map(Path::to_owned).unwrap_or_default();
    if let Some(new) = &arguments.new {
        let (old, new) = (RoutineFile::read(path)?, RoutineFile::read(new)?);
        return files(&old, &new, arguments, output);
    }
    let new = RoutineFile::read(path)?;
    if let Some(revision) = &arguments.git {
        let name = format!("{} (git {revision})", path.display());
        let old = TextFile::of(name, git::file_at(path, revision)?);
        let old = RoutineFile::of_another_time(old, &folder);
        return files(&old, &new, arguments, output);
    }
    let Some(number) = arguments.issue else {
        unreachable!("without a new file there is an issue or a revision")
    };
    let opened = new.to_compare(output)?;
    let issue = issue(path, &new, &opened, number, output)?;
    let name = format!("{} (issue {number})", path.display());
    match issue.text {
        Some(text) => {
            let old = TextFile::of(name, text.into_bytes());
            let old = RoutineFile::of_another_time(old, &folder);
            files(&old, &new, arguments, output)
        }
        None => cues(&issue, &name, &new, &opened, arguments, output),
    }
}

fn files(
    old: &RoutineFile,
    new: &RoutineFile,
    arguments: &Compare,
    output: &mut Output,
) -> Result<Outcome, Failure> {
    let (was, is) = (old.to_compare(output)?, new.to_compare(output)?);
    let comparison = Comparison::between(
        Side { text: &old.file.text, opened: &was },
        Side { text: &new.file.text, opened: &is },
        |text| new.open_to_compare(text),
    );
    let names = Names { old: &old.file.name, new: &new.file.name };
    output.results(&match arguments.format {
        Format::Text => difference_text::of_comparison(&comparison, names, width_of_results()),
        Format::Json => difference_json::of_comparison(&comparison),
    })?;
    if let (Some(drawing), Some(old), Some(new)) = (&arguments.strip, &was.act, &is.act) {
        write_whole(drawing, strip::overview_over(new, old).as_bytes())?;
        if arguments.format == Format::Text {
            output.results(&format!("\nwrote {}\n", shown(drawing)))?;
        }
    }
    Ok(if comparison.is_same { Outcome::Fine } else { Outcome::Faulty })
}

/// What was handed out under that number.
fn issue(
    path: &Path,
    file: &RoutineFile,
    opened: &Opened,
    number: u32,
    output: &Output,
) -> Result<Issue, Failure> {
    let record_name = shown(&record_path(path));
    let Some(record) = &file.record else {
        return Err(Failure::new(format!(
            "nothing was handed out: there is no {record_name}; `throwbook issue` writes it"
        )));
    };
    let title = opened.act.as_ref().map(|act| act.routine.title.value.clone());
    let issued: Issued =
        read::issued(&record.text, &title.unwrap_or_default()).map_err(|faults| {
            record.show(&faults, output);
            Failure::new(format!("cannot compare with {record_name}: it has errors"))
        })?;
    issued.issue(number).cloned().ok_or_else(|| {
        let all: Vec<String> = issued.issues.iter().map(|one| one.number.to_string()).collect();
        let all = all_of(&all);
        Failure::new(format!("{record_name} has no issue {number}; it has {all}"))
    })
}

/// Of an issue whose routine was not kept the cues are compared, as printed.
fn cues(
    issue: &Issue,
    name: &str,
    file: &RoutineFile,
    opened: &Opened,
    arguments: &Compare,
    output: &mut Output,
) -> Result<Outcome, Failure> {
    if arguments.strip.is_some() {
        return Err(Failure::new(format!(
            "only the cues of issue {} were kept, so there is no old act to draw",
            issue.number
        )));
    }
    let Some(act) = opened.finished() else {
        file.file.show(&opened.diagnostics, output);
        return Err(Failure::new(format!(
            "only the cues of issue {} were kept, and the errors hide what the cues of now are; mend \
             them first",
            issue.number
        )));
    };
    let now: Vec<CueOnPaper> = papers(act).into_iter().map(|Paper { cue, .. }| cue).collect();
    let differences = between_papers(issue, &now);
    let names = Names { old: name, new: &file.file.name };
    output.results(&match arguments.format {
        Format::Text => difference_text::of_cues(&differences, names, width_of_results()),
        Format::Json => difference_json::of_cues(&differences),
    })?;
    Ok(if differences.is_empty() { Outcome::Fine } else { Outcome::Faulty })
}
