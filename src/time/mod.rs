//! Time: exact seconds, the tempo map that turns beats into them, and how a clock is printed.

mod clock;
mod range;
mod seconds;
mod tempo;

pub use clock::{clock, parse_clock, seconds_text};
pub use range::TimeRange;
pub use seconds::{EDGE_S, Seconds, exact_decimal};
pub use tempo::{BeatPosition, Pace, Piece, TempoMap, ramp_s};
