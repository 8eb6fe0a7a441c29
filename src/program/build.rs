//! `throwbook build`: all documents at once.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use throwbook::diagnostic::words::counted;
use throwbook::export::{
    booklet, cards_page, colours_json, colours_text, cues_csv, cues_json, cues_page, moves_page,
    slip_page, state_text, strip_pages, timing_json, timing_text, venue_page,
};
use throwbook::paper::{Paper, Part, html};
use throwbook::routine::Crew;
use throwbook::sheet::{colours, cues, moves, timing};
use throwbook::strip;

use super::arguments::Build;
use super::manifest::{Entry, Manifest, Stands};
use super::output::{Output, make_folder, shown, write_whole};
use super::paper::{paper, say_missing};
use super::print::{HAS_PDF, pdf};
use super::routine_file::{Ready, RoutineFile, UNSAFE, alone};
use super::{Failure, Outcome, rehearsal};

/// Columns of a timing sheet that is written to a file.
const WIDTH: u16 = 96;

/// A document: the end of its file's name, its bytes and what it is.
type Document = (String, Vec<u8>, String);

/// Writes all documents into a folder and says what it wrote. Of an act with errors nothing is
/// written, or drafts where they are asked for.
pub(crate) fn run(arguments: &Build, output: &mut Output) -> Result<Outcome, Failure> {
    // Two runs at once would leave documents of both.
    let _alone = alone(&arguments.file)?;
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.draft_explained(output) else {
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
    let paper = paper(&arguments.paper)?;
    let mut documents = documents(&ready);
    // The characters that no typeface has.
    let mut missing = BTreeSet::new();
    if ready.is_unsafe {
        output.complaint(&format!("no cue sheets: {UNSAFE}\n"));
    } else {
        let for_spreadsheet = arguments.for_spreadsheet;
        documents.extend(cue_sheets(&ready, for_spreadsheet, &paper, &mut missing)?);
    }
    let act = &ready.act;
    let sheets = [
        ("strip", strip_pages::pages(act, &paper)),
        ("wall", strip_pages::wall(act, &paper)),
        ("cards", cards_page::pages(act, &paper)),
        ("venue", venue_page::pages(act, &paper)),
        ("moves", moves_page::pages(act, &paper)),
        ("slip", slip_page::pages(act, &paper)),
    ];
    for (end, part) in sheets {
        documents.extend(printed(end, part, &ready, &paper, &mut missing)?);
    }
    say_missing(&missing, output);
    if is_draft {
        output.complaint("no click track, MIDI file or captions: they are never drafts\n");
    } else {
        let rehearsal = rehearsal::documents(&ready, output)?.into_iter();
        let owned =
            |(end, bytes, what): rehearsal::Document| (end.to_owned(), bytes, what.to_owned());
        documents.extend(rehearsal.map(owned));
    }
    make_folder(names.folder)?;
    names.sweep()?;
    let issue = ready.act.routine.issue;
    let path = |end: &str| if is_draft { names.draft(end) } else { names.document(end) };
    let manifest = Manifest {
        routine: file.file.entry(issue),
        draft: ready.act.errors,
        unissued_changes: ready.act.unissued,
        documents: documents
            .iter()
            .map(|(end, bytes, _)| Entry::of(&path(end), bytes, issue))
            .collect(),
    };
    say_changed(&names, &manifest, output)?;
    for (end, bytes, what) in &documents {
        let path = path(end);
        write_whole(&path, bytes).map_err(|failure| {
            let folder = shown(names.folder);
            Failure::new(format!(
                "{failure}; {folder} holds documents of two builds now: mend this and build again"
            ))
        })?;
        output.results(&format!("wrote {}  ({what})\n", shown(&path)))?;
    }
    let list = Manifest::path(names.folder, &names.stem);
    write_whole(&list, manifest.text().as_bytes())?;
    output.results(&format!("wrote {}  (what was written, for check --built)\n", shown(&list)))?;
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

    /// Takes away what runs that were killed left half-written.
    fn sweep(&self) -> Result<(), Failure> {
        let failed = |error: std::io::Error| Failure::with_file("read", self.folder, &error);
        for entry in fs::read_dir(self.folder).map_err(failed)? {
            let path = entry.map_err(failed)?.path();
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let of_this = name.strip_prefix(&format!(".{}-", self.stem));
            let is_stray =
                of_this.and_then(|rest| rest.rsplit_once('.')).is_some_and(|(end, process)| {
                    let end = end.replace("-draft.", ".");
                    let is_document = end == "build.json" || ends().any(|one| one == end);
                    is_document && process.parse::<u32>().is_ok()
                });
            if is_stray {
                fs::remove_file(&path)
                    .map_err(|error| Failure::with_file("remove", &path, &error))?;
            }
        }
        Ok(())
    }
}

/// The ends of the names of all documents.
fn ends() -> impl Iterator<Item = String> {
    let crews = Crew::ALL
        .into_iter()
        .flat_map(|crew| ["html", "pdf"].map(|ending| format!("cues-{}.{ending}", crew.word())));
    ENDS.into_iter().map(str::to_owned).chain(crews)
}

/// Says which documents were not what the last build wrote, and are written anew now.
fn say_changed(names: &Names<'_>, next: &Manifest, output: &Output) -> Result<(), Failure> {
    let last = Manifest::read(names.folder, &names.stem)?;
    for (path, stands) in last.map_or(Ok(Vec::new()), |last| last.off(names.folder))? {
        if stands == Stands::Changed
            && let Some(anew) = next.document(&path)
            && anew.stands(names.folder)? == Stands::Changed
        {
            let why = "was changed, or an earlier build was broken off; it is written anew";
            output.complaint(&format!("{} {why}\n", path.display()));
        }
    }
    Ok(())
}

/// Holds the documents of a routine in a folder against the last build, and that against the routine
/// as it is now; says what is off.
pub(crate) fn check_built(
    path: &Path,
    file: &RoutineFile,
    folder: &Path,
    says_what_is_fine: bool,
    output: &mut Output,
) -> Result<Outcome, Failure> {
    let names = Names { folder, stem: stem(path) };
    let Some(manifest) = Manifest::read(folder, &names.stem)? else {
        output.complaint(&format!(
            "{}: no build of {} was finished here; run `throwbook build` again\n",
            folder.display(),
            path.display()
        ));
        return Ok(Outcome::Faulty);
    };
    let mut off = Vec::new();
    for (document, stands) in manifest.off(folder)? {
        let how = match stands {
            Stands::Gone => "is gone",
            _ => {
                "is not what the last whole build wrote: it was changed, or a build was broken off"
            }
        };
        off.push(format!("{} {how}", document.display()));
    }
    let issue = manifest.routine.issue;
    if file.file.entry(issue) != manifest.routine {
        off.push(format!("{} has changed since this build", path.display()));
    }
    for end in ends() {
        for left in [names.document(&end), names.draft(&end)] {
            if manifest.document(&left).is_none() && left.exists() {
                off.push(format!("{} is left from an earlier build", left.display()));
            }
        }
    }
    for line in &off {
        output.complaint(&format!("{line}\n"));
    }
    if !off.is_empty() {
        output.complaint("build again before anybody works from this folder\n");
        return Ok(Outcome::Faulty);
    }
    let documents = counted(manifest.documents.len(), "document");
    let drafts = if manifest.draft > 0 { ", drafts" } else { "" };
    if says_what_is_fine {
        output.results(&format!(
            "{}: {documents} of issue {issue}{drafts}, all as the last build wrote them\n",
            shown(folder)
        ))?;
    }
    Ok(if manifest.draft > 0 { Outcome::Faulty } else { Outcome::Fine })
}

/// The ends of the names of all documents but the sheets of single crews.
const ENDS: [&str; 22] = [
    "cards.pdf",
    "venue.pdf",
    "moves.pdf",
    "slip.pdf",
    "strip.svg",
    "strip.pdf",
    "wall.pdf",
    "overview.svg",
    "time.txt",
    "time.json",
    "moves.txt",
    "colours.txt",
    "colours.json",
    "cues.html",
    "cues.pdf",
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
    for end in ends() {
        let end = end.as_str();
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
fn cue_sheets(
    ready: &Ready,
    for_spreadsheet: bool,
    paper: &Paper,
    missing: &mut BTreeSet<char>,
) -> Result<Vec<Document>, Failure> {
    let Ready { act, .. } = ready;
    let sheet = cues::compose(act, None);
    let mut documents = Vec::new();
    let crews = sheet.crews().into_iter().map(|crew| {
        let word = crew.word();
        (format!("cues-{word}"), format!("cue sheet of the {word} crew"), sheet.of_crew(crew))
    });
    let all = ("cues".to_owned(), "cue sheet".to_owned(), sheet.clone());
    for (end, what, sheet) in std::iter::once(all).chain(crews) {
        let pages = cues_page::document(&sheet, paper);
        missing.extend(pages.missing(&paper.fonts));
        let page = html(&pages).into_bytes();
        documents.push((format!("{end}.html"), page, format!("{what} for a browser")));
        if HAS_PDF {
            let bytes = pdf(&pages, paper)?;
            documents.push((format!("{end}.pdf"), bytes, format!("{what} to print")));
        }
    }
    let mut add = |end: &str, text: String, what: &str| {
        documents.push((end.to_owned(), text.into_bytes(), what.to_owned()));
    };
    add("cues-state.txt", state_text::of_sheet(&sheet, WIDTH), "crews after each cue");
    let csv = cues_csv::of_sheet(&sheet);
    let csv = if for_spreadsheet { cues_csv::for_spreadsheet(&csv) } else { csv };
    add("cues.csv", csv, "cue sheet for spreadsheets");
    add("cues.json", cues_json::of_sheet(&sheet), "cue sheet for programs");
    Ok(documents)
}

/// A sheet of an act to print; nothing where this program was built without PDF.
fn printed(
    end: &str,
    part: Part,
    ready: &Ready,
    paper: &Paper,
    missing: &mut BTreeSet<char>,
) -> Result<Option<Document>, Failure> {
    if !HAS_PDF {
        return Ok(None);
    }
    let what = format!("{} to print", part.name);
    let document = booklet::document(&ready.act, vec![part], paper);
    missing.extend(document.missing(&paper.fonts));
    Ok(Some((format!("{end}.pdf"), pdf(&document, paper)?, what)))
}
