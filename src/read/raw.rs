//! A value of the file that is not understood yet: its text, and where it stands.
//!
//! ron checks the whole text once ([`Raw::root`]); from then on every value is a slice of it, so
//! its place is known, and is taken apart one level at a time: into a word and what follows it,
//! fields, items and entries by their tokens, plain values by ron again. `None` means that the
//! value has another shape, never that the text is broken. ron could cut values out itself
//! (`RawValue`), but reads each of them several times over: three times the time for a whole file.
//! A test compares the two. Nothing here knows what a routine is. Places are bytes of the text.

use std::ops::Range;

use ron::Deserializer;
use ron::error::SpannedError;
use ron::extensions::Extensions;
use serde::Deserialize;
use serde::de::IgnoredAny;

use crate::diagnostic::{Place, Placed};

use super::token::{Kind, Tokens};

/// A value, without the blanks and comments around it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Raw<'a> {
    /// As written; valid RON.
    pub(super) text: &'a str,
    /// Its first byte in the file.
    pub(super) start: usize,
}

/// What a whole file is.
pub(super) struct Root<'a> {
    /// Its one value.
    pub(super) value: Raw<'a>,
    /// The extensions that it switches on.
    pub(super) extensions: Extensions,
}

impl<'a> Raw<'a> {
    /// The one value of a file.
    ///
    /// # Errors
    /// The first place at which the text is no RON.
    pub(super) fn root(text: &'a str) -> Result<Root<'a>, SpannedError> {
        let mut whole = Deserializer::from_str(text)?;
        let extensions = whole.extensions();
        let start = text.len() - whole.remainder().len();
        IgnoredAny::deserialize(&mut whole).map_err(|code| whole.span_error(code))?;
        let end = text.len() - whole.remainder().len();
        whole.end().map_err(|code| whole.span_error(code))?;
        let value = Raw { text: text.get(start..end).unwrap_or_default(), start };
        Ok(Root { value, extensions })
    }

    /// A part of this value, by its bytes in it.
    fn part(&self, at: Range<usize>) -> Raw<'a> {
        Raw { text: self.text.get(at.clone()).unwrap_or_default(), start: self.start + at.start }
    }

    /// Where it stands.
    pub(super) fn place(&self) -> Place {
        Place { start: self.start, end: self.start + self.text.len() }
    }

    /// Its first character, an opening bracket perhaps.
    pub(super) fn head(&self) -> Place {
        let first = self.text.chars().next().map_or(0, char::len_utf8);
        Place { start: self.start, end: self.start + first }
    }

    /// A value with its place.
    pub(super) fn placed<T>(&self, value: T) -> Placed<T> {
        Placed { value, at: self.place() }
    }

    /// The word that it begins with, and what follows the word, blank for a word alone.
    pub(super) fn word(&self) -> Option<(Placed<&'a str>, Raw<'a>)> {
        let mut tokens = Tokens::new(self.text);
        let Some((Kind::Word, word)) = tokens.next() else { return None };
        let rest = tokens.next().map_or(self.text.len(), |(_, at)| at.start);
        Some((name(self.part(word)), self.part(rest..self.text.len())))
    }

    /// Whether there is nothing.
    pub(super) fn is_blank(&self) -> bool {
        self.text.is_empty()
    }

    /// The fields of `(name: value, …)`.
    pub(super) fn fields(&self) -> Option<Vec<(Placed<&'a str>, Raw<'a>)>> {
        let field = |pair: (Raw<'a>, Option<Raw<'a>>)| {
            // A name that is all of what stands before the colon.
            let (_, rest) = pair.0.word()?;
            rest.is_blank().then_some((name(pair.0), pair.1?))
        };
        self.parts('(', ')')?.into_iter().map(field).collect()
    }

    /// The items of `[value, …]`.
    pub(super) fn items(&self) -> Option<Vec<Raw<'a>>> {
        Raw::single(self.parts('[', ']')?)
    }

    /// The values of `(value, …)`.
    pub(super) fn arguments(&self) -> Option<Vec<Raw<'a>>> {
        Raw::single(self.parts('(', ')')?)
    }

    /// The entries of `{key: value, …}`.
    pub(super) fn entries(&self) -> Option<Vec<(Raw<'a>, Raw<'a>)>> {
        self.parts('{', '}')?.into_iter().map(|(key, value)| Some((key, value?))).collect()
    }

    /// Parts that are no pairs.
    fn single(parts: Vec<(Raw<'a>, Option<Raw<'a>>)>) -> Option<Vec<Raw<'a>>> {
        parts.into_iter().map(|(value, pair)| pair.is_none().then_some(value)).collect()
    }

    /// What stands between two brackets, comma by comma: before a colon and after it, if it has
    /// one. `None` where this is not all in such brackets.
    fn parts(&self, open: char, close: char) -> Option<Vec<(Raw<'a>, Option<Raw<'a>>)>> {
        if !(self.text.starts_with(open) && self.text.ends_with(close)) {
            return None;
        }
        let mut parts = Vec::new();
        let mut depth = 0_usize;
        // The part that is being read, and what stood before its colon.
        let mut now: Option<Range<usize>> = None;
        let mut key: Option<Range<usize>> = None;
        for (kind, at) in Tokens::new(self.text) {
            match kind {
                Kind::Open if depth == 0 => {
                    depth = 1;
                    continue;
                }
                Kind::Open => depth += 1,
                Kind::Close => depth = depth.saturating_sub(1),
                Kind::Colon if depth == 1 && key.is_none() => {
                    key = now.take();
                    continue;
                }
                _ => {}
            }
            let over = depth == 0 || (depth == 1 && kind == Kind::Comma);
            if !over {
                now = Some(now.map_or(at.start, |now| now.start)..at.end);
                continue;
            }
            match (key.take(), now.take()) {
                (Some(key), Some(value)) => {
                    parts.push((self.part(key), Some(self.part(value))));
                }
                (None, Some(value)) => parts.push((self.part(value), None)),
                _ => {}
            }
        }
        Some(parts)
    }

    /// A plain value, such as a number or a string, that is all there is.
    pub(super) fn plain<T: Deserialize<'a>>(&self) -> Option<T> {
        let mut value = Deserializer::from_str(self.text).ok()?;
        let plain = T::deserialize(&mut value).ok()?;
        value.end().ok()?;
        Some(plain)
    }
}

/// A name; one that is written `r#name` without its mark.
fn name(raw: Raw<'_>) -> Placed<&str> {
    let plain = raw.text.strip_prefix("r#").unwrap_or(raw.text);
    let start = raw.start + raw.text.len() - plain.len();
    Raw { text: plain, start }.placed(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn root(text: &str) -> Raw<'_> {
        Raw::root(text).unwrap().value
    }

    #[test]
    fn every_part_knows_where_it_stands() {
        let text = "\r\n// before\r\nRoom /* odd */ (\r\n  a: /*x*/ [1, \"é\" /*y*/], r#b: {2: P(3,)} // z\r\n) // end";
        let (word, rest) = root(text).word().unwrap();
        assert_eq!(&text[word.at.start..word.at.end], "Room");
        let fields = rest.fields().unwrap();
        for ((name, value), (name_text, value_text)) in
            fields.iter().zip([("a", "[1, \"é\" /*y*/]"), ("b", "{2: P(3,)}")])
        {
            assert_eq!(&text[name.at.start..name.at.end], name_text);
            let at = value.place();
            assert_eq!(&text[at.start..at.end], value_text);
        }
        let items = fields[0].1.items().unwrap();
        assert_eq!(items.iter().map(|item| item.text).collect::<Vec<_>>(), ["1", "\"é\""]);
        assert_eq!(items[1].start, text.find("\"é").unwrap());
        let (key, value) = fields[1].1.entries().unwrap()[0];
        assert_eq!((key.text, value.text), ("2", "P(3,)"));
        let (_, rest) = value.word().unwrap();
        assert_eq!(rest.arguments().unwrap()[0].start, text.find("3,").unwrap());
    }

    #[test]
    fn another_shape_is_none_and_broken_text_is_an_error() {
        let value = root("A(1, 2)");
        assert!(value.fields().is_none() && value.items().is_none() && value.entries().is_none());
        assert!(value.word().unwrap().1.fields().is_none());
        assert!(root("[1]").word().is_none());
        assert_eq!(root("7").plain::<u32>(), Some(7));
        assert_eq!(root("7").plain::<String>(), None);
        for broken in ["", "A(", "A(a: )", "A() B()", "A(\"x)", &"[".repeat(100_000)] {
            assert!(Raw::root(broken).is_err(), "{broken:.10}");
        }
    }
}
