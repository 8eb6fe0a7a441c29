//! The running order slip as a page to print: one line for the host.

use crate::act::Act;
use crate::paper::block::{Block, Role, SMALL, TITLE, bold, plain, stroke};
use crate::paper::{Paper, Part};
use crate::sheet::slip::{Slip, compose};
use crate::strip::millimetres::Mm;

use super::paged::{MARGIN, Paged};

/// White above the words of the line.
const PAD: Mm = Mm(2.5);
/// White between columns.
const GAP: Mm = Mm(4.0);
/// The parts of the room that title, length, intro and music have.
const SHARES: [f64; 4] = [0.24, 0.17, 0.36, 0.23];
/// How high the line is at least, so that there is room to write where something is left blank.
const LEAST: Mm = Mm(18.0);

/// The slip of an act, on paper on its side.
#[must_use]
pub fn pages(act: &Act, paper: &Paper) -> Part {
    of_sheet(&compose(act), paper)
}

/// A composed slip.
#[must_use]
pub fn of_sheet(slip: &Slip, paper: &Paper) -> Part {
    let size = paper.on_side();
    let what = "running order slip";
    let paged = Paged { paper, size, heading: &slip.heading, what, beneath: "" };
    let room = size.0 - MARGIN * 2.0;
    let line = |role: Role, cells: [(&str, bool); 4]| {
        let mut block = Block::of(paper, role.clone());
        let mut x = MARGIN;
        for (column, (words, is_bold)) in cells.into_iter().enumerate() {
            let wide = room * SHARES[column];
            let size = if role == Role::Headings { SMALL } else { TITLE };
            let of = if is_bold { bold(size) } else { plain(size) };
            block.cell(column);
            match words.is_empty() {
                // Room to write.
                true => block.stroke((x, Mm(14.0)), (x + wide - GAP, Mm(14.0)), stroke::FINE),
                false => {
                    block.set((x, PAD), wide - GAP, of, words);
                }
            }
            x += wide;
        }
        block
    };
    let mut headings =
        line(Role::Headings, ["ACT", "LENGTH", "THE HOST SAYS", "MUSIC"].map(|name| (name, true)));
    headings.height += Mm(1.0);
    let y = headings.height;
    headings.stroke((MARGIN, y), (size.0 - MARGIN, y), stroke::HEAVY);
    let (length, music) = (slip.length_words(), slip.music_words().unwrap_or_default());
    let intro = slip.intro.as_deref().unwrap_or_default();
    let cells =
        [(slip.heading.title.as_str(), true), (&length, true), (intro, false), (&music, false)];
    let mut row = line(Role::Row, cells);
    row.height = row.height.max(LEAST) + Mm(1.5);
    row.stroke((MARGIN, row.height), (size.0 - MARGIN, row.height), stroke::FINE);
    paged.part(vec![row], &headings)
}
