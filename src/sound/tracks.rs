//! What was found of the music files that a routine names.

use std::collections::BTreeMap;
use std::fmt;

use crate::time::{Seconds, clock};

use super::{Loudness, Recording};

/// Samples of a channel in a second that music has, at most.
pub const HIGHEST_RATE: u32 = 384_000;
/// Channels that music has, at most.
pub const MOST_CHANNELS: usize = 32;

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
    /// It is more to decode than is ever listened to.
    TooMuch,
    /// No music has so many samples.
    BeyondMusic {
        /// Samples of a channel in a second.
        rate: u32,
        /// How many channels it has.
        channels: usize,
    },
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
            // As it is kept, so that what was heard before and what is heard now are the same.
            loudness: Loudness::of_levels(recording.loudness().levels()),
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
            Unheard::TooMuch => f.write_str(
                "takes too long to decode; save it in parts, with fewer channels or at a lower \
                 sample rate",
            ),
            Unheard::BeyondMusic { rate, channels } => write!(
                f,
                "has {rate} samples a second in {channels} channel{}; music has at most \
                 {HIGHEST_RATE} in {MOST_CHANNELS}, so save it with fewer",
                if *channels == 1 { "" } else { "s" }
            ),
            Unheard::Broken(reason) => write!(f, "cannot be read: {reason}"),
        }
    }
}
