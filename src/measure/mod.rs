//! What sheets and checks ask of a timeline: figures, in no wording and no format.
//!
//! The act: its figures in [`act`], counts in [`counts`], the longest time with both hands empty in
//! [`empty_hands`], heights in [`height`], the list of moves in [`moves`], how often arms cross in
//! [`arms`], how throws are made in [`made`], how long a prop set is in use in [`in_use`], what
//! limits say in [`limits`]. The music: when music beats fall in [`music_beats`], what a bent tempo
//! does in [`bend`], which tempos would fit in [`fit`]. Cues: when they are called in [`calls`],
//! when it is dark in [`dark`], how often light flashes in [`flashes`], what an operator sees at a
//! moment in [`sight`]. Colours: what a section has told apart in [`told_apart`], coloured light in
//! [`lights`], how a set looks in [`appearance`], what would read instead in [`replacement`]. Where
//! the routine leaves lengths open, [`limit_range`] and [`call_range`] have the earliest and the
//! latest. Times are exact seconds on the show clock; nothing is summed from rounded figures.

pub mod act;
pub mod appearance;
pub mod arms;
pub mod bend;
#[cfg(test)]
mod by_hand;
pub mod call_range;
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
pub mod limit_range;
pub mod limits;
pub mod made;
pub mod moves;
pub mod music_beats;
pub mod replacement;
#[cfg(test)]
mod shannon;
pub mod sight;
pub mod told_apart;
