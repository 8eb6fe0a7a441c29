//! The timing strip as pages to print.

use crate::act::Act;
use crate::paper::block::{Block, Role};
use crate::paper::{Page, Paper, Part, Size};
use crate::strip::millimetres::Mm;
use crate::strip::pages as drawings;
use crate::strip::paper::PAGE;

/// The strip at arm's length: each page on its side.
#[must_use]
pub fn pages(act: &Act, paper: &Paper) -> Part {
    of_size(act, paper, paper.on_side(), "timing strip")
}

/// The strip for a wall, on A3 upright: twice as many rows on a page, as wide as at arm's length.
#[must_use]
pub fn wall(act: &Act, paper: &Paper) -> Part {
    let paper = Paper { size: Size::A3, ..paper.clone() };
    of_size(act, &paper, paper.upright(), "timing strip for a wall, A3")
}

/// The strip is drawn as wide as A4; on other paper it is scaled to its width, so Letter has its type
/// at 0.94 of its size.
fn of_size(act: &Act, paper: &Paper, size: (Mm, Mm), name: &str) -> Part {
    let scale = size.0 / PAGE.0;
    let pages = drawings(act, size.1 / scale).into_iter().map(|(svg, says)| {
        let mut block = Block::of(paper, Role::Picture(says.clone()));
        block.drawing((Mm(0.0), Mm(0.0)), size, svg);
        Page { size, name: says, blocks: vec![(Mm(0.0), block)] }
    });
    Part { name: name.to_owned(), pages: pages.collect(), two_sided: false }
}
