//! The reference holds what the reader knows, no more and no less, and its examples compile.

use std::collections::BTreeSet;

use super::{Entry, Field, RECORDS, Record, WORDS, called, entries, words};
use crate::explain::code;
use crate::read::known::{Known, known};

/// The fields of the routine into which fragments are put.
const BASE: [(&str, &str); 8] = [
    ("title", "\"Example\""),
    ("tempo", "PerMinute(200)"),
    ("colours", "{ \"coral\": \"#ec6a5c\", \"teal\": \"#0f8b8d\", \"pearl\": \"#f4f1e6\" }"),
    (
        "sets",
        "{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \"pearl\"]) }",
    ),
    (
        "music",
        "Track(file: \"quay.wav\", length: \"1:00\", starts: Start(\"walk on\"), \
         marks: { \"drum\": \"0:10\" }, \
         bars: [Bars(from: \"0:00\", bpm: 100, music_beats: 4, number: 1)])",
    ),
    ("score", ""),
    ("cues", "[Cue(crew: Sound, at: TrackStart, trigger: Called, does: \"play\")]"),
    ("zero", "FirstThrow"),
];

const TIDE: &str = "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(12)),";

/// An example as a whole routine.
fn whole(example: &str) -> String {
    if example.starts_with("Routine(") {
        return example.to_owned();
    }
    let is_of_score = example.starts_with("Juggle(") || example.starts_with("Pause(");
    let entries = if is_of_score { example } else { "" };
    let tide = if entries.contains("\"tide\"") { "" } else { TIDE };
    let score = format!(
        "[Pause(name: \"walk on\", lasts: For(\"0:05\")), {tide} {entries} \
         Pause(name: \"bow\", lasts: For(\"0:05\"))]"
    );
    let fields = if is_of_score { "" } else { example };
    // A field of the routine begins its line.
    let written = |name: &str| fields.lines().any(|line| line.starts_with(&format!("{name}:")));
    let mut text = format!("Routine(\n{fields}\n");
    for (name, value) in BASE.into_iter().filter(|(name, _)| !written(name)) {
        let is_alone = written("score") && !fields.contains("\"walk on\"");
        let is_music = name == "music" && (written("tracks") || is_alone);
        if is_music || (name == "cues" && is_alone) {
            continue;
        }
        let value = if name == "score" { &score } else { value };
        text += &format!("{name}: {value},\n");
    }
    text + ")"
}

/// Every example, and whose it is.
fn examples() -> Vec<(String, &'static str)> {
    let of = |entry: Entry| match entry {
        Entry::Record(record) => (entry.name(), record.example),
        Entry::Field(_, field) => (entry.name(), field.example),
        Entry::Words(words) => (entry.name(), words.example),
        Entry::Word(..) => (String::new(), ""),
    };
    entries().map(of).filter(|(_, example)| !example.is_empty()).collect()
}

/// What the reader asks for in all of the examples.
fn all_known() -> Known {
    let mut all = Known::default();
    for (_, example) in examples() {
        let one = known(&whole(example));
        for (field, asked) in one.fields {
            let entry = all.fields.entry(field).or_default();
            entry.is_needed |= asked.is_needed;
            entry.is_open |= asked.is_open;
            entry.is_written |= asked.is_written;
        }
        for (word, is_written) in one.words {
            *all.words.entry(word).or_default() |= is_written;
        }
        all.bounds.extend(one.bounds);
    }
    all
}

/// A row that disqualifies is a row.
fn record_name(name: &'static str) -> &'static str {
    if name == "Out" { "Grade" } else { name }
}

fn fields() -> impl Iterator<Item = (&'static Record, &'static Field)> {
    RECORDS.iter().flat_map(|record| record.fields.iter().map(move |field| (record, field)))
}

#[test]
fn every_example_compiles() {
    let wrong: Vec<String> = examples()
        .into_iter()
        .filter_map(|(name, example)| {
            let text = whole(example);
            let opened = crate::open(&text);
            let errors = opened.diagnostics.iter().map(ToString::to_string);
            (opened.finished().is_none())
                .then(|| format!("{name}: {:?}\n{text}", errors.collect::<Vec<_>>()))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn every_field_that_the_reader_knows_is_in_the_reference_and_no_other() {
    let known: BTreeSet<(&str, &str)> = all_known()
        .fields
        .into_keys()
        .map(|(record, field)| (record_name(record), field))
        .collect();
    let told: BTreeSet<(&str, &str)> =
        fields().map(|(record, field)| (record.name, field.name)).collect();
    assert_eq!(told.len(), fields().count(), "a field is told twice");
    assert_eq!(known.difference(&told).collect::<Vec<_>>(), [&("", ""); 0], "not told");
    assert_eq!(told.difference(&known).collect::<Vec<_>>(), [&("", ""); 0], "not known");
}

#[test]
fn a_field_is_told_as_needed_where_the_reader_needs_it() {
    for ((record, field), asked) in all_known().fields {
        let Some(Entry::Field(_, told)) =
            called(&format!("{}.{field}", record_name(record))).first().copied()
        else {
            panic!("{record}.{field}");
        };
        match told.left_out {
            None => assert!(asked.is_needed && !asked.is_open, "{record}.{field} may be left out"),
            Some(_) => assert!(asked.is_open, "{record}.{field} is needed"),
        }
    }
}

#[test]
fn every_word_that_the_reader_knows_is_in_the_reference_and_no_other() {
    let known = all_known().words;
    let told: BTreeSet<(String, &str)> = WORDS
        .iter()
        .flat_map(|list| list.words.iter().map(|word| (list.what.to_owned(), word.word)))
        .collect();
    let known_words: BTreeSet<(String, &str)> = known.keys().cloned().collect();
    let beyond = |all: &BTreeSet<(String, &str)>, others: &BTreeSet<(String, &str)>| {
        let own = all.difference(others).map(|(what, word)| format!("{word}, a {what}"));
        own.collect::<Vec<_>>()
    };
    assert_eq!(beyond(&known_words, &told), [""; 0], "not told");
    assert_eq!(beyond(&told, &known_words), [""; 0], "not known");
}

#[test]
fn every_field_and_every_word_is_written_in_an_example() {
    for (record, field) in fields() {
        let example = if field.example.is_empty() { record.example } else { field.example };
        let known = known(&whole(example));
        let mut asked = known
            .fields
            .iter()
            .filter(|((of, name), _)| record_name(of) == record.name && *name == field.name);
        let shown = asked.any(|(_, asked)| asked.is_written);
        assert!(shown, "no example has {}.{}", record.name, field.name);
    }
    let missing: Vec<_> = all_known().words.into_iter().filter(|(_, written)| !written).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn the_bounds_of_numbers_are_told_where_they_stand() {
    for (record, name, least, most) in all_known().bounds {
        let Some(Entry::Field(_, field)) =
            called(&format!("{}.{name}", record_name(record))).first().copied()
        else {
            panic!("{record}.{name}");
        };
        let mut said = field.written.to_owned();
        for list in field.words {
            let list = words(list).unwrap();
            said.extend(list.words.iter().map(|word| format!(" {}", word.means)));
        }
        if said.contains("numbered as in `shows`") {
            continue;
        }
        let says = |bound: &str| {
            said.split(|letter: char| {
                !letter.is_ascii_alphanumeric() && letter != '.' && letter != '-'
            })
            .any(|part| part.trim_end_matches('.') == bound)
        };
        let is_told = |bound: &str| says(bound) || (bound == "86400" && said.contains("a day"));
        assert!(is_told(&most), "{record}.{name}: at most {most}: {said}");
        assert!(
            least.starts_with("-86400") || is_told(&least),
            "{record}.{name}: at least {least}: {said}"
        );
    }
}

#[test]
fn every_entry_is_told_in_sentences_and_names_only_what_there_is() {
    let is_sentence = |text: &str| {
        text.ends_with('.') && !text.contains("  ") && !text.starts_with(char::is_lowercase)
    };
    for record in RECORDS {
        assert!(is_sentence(record.about), "{}: {}", record.name, record.about);
    }
    for (record, field) in fields() {
        let name = format!("{}.{}", record.name, field.name);
        assert!(is_sentence(field.means), "{name}: {}", field.means);
        if let Some(left_out) = field.left_out {
            assert!(left_out.ends_with('.'), "{name}: {left_out}");
        }
        assert!(!field.written.ends_with('.'), "{name}: {}", field.written);
        for named in field.codes {
            assert!(code(named).is_some(), "{name}: {named}");
        }
        for list in field.words {
            assert!(words(list).is_some(), "{name}: {list}");
        }
    }
    for list in WORDS {
        let stands = fields().any(|(_, field)| field.words.contains(&list.what));
        assert!(stands, "`{}` stands nowhere", list.what);
        for word in list.words {
            assert!(is_sentence(word.means), "{}: {}", word.word, word.means);
        }
    }
}
