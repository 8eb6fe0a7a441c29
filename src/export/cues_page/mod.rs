//! The cue sheet as pages to print, on paper on its side, that say what the sheet in text says.
//!
//! The number of a cue is the largest in its row. Black on white throughout, so that it reads in a
//! dark booth and from a copy.

mod rows;

use crate::act::Act;
use crate::paper::{Document, Paper, Part, html};
use crate::routine::Crew;
use crate::sheet::cues::{CueSheet, compose};

use super::cue_words::{clock_line, what};
use super::paged::Paged;

/// The cue sheet of all crews, or of one, as one HTML file of A4 pages.
#[must_use]
pub fn page(act: &Act, crew: Option<Crew>) -> String {
    of_sheet(&compose(act, crew))
}

/// A composed cue sheet as one HTML file of A4 pages.
#[must_use]
pub fn of_sheet(sheet: &CueSheet) -> String {
    html(&document(sheet, &Paper::default()))
}

/// A composed cue sheet as a document.
#[must_use]
pub fn document(sheet: &CueSheet, paper: &Paper) -> Document {
    Document::of(sheet.heading.marked_line(&what(sheet)), pages(sheet, paper))
}

/// Its pages.
#[must_use]
pub fn pages(sheet: &CueSheet, paper: &Paper) -> Part {
    let size = paper.on_side();
    let (what, beneath) = (what(sheet), clock_line(sheet));
    let paged = Paged { paper, size, heading: &sheet.heading, what: &what, beneath: &beneath };
    let mut best = Part::default();
    for saves in rows::Saves::ALL {
        let rows::Rows { headings, blocks } = rows::rows(sheet, paper, saves);
        let part = paged.part(blocks, &headings);
        if best.pages.is_empty() || part.pages.len() < best.pages.len() {
            best = part;
        }
        // Of those with the fewest pages the one that is easiest to read, which comes first.
        if best.pages.len() == 1 {
            break;
        }
    }
    best
}
