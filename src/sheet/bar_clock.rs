//! The bar and the music beat beside the clock, where the music has bars.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;

use crate::routine::Routine;
use crate::time::{BarBeat, MusicMap, Seconds};
use crate::timeline::{Timeline, TrackSpan};

/// What the column of bars and music beats is called.
pub const BAR_AND_BEAT: &str = "bar, beat";

/// The bars of the music on the show clock.
#[derive(Clone, Debug, PartialEq)]
pub struct BarClock {
    map: MusicMap,
    track: TrackSpan,
}

impl BarClock {
    /// The bars of a routine's music, of several tracks of the first; `None` where none are written.
    #[must_use]
    pub fn of(routine: &Routine, timeline: &Timeline) -> Option<BarClock> {
        let map = routine.first_track()?.music_map()?;
        Some(BarClock { map, track: timeline.tracks.first()?.clone() })
    }

    /// The bar and music beat of a time of the show clock; `None` outside the bars.
    #[must_use]
    pub fn at(&self, time: &Seconds) -> Option<BarBeat> {
        self.map.bar_beat(&self.track.reads(time)?)
    }

    /// As in `9, 1`, between two music beats `9, 1.50`, rounded down.
    #[must_use]
    pub fn words(&self, time: &Seconds) -> Option<String> {
        let BarBeat { bar, music_beat, .. } = self.at(time)?;
        if music_beat.is_integer() {
            return Some(format!("{bar}, {music_beat}"));
        }
        let hundredths = music_beat * BigRational::from_integer(BigInt::from(100));
        let hundredths = hundredths.floor().to_integer();
        Some(format!("{bar}, {}.{:0>2}", &hundredths / 100, &hundredths % 100))
    }
}

/// The number of the bar and the music beat in it, from 1, as documents write them; each `None`
/// where there is none.
#[must_use]
pub fn figures(bars: Option<&BarClock>, time: Option<&Seconds>) -> (Option<i64>, Option<f64>) {
    let found = bars.zip(time).and_then(|(bars, time)| bars.at(time));
    match found {
        Some(found) => (Some(found.bar), found.music_beat.to_f64()),
        None => (None, None),
    }
}
