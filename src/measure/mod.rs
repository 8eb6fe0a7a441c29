//! What sheets and checks ask of a timeline: figures, in no wording and no format.
//!
//! Counts in [`counts`], the longest time with both hands empty in [`empty_hands`], heights in
//! [`height`], the whole act's figures in [`act`], what limits say in [`limits`], when cues are
//! called in [`calls`], when music beats fall in [`music_beats`], what an operator sees at a moment in [`sight`], and the list of moves in
//! [`moves`]. Times are exact seconds on the show clock; nothing is summed from rounded figures.

pub mod act;
#[cfg(test)]
mod by_hand;
pub mod calls;
pub mod counts;
pub mod empty_hands;
#[cfg(test)]
pub(crate) mod examples;
pub mod height;
pub mod limits;
pub mod moves;
pub mod music_beats;
#[cfg(test)]
mod shannon;
pub mod sight;
