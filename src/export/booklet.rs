//! Several sheets as one document, with a page in front that says where each begins.

use crate::act::Act;
use crate::paper::block::{Block, Role, WORDS, bold, plain};
use crate::paper::{Document, Paper, Part};
use crate::sheet::heading::Heading;
use crate::strip::millimetres::Mm;

use super::paged::{MARGIN, Paged};

/// Columns of the number of a page.
const NUMBER: Mm = Mm(18.0);

/// The booklet; one sheet alone has no page in front.
#[must_use]
pub fn document(act: &Act, parts: Vec<Part>, paper: &Paper) -> Document {
    let heading = Heading::of(act);
    if let [only] = &parts[..] {
        let draft = heading.draft().map(|mark| format!("{mark} · ")).unwrap_or_default();
        return Document { title: draft + &heading.line(&only.name), parts };
    }
    let size = paper.upright();
    let paged = Paged { paper, size, heading: &heading, what: "contents", beneath: "" };
    let mut headings = Block::of(paper, Role::Headings);
    headings.cell(0).set((MARGIN, Mm(0.5)), NUMBER, bold(WORDS), "PAGE");
    headings.cell(1).set((MARGIN + NUMBER, Mm(0.5)), size.0 - MARGIN, bold(WORDS), "SHEET");
    headings.height += Mm(2.0);
    let mut rows = Vec::new();
    let mut page = 2;
    for part in &parts {
        let mut row = Block::of(paper, Role::Row);
        row.cell(0).set((MARGIN, Mm(1.5)), NUMBER, bold(WORDS), &page.to_string());
        let room = size.0 - MARGIN * 2.0 - NUMBER;
        row.cell(1).set((MARGIN + NUMBER, Mm(1.5)), room, plain(WORDS), &part.name);
        row.height += Mm(1.5);
        rows.push(row);
        page += part.pages.len();
    }
    let title = paged.line();
    let mut all = vec![paged.part(rows, &headings)];
    all.extend(parts);
    Document { title, parts: all }
}
