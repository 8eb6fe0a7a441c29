//! Composes the documents' contents: what stands on a sheet, in order, in no format.
//!
//! [`timing`] is the timing sheet, [`cues`] the cue sheet, [`pattern`] one pattern explained,
//! [`transition`] the ways between two; [`regrip`] says which prop a
//! pause moves and which face is shown, [`words`] puts moments into words and makes users' text
//! [`transition`] the ways between two, [`appearance`] how the colours read; [`words`] puts moments
//! into words and makes users' text safe to print, [`caution`] points at what others decide. Times
//! are exact seconds on the show clock.
//! [`transition`] the ways between two, [`timecode`] the clock of time codes, [`rehearsal`] what an
//! act is rehearsed by; [`words`] puts moments into words and makes users' text safe to print,
//! [`caution`] points at what others decide. Times are exact seconds on the show clock.

pub mod appearance;
pub mod caution;
pub mod cues;
pub mod pattern;
pub mod regrip;
pub mod rehearsal;
pub mod timecode;
pub mod timing;
pub mod transition;
pub mod words;
