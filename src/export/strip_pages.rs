//! The timing strip as pages to print.

use crate::act::Act;
use crate::paper::block::{Block, Role};
use crate::paper::{Page, Paper, Part};
use crate::strip::millimetres::Mm;
use crate::strip::pages as drawings;
use crate::strip::paper::PAGE;

/// The strip at arm's length: each page on its side.
#[must_use]
pub fn pages(act: &Act, paper: &Paper) -> Part {
    let size = paper.on_side();
    let pages = drawings(act).into_iter().map(|(svg, says)| {
        let scale = (size.0 / PAGE.0).min(size.1 / PAGE.1);
        let (wide, high) = (PAGE.0 * scale, PAGE.1 * scale);
        let corner = ((size.0 - wide) / 2.0, (size.1 - high) / 2.0);
        let mut block = Block::of(paper, Role::Picture(says.clone()));
        block.drawing(corner, (corner.0 + wide, corner.1 + high), svg);
        Page { size, name: says, blocks: vec![(Mm(0.0), block)] }
    });
    Part { name: "timing strip".to_owned(), pages: pages.collect() }
}
