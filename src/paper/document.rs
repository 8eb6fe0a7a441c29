//! A document: parts of pages, and what stands on each page.

use std::collections::BTreeSet;

use crate::strip::millimetres::Mm;

use super::block::{Block, Mark};
use super::font::Fonts;

/// Pages that leave together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Document {
    /// What it is, for its window and its properties.
    pub title: String,
    /// Its parts, in order.
    pub parts: Vec<Part>,
}

/// The pages of one sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Part {
    /// What the sheet is, as in `cue sheet`.
    pub name: String,
    /// Its pages.
    pub pages: Vec<Page>,
    /// Whether a page and the next are the two sides of one sheet.
    pub two_sided: bool,
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Its width and height.
    pub(crate) size: (Mm, Mm),
    /// What it is, as in `Lantern Quay · cue sheet · issue 3 · page 1 of 2`.
    pub(crate) name: String,
    /// What stands on it, each with how far down it begins.
    pub(crate) blocks: Vec<(Mm, Block)>,
}

impl Page {
    /// One with nothing on it.
    pub(crate) fn empty(size: (Mm, Mm)) -> Page {
        Page { size, name: "left empty".to_owned(), blocks: Vec::new() }
    }
}

impl Document {
    /// A document of one part.
    #[must_use]
    pub fn of(title: String, part: Part) -> Document {
        Document { title, parts: vec![part] }
    }

    /// All its pages.
    pub fn pages(&self) -> impl Iterator<Item = &Page> {
        self.parts.iter().flat_map(|part| &part.pages)
    }

    /// The characters in it that no typeface has; they stand in a box with their code point.
    #[must_use]
    pub fn missing(&self, fonts: &Fonts) -> BTreeSet<char> {
        let blocks = self.pages().flat_map(|page| &page.blocks);
        let texts = blocks.flat_map(|(_, block)| block.marks()).filter_map(|mark| match mark {
            Mark::Words(words) => Some(words.text.as_str()),
            Mark::Drawing { svg, .. } => Some(svg.as_str()),
            Mark::Stroke { .. } | Mark::Filled { .. } => None,
        });
        fonts.missing(texts.flat_map(str::chars))
    }
}
