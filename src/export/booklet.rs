//! Several sheets as one document, with a page in front that says where each begins.

use crate::act::Act;
use crate::paper::block::{Block, Role, WORDS, bold, plain};
use crate::paper::{Document, Page, Paper, Part};
use crate::sheet::heading::Heading;
use crate::strip::millimetres::Mm;

use super::paged::{MARGIN, Paged};

/// Columns of the number of a page.
const NUMBER: Mm = Mm(18.0);

/// The booklet; one sheet alone has no page in front.
#[must_use]
pub fn document(act: &Act, mut parts: Vec<Part>, paper: &Paper) -> Document {
    let heading = Heading::of(act);
    if let [only] = &parts[..] {
        return Document { title: heading.marked_line(&only.name), parts };
    }
    let size = paper.upright();
    let paged = Paged { paper, size, heading: &heading, what: "contents", beneath: "" };
    let mut headings = Block::of(paper, Role::Headings);
    headings.cell(0).set((MARGIN, Mm(0.5)), NUMBER, bold(WORDS), "PAGE");
    headings.cell(1).set((MARGIN + NUMBER, Mm(0.5)), size.0 - MARGIN, bold(WORDS), "SHEET");
    headings.height += Mm(2.0);
    let mut rows = Vec::new();
    let mut page = 2;
    let mut after_contents = false;
    for index in 0..parts.len() {
        // The front of a sheet of two sides stands on an odd page, or a printer puts another back
        // behind it.
        if parts[index].two_sided && page % 2 == 0 {
            match index.checked_sub(1).map(|before| &mut parts[before].pages) {
                Some(before) => {
                    let size = before.last().map_or(size, |page| page.size);
                    before.push(Page::empty(size));
                }
                None => after_contents = true,
            }
            page += 1;
        }
        let part = &parts[index];
        let mut row = Block::of(paper, Role::Row);
        row.cell(0).set((MARGIN, Mm(1.5)), NUMBER, bold(WORDS), &page.to_string());
        let room = size.0 - MARGIN * 2.0 - NUMBER;
        row.cell(1).set((MARGIN + NUMBER, Mm(1.5)), room, plain(WORDS), &part.name);
        row.height += Mm(1.5);
        rows.push(row);
        page += part.pages.len();
    }
    let mut contents = paged.part(rows, &headings);
    if after_contents {
        contents.pages.push(Page::empty(size));
    }
    let mut all = vec![contents];
    all.extend(parts);
    Document { title: heading.marked_line("contents"), parts: all }
}
