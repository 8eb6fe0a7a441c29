//! The cue sheet as pages to print: one file for a browser, each page a drawing on A4 on its side,
//! that says what the sheet in text says.
//!
//! The number of a cue is the largest in its row. Black on white throughout, so that it reads in a
//! dark booth and from a copy.

mod block;
mod rows;

use svg::Document;
use svg::node::element::{Style, Title};

use crate::act::Act;
use crate::routine::Crew;
use crate::sheet::cues::{CueSheet, compose};
use crate::strip::millimetres::Mm;
use crate::strip::paper::{MARGIN, PAGE};
use crate::strip::text::clean;

use super::cue_words::{clock_line, what};
use super::heading_text::mark_words;
use block::{Block, SMALL, TITLE, bold, pages, plain};

/// White above and below.
const EDGE: Mm = Mm(9.0);
/// Height of the foot of a page.
const FOOT: Mm = Mm(6.0);
/// The least that a page leaves to its rows, however long its head is.
const LEAST_ROOM: Mm = Mm(80.0);

/// The cue sheet of all crews, or of one, as pages.
#[must_use]
pub fn page(act: &Act, crew: Option<Crew>) -> String {
    of_sheet(&compose(act, crew))
}

/// A composed cue sheet as pages.
#[must_use]
pub fn of_sheet(sheet: &CueSheet) -> String {
    let head = head(sheet);
    let room = (PAGE.1 - EDGE * 2.0 - FOOT - head.height).max(LEAST_ROOM);
    let rows::Rows { headings, blocks } = rows::rows(sheet);
    let pages = pages(blocks, &headings, room);
    let of = pages.len();
    let draft = sheet.heading.draft().map(|mark| format!("{mark} · ")).unwrap_or_default();
    let line = clean(&(draft + &sheet.heading.line(&what(sheet))));
    let mut text = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n<title>{}</title>\n\
         <style>@page{{size:{}mm {}mm;margin:0}}body{{margin:0}}svg{{display:block;\
         break-after:page;break-inside:avoid}}svg:last-of-type{{break-after:auto}}</style>\n\
         </head>\n<body>\n",
        svg::node::Text::new(line.as_str()),
        PAGE.0,
        PAGE.1
    );
    for (index, page) in pages.iter().enumerate() {
        let place = format!("page {} of {of}", index + 1);
        let mut document = Document::new()
            .set("width", format!("{}mm", PAGE.0))
            .set("height", format!("{}mm", PAGE.1))
            .set("viewBox", format!("0 0 {} {}", PAGE.0, PAGE.1))
            .add(Title::new(format!("{line} · {place}")))
            .add(Style::new(STYLE))
            .add(head.draw(EDGE))
            .add(foot(sheet, &place).draw(PAGE.1 - EDGE - FOOT));
        let top = EDGE + head.height;
        document =
            page.iter().fold(document, |document, (y, block)| document.add(block.draw(top + *y)));
        text += &format!("{document}\n");
    }
    text + "</body>\n</html>\n"
}

/// Heavy and fine rules, the line through what was cut, black, the ground of a section, and white.
const STYLE: &str = "text{font-family:Inter,'Helvetica Neue',Helvetica,Arial,'Liberation Sans',\
                     sans-serif;fill:#000}.b{font-weight:700}.w{fill:#fff}.r{text-anchor:end}\
                     .K,.k,.s,.g{fill:none;stroke:#000}.K{stroke-width:.8}.k{stroke-width:.25}\
                     .s{stroke-width:.6}.g{stroke-width:1.4}.i{fill:#000}.z{fill:#e9e9e9}";

/// What stands at the top of every page: the mark of a draft or of changes, what the sheet is, and
/// its clock.
fn head(sheet: &CueSheet) -> Block {
    let room = PAGE.0 - MARGIN * 2.0;
    let mut head = Block::new();
    let mut y = Mm(0.0);
    if let Some(words) = mark_words(&sheet.heading) {
        let mark = sheet.heading.mark().unwrap_or_default();
        let rest = words.strip_prefix(&mark).unwrap_or(&words).trim_start_matches(['.', ' ']);
        let right = head.boxed((MARGIN, y + Mm(1.2)), bold(TITLE), &mark) + Mm(3.0);
        let below = head.set((right, y + Mm(1.2)), PAGE.0 - MARGIN - right, plain(SMALL), rest);
        y = head.height.max(below) + Mm(2.0);
    }
    y = head.set((MARGIN, y), room, bold(TITLE), &sheet.heading.line(&what(sheet))) + Mm(1.5);
    head.set((MARGIN, y), room, plain(SMALL), &clock_line(sheet));
    head.height += Mm(3.0);
    head
}

/// What stands at the foot of every page.
fn foot(sheet: &CueSheet, place: &str) -> Block {
    let mut foot = Block::new();
    let right = PAGE.0 - MARGIN;
    foot.stroke((MARGIN, Mm(1.0)), (right, Mm(1.0)), "k");
    foot.words(
        (right, Mm(5.5)),
        bold(SMALL),
        "r",
        format!("{} · {place}", sheet.heading.issue_words()),
    );
    let title = crate::strip::text::shorten(&sheet.heading.title, SMALL, false, Mm(180.0));
    foot.words((MARGIN, Mm(5.5)), plain(SMALL), "", title.unwrap_or_default());
    foot
}
