//! `throwbook build`: all documents at once.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use throwbook::export::{
    colours_json, colours_text, cues_csv, cues_json, cues_page, timing_json, timing_text,
};
use throwbook::measure::calls::calls;
use throwbook::sheet::words::desk_word;
use throwbook::strip;

use super::arguments::Build;
use super::output::{Output, make_folder, write_whole};
use super::routine_file::{Ready, RoutineFile};
use super::{Failure, Outcome, rehearsal};

/// Columns of a timing sheet that is written to a file.
const WIDTH: u16 = 96;

/// Writes all documents into a folder and says what it wrote.
pub(crate) fn run(arguments: &Build, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.ready(output) else {
        return Ok(Outcome::Faulty);
    };
    // All are made before the first is written.
    let mut documents = documents(&arguments.file, &ready);
    let stem = stem(&arguments.file);
    for (end, bytes, what) in rehearsal::documents(&ready, output)? {
        documents.push((format!("{stem}-{end}"), bytes, what.to_owned()));
    }
    let folder = &arguments.out;
    make_folder(folder)?;
    for (name, bytes, what) in documents {
        let path: PathBuf = folder.join(name);
        write_whole(&path, &bytes)?;
        output.results(&format!("wrote {}  ({what})\n", path.display()))?;
    }
    Ok(Outcome::Fine)
}

/// What the documents of a routine file are called after.
fn stem(file: &Path) -> String {
    file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}

/// Each document: its file name, its bytes and what it is.
fn documents(file: &Path, ready: &Ready) -> Vec<(String, Vec<u8>, String)> {
    let Ready { routine, timeline, colours } = ready;
    let calls = calls(routine, timeline).calls;
    let stem = stem(file);
    let mut documents = Vec::new();
    let mut add = |end: &str, text: String, what: &str| {
        documents.push((format!("{stem}-{end}"), text.into_bytes(), what.to_owned()));
    };
    add("strip.svg", strip::strip(routine, timeline, &calls), "timing strip");
    add("overview.svg", strip::overview(routine, timeline, &calls), "overview in one row");
    add("time.txt", timing_text::text(routine, timeline, WIDTH), "timing sheet");
    add("time.json", timing_json::json(routine, timeline), "timing sheet for programs");
    add("moves.txt", timing_text::moves_text(routine, timeline, WIDTH), "list of moves");
    add("colours.txt", colours_text::text(routine, timeline, colours, WIDTH), "colour sheet");
    let json = colours_json::json(routine, timeline, colours);
    add("colours.json", json, "colour sheet for programs");
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
