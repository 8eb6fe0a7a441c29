//! Entries of the reference of the routine file, for people.

use crate::explain::reference::{Entry, Field, RECORDS, Record, Words, words};

use super::explain_text::example;
use super::table::{Column, NARROWEST, labelled, paragraph, table};

/// Columns before the lines of an example.
const INDENT: u16 = 4;

/// The longest list of words that stands in full beside a field.
const LONGEST: usize = 8;

/// The width of the labels.
const LABEL: u16 = 8;

/// Entries one after the other: those of one name.
#[must_use]
pub fn text(entries: &[Entry], width: u16) -> String {
    let told: Vec<String> = entries.iter().map(|entry| one(*entry, width)).collect();
    told.join("\n")
}

/// The records with their fields, one line or two each.
#[must_use]
pub fn list(width: u16) -> String {
    let mut text =
        "RECORDS OF THE ROUTINE FILE · say one, or a field: throwbook explain cue.trigger\n"
            .to_owned();
    for record in RECORDS {
        let fields: Vec<&str> = record.fields.iter().map(|field| field.name).collect();
        text += &labelled(width, 14, &record.path(), &fields.join(", "));
    }
    text
}

/// Whether a field must be written, in a word or two.
fn need(field: &Field) -> &'static str {
    if field.left_out.is_none() { "needed" } else { "may be left out" }
}

fn one(entry: Entry, width: u16) -> String {
    match entry {
        Entry::Record(record) => of_record(record, width),
        Entry::Field(record, field) => of_field(record, field, width),
        Entry::Words(list) => {
            let mut text = format!("{} · words\n\n", list.what);
            if !list.about.is_empty() {
                text += &format!("{}\n", paragraph(width, 0, list.about));
            }
            text += &of_words(list, width);
            text.push('\n');
            text += &labelled(width, LABEL, "in", &stands_in(list).join(", "));
            text + &of_example(list.example, width)
        }
        Entry::Word(list, word) => {
            let mut text = format!("{} · {}\n\n", word.word, list.what);
            text += &labelled(width, LABEL, "what", word.means);
            text += &labelled(width, LABEL, "written", word.written);
            text + &labelled(width, LABEL, "in", &stands_in(list).join(", "))
        }
    }
}

/// The fields that take these words.
pub(super) fn stands_in(list: &Words) -> Vec<String> {
    let takes = |field: &&Field| field.words.contains(&list.what);
    RECORDS
        .iter()
        .flat_map(|record| {
            let fields = record.fields.iter().filter(takes);
            fields.map(|field| Entry::Field(record, field).name())
        })
        .collect()
}

fn of_record(record: &'static Record, width: u16) -> String {
    let mut text = format!("{} · {}(…)\n\n", record.path(), record.name);
    text += &format!("{}\n", paragraph(width, 0, record.about));
    let columns = [(Column::Label, "field"), (Column::Words, ""), (Column::Words, "what it is")];
    let row = |field: &Field| {
        let need = if field.left_out.is_none() { "needed" } else { "" };
        vec![field.name.to_owned(), need.to_owned(), first_sentence(field.means).to_owned()]
    };
    text += &table(width, &columns, record.fields.iter().map(row));
    text + &of_example(record.example, width)
}

fn first_sentence(text: &str) -> &str {
    text.find(". ").map_or(text, |end| &text[..=end])
}

fn of_field(record: &'static Record, field: &'static Field, width: u16) -> String {
    let name = Entry::Field(record, field).name();
    let mut text = format!("{name} · {}\n\n", need(field));
    text += &labelled(width, LABEL, "what", field.means);
    text += &labelled(width, LABEL, "written", field.written);
    if let Some(left_out) = field.left_out {
        text += &labelled(width, LABEL, "left out", left_out);
    }
    if !field.codes.is_empty() {
        text += &labelled(width, LABEL, "faults", &field.codes.join(", "));
    }
    for list in field.words.iter().filter_map(|what| words(what)) {
        if list.words.len() > LONGEST {
            text += &labelled(width, LABEL, "see", &format!("throwbook explain {}", list.what));
        } else {
            text += &format!("\n{}", of_words(list, width));
        }
    }
    let shown = if field.example.is_empty() { record.example } else { field.example };
    text + &of_example(shown, width)
}

fn of_words(list: &Words, width: u16) -> String {
    let mut text = format!("{}\n", list.what.to_uppercase());
    for word in list.words {
        text += &paragraph(width, 0, word.written);
        text += &paragraph(width, INDENT, word.means);
    }
    text
}

fn of_example(text: &str, width: u16) -> String {
    if text.is_empty() {
        return String::new();
    }
    let room = usize::from(width.max(NARROWEST) - INDENT);
    format!("\nEXAMPLE\n{}", example(text, text, room))
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;
    use crate::explain::reference::{called, entries};

    #[test]
    fn a_field_a_record_and_a_word_are_told() {
        for name in ["cue.count", "within", "loading", "LastCatch"] {
            insta::assert_snapshot!(name, text(&called(name), 80));
        }
    }

    #[test]
    fn no_line_is_wider_than_80_columns() {
        for entry in entries() {
            let told = text(&[entry], 80);
            let widest = told.lines().max_by_key(|line| line.width()).unwrap_or_default();
            assert!(widest.width() <= 80, "{}: {widest}", entry.name());
        }
        assert!(list(80).lines().all(|line| line.width() <= 80), "{}", list(80));
    }
}
