//! Pages: how marks stand on paper, and the two ways in which pages leave, HTML and PDF.
//!
//! A page is made of blocks, pieces that are not parted, in millimetres from its upper left corner.
//! Text is measured by the same shaping as it is set in, so a line that fits here fits everywhere.

pub(crate) mod block;
mod document;
#[cfg(feature = "paper")]
mod drawing;
mod font;
mod html;
pub(crate) mod lay;
#[cfg(feature = "paper")]
mod pdf;
mod sheet;

pub use document::{Document, Page, Part};
pub use font::Fonts;
pub use html::html;
#[cfg(feature = "paper")]
pub use pdf::pdf;
pub use sheet::{Paper, Size};
