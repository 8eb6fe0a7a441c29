//! `throwbook issue`: keeps what is handed out, so that later sheets can tell what has changed.

use std::collections::BTreeSet;

use throwbook::diagnostic::words::{all_of, counted};
use throwbook::issue::{Compared, Frozen, Told, compare, freeze, written};
use throwbook::read::LARGEST_RECORD;
use throwbook::routine::{CueOnPaper, Issued};
use throwbook::sheet::cues::papers;

use super::arguments::Issue;
use super::output::{Output, shown, write_whole};
use super::routine_file::{Ready, RoutineFile, alone, has_record, record_path};
use super::{Failure, Outcome};

/// Adds the routine's issue to the record beside it, or says why it may not be handed out.
pub(crate) fn run(arguments: &Issue, output: &mut Output) -> Result<Outcome, Failure> {
    if !has_record(&arguments.file) {
        return Err(Failure::new(format!(
            "{} does not end in .ron, so the record of its issues has no name of its own; rename the \
             routine file",
            arguments.file.display()
        )));
    }
    // Two runs at once would each keep an issue that the other one loses.
    let _alone = alone(&arguments.file)?;
    let file = RoutineFile::read(&arguments.file)?;
    let Some(Ready { act, .. }) = file.ready(output) else {
        return Ok(Outcome::Faulty);
    };
    let path = record_path(&arguments.file);
    let papers = papers(&act);
    let routine = &act.routine;
    let issued = match freeze(routine, &papers) {
        Frozen::Refused(faults) => {
            // As warnings they have been shown already, with their places.
            let number = routine.issue;
            let codes: BTreeSet<&str> = faults.iter().map(|fault| fault.code).collect();
            let codes: Vec<&str> = codes.into_iter().collect();
            let said = format!("issue {number} is not handed out: {}\n", codes.join(", "));
            output.complaint(&said);
            return Ok(Outcome::Faulty);
        }
        Frozen::Stands => {
            let said = "stands there already, with the same cues";
            output.results(&format!("{}: issue {} {said}\n", shown(&path), routine.issue))?;
            return Ok(Outcome::Fine);
        }
        Frozen::Added(issued) => issued,
    };
    let (record, left_out) = with_text(issued.clone(), &file.file.text);
    if record.len() > LARGEST_RECORD {
        return Err(Failure::new(format!(
            "{} would be larger than {} megabytes and could not be read again; start a new record \
             under another name of the routine file",
            path.display(),
            LARGEST_RECORD / (1024 * 1024)
        )));
    }
    if !file.record_is_as_read(&arguments.file)? {
        return Err(Failure::new(format!(
            "{} has changed in the meantime; nothing was written, so run it again",
            path.display()
        )));
    }
    write_whole(&path, record.as_bytes())?;
    let now: Vec<CueOnPaper> = papers.into_iter().map(|paper| paper.cue).collect();
    let mut said = format!("issue {}: {}", routine.issue, counted(now.len(), "cue"));
    if let Some(before) = issued.before(routine.issue) {
        let since = format!("; since issue {}: ", before.number);
        said += &(since + &tally(&compare(before, &now)));
    }
    output.results(&format!("wrote {}  ({said})\n", shown(&path)))?;
    if !left_out.is_empty() {
        let issues: Vec<String> = left_out.iter().map(|issue| format!("issue {issue}")).collect();
        output.complaint(&format!(
            "the record has no room for the routine as it was at {}: `compare --issue` knows only the \
             cues of that\n",
            all_of(&issues)
        ));
    }
    Ok(Outcome::Fine)
}

/// The record with the routine's text, as a text; the oldest texts are left out where it would be too
/// large to be read again, and it is said of which issues.
fn with_text(mut issued: Issued, text: &str) -> (String, Vec<u32>) {
    issued.keep_text(text);
    let mut left_out = Vec::new();
    loop {
        let record = written(&issued);
        let has_room = record.len() <= LARGEST_RECORD;
        match (!has_room).then(|| issued.leave_out_a_text()).flatten() {
            Some(issue) => left_out.push(issue),
            None => return (record, left_out),
        }
    }
}

/// How much has changed, as in `2 changed, 1 new, 1 cut`.
fn tally(compared: &Compared) -> String {
    let count =
        |wanted: fn(&Told) -> bool| compared.told.iter().filter(|told| wanted(told)).count();
    let parts = [
        (count(|told| matches!(told, Told::Changed(_))), "changed"),
        (count(|told| *told == Told::New), "new"),
        (compared.cut.len(), "cut"),
    ];
    let parts: Vec<String> = parts
        .iter()
        .filter(|(number, _)| *number > 0)
        .map(|(number, word)| format!("{number} {word}"))
        .collect();
    if parts.is_empty() { "nothing changed".to_owned() } else { parts.join(", ") }
}
