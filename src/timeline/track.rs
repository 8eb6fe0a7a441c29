//! A track on the show clock: when it starts, and where the operator holds it.
//!
//! The track's clock stands still in a hold while the show clock goes on. A point of the track
//! that lies exactly where a hold begins comes before it.

use crate::routine::{Routine, Track};
use crate::time::Seconds;

use super::spread::{Longest, Uncertain};

/// A track on the clock of the timeline.
#[derive(Clone, Debug, PartialEq)]
pub struct TrackSpan {
    /// When its first sample sounds; `None` where that could not be found.
    pub starts: Option<Seconds>,
    /// From its first sample to its last, in seconds on its own clock.
    pub length: Seconds,
    /// Its holds, in order of time.
    pub holds: Vec<HoldSpan>,
}

/// A hold, as long as it lasts in this timeline.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldSpan {
    /// In seconds from the track's first sample.
    pub from: Seconds,
    /// Seconds on the show clock.
    pub lasts: Seconds,
}

impl TrackSpan {
    /// How long after the track's start a point of it sounds; both in seconds, the argument on the
    /// track's own clock.
    #[must_use]
    pub fn after_start(&self, on_track: &Seconds) -> Seconds {
        let held = self.holds.iter().filter(|hold| hold.from < *on_track);
        held.fold(on_track.clone(), |time, hold| &time + &hold.lasts)
    }

    /// When a point of it sounds, on the clock of the timeline.
    #[must_use]
    pub fn at(&self, on_track: &Seconds) -> Option<Seconds> {
        Some(self.starts.as_ref()? + &self.after_start(on_track))
    }

    /// When it ends, on the clock of the timeline.
    #[must_use]
    pub fn ends(&self) -> Option<Seconds> {
        self.at(&self.length)
    }

    /// What its own clock reads at a time on the clock of the timeline; before its start and after
    /// its end it runs on.
    #[must_use]
    pub fn reads(&self, time: &Seconds) -> Option<Seconds> {
        let mut reads = time - self.starts.as_ref()?;
        for hold in &self.holds {
            if reads <= hold.from {
                break;
            }
            let after = &reads - &hold.lasts;
            reads = if after < hold.from { hold.from.clone() } else { after };
        }
        Some(reads)
    }
}

/// The tracks of a routine before their starts are known, some holds at their longest.
pub(super) fn spans(routine: &Routine, longest: Longest) -> Vec<TrackSpan> {
    let span = |(track, written): (usize, &Track)| TrackSpan {
        starts: None,
        length: written.length.value.clone(),
        holds: written
            .holds
            .iter()
            .enumerate()
            .map(|(hold, written)| HoldSpan {
                from: written.from.value.clone(),
                lasts: longest.of(Uncertain::Hold { track, hold }, &written.lasts).clone(),
            })
            .collect(),
    };
    routine.all_tracks().map(|(_, track)| track).enumerate().map(span).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_track_stands_still_in_a_hold_and_the_show_goes_on() {
        let s = |seconds: i64| Seconds::fraction(seconds, 1);
        let track = TrackSpan {
            starts: Some(s(10)),
            length: s(60),
            holds: vec![
                HoldSpan { from: s(20), lasts: s(5) },
                HoldSpan { from: s(40), lasts: s(2) },
            ],
        };
        // On the track, on the show clock.
        for (on_track, shown) in [(0, 10), (20, 30), (21, 36), (40, 55), (41, 58), (60, 77)] {
            assert_eq!(track.at(&s(on_track)), Some(s(shown)));
            assert_eq!(track.reads(&s(shown)), Some(s(on_track)));
        }
        // Within a hold it stands still.
        for shown in 30..=35 {
            assert_eq!(track.reads(&s(shown)), Some(s(20)), "{shown}");
        }
        assert_eq!((track.ends(), track.reads(&s(4))), (Some(s(77)), Some(s(-6))));
    }
}
