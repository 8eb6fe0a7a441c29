//! The tokens of a text that ron has read without a fault: enough to know where a value ends.
//!
//! It judges nothing: brackets match, texts are closed and escapes are good, because ron said so.
//! Blanks and comments stand between tokens. Places are bytes of the text that is taken apart.

use std::ops::Range;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A name.
    Word,
    /// A number, a text or a character.
    Plain,
    /// `(`, `[` or `{`.
    Open,
    /// `)`, `]` or `}`.
    Close,
    /// A comma.
    Comma,
    /// A colon.
    Colon,
}

/// A token and its bytes.
pub(super) type Token = (Kind, Range<usize>);

/// The tokens of a text, in order.
#[derive(Clone)]
pub(super) struct Tokens<'t> {
    text: &'t str,
    next: usize,
}

impl<'t> Tokens<'t> {
    /// The tokens of all of it.
    pub(super) fn new(text: &'t str) -> Tokens<'t> {
        Tokens { text, next: 0 }
    }

    fn rest(&self) -> &'t str {
        self.text.get(self.next..).unwrap_or_default()
    }

    fn skip_blanks(&mut self) {
        loop {
            let rest = self.rest();
            let after = rest.trim_start_matches(is_blank);
            self.next += rest.len() - after.len();
            self.next += match after.as_bytes() {
                [b'/', b'/', ..] => after.find('\n').unwrap_or(after.len()),
                [b'/', b'*', ..] => block_comment(after),
                _ => return,
            };
        }
    }
}

impl Iterator for Tokens<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        self.skip_blanks();
        let rest = self.rest();
        let first = rest.chars().next()?;
        let (kind, length) = match first {
            '(' | '[' | '{' => (Kind::Open, 1),
            ')' | ']' | '}' => (Kind::Close, 1),
            ',' => (Kind::Comma, 1),
            ':' => (Kind::Colon, 1),
            '"' => (Kind::Plain, escaped(rest, 1, '"')),
            '\'' => (Kind::Plain, character(rest, 1)),
            'r' | 'b' => prefixed(rest).unwrap_or_else(|| (Kind::Word, run(rest))),
            _ if first.is_alphabetic() || first == '_' => (Kind::Word, run(rest)),
            _ => (Kind::Plain, run(rest).max(first.len_utf8())),
        };
        let start = self.next;
        self.next += length;
        Some((kind, start..self.next))
    }
}

/// What ron takes for a blank.
fn is_blank(one: char) -> bool {
    matches!(one, ' ' | '\t' | '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}')
        || matches!(one, '\u{200e}' | '\u{200f}' | '\u{2028}' | '\u{2029}')
}

/// The length of a comment that may have comments in it.
fn block_comment(text: &str) -> usize {
    let bytes = text.as_bytes();
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(pair) = bytes.get(at..at + 2) {
        match pair {
            b"/*" => depth += 1,
            b"*/" => depth = depth.saturating_sub(1),
            _ => {
                at += 1;
                continue;
            }
        }
        at += 2;
        if depth == 0 {
            return at;
        }
    }
    text.len()
}

/// The length of a text with escapes, its first `from` bytes included.
fn escaped(text: &str, from: usize, close: char) -> usize {
    let mut letters = text.get(from..).unwrap_or_default().char_indices();
    while let Some((at, one)) = letters.next() {
        if one == '\\' {
            letters.next();
        } else if one == close {
            return from + at + one.len_utf8();
        }
    }
    text.len()
}

/// The length of a character in single quotation marks, its first `from` bytes included.
fn character(text: &str, from: usize) -> usize {
    // `'''` is the character `'`.
    if text.get(from..).is_some_and(|rest| rest.starts_with("''")) {
        return from + 2;
    }
    escaped(text, from, '\'')
}

/// The length of what begins with `r` or `b` and is no name.
fn prefixed(text: &str) -> Option<(Kind, usize)> {
    let byte = text.strip_prefix('b');
    let after = byte.unwrap_or(text);
    let marks = text.len() - after.len();
    if let Some(raw) = after.strip_prefix('r') {
        let hashes = raw.len() - raw.trim_start_matches('#').len();
        let inner = raw.get(hashes..)?.strip_prefix('"')?;
        let close = format!("\"{}", "#".repeat(hashes));
        let end = inner.find(&close).map_or(inner.len(), |end| end + close.len());
        return Some((Kind::Plain, marks + 1 + hashes + 1 + end));
    }
    match after.chars().next() {
        Some('"') => Some((Kind::Plain, escaped(text, marks + 1, '"'))),
        Some('\'') => Some((Kind::Plain, character(text, marks + 1))),
        _ => None,
    }
}

/// The length of a name or a number.
fn run(text: &str) -> usize {
    let ends = |one: char| {
        is_blank(one)
            || matches!(one, '(' | ')' | '[' | ']' | '{' | '}' | ',' | ':' | '"' | '\'' | '/')
    };
    text.find(ends).unwrap_or(text.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_to_write_a_token_ends_where_it_ends() {
        for token in [
            "word",
            "r#word",
            "räsch",
            "-1.5e3",
            "0x1F",
            "\"a\\\"b\"",
            "\"\\\\\"",
            "r\"\\\"",
            "r#\"a\"b\"#",
            "b\"a\\\"\"",
            "br##\"\"#\"##",
            "'a'",
            "'\\''",
            "'\"'",
            "'''",
            "b'x'",
        ] {
            for (before, after) in [("", ""), ("/* \" /* */ */ ", " // '\n, x"), ("(", ")")] {
                let text = format!("{before}{token}{after}");
                let found: Vec<&str> = Tokens::new(&text).map(|(_, at)| &text[at]).collect();
                assert!(found.contains(&token), "{text}: {found:?}");
            }
        }
    }
}
