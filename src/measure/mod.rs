//! What sheets and checks ask of a timeline: figures, in no wording and no format.
//!
//! Counts in [`counts`], the longest time with both hands empty in [`empty_hands`], heights in
//! [`height`], the whole act's figures in [`act`], what limits say in [`limits`], when cues are
//! called in [`calls`], how often arms cross in [`arms`], how throws are made in [`made`], what an operator sees at a moment in [`sight`], and the list of moves in
//! [`moves`]. Colours: what a section has told apart in [`told_apart`], coloured light in
//! [`lights`], how a set looks in [`appearance`], what would read instead in [`replacement`]. Times
//! are exact seconds on the show clock; nothing is summed from rounded figures.
//! called in [`calls`], when music beats fall in [`music_beats`], what an operator sees at a moment in [`sight`], and the list of moves in
//! called in [`calls`], when it is dark in [`dark`], how often light flashes in [`flashes`], what an
//! operator sees at a moment in [`sight`], how long a prop set is in use in [`in_use`], and the list
//! of moves in [`moves`]. Times are exact seconds on the show clock; nothing is summed from rounded figures.

pub mod act;
pub mod appearance;
pub mod arms;
pub mod bend;
#[cfg(test)]
mod by_hand;
pub mod calls;
pub mod counts;
pub mod dark;
pub mod empty_hands;
#[cfg(test)]
pub(crate) mod examples;
pub mod fit;
pub mod flashes;
pub mod height;
pub mod in_use;
pub mod lights;
pub mod limits;
pub mod made;
pub mod moves;
pub mod music_beats;
pub mod replacement;
#[cfg(test)]
mod shannon;
pub mod sight;
pub mod told_apart;
