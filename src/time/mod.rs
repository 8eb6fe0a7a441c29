//! Time: exact seconds, the tempo map that turns beats into them, and how a clock is printed.

mod clock;
mod music_map;
mod nearest;
mod range;
mod seconds;
mod stages;
mod tempo;
mod timecode;

pub use clock::{clock, parse_clock, seconds_text, written};
pub use music_map::{BarBeat, MusicMap, MusicStretch};
pub use nearest::{nearest, per_second};
pub use range::TimeRange;
pub use seconds::{EDGE_S, Seconds, exact_decimal};
pub use stages::{Speed, Stage, Stages};
pub use tempo::{BeatPosition, Pace, Piece, TempoMap, ramp_s};
pub use timecode::{FrameRate, Timecode};
