//! The whole reference of the routine file as one page of Markdown.

use crate::explain::reference::{Entry, Field, RECORDS, Record, WORDS, Words};

/// The page, as it lies in `routines/REFERENCE.md`.
#[must_use]
pub fn page() -> String {
    let mut page = "# The routine file\n\n\
        Every record of the routine file, every field and every word. `throwbook explain NAME` \
        shows an entry of this page on the terminal: `throwbook explain cue.trigger`, `throwbook \
        explain lasts`, `throwbook explain moment`. This page is made from the same texts: \
        `throwbook explain --page`.\n\n"
        .to_owned();
    let records = RECORDS.iter().map(|record| link(&record.path(), &record.path()));
    page += &format!("Records: {}.\n\n", records.collect::<Vec<_>>().join(", "));
    let lists = WORDS.iter().map(|list| words_link(list.what));
    page += &format!("Words: {}.\n", lists.collect::<Vec<_>>().join(", "));
    for record in RECORDS {
        page += &of_record(record);
    }
    page += "\n## Words\n";
    for list in WORDS {
        page += &of_words(list);
    }
    page
}

/// A link to the words that are each this.
fn words_link(what: &str) -> String {
    link(what, &format!("words {what}"))
}

/// A link to a heading.
fn link(name: &str, heading: &str) -> String {
    let anchor = heading.replace(' ', "-").replace(['.', '\''], "");
    format!("[{name}](#{anchor})")
}

fn of_record(record: &'static Record) -> String {
    let mut text = format!("\n## {}\n\n`{}(…)`. {}\n", record.path(), record.name, record.about);
    text += &of_example(record.example);
    for field in record.fields {
        text += &of_field(record, field);
    }
    text
}

fn of_field(record: &'static Record, field: &'static Field) -> String {
    let mut text = format!("\n### {}\n\n{}\n\n", Entry::Field(record, field).name(), field.means);
    let lists: Vec<String> = field.words.iter().map(|what| words_link(what)).collect();
    let lists = if lists.is_empty() { String::new() } else { format!(" ({})", lists.join(", ")) };
    text += &format!("- Written: {}{lists}.\n", field.written);
    text += &match field.left_out {
        None => "- Needed.\n".to_owned(),
        Some(left_out) => format!("- Left out: {left_out}\n"),
    };
    if !field.codes.is_empty() {
        let codes: Vec<String> = field.codes.iter().map(|code| format!("`{code}`")).collect();
        text += &format!("- Faults: {}.\n", codes.join(", "));
    }
    text + &of_example(field.example)
}

fn of_words(list: &Words) -> String {
    let mut text = format!("\n### Words: {}\n\n", list.what);
    if !list.about.is_empty() {
        text += &format!("{}\n\n", list.about);
    }
    for word in list.words {
        let ways: Vec<String> = word.written.split(" or ").map(|way| format!("`{way}`")).collect();
        text += &format!("- {}: {}\n", ways.join(" or "), word.means);
    }
    text + &of_example(list.example)
}

fn of_example(example: &str) -> String {
    if example.is_empty() { String::new() } else { format!("\n```ron\n{example}\n```\n") }
}
