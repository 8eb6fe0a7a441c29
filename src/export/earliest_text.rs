//! What is said beside a file to rehearse by whose times hang on what is left open.

use crate::sheet::rehearsal::Media;

use super::table::paragraph;

/// That its times are the earliest; empty where they are certain.
#[must_use]
pub fn earliest(media: &Media, width: u16) -> String {
    media.earliest_words().map_or_else(String::new, |words| paragraph(width, 0, &words))
}
