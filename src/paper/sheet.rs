//! The paper that pages are made for.

use crate::strip::millimetres::Mm;

use super::block::Type;
use super::font::Fonts;

/// A size of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Size {
    /// 210 by 297 mm [published: ISO 216].
    #[default]
    A4,
    /// 297 by 420 mm [published: ISO 216], for a wall.
    A3,
    /// 8.5 by 11 inches, US Letter [published: ANSI/ASME Y14.1].
    Letter,
}

/// The paper that pages are made for, and the typefaces that they are set in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paper {
    /// Its size.
    pub size: Size,
    /// Its typefaces.
    pub fonts: Fonts,
    /// The date that stands at the foot of every page, as in `4 December 2026`; `None` for none.
    pub dated: Option<String>,
}

impl Paper {
    /// Paper of a size, with the typefaces that come with the program.
    #[must_use]
    pub fn new(size: Size) -> Paper {
        Paper { size, ..Paper::default() }
    }

    /// Its width and height upright.
    pub(crate) fn upright(&self) -> (Mm, Mm) {
        match self.size {
            Size::A4 => (Mm(210.0), Mm(297.0)),
            Size::A3 => (Mm(297.0), Mm(420.0)),
            Size::Letter => (Mm(215.9), Mm(279.4)),
        }
    }

    /// Its width and height on its side.
    pub(crate) fn on_side(&self) -> (Mm, Mm) {
        let (short, long) = self.upright();
        (long, short)
    }

    /// How wide a line of text runs.
    pub(crate) fn width(&self, words: &str, of: Type) -> Mm {
        of.width(&self.fonts, words)
    }

    /// The beginning of a text that fits into `room` on one line, with `…` where something is left
    /// out.
    pub(crate) fn shortened(&self, words: &str, of: Type, room: Mm) -> String {
        if self.width(words, of) <= room {
            return words.to_owned();
        }
        let mut short = words.to_owned();
        while short.pop().is_some() {
            let cut = format!("{}…", short.trim_end());
            if self.width(&cut, of) <= room {
                return cut;
            }
        }
        String::new()
    }
}
