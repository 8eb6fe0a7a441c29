//! The list of moves as pages to print, for a contest's desk.

use crate::act::Act;
use crate::paper::block::{Block, Role, SMALL, bold, plain, stroke};
use crate::paper::{Paper, Part};
use crate::sheet::moves::{MovesSheet, compose};
use crate::strip::millimetres::Mm;

use super::counts_text::{MOVE_COLUMNS, MOVE_WORDS, move_rows, move_rules};
use super::paged::{MARGIN, Paged};

/// White above the words of a row.
const PAD: Mm = Mm(1.6);
/// White between columns.
const GAP: Mm = Mm(3.0);
/// How wide each column is; the second and the third share what is left.
const WIDE: [Mm; 10] = [
    Mm(12.0),
    Mm(0.0),
    Mm(0.0),
    Mm(28.0),
    Mm(22.0),
    Mm(36.0),
    Mm(22.0),
    Mm(14.0),
    Mm(17.0),
    Mm(24.0),
];

/// The list of moves of an act, on paper on its side.
#[must_use]
pub fn pages(act: &Act, paper: &Paper) -> Part {
    of_sheet(&compose(act), paper)
}

/// A composed list of moves.
#[must_use]
pub fn of_sheet(sheet: &MovesSheet, paper: &Paper) -> Part {
    let size = paper.on_side();
    let what = "list of moves";
    let paged = Paged { paper, size, heading: &sheet.heading, what, beneath: "" };
    let room = size.0 - MARGIN * 2.0;
    let fixed = WIDE.iter().fold(Mm(0.0), |sum, wide| sum + *wide);
    let wide = |column: usize| match column {
        1 => (room - fixed) * 0.55,
        2 => (room - fixed) * 0.45,
        column => WIDE[column],
    };
    let row = |role: Role, cells: &[String], is_bold: bool| {
        let mut block = Block::of(paper, role);
        let mut x = MARGIN;
        for (column, words) in cells.iter().enumerate() {
            let of = if is_bold { bold(SMALL) } else { plain(SMALL) };
            block.cell(column).set((x, PAD), wide(column) - GAP, of, words);
            x += wide(column);
        }
        block.height += Mm(1.0);
        let rule = if is_bold { stroke::HEAVY } else { stroke::FINE };
        block.stroke((MARGIN, block.height), (size.0 - MARGIN, block.height), rule);
        block
    };
    let words =
        |words: &str| Block::text(paper, (MARGIN, PAD + Mm(1.0)), room, plain(SMALL), words);
    let names = MOVE_COLUMNS.map(|(_, name)| name.to_uppercase());
    let headings = row(Role::Headings, &names, true);
    let mut blocks: Vec<Block> =
        move_rows(sheet).map(|cells| row(Role::Row, &cells, false)).collect();
    if blocks.is_empty() {
        blocks.push(words("Nothing is juggled."));
    }
    blocks.extend(move_rules(sheet).map(|rule| words(&rule)));
    blocks.extend(MOVE_WORDS.map(words));
    paged.part(blocks, &headings)
}
