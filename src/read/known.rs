//! What the reader knows, as it shows while a text is read: every field and word that it asks for,
//! and the bounds of its numbers. Tests hold the reference of the routine file against it.

use std::collections::{BTreeMap, BTreeSet};

use super::number::Between;
use super::reader::Form;

/// What was asked for while texts were read.
#[derive(Clone, Debug, Default)]
pub(crate) struct Known {
    /// Fields, by record.
    pub(crate) fields: BTreeMap<(&'static str, &'static str), Asked>,
    /// Words, by what they are, and whether they were written.
    pub(crate) words: BTreeMap<(String, &'static str), bool>,
    /// Least and most of numbers, by the field in which they stand.
    pub(crate) bounds: BTreeSet<(&'static str, &'static str, String, String)>,
    /// The fields that are being read, each inside the one before.
    open: Vec<(&'static str, &'static str)>,
}

/// How a field was asked for.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Asked {
    /// As one that must be there.
    pub(crate) is_needed: bool,
    /// As one that may be left out.
    pub(crate) is_open: bool,
    /// It was written.
    pub(crate) is_written: bool,
}

impl Known {
    pub(super) fn asked(&mut self, record: &'static str, field: &'static str, is_needed: bool) {
        let asked = self.fields.entry((record, field)).or_default();
        asked.is_needed |= is_needed;
        asked.is_open |= !is_needed;
    }

    /// This field is being read.
    pub(super) fn begin(&mut self, record: &'static str, field: &'static str) {
        self.fields.entry((record, field)).or_default().is_written = true;
        self.open.push((record, field));
    }

    /// The field that began last is read.
    pub(super) fn end(&mut self) {
        self.open.pop();
    }

    pub(super) fn word(&mut self, what: &str, written: Option<&str>, known: &[Form]) {
        for &(word, _) in known {
            let is_written = self.words.entry((what.to_owned(), word)).or_default();
            *is_written |= written == Some(word);
        }
    }

    pub(super) fn bounds(&mut self, bounds: &Between) {
        if let Some(&(record, field)) = self.open.last() {
            self.bounds.insert((record, field, bounds.least.to_string(), bounds.most.to_string()));
        }
    }
}

/// What is asked for while a routine file is read.
pub(crate) fn known(text: &str) -> Known {
    let mut reader = super::Reader::default();
    super::file(&mut reader, text);
    reader.known
}
