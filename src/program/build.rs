//! `throwbook build`: all documents at once.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use throwbook::export::{
    colours_json, colours_text, cues_csv, cues_json, cues_page, state_text, timing_json,
    timing_text,
};
use throwbook::routine::{Crew, Routine};
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
    let left = left_over(arguments, &ready.act.routine);
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
    for (path, word) in left {
        output.complaint(&format!(
            "{} is left from an earlier build: the {word} crew has no cues any more\n",
            path.display()
        ));
    }
    Ok(Outcome::Fine)
}

/// The crews that have cues in the act or its encore.
fn crews(routine: &Routine) -> BTreeSet<Crew> {
    let encore = routine.encore.iter().flat_map(|encore| &encore.routine.cues);
    routine.cues.iter().chain(encore).map(|cue| cue.crew.value).collect()
}

/// Sheets in the folder of crews that have no cues any more, which nobody should follow. They may
/// be somebody's only copy, so they are named and left.
fn left_over(arguments: &Build, routine: &Routine) -> Vec<(PathBuf, &'static str)> {
    let with_cues = crews(routine);
    let without = Crew::ALL.into_iter().filter(|crew| !with_cues.contains(crew));
    let stem = stem(&arguments.file);
    let sheet = |crew: Crew| {
        let word = crew.word();
        (arguments.out.join(format!("{stem}-cues-{word}.txt")), word)
    };
    without.map(sheet).filter(|(path, _)| path.exists()).collect()
}

/// What the documents of a routine file are called after.
fn stem(file: &Path) -> String {
    file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}

/// Each document: its file name, its bytes and what it is.
fn documents(file: &Path, ready: &Ready) -> Vec<(String, Vec<u8>, String)> {
    let Ready { act, colours, .. } = ready;
    let stem = stem(file);
    let mut documents = Vec::new();
    let mut add = |end: &str, text: String, what: &str| {
        documents.push((format!("{stem}-{end}"), text.into_bytes(), what.to_owned()));
    };
    let drawn = strip::strip(act);
    add("strip.svg", drawn, "timing strip");
    add("overview.svg", strip::overview(act), "overview in one row");
    add("time.txt", timing_text::text(act, WIDTH), "timing sheet");
    add("time.json", timing_json::json(act), "timing sheet for programs");
    add("moves.txt", timing_text::moves_text(act, WIDTH), "list of moves");
    add("colours.txt", colours_text::text(act, colours, WIDTH), "colour sheet");
    let json = colours_json::json(act, colours);
    add("colours.json", json, "colour sheet for programs");
    add("cues.txt", cues_page::page(act, None), "cue sheet to print");
    let crews = crews(&act.routine);
    for crew in crews {
        let word = crew.word();
        let page = cues_page::page(act, Some(crew));
        add(&format!("cues-{word}.txt"), page, &format!("cue sheet of the {word} crew"));
    }
    add("cues-state.txt", state_text::text(act, WIDTH), "crews after each cue");
    add("cues.csv", cues_csv::csv(act, None), "cue sheet for spreadsheets");
    add("cues.json", cues_json::json(act, None), "cue sheet for programs");
    documents
}
