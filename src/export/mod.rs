//! Translates composed sheets into formats; computes no landing, count or time.
//!
//! The timing sheet: [`timing_text`], [`timing_json`]. The colour sheet: [`colours_text`],
//! [`colours_json`]; how the colours read: [`appearance_text`], [`appearance_json`]. The cue sheet:
//! [`cues_text`], [`cues_json`], [`cues_csv`] and the pages to print, [`cues_page`]; the crews after
//! each cue: [`state_text`]. One pattern explained: [`pattern_text`], [`pattern_json`]; the ways
//! between two: [`transition_text`], [`transition_json`]. What fits: [`fit_text`], [`fit_json`].
//! What was heard of a music file: [`listening_text`], [`listening_json`]. Two acts held against
//! each other: [`difference_text`], [`difference_json`]. What a file's messages offer:
//! [`mend_text`]. What a code means: [`explain_text`], [`explain_json`]. What an act is rehearsed
//! by: [`click_wav`], [`midi`], [`captions`]. Everything here returns text or bytes; writing it
//! anywhere is the program's side.

pub mod appearance_json;
pub mod appearance_text;
mod arms_text;
mod around_text;
mod bends_text;
pub mod booklet;
pub mod captions;
pub mod cards_page;
pub mod click_wav;
pub mod colours_json;
pub mod colours_text;
mod counts_text;
mod cue_words;
pub mod cues_csv;
pub mod cues_json;
pub mod cues_page;
pub mod cues_text;
pub mod difference_json;
pub mod difference_text;
mod difference_words;
pub mod earliest_text;
pub mod explain_json;
pub mod explain_text;
mod fault_text;
pub mod fit_json;
pub mod fit_text;
mod hands_drawing;
mod heading_text;
pub mod in_short_text;
pub mod json;
mod judged_json;
mod limits_text;
pub mod listening_json;
pub mod listening_text;
mod made_json;
pub mod mend_text;
pub mod midi;
pub mod moves_page;
mod multiplex_orders_text;
mod paged;
pub mod pattern_json;
pub mod pattern_text;
pub mod reference_json;
pub mod reference_page;
pub mod reference_text;
pub mod slip_page;
mod stamped_json;
pub mod state_text;
pub mod strip_pages;
mod table;
pub mod timing_json;
pub mod timing_text;
pub mod transition_json;
pub mod transition_text;
pub mod venue_page;
mod wav_markers;
