//! What sheets and checks ask of an act: figures, in no wording and no format.
//!
//! Hands: counts in [`counts`], the longest time with both hands empty in [`empty_hands`], heights
//! in [`height`], crossings of the arms in [`arms`], how throws are made in [`made`], the list of
//! moves in [`moves`], which of them begin in a limit's time in [`moves_in_time`]. Time: the whole
//! act's figures in [`figures`], what a limit counts in [`contest_clock`], what it says in
//! [`limits`] and [`limit_range`], bent tempos in [`bend`], what fits in [`fit`], music beats in
//! [`music_beats`]. Stage: when it is dark in [`dark`], how often light flashes in [`flashes`],
//! coloured light in [`lights`], what an operator sees in [`sight`]. Colours: what a section has
//! told apart in [`told_apart`], how a set looks in [`appearance`], what would read instead in
//! [`replacement`]. Nothing is summed from rounded figures.

pub mod appearance;
pub mod arms;
pub mod bend;
#[cfg(test)]
mod by_hand;
pub mod contest_clock;
pub mod counts;
pub mod dark;
pub mod empty_hands;
#[cfg(test)]
pub(crate) mod examples;
pub mod figures;
pub mod fit;
pub mod flashes;
pub mod height;
pub mod lights;
pub mod limit_range;
pub mod limits;
pub mod made;
pub mod moves;
pub mod moves_in_time;
pub mod music_beats;
pub mod replacement;
#[cfg(test)]
mod shannon;
pub mod sight;
pub mod sound_cues;
pub mod told_apart;
