//! Music as it sounds: its length, its leading silence, its loudness, and a proposal for its
//! tempo and its first strong beats.
//!
//! 1. [`decode()`] turns the bytes of a music file into a [`Recording`] (WAV, FLAC, MP3, Ogg
//!    Vorbis, M4A), or says why it cannot ([`Unheard`]).
//! 2. [`listen()`] finds the onsets of a recording and estimates a [`Listening`] from them.
//! 3. [`Tracks`] carries what was found of the files that a routine names to the checks and the
//!    strip; the library opens no file by itself.
//!
//! Times are seconds from the file's first sample. Both steps need the feature `audio`; without
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
mod tempo;
mod tracks;
#[cfg(feature = "audio")]
mod whole;

#[cfg(feature = "audio")]
pub use decode::decode;
#[cfg(feature = "audio")]
pub use listening::listen;
pub use listening::{Alternative, Listening, LoudnessChange, Relation, Tempo};
pub use loudness::Loudness;
pub use recording::{Recorder, Recording, SILENCE_DB};
pub use tracks::{Found, Heard, Tracks, Unheard};
