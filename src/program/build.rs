//! `throwbook build`: all documents at once.

use std::path::{Path, PathBuf};

use throwbook::export::{
    colours_json, colours_text, cues_csv, cues_json, cues_page, state_text, timing_json,
    timing_text,
};
use throwbook::routine::Crew;
use throwbook::sheet::{colours, cues, moves, timing};
use throwbook::strip;

use super::arguments::Build;
use super::output::{Output, make_folder, write_whole};
use super::routine_file::{Ready, RoutineFile};
use super::{Failure, Outcome, rehearsal};

/// Columns of a timing sheet that is written to a file.
const WIDTH: u16 = 96;

/// A document: the end of its file's name, its bytes and what it is.
type Document = (String, Vec<u8>, String);

/// Writes all documents into a folder and says what it wrote. Of an act with errors nothing is
/// written, or drafts where they are asked for.
pub(crate) fn run(arguments: &Build, output: &mut Output) -> Result<Outcome, Failure> {
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.draft(output) else {
        return Ok(Outcome::Faulty);
    };
    let is_draft = ready.act.errors > 0;
    let names = Names { folder: &arguments.out, stem: stem(&arguments.file) };
    if is_draft && !arguments.draft {
        let said = "nothing is written of a routine with errors; --draft writes what is known\n";
        output.complaint(said);
        say_left_over(&names, &[], is_draft, output);
        return Ok(Outcome::Faulty);
    }
    // All are made before the first is written.
    let mut documents = documents(&ready);
    if ready.is_unsafe {
        output.complaint(
            "no cue sheets: fire or blades may be in the dark, and until the errors are mended \
             nobody can rule it out\n",
        );
    } else {
        documents.extend(cue_sheets(&ready, arguments.for_spreadsheet));
    }
    if is_draft {
        output.complaint("no click track, MIDI file or captions: they are never drafts\n");
    } else {
        let rehearsal = rehearsal::documents(&ready, output)?.into_iter();
        let owned =
            |(end, bytes, what): rehearsal::Document| (end.to_owned(), bytes, what.to_owned());
        documents.extend(rehearsal.map(owned));
    }
    make_folder(names.folder)?;
    for (end, bytes, what) in &documents {
        let path = if is_draft { names.draft(end) } else { names.document(end) };
        write_whole(&path, bytes)?;
        output.results(&format!("wrote {}  ({what})\n", path.display()))?;
    }
    say_left_over(&names, &documents, is_draft, output);
    Ok(ready.outcome())
}

/// What the documents of a routine are called.
struct Names<'a> {
    folder: &'a Path,
    /// The name of the routine file without its ending.
    stem: String,
}

impl Names<'_> {
    /// A document, as in `act-time.txt`.
    fn document(&self, end: &str) -> PathBuf {
        self.folder.join(format!("{}-{end}", self.stem))
    }

    /// The same as a draft, which never stands in the place of what is final: `act-time-draft.txt`.
    fn draft(&self, end: &str) -> PathBuf {
        let (name, ending) = end.rsplit_once('.').unwrap_or((end, ""));
        self.folder.join(format!("{}-{name}-draft.{ending}", self.stem))
    }
}

/// The ends of the names of all documents but the sheets of single crews.
const ENDS: [&str; 15] = [
    "strip.svg",
    "overview.svg",
    "time.txt",
    "time.json",
    "moves.txt",
    "colours.txt",
    "colours.json",
    "cues.html",
    "cues-state.txt",
    "cues.csv",
    "cues.json",
    "click.wav",
    "act.mid",
    "captions.vtt",
    "captions.srt",
];

/// Says what in the folder nobody should follow any more: documents of an earlier build that this
/// one does not make again, and drafts of what is final. They may be somebody's only copy, so they
/// are named and left.
fn say_left_over(names: &Names<'_>, written: &[Document], is_draft: bool, output: &Output) {
    let left = |path: PathBuf, why: &str| {
        if path.exists() {
            output.complaint(&format!("{} is left from {why}\n", path.display()));
        }
    };
    let crews = Crew::ALL.map(|crew| format!("cues-{}.html", crew.word()));
    for end in ENDS.into_iter().chain(crews.iter().map(String::as_str)) {
        let is_written = written.iter().any(|(of, ..)| of == end);
        if is_draft {
            let why = "an earlier build: the routine has errors now, so do not follow it";
            left(names.document(end), why);
        } else if is_written {
            left(names.draft(end), "a draft: what is written now is final");
        } else {
            left(names.document(end), "an earlier build: the routine has nothing for it any more");
        }
    }
}

/// What the documents of a routine file are called after.
fn stem(file: &Path) -> String {
    file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}

/// The documents of an act but for its cue sheets, each from a sheet that is composed once.
fn documents(ready: &Ready) -> Vec<Document> {
    let Ready { act, colours, .. } = ready;
    let (timing, moves) = (timing::compose(act), moves::compose(act));
    let colours = colours::compose(act, colours);
    [
        ("strip.svg", strip::strip(act), "timing strip"),
        ("overview.svg", strip::overview(act), "overview in one row"),
        ("time.txt", timing_text::of_sheet(&timing, WIDTH), "timing sheet"),
        ("time.json", timing_json::of_sheet(&timing), "timing sheet for programs"),
        ("moves.txt", timing_text::of_moves(&moves, WIDTH), "list of moves"),
        ("colours.txt", colours_text::of_sheet(&colours, WIDTH), "colour sheet"),
        ("colours.json", colours_json::of_sheet(&colours), "colour sheet for programs"),
    ]
    .map(|(end, text, what)| (end.to_owned(), text.into_bytes(), what.to_owned()))
    .into()
}

/// The cue sheets, from one that is composed once.
fn cue_sheets(ready: &Ready, for_spreadsheet: bool) -> Vec<Document> {
    let Ready { act, .. } = ready;
    let sheet = cues::compose(act, None);
    let mut documents = Vec::new();
    let mut add = |end: &str, text: String, what: &str| {
        documents.push((end.to_owned(), text.into_bytes(), what.to_owned()));
    };
    add("cues.html", cues_page::of_sheet(&sheet), "cue sheet to print");
    for crew in sheet.crews() {
        let word = crew.word();
        let page = cues_page::of_sheet(&sheet.of_crew(crew));
        add(&format!("cues-{word}.html"), page, &format!("cue sheet of the {word} crew"));
    }
    add("cues-state.txt", state_text::of_sheet(&sheet, WIDTH), "crews after each cue");
    let csv = cues_csv::of_sheet(&sheet);
    let csv = if for_spreadsheet { cues_csv::for_spreadsheet(&csv) } else { csv };
    add("cues.csv", csv, "cue sheet for spreadsheets");
    add("cues.json", cues_json::of_sheet(&sheet), "cue sheet for programs");
    documents
}
