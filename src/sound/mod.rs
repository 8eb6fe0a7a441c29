//! Music as it sounds: its length, its leading silence, its loudness, and a proposal for its
//! tempo and its first strong beats.
//!
//! 1. [`hear()`] goes once through a music file (WAV, FLAC, MP3, Ogg Vorbis, M4A), keeps what is
//!    [`Heard`] of it and no samples, or says why it cannot ([`Unheard`]).
//! 2. [`decode()`] keeps samples too, in a [`Recording`], and [`listen()`] finds its onsets and
//!    estimates a [`Listening`] from them.
//! 3. [`Tracks`] carries what was found of the files that a routine names to the checks and the
//!    strip; the library opens no file by itself.
//!
//! Times are seconds from the file's first sample. These steps need the feature `audio`; without
//! it no track is ever looked at. An estimate is a proposal: the juggler's ear decides.

#[cfg(feature = "audio")]
mod decode;
#[cfg(feature = "audio")]
mod edit_list;
mod listening;
mod loudness;
#[cfg(feature = "audio")]
mod onset;
#[cfg(feature = "audio")]
mod pulse;
mod recording;
#[cfg(feature = "audio")]
mod source;
#[cfg(feature = "audio")]
mod tempo;
mod tracks;
#[cfg(feature = "audio")]
mod whole;

#[cfg(feature = "audio")]
pub use decode::{decode, hear};
#[cfg(feature = "audio")]
pub use listening::listen;
pub use listening::{Alternative, Listening, LoudnessChange, Relation, Tempo};
pub use loudness::{HIGHEST_LEVEL, Loudness};
pub use recording::{Recorder, Recording, SILENCE_DB};
#[cfg(feature = "audio")]
pub use source::Source;
pub use tracks::{Found, HIGHEST_RATE, Heard, MOST_CHANNELS, Tracks, Unheard};
