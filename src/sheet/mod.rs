//! Composes the documents' contents: what stands on a sheet, in order, in no format.
//!
//! [`timing`] is the timing sheet, [`cues`] the cue sheet, [`pattern`] one pattern explained,
//! [`transition`] the ways between two, [`listening`] what was heard of a music file; [`words`] puts moments into words and makes users' text
//! safe to print, [`caution`] points at what others decide. Times are exact seconds on the show
//! clock.

pub mod caution;
pub mod cues;
pub mod listening;
pub mod pattern;
pub mod timing;
pub mod transition;
pub mod words;
