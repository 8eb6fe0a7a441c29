//! How ron itself cuts a value apart, to compare [`super::raw::Raw`] with.

use std::fmt;

use ron::Deserializer;
use ron::value::RawValue;
use serde::de::{Deserializer as _, MapAccess, SeqAccess, Visitor};

use super::raw::Raw;

/// Compares a value's parts, and theirs, with those that ron finds.
pub(super) fn compare(raw: Raw<'_>) {
    let text = raw.text;
    let read = || Deserializer::from_str(text).unwrap();
    let tuple = read().deserialize_tuple(0, Items).ok();
    assert_eq!(texts(raw.arguments()), tuple.map(trimmed), "({text})");
    let list = read().deserialize_seq(Items).ok();
    assert_eq!(texts(raw.items()), list.map(trimmed), "[{text}]");
    let map = read()
        .deserialize_map(Pairs(ValueKeys))
        .ok()
        .map(|pairs| trimmed(pairs.into_iter().flat_map(|(key, value)| [key, value]).collect()));
    let entries = raw.entries().map(|pairs| pairs.into_iter().flat_map(|(a, b)| [a, b]).collect());
    assert_eq!(texts(entries), map, "{{{text}}}");
    let fields = read().deserialize_struct("", &[], Pairs(IdentifierKeys)).ok().map(|pairs| {
        pairs.into_iter().map(|(key, value)| (key, value.trim().get_ron())).collect::<Vec<_>>()
    });
    let ours = raw.fields().map(|pairs| {
        pairs.into_iter().map(|(key, value)| (key.value, value.text)).collect::<Vec<_>>()
    });
    assert_eq!(ours, fields, "({text})");
    if let Some((_, rest)) = raw.word().filter(|(_, rest)| !rest.is_blank()) {
        compare(rest);
    }
    for part in parts(raw) {
        assert_eq!(part.text.as_ptr() as usize - text.as_ptr() as usize, part.start - raw.start);
        compare(part);
    }
}

fn parts(raw: Raw<'_>) -> Vec<Raw<'_>> {
    let entries = raw.entries().unwrap_or_default().into_iter().flat_map(|(a, b)| [a, b]);
    let fields = raw.fields().unwrap_or_default().into_iter().map(|(_, value)| value);
    let items = raw.items().or(raw.arguments()).unwrap_or_default();
    entries.chain(fields).chain(items).collect()
}

fn texts(parts: Option<Vec<Raw<'_>>>) -> Option<Vec<&str>> {
    parts.map(|parts| parts.into_iter().map(|part| part.text).collect())
}

fn trimmed(parts: Vec<&RawValue>) -> Vec<&str> {
    parts.into_iter().map(|part| part.trim().get_ron()).collect()
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
