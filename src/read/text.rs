//! Strings of the file, and where each of their characters stands.

use crate::diagnostic::{Place, Placed};

use super::raw::Raw;
use super::reader::Reader;

/// The most characters of a title or a name.
const LONGEST_NAME: usize = 200;

/// The most characters of a longer text.
const LONGEST_TEXT: usize = 2_000;

/// A string that is not empty: a title or a name.
pub(super) fn text<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<String>> {
    up_to(reader, raw, LONGEST_NAME, "A title or a name")
}

/// The same of what is done, said, seen or heard, which may be some sentences.
pub(super) fn sentences<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<String>> {
    up_to(reader, raw, LONGEST_TEXT, "A text")
}

fn up_to<'a>(reader: &mut Reader, raw: Raw<'a>, most: usize, what: &str) -> Option<Placed<String>> {
    let text = any_text(reader, raw)?;
    if text.value.trim().is_empty() {
        reader.error("empty-text", raw.place(), "Something must be written here.");
        return None;
    }
    let has = text.value.chars().count();
    if has > most {
        let message = format!("{what} has at most {most} characters; this has {has}.");
        reader.error("text-too-long", raw.place(), message);
        return None;
    }
    Some(text)
}

/// A string that may be empty.
pub(super) fn any_text<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Placed<String>> {
    match raw.plain::<String>() {
        Some(text) => Some(raw.placed(text)),
        None => reader.shape(raw, "a text in quotation marks"),
    }
}

/// The place in the file of each character of a string, in order. One place for all of them
/// where the string cannot be followed.
pub(super) fn characters(raw: Raw<'_>, text: &str) -> Vec<Place> {
    let count = text.chars().count();
    match places(raw) {
        Some(places) if places.len() == count => places,
        _ => vec![raw.place(); count],
    }
}

/// Follows a string from its opening to its closing quotation mark.
fn places(raw: Raw<'_>) -> Option<Vec<Place>> {
    if let Some(after) = raw.text.strip_prefix('r') {
        let hashes = after.len() - after.trim_start_matches('#').len();
        let open = 1 + hashes + 1;
        let inner = raw.text.get(open..raw.text.len().checked_sub(hashes + 1)?)?;
        let place = |(at, character): (usize, char)| {
            let start = raw.start + open + at;
            Place { start, end: start + character.len_utf8() }
        };
        return Some(inner.char_indices().map(place).collect());
    }
    let inner = raw.text.strip_prefix('"')?.strip_suffix('"')?;
    let first = raw.start + 1;
    let mut places = Vec::new();
    let mut at = 0;
    while let Some(rest) = inner.get(at..).filter(|rest| !rest.is_empty()) {
        let length = match rest.strip_prefix('\\') {
            None => rest.chars().next()?.len_utf8(),
            Some(escape) if escape.starts_with(['\n', '\r']) => {
                // A line that is continued: the line end and the blanks after it write nothing.
                at += rest.len() - escape.trim_start_matches([' ', '\t', '\n', '\r']).len();
                continue;
            }
            Some(escape) if escape.starts_with('u') => 1 + escape.find('}')? + 1,
            Some(escape) if escape.starts_with('x') => byte_escapes(rest)?,
            Some(escape) => 1 + escape.chars().next()?.len_utf8(),
        };
        places.push(Place { start: first + at, end: first + at + length });
        at += length;
    }
    Some(places)
}

/// The length of the `\x…` that write one character: as many as its UTF-8 has bytes.
fn byte_escapes(rest: &str) -> Option<usize> {
    let lead = u8::from_str_radix(rest.get(2..4)?, 16).ok()?;
    let bytes = match lead {
        0..0x80 => 1,
        0x80..0xe0 => 2,
        0xe0..0xf0 => 3,
        0xf0.. => 4,
    };
    Some(bytes * 4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_character_of_a_string_has_its_bytes_in_the_file() {
        for (written, pieces) in [
            (r#""531""#, vec!["5", "3", "1"]),
            (r#""5\n3\u{31}""#, vec!["5", r"\n", "3", r"\u{31}"]),
            (r#""é\"\\\x35\xc3\xa9z""#, vec!["é", "\\\"", r"\\", r"\x35", r"\xc3\xa9", "z"]),
            ("r##\"5\"#3\"##", vec!["5", "\"", "#", "3"]),
            ("r\"\"", vec![]),
            ("\"5\\\n   3\"", vec!["5", "3"]),
            ("\"5\\\r\n 3\"", vec!["5", "3"]),
        ] {
            let file = format!("  {written}");
            let raw = Raw { text: &file[2..], start: 2 };
            let text: String = raw.plain().unwrap();
            let places = characters(raw, &text);
            let found: Vec<&str> =
                places.iter().map(|place| &file[place.start..place.end]).collect();
            assert_eq!(found, pieces, "{written}");
        }
    }
}
