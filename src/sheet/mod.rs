//! Composes the documents' contents: what stands on a sheet, in order, in no format.
//!
//! Every sheet begins with a [`heading`]. [`timing`] is the timing sheet, with [`clocks`], [`slot`]
//! and [`limits`], [`moves`] the list of moves; [`cues`] the cue sheet, each
//! cue a [`cue_line`], each section a [`section_row`], all in order as [`cue_rows`]; [`music_list`] the tracks, [`on`] is what is
//! on after a cue, and [`state`] which cue each crew is in then; [`colours`] the colour sheet with its [`loading`]s and a [`colour_chart`]
//! of each section, [`appearance`] how the colours read; [`venue`] is what a venue asks, [`slip`] what its host reads; [`cards`] are the practice cards; [`pattern`] is one pattern explained,
//! [`transition`] the ways between two, [`fit`] the cycles and tempos that fit, [`listening`] what
//! was heard of a music file, [`rehearsal`] what an act is rehearsed by. [`regrip`] says which prop
//! a pause moves and which face is shown, [`stamp`] is a time on every clock of a sheet, [`words`]
//! puts moments into words and makes users' text safe to print, [`caution`] points at what others
//! decide. Times are exact seconds on the show clock.

pub mod appearance;
pub mod cards;
pub mod caution;
pub mod clocks;
pub mod colour_chart;
pub mod colours;
pub mod cue_line;
pub mod cue_rows;
pub mod cues;
pub mod fit;
pub mod flames;
pub mod heading;
pub mod in_short;
pub mod limits;
pub mod listening;
pub mod loading;
pub mod moves;
pub mod music_list;
pub mod on;
mod paper;
pub mod pattern;
mod pick_up;
pub mod regrip;
pub mod rehearsal;
pub mod section_row;
mod seen;
pub mod slip;
pub mod slot;
pub mod stamp;
pub mod state;
pub mod time_signals;
pub mod timing;
pub mod transition;
pub mod venue;
pub mod words;
