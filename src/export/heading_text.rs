//! The head of a sheet for a terminal and for print.

use crate::sheet::heading::Heading;

use super::table::paragraph;

/// What every draft says of itself beside its mark.
const OF_A_DRAFT: &str = "What an error leaves unknown is left empty.";

/// What the sheet is; above that the mark of a draft.
pub(super) fn heading(heading: &Heading, what: &str, width: u16) -> String {
    draft(heading, width) + &paragraph(width, 0, &heading.line(what))
}

/// The mark of a draft; nothing where nothing is an error.
pub(super) fn draft(heading: &Heading, width: u16) -> String {
    let mark = heading.draft().map(|mark| paragraph(width, 0, &format!("{mark}. {OF_A_DRAFT}")));
    mark.unwrap_or_default()
}

/// A figure; nothing where it is not known.
pub(super) fn figure<T: ToString>(figure: Option<T>) -> String {
    figure.map(|figure| figure.to_string()).unwrap_or_default()
}
