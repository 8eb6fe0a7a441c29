//! `throwbook print`: one booklet of the sheets that are asked for.

use throwbook::export::{
    booklet, cards_page, cues_page, moves_page, slip_page, strip_pages, venue_page,
};
use throwbook::paper::{Document, Paper, Part, html};
use throwbook::routine::Crew;
use throwbook::sheet::cues::compose;

use super::arguments::{Print, SheetName};
use super::output::{Output, shown, write_whole};
use super::paper::{paper, say_missing};
use super::routine_file::{Ready, RoutineFile, UNSAFE};
use super::{Failure, Outcome};

/// Writes the booklet.
pub(crate) fn run(arguments: &Print, output: &mut Output) -> Result<Outcome, Failure> {
    let ending = arguments.output.extension().map(|ending| ending.to_ascii_lowercase());
    let is_page = ending.as_ref().is_some_and(|ending| ending == "html" || ending == "htm");
    if !is_page && ending.is_none_or(|ending| ending != "pdf") {
        return Err(Failure::new(format!(
            "{} ends neither in .pdf nor in .html, so it is not clear what to write",
            shown(&arguments.output)
        )));
    }
    let paper = paper(&arguments.paper)?;
    let file = RoutineFile::read(&arguments.file)?;
    let Some(ready) = file.draft(output) else {
        return Ok(Outcome::Faulty);
    };
    let mut parts = Vec::new();
    for &what in &arguments.what {
        if what == SheetName::Cues && ready.is_unsafe {
            output.complaint(&format!(
                "no cue sheet: {UNSAFE}. Nothing is written; --what venue,cards prints those two\n"
            ));
            return Ok(Outcome::Faulty);
        }
        parts.push(part(what, arguments.crew.map(Crew::from), &ready, &paper));
    }
    let document = booklet::document(&ready.act, parts, &paper);
    say_missing(&document.missing(&paper.fonts), output);
    let bytes = match is_page {
        true => html(&document).into_bytes(),
        false => pdf(&document, &paper)?,
    };
    write_whole(&arguments.output, &bytes)?;
    let pages = document.pages().count();
    let draft = if ready.act.errors > 0 { ", DRAFT" } else { "" };
    output.results(&format!(
        "wrote {}  ({}{draft})\n",
        shown(&arguments.output),
        throwbook::diagnostic::words::counted(pages, "page")
    ))?;
    Ok(ready.outcome())
}

fn part(what: SheetName, crew: Option<Crew>, ready: &Ready, paper: &Paper) -> Part {
    let act = &ready.act;
    match what {
        SheetName::Cues => cues_page::pages(&compose(act, crew), paper),
        SheetName::Strip => strip_pages::pages(act, paper),
        SheetName::Wall => strip_pages::wall(act, paper),
        SheetName::Cards => cards_page::pages(act, paper),
        SheetName::Venue => venue_page::pages(act, paper),
        SheetName::Moves => moves_page::pages(act, paper),
        SheetName::Slip => slip_page::pages(act, paper),
    }
}

/// Whether this program writes PDF.
pub(crate) const HAS_PDF: bool = cfg!(feature = "paper");

/// A document as PDF.
#[cfg(feature = "paper")]
pub(crate) fn pdf(document: &Document, paper: &Paper) -> Result<Vec<u8>, Failure> {
    throwbook::paper::pdf(document, &paper.fonts).map_err(Failure::new)
}

/// A document as PDF: this program was built without it.
#[cfg(not(feature = "paper"))]
pub(crate) fn pdf(_: &Document, _: &Paper) -> Result<Vec<u8>, Failure> {
    Err(Failure::new(
        "this throwbook was built without PDF; name a file that ends in .html, and print it from a \
         browser",
    ))
}
