//! What every code means: what is looked for, why, an example that raises it, the same one mended.
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
mod score;
mod staging;

use std::collections::BTreeMap;

use crate::check;
use crate::diagnostic::{Beside, Explanation, Topic};
use crate::issue;
use crate::read::nearest::nearest;

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

/// There is no such code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoSuchCode {
    /// The code that was probably meant.
    pub nearest: Option<&'static str>,
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

/// What a code means.
///
/// # Errors
/// There is no such code.
pub fn explain(code: &str) -> Result<Explained, NoSuchCode> {
    let topics = topics();
    for (&topic, explanations) in &topics {
        let codes = || explanations.iter().map(|one| one.code);
        if let Some(explanation) = explanations.iter().find(|one| one.code == code) {
            let also = codes().filter(|other| *other != code).collect();
            return Ok(Explained { topic, explanation: *explanation, also });
        }
    }
    let codes = topics.values().flatten().map(|explanation| explanation.code);
    Err(NoSuchCode { nearest: nearest(code, codes) })
}
