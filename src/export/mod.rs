//! Translates composed sheets into formats; computes no landing, count or time.
//!
//! The timing sheet: [`timing_text`], [`timing_json`]. The cue sheet: [`cues_text`], [`cues_json`],
//! [`cues_csv`] and the page to print, [`cues_page`]. One pattern explained: [`pattern_text`],
//! [`pattern_json`]; the ways between two, [`transition_text`], [`transition_json`]; what was heard
//! of a music file, [`listening_text`], [`listening_json`]. Everything here returns text; writing it anywhere is the program's side.

pub mod cues_csv;
pub mod cues_json;
pub mod cues_page;
pub mod cues_text;
mod fault_text;
pub mod json;
mod limits_text;
pub mod listening_json;
pub mod listening_text;
pub mod pattern_json;
pub mod pattern_text;
mod table;
pub mod timing_json;
pub mod timing_text;
pub mod transition_json;
pub mod transition_text;
