//! A value of the file that is not understood yet: its text, and where it stands.
//!
//! ron checks the whole text once ([`Raw::root`]); from then on every value is a slice of it, so
//! its place is known, and is taken apart one level at a time: into a word and what follows it,
//! fields, items, entries or a plain value. `None` means that the value has another shape, never
//! that the text is broken. Nothing here knows what a routine is. Places are bytes of the text.

use std::fmt;

use ron::Deserializer;
use ron::error::SpannedError;
use ron::extensions::Extensions;
use ron::value::RawValue;
use serde::Deserialize;
use serde::de::{Deserializer as _, IgnoredAny, MapAccess, SeqAccess, Visitor};

use crate::diagnostic::{Place, Placed};

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

    /// A part of this value.
    fn part(&self, text: &'a str) -> Raw<'a> {
        // Parts are slices of this value's text, so the distance of their addresses is a number
        // of bytes; one that were not would be placed at the value's start.
        let into = (text.as_ptr() as usize).checked_sub(self.text.as_ptr() as usize);
        let into = into.filter(|&into| into + text.len() <= self.text.len());
        Raw { text, start: self.start + into.unwrap_or(0) }
    }

    /// A part that ron cut out, without the comments that it may have left around it.
    fn part_of(&self, value: &'a RawValue) -> Raw<'a> {
        let text = value.get_ron();
        let commented = text.contains("//") || text.contains("/*");
        self.part(if commented { value.trim().get_ron() } else { text })
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
        let mut value = Deserializer::from_str(self.text).ok()?;
        let word = value.deserialize_identifier(BorrowedText).ok()?;
        let placed = self.part(word).placed(word);
        let rest = value.remainder();
        let blanks = Deserializer::from_str(rest).ok()?;
        Some((placed, self.part(blanks.remainder())))
    }

    /// Whether there is nothing.
    pub(super) fn is_blank(&self) -> bool {
        self.text.is_empty()
    }

    /// The fields of `(name: value, …)`.
    pub(super) fn fields(&self) -> Option<Vec<(Placed<&'a str>, Raw<'a>)>> {
        let mut value = Deserializer::from_str(self.text).ok()?;
        let fields = value.deserialize_struct("", &[], Pairs(IdentifierKeys)).ok()?;
        let placed = |(name, value): (&'a str, &'a RawValue)| {
            (self.part(name).placed(name), self.part_of(value))
        };
        Some(fields.into_iter().map(placed).collect())
    }

    /// The items of `[value, …]`.
    pub(super) fn items(&self) -> Option<Vec<Raw<'a>>> {
        let mut value = Deserializer::from_str(self.text).ok()?;
        let items = value.deserialize_seq(Items).ok()?;
        Some(items.into_iter().map(|item| self.part_of(item)).collect())
    }

    /// The values of `(value, …)`.
    pub(super) fn arguments(&self) -> Option<Vec<Raw<'a>>> {
        let mut value = Deserializer::from_str(self.text).ok()?;
        let items = value.deserialize_tuple(0, Items).ok()?;
        Some(items.into_iter().map(|item| self.part_of(item)).collect())
    }

    /// The entries of `{key: value, …}`.
    pub(super) fn entries(&self) -> Option<Vec<(Raw<'a>, Raw<'a>)>> {
        let mut value = Deserializer::from_str(self.text).ok()?;
        let entries = value.deserialize_map(Pairs(ValueKeys)).ok()?;
        let placed =
            |(key, value): (&'a RawValue, &'a RawValue)| (self.part_of(key), self.part_of(value));
        Some(entries.into_iter().map(placed).collect())
    }

    /// A plain value, such as a number or a string, that is all there is.
    pub(super) fn plain<T: Deserialize<'a>>(&self) -> Option<T> {
        let mut value = Deserializer::from_str(self.text).ok()?;
        let plain = T::deserialize(&mut value).ok()?;
        value.end().ok()?;
        Some(plain)
    }
}

/// Takes a slice of the text as it is.
struct BorrowedText;

impl<'de> Visitor<'de> for BorrowedText {
    type Value = &'de str;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a word")
    }

    fn visit_borrowed_str<E>(self, word: &'de str) -> Result<&'de str, E> {
        Ok(word)
    }
}

/// Collects items.
struct Items;

impl<'de> Visitor<'de> for Items {
    type Value = Vec<&'de RawValue>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("values")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut access: A) -> Result<Self::Value, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = access.next_element()? {
            items.push(item);
        }
        Ok(items)
    }
}

/// How the keys of pairs are written.
trait Keys<'de> {
    /// A key.
    type Key;
    /// Reads the next one.
    fn next<A: MapAccess<'de>>(access: &mut A) -> Result<Option<Self::Key>, A::Error>;
}

/// Names of fields.
struct IdentifierKeys;

impl<'de> Keys<'de> for IdentifierKeys {
    type Key = &'de str;

    fn next<A: MapAccess<'de>>(access: &mut A) -> Result<Option<&'de str>, A::Error> {
        access.next_key::<&str>()
    }
}

/// Any values.
struct ValueKeys;

impl<'de> Keys<'de> for ValueKeys {
    type Key = &'de RawValue;

    fn next<A: MapAccess<'de>>(access: &mut A) -> Result<Option<&'de RawValue>, A::Error> {
        access.next_key()
    }
}

/// Collects fields or entries.
struct Pairs<K>(K);

impl<'de, K: Keys<'de>> Visitor<'de> for Pairs<K> {
    type Value = Vec<(K::Key, &'de RawValue)>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("pairs")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Self::Value, A::Error> {
        let mut pairs = Vec::new();
        while let Some(key) = K::next(&mut access)? {
            pairs.push((key, access.next_value()?));
        }
        Ok(pairs)
    }
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
