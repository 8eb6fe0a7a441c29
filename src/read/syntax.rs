//! What stops ron from reading a text at all, in words of a routine file.

use ron::error::{Error, Position, SpannedError};

use crate::diagnostic::{Diagnostic, Place};

/// The one diagnostic of a text that is no RON.
pub(super) fn fault(error: &SpannedError, text: &str) -> Diagnostic {
    let (one, other) = (byte_of(&error.span.start, text), byte_of(&error.span.end, text));
    let (start, end) = (one.min(other), one.max(other));
    // ron's span may run from its last step over blanks to where it stopped: what matters is
    // where it stopped.
    let at = match error.code {
        Error::Eof | Error::ExpectedStringEnd | Error::UnclosedBlockComment => (start, end),
        _ => (end, next_character(text, end)),
    };
    let place = Place { start: at.0, end: at.1 };
    if text.trim().is_empty() {
        return Diagnostic::error("syntax", place, "The file is empty.")
            .help("`throwbook new FILE` writes a routine to start from.");
    }
    let mut diagnostic =
        Diagnostic::error("syntax", place, sentence(&error.code)).label(label(&error.code));
    let (open, inside) = open_bracket(text.get(..at.0).unwrap_or_default());
    // The routine's own bracket is open all the time.
    if let Some(open) = open.filter(|_| inside > 0 || error.code == Error::Eof) {
        let place = Place { start: open, end: open + 1 };
        diagnostic =
            diagnostic.note_at(place, "This bracket is still open there; is it meant to be?");
    }
    match help(&error.code) {
        Some(help) => diagnostic.help(help),
        None => diagnostic,
    }
}

/// The innermost bracket that is open at the end of a text, and in how many others it stands;
/// texts and comments are passed over.
fn open_bracket(text: &str) -> (Option<usize>, usize) {
    let bytes = text.as_bytes();
    let mut open = Vec::new();
    let mut at = 0;
    while let Some(&byte) = bytes.get(at) {
        let rest = text.get(at..).unwrap_or_default();
        match byte {
            b'(' | b'[' | b'{' => open.push(at),
            b')' | b']' | b'}' => {
                open.pop();
            }
            b'"' => {
                at += 1;
                while let Some(&within) = bytes.get(at).filter(|&&within| within != b'"') {
                    at += if within == b'\\' { 2 } else { 1 };
                }
            }
            b'/' if rest.starts_with("//") => at += rest.find('\n').unwrap_or(rest.len()),
            b'/' if rest.starts_with("/*") => at += rest.find("*/").unwrap_or(rest.len()),
            _ => {}
        }
        at += 1;
    }
    let innermost = open.pop();
    (innermost, open.len())
}

/// The byte at which a line and a column in characters, both from 1, lie.
fn byte_of(position: &Position, text: &str) -> usize {
    let mut start = 0;
    for _ in 1..position.line {
        match text.get(start..).and_then(|rest| rest.find('\n')) {
            Some(line) => start += line + 1,
            None => return text.len(),
        }
    }
    let rest = text.get(start..).unwrap_or_default();
    let column = position.col.saturating_sub(1);
    rest.char_indices().nth(column).map_or(text.len(), |(byte, _)| start + byte)
}

fn next_character(text: &str, at: usize) -> usize {
    let next = text.get(at..).and_then(|rest| rest.chars().next());
    at + next.map_or(0, char::len_utf8)
}

fn sentence(error: &Error) -> String {
    match error {
        Error::Eof => "The file ends in the middle of something.".to_owned(),
        Error::ExpectedComma => "A comma is missing before this.".to_owned(),
        Error::ExpectedMapColon => "A colon is missing here, after the name.".to_owned(),
        Error::ExpectedArrayEnd => "A `]` or a comma is missing here.".to_owned(),
        Error::ExpectedMapEnd => "A `}` or a comma is missing here.".to_owned(),
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => {
            "A `)` or a comma is missing here.".to_owned()
        }
        Error::ExpectedStringEnd => {
            "The text that begins here has no closing quotation mark.".to_owned()
        }
        Error::UnclosedBlockComment => "The comment that begins here has no closing */.".to_owned(),
        Error::InvalidEscape(_) => {
            "This escape is none that a text can have: \\n, \\t, \\\", \\\\, \\u{…} are.".to_owned()
        }
        Error::TrailingCharacters => {
            "The routine is over, and something follows after its closing bracket.".to_owned()
        }
        Error::ExceededRecursionLimit => {
            "Brackets stand in brackets far deeper than in any routine.".to_owned()
        }
        Error::NoSuchExtension(name) => format!("RON has no extension `{name}`."),
        Error::UnexpectedChar(character) => {
            format!("The character `{}` cannot stand here.", character.escape_debug())
        }
        Error::SuggestRawIdentifier(word) | Error::InvalidIdentifier(word) => {
            format!("`{word}` is not a name: names have letters, digits and _ only.")
        }
        Error::IntegerOutOfBounds => "This number is too large.".to_owned(),
        other => {
            let text = other.to_string();
            let mut letters = text.chars();
            let first = letters.next().map(|first| first.to_lowercase().to_string());
            format!(
                "The text cannot be read here: {}{}.",
                first.unwrap_or_default(),
                letters.as_str().trim_end_matches('.')
            )
        }
    }
}

fn label(error: &Error) -> &'static str {
    match error {
        Error::Eof => "the end of the file",
        Error::ExpectedStringEnd | Error::UnclosedBlockComment => "not closed",
        _ => "reading stopped here",
    }
}

fn help(error: &Error) -> Option<&'static str> {
    match error {
        Error::Eof => Some("Look for a bracket or a quotation mark that is not closed."),
        Error::ExpectedStringEnd => Some("Write \" at the end of the text."),
        Error::UnexpectedChar('“' | '”' | '„') => {
            Some("Write straight quotation marks, \", around a text.")
        }
        _ => None,
    }
}
