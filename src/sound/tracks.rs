//! What was found of the music files that a routine names.

use std::collections::BTreeMap;
use std::fmt;

use crate::time::{Seconds, clock};

use super::{Loudness, Recording};

/// What was found of each music file, by its name as the routine writes it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tracks {
    found: BTreeMap<String, Found>,
}

/// What was found of one music file.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Found {
    /// Nobody looked for it.
    #[default]
    NotLooked,
    /// It is not there.
    Missing,
    /// It is there, but cannot be heard.
    Unreadable(Unheard),
    /// It was heard to its end.
    Heard(Heard),
}

/// What was heard of a music file.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    /// Its length.
    pub length: Seconds,
    /// The silence at its beginning.
    pub silence: Seconds,
    /// How loud it is over time.
    pub loudness: Loudness,
}

/// Why a music file cannot be heard.
#[derive(Clone, Debug, PartialEq)]
pub enum Unheard {
    /// There is nothing in it.
    Empty,
    /// It is no sound of a kind that is known here.
    NotSound,
    /// It ends before the end that it promises.
    CutOff {
        /// How many seconds of it there are.
        holds_s: f64,
        /// How many seconds it says there are, if it does.
        promises_s: Option<f64>,
    },
    /// It is longer than is ever listened to.
    TooLong,
    /// It cannot be read or decoded: the reason, in words.
    Broken(String),
}

impl Tracks {
    /// Nobody looked for any.
    #[must_use]
    pub fn new() -> Tracks {
        Tracks::default()
    }

    /// Notes what was found of a file.
    pub fn note(&mut self, file: impl Into<String>, found: Found) {
        self.found.insert(file.into(), found);
    }

    /// What was found of a file.
    #[must_use]
    pub fn found(&self, file: &str) -> &Found {
        self.found.get(file).unwrap_or(&Found::NotLooked)
    }

    /// What was heard of a file, if it was.
    #[must_use]
    pub fn heard(&self, file: &str) -> Option<&Heard> {
        match self.found(file) {
            Found::Heard(heard) => Some(heard),
            Found::NotLooked | Found::Missing | Found::Unreadable(_) => None,
        }
    }
}

impl From<&Recording> for Heard {
    fn from(recording: &Recording) -> Heard {
        Heard {
            length: recording.length(),
            silence: recording.silence(),
            loudness: recording.loudness().clone(),
        }
    }
}

impl fmt::Display for Unheard {
    /// Half a sentence whose subject is the file.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unheard::Empty => f.write_str("is empty"),
            Unheard::NotSound => {
                f.write_str("is not a kind of sound file that throwbook reads: WAV, FLAC, MP3, Ogg Vorbis or M4A")
            }
            Unheard::CutOff { holds_s, .. } if *holds_s == 0.0 => {
                f.write_str("is cut off before any of it can be heard")
            }
            Unheard::CutOff { holds_s, promises_s: Some(promises_s) } => {
                let [holds, promises] = [*holds_s, *promises_s].map(Seconds::Near);
                write!(f, "is cut off: it holds {} of {}", clock(&holds), clock(&promises))
            }
            Unheard::CutOff { holds_s, promises_s: None } => {
                let holds = clock(&Seconds::Near(*holds_s));
                write!(f, "is cut off at {holds}, in the middle of its data")
            }
            Unheard::TooLong => f.write_str("is longer than four hours"),
            Unheard::Broken(reason) => write!(f, "cannot be read: {reason}"),
        }
    }
}
