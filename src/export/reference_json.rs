//! Entries of the reference of the routine file, as JSON: a contract, read by other programs.

use serde::Serialize;

use crate::explain::reference::{Entry, Field, RECORDS, Record, Words};

use super::json::written;
use super::reference_text::stands_in;

#[derive(Serialize)]
struct Document<'a> {
    name: &'a str,
    records: Vec<OfRecord>,
    fields: Vec<OfField>,
    words: Vec<OfWords>,
}

/// A record with the names of its fields.
#[derive(Serialize)]
pub(super) struct OfRecord {
    record: &'static str,
    path: String,
    about: &'static str,
    fields: Vec<&'static str>,
    example: &'static str,
}

#[derive(Serialize)]
struct OfField {
    path: String,
    record: &'static str,
    field: &'static str,
    needed: bool,
    left_out: Option<&'static str>,
    written: &'static str,
    words: &'static [&'static str],
    means: &'static str,
    example: &'static str,
    codes: &'static [&'static str],
}

#[derive(Serialize)]
struct OfWords {
    what: &'static str,
    about: &'static str,
    words: Vec<OfWord>,
    stands_in: Vec<String>,
    example: &'static str,
}

#[derive(Serialize)]
struct OfWord {
    word: &'static str,
    written: &'static str,
    means: &'static str,
}

/// The entries of one name as a JSON object and a line end.
#[must_use]
pub fn json(name: &str, entries: &[Entry]) -> String {
    let mut document = Document { name, records: vec![], fields: vec![], words: vec![] };
    for entry in entries {
        match *entry {
            Entry::Record(record) => document.records.push(of_record(record)),
            Entry::Field(record, field) => document.fields.push(of_field(record, field)),
            Entry::Words(list) => document.words.push(of_words(list, None)),
            Entry::Word(list, word) => document.words.push(of_words(list, Some(word.word))),
        }
    }
    written(&document)
}

/// Every record.
pub(super) fn records() -> Vec<OfRecord> {
    RECORDS.iter().map(of_record).collect()
}

fn of_record(record: &Record) -> OfRecord {
    OfRecord {
        record: record.name,
        path: record.path(),
        about: record.about,
        fields: record.fields.iter().map(|field| field.name).collect(),
        example: record.example,
    }
}

fn of_field(record: &'static Record, field: &'static Field) -> OfField {
    OfField {
        path: Entry::Field(record, field).name(),
        record: record.name,
        field: field.name,
        needed: field.left_out.is_none(),
        left_out: field.left_out,
        written: field.written,
        words: field.words,
        means: field.means,
        example: if field.example.is_empty() { record.example } else { field.example },
        codes: field.codes,
    }
}

/// A list of words, or only the one whose name was given.
fn of_words(list: &Words, only: Option<&str>) -> OfWords {
    let asked = list.words.iter().filter(|word| only.is_none_or(|only| only == word.word));
    OfWords {
        what: list.what,
        about: list.about,
        words: asked
            .map(|one| OfWord { word: one.word, written: one.written, means: one.means })
            .collect(),
        stands_in: stands_in(list),
        example: list.example,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::explain::reference::called;

    #[test]
    fn the_fields_are_those_of_the_contract() {
        insta::assert_snapshot!(json("place", &called("place")));
        insta::assert_snapshot!(json("Ramp", &called("Ramp")));
    }
}
