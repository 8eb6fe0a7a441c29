//! The head of a sheet for a terminal and for print.

use crate::diagnostic::words::{either, sentence};
use crate::sheet::heading::{Heading, UNISSUED};

use super::table::paragraph;

/// What every draft says of itself beside its mark.
const OF_A_DRAFT: &str = "What an error leaves unknown is left empty.";

/// What the sheet is; above that the mark of a draft, or of changes that were not handed out.
pub(super) fn heading(heading: &Heading, what: &str, width: u16) -> String {
    mark(heading, width) + &paragraph(width, 0, &heading.line(what))
}

/// The mark of a draft, or of changes that were not handed out; nothing where it is neither.
pub(super) fn mark(heading: &Heading, width: u16) -> String {
    mark_words(heading).map_or_else(String::new, |words| paragraph(width, 0, &words))
}

/// The same as sentences.
pub(super) fn mark_words(heading: &Heading) -> Option<String> {
    let Some(mark) = heading.draft() else {
        let text = format!(
            "{UNISSUED}. This is not issue {} as it was handed out: raise `issue` in the routine \
             before anybody works from it.",
            heading.issue
        );
        return heading.is_unissued().then_some(text);
    };
    let mut text = format!("{mark}. {OF_A_DRAFT}");
    if !heading.missing.is_empty() {
        let missing: Vec<String> = heading.missing.iter().map(|&one| one.to_owned()).collect();
        let what = sentence(&either(&missing));
        let what = what.trim_end_matches('.');
        text += &format!(" {what} that could not be read may be missing here.");
    }
    Some(text)
}

/// A figure; nothing where it is not known.
pub(super) fn figure<T: ToString>(figure: Option<T>) -> String {
    figure.map(|figure| figure.to_string()).unwrap_or_default()
}
