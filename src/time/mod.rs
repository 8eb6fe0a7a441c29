//! Time: exact seconds, the tempo map that turns beats into them, and how a clock is printed.

mod clock;
mod demand;
mod linear;
mod music_map;
mod nearest;
mod night;
mod open;
mod range;
mod seconds;
mod stages;
mod tempo;
mod timecode;

pub use clock::{
    at_least_text, clock, clock_beside, distance_text, on_paper, parse_clock, seconds_as_written,
    seconds_in_full, seconds_text, written,
};
pub use music_map::{BarBeat, MusicMap, MusicStretch};
pub use nearest::{nearest, per_second};
pub use night::{Found, Night, OpenLength, TooManyWays, reach, some_night};
pub use open::{Lengths, Open, Time, Within};
pub use range::TimeRange;
pub use seconds::{EDGE_S, Seconds, exact_decimal};
pub use stages::{Speed, Stage, Stages};
pub use tempo::{BeatPosition, Pace, Piece, TempoMap, ramp_s, wide};
pub use timecode::{FrameRate, Timecode};
