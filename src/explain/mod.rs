//! What every code means: what is looked for, why, an example that raises it, the same one mended;
//! and in [`reference`](mod@reference) what every record, field and word of the routine file means.
//!
//! The checks explain their codes themselves, in [`crate::check`] and [`crate::issue`]. The codes
//! of the reader and of the notation are explained here, one file for a few topics.
//! `tests/explain` proves that every code that a message can have is explained.

macro_rules! act {
    ($score:literal) => {
        act!($score, "")
    };
    ($score:literal, $rest:literal) => {
        concat!(
            "Routine(\n    title: \"Example\",\n    tempo: PerMinute(200),\n",
            "    colours: { \"coral\": \"#ec6a5c\", \"teal\": \"#0f8b8d\", \"pearl\": \"#f4f1e6\" },\n",
            "    sets: { \"three\": Set(\n        kind: Ball, length: 0.072, ",
            "colours: [\"coral\", \"teal\", \"pearl\"],\n    ) },\n    score: [\n",
            $score,
            "    ],\n",
            $rest,
            ")\n"
        )
    };
}

mod fields;
mod file;
mod music;
mod names;
mod notation;
mod record;
pub mod reference;
mod score;
mod staging;

use std::collections::BTreeMap;

use crate::check;
use crate::diagnostic::{Beside, Explanation, Topic};
use crate::issue;
use crate::read::nearest::nearest;

use reference::Entry;

/// What lies beside the examples of the checks of music files.
const MUSIC: &[Beside] = &[
    Beside { file: "a-minute.wav", what: "a minute of music", text: None },
    Beside { file: "cut-off.wav", what: "a copy that breaks off after 20 seconds", text: None },
];

/// The codes that no check explains itself.
const OF_THE_READER: &[(Topic, &[Explanation])] = &[
    (Topic::File, file::FILE),
    (Topic::Fields, fields::FIELDS),
    (Topic::Names, names::NAMES),
    (Topic::Throws, notation::THROWS),
    (Topic::Multiplexes, notation::MULTIPLEXES),
    (Topic::Pairs, notation::PAIRS),
    (Topic::Patterns, score::PATTERNS),
    (Topic::Props, staging::PROPS),
    (Topic::Junctions, score::JUNCTIONS),
    (Topic::Arms, staging::ARMS),
    (Topic::Lengths, score::LENGTHS),
    (Topic::OpenLengths, score::OPEN_LENGTHS),
    (Topic::Colours, staging::COLOURS),
    (Topic::Music, music::MUSIC),
    (Topic::Limits, staging::LIMITS),
    (Topic::Issues, record::RECORDS),
    (Topic::Venue, staging::VENUE),
];

/// One code with its topic.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Explained {
    /// What it is about.
    pub topic: Topic,
    /// What it means.
    pub explanation: Explanation,
    /// The other codes of the topic.
    pub also: Vec<&'static str>,
}

/// Nothing is explained under that name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoSuchName {
    /// The name that was probably meant.
    pub nearest: Option<String>,
}

/// What is explained under a name: a code; or entries of the reference, each of that name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// A code of messages.
    Code(Explained),
    /// A record, fields, words.
    Reference(Vec<Entry>),
}

/// What a name means. Codes have small letters and hyphens; no record, field or word has the name
/// of one.
///
/// # Errors
/// Nothing has that name.
pub fn explain(name: &str) -> Result<Answer, NoSuchName> {
    if let Some(explained) = code(name) {
        return Ok(Answer::Code(explained));
    }
    let entries = reference::called(name);
    if !entries.is_empty() {
        return Ok(Answer::Reference(entries));
    }
    let codes = topics().into_values().flatten().map(|explained| explained.code.to_owned());
    let fields = reference::RECORDS.iter().flat_map(|record| record.fields);
    let names: Vec<String> = codes
        .chain(fields.map(|field| field.name.to_owned()))
        .chain(reference::entries().map(|entry| entry.name()))
        .collect();
    let near = nearest(name, names.iter().map(String::as_str));
    Err(NoSuchName { nearest: near.map(str::to_owned) })
}

/// Every code by topic, in the order of codes.
#[must_use]
pub fn topics() -> BTreeMap<Topic, Vec<Explanation>> {
    let mut topics: BTreeMap<Topic, Vec<Explanation>> = BTreeMap::new();
    for &(topic, explanations) in OF_THE_READER {
        topics.entry(topic).or_default().extend(explanations);
    }
    for &(topic, check) in check::CHECKS {
        let mut explanation = check.explanation();
        if topic == Topic::MusicFiles {
            explanation.beside = MUSIC;
        }
        topics.entry(topic).or_default().push(explanation);
    }
    topics.entry(Topic::Issues).or_default().extend(issue::CHECKS.iter().copied());
    for explanations in topics.values_mut() {
        explanations.sort_by_key(|explanation| explanation.code);
    }
    topics
}

/// What a code means; `None` where no message has it.
#[must_use]
pub fn code(code: &str) -> Option<Explained> {
    topics().into_iter().find_map(|(topic, explanations)| {
        let codes = explanations.iter().map(|one| one.code);
        let explanation = *explanations.iter().find(|one| one.code == code)?;
        let also = codes.filter(|other| *other != code).collect();
        Some(Explained { topic, explanation, also })
    })
}
