//! `throwbook build`: all documents at once.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use throwbook::export::{cues_csv, cues_json, cues_page, timing_json, timing_text};
use throwbook::measure::calls::calls;
use throwbook::sheet::words::desk_word;
use throwbook::strip;

use super::arguments::Build;
use super::output::{Output, make_folder, write_whole};
use super::routine_file::{Ready, RoutineFile};
use super::{Failure, Outcome};

/// Columns of a timing sheet that is written to a file.
const WIDTH: u16 = 96;

/// Writes all documents into a folder and says what it wrote.
pub(crate) fn run(arguments: &Build, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.ready(output) else {
        return Ok(Outcome::Faulty);
    };
    // All are made before the first is written.
    let documents = documents(&arguments.file, &ready);
    let folder = &arguments.out;
    make_folder(folder)?;
    for (name, text, what) in documents {
        let path: PathBuf = folder.join(name);
        write_whole(&path, text.as_bytes())?;
        output.results(&format!("wrote {}  ({what})\n", path.display()))?;
    }
    Ok(Outcome::Fine)
}

/// Each document: its file name, its text and what it is.
fn documents(file: &Path, ready: &Ready) -> Vec<(String, String, String)> {
    let Ready { routine, timeline, tracks } = ready;
    let calls = calls(routine, timeline).calls;
    let stem =
        file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    let mut documents = Vec::new();
    let mut add = |end: &str, text: String, what: &str| {
        documents.push((format!("{stem}-{end}"), text, what.to_owned()));
    };
    let drawn = strip::strip_with(routine, timeline, &calls, tracks);
    add("strip.svg", drawn, "timing strip");
    add("overview.svg", strip::overview(routine, timeline, &calls), "overview in one row");
    add("time.txt", timing_text::text(routine, timeline, WIDTH), "timing sheet");
    add("time.json", timing_json::json(routine, timeline), "timing sheet for programs");
    add("moves.txt", timing_text::moves_text(routine, timeline, WIDTH), "list of moves");
    add("cues.txt", cues_page::page(routine, timeline, None), "cue sheet to print");
    let desks: BTreeSet<_> = routine.cues.iter().map(|cue| cue.desk.value).collect();
    for desk in desks {
        let word = desk_word(desk);
        let page = cues_page::page(routine, timeline, Some(desk));
        add(&format!("cues-{word}.txt"), page, &format!("cue sheet of the {word} desk"));
    }
    add("cues.csv", cues_csv::csv(routine, timeline, None), "cue sheet for spreadsheets");
    add("cues.json", cues_json::json(routine, timeline, None), "cue sheet for programs");
    documents
}
