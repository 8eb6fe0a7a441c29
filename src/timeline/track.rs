//! A track on the show clock: when it starts, and where the operator holds it.
//!
//! The track's clock stands still in a hold while the show clock goes on. A point of the track
//! that lies exactly where a hold begins comes before it.

use crate::routine::{Routine, Track};
use crate::time::{Seconds, Time, TimeRange};

use super::left_open::{LeftOpen, OpenPlaces};

/// A track on the clock of the timeline.
#[derive(Clone, Debug, PartialEq)]
pub struct TrackSpan {
    /// When its first sample sounds; `None` where that could not be found.
    pub starts: Option<Time>,
    /// From its first sample to its last, in seconds on its own clock.
    pub length: Seconds,
    /// Its holds, in order of time.
    pub holds: Vec<HoldSpan>,
}

/// A hold.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldSpan {
    /// In seconds from the track's first sample.
    pub from: Seconds,
    /// Seconds on the show clock.
    pub lasts: Time,
}

/// What the track's clock reads at a time of the show clock.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// From the least to the most that it can read.
    pub range: TimeRange,
    /// The reading itself, where it is known which holds are over by then.
    pub exact: Option<Time>,
}

impl Place {
    /// The reading, where it hangs on nothing that is open.
    #[must_use]
    pub fn certain(&self) -> Option<&Seconds> {
        self.exact.as_ref().and_then(Time::certain)
    }
}

impl TrackSpan {
    /// How long after the track's start a point of it sounds; the argument in seconds on the
    /// track's own clock.
    #[must_use]
    pub fn after_start(&self, on_track: &Seconds) -> Time {
        let held = self.holds.iter().filter(|hold| hold.from < *on_track);
        held.fold(Time::from(on_track.clone()), |time, hold| &time + &hold.lasts)
    }

    /// When a point of it sounds, on the clock of the timeline.
    #[must_use]
    pub fn at(&self, on_track: &Seconds) -> Option<Time> {
        Some(self.starts.as_ref()? + &self.after_start(on_track))
    }

    /// When it ends, on the clock of the timeline.
    #[must_use]
    pub fn ends(&self) -> Option<Time> {
        self.at(&self.length)
    }

    /// What its own clock reads at a time on the clock of the timeline; before its start and after
    /// its end it is carried on.
    #[must_use]
    pub fn place(&self, time: &Time) -> Option<Place> {
        let since = time - self.starts.as_ref()?;
        if since.is_unknown() {
            return Some(Place { range: TimeRange::unknown(), exact: Some(since) });
        }
        let exact = self.exact(&since);
        let range = match &exact {
            Some(exact) => exact.range(),
            None => {
                let (least, most) = bounds(&since, &self.holds);
                TimeRange::between(least, most)
            }
        };
        Some(Place { range, exact })
    }

    /// What its clock reads while it plays or is held; `None` where it has surely not begun or is
    /// over, and where that is not certain.
    #[must_use]
    pub fn reads(&self, time: &Time) -> Option<TimeRange> {
        let range = self.place(time)?.range;
        let plays = !range.earliest()?.is_negative() && *range.latest()? <= self.length;
        plays.then_some(range)
    }

    /// Whether it plays or is held on some night.
    #[must_use]
    pub fn may_play(&self, time: &Time) -> bool {
        self.place(time).is_some_and(|place| {
            let begun = place.range.latest().is_none_or(|latest| !latest.is_negative());
            begun && place.range.earliest().is_none_or(|earliest| *earliest <= self.length)
        })
    }

    /// The same with all that is open at its shortest.
    #[must_use]
    pub fn at_shortest(&self) -> TrackSpan {
        let pinned = |time: &Time| Time::from(time.shortest().clone());
        let hold =
            |hold: &HoldSpan| HoldSpan { from: hold.from.clone(), lasts: pinned(&hold.lasts) };
        TrackSpan {
            starts: self.starts.as_ref().map(pinned),
            length: self.length.clone(),
            holds: self.holds.iter().map(hold).collect(),
        }
    }

    fn exact(&self, since: &Time) -> Option<Time> {
        let mut reads = since.clone();
        for hold in &self.holds {
            let into = &reads - &hold.from;
            if into.most() <= Seconds::zero() {
                break;
            }
            if into.least().is_negative() {
                return None;
            }
            let past = &into - &hold.lasts;
            if !past.least().is_negative() {
                reads = &hold_end(hold) + &past;
            } else if past.most() <= Seconds::zero() {
                return Some(hold_end(hold));
            } else {
                return None;
            }
        }
        Some(reads)
    }
}

/// Where the track goes on after a hold, on its own clock.
fn hold_end(hold: &HoldSpan) -> Time {
    Time::from(hold.from.clone())
}

/// The least and the most that the clock reads: it is the earlier of the time without holds and,
/// once the first has begun, of where that began or what the holds after it leave.
fn bounds(since: &Time, holds: &[HoldSpan]) -> (Seconds, Seconds) {
    let Some((hold, later)) = holds.split_first() else { return (since.least(), since.most()) };
    let (least, most) = bounds(&(since - &hold.lasts), later);
    let not_before = |time: Seconds| if time < hold.from { hold.from.clone() } else { time };
    let earlier = |a: Seconds, b: Seconds| if b < a { b } else { a };
    (earlier(since.least(), not_before(least)), earlier(since.most(), not_before(most)))
}

/// The tracks of a routine before their starts are known.
pub(super) fn spans(routine: &Routine, open: &OpenPlaces) -> Vec<TrackSpan> {
    let span = |(track, written): (usize, &Track)| TrackSpan {
        starts: None,
        length: written.length.value.clone(),
        holds: written
            .holds
            .iter()
            .enumerate()
            .map(|(hold, written)| HoldSpan {
                from: written.from.value.clone(),
                lasts: open.time(LeftOpen::Hold { track, hold }, &written.lasts),
            })
            .collect(),
    };
    routine.all_tracks().map(|(_, track)| track).enumerate().map(span).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::time::Open;

    fn s(seconds: i64) -> Seconds {
        Seconds::fraction(seconds, 1)
    }

    fn track(holds: Vec<(i64, Time)>) -> TrackSpan {
        let holds = holds.into_iter().map(|(from, lasts)| HoldSpan { from: s(from), lasts });
        TrackSpan { starts: Some(s(10).into()), length: s(60), holds: holds.collect() }
    }

    #[test]
    fn a_track_stands_still_in_a_hold_and_the_show_goes_on() {
        let track = track(vec![(20, s(5).into()), (40, s(2).into())]);
        let place = |shown: i64| track.place(&s(shown).into()).unwrap();
        // On the track, on the show clock.
        for (on_track, shown) in [(0, 10), (20, 30), (21, 36), (40, 55), (41, 58), (60, 77)] {
            assert_eq!(track.at(&s(on_track)), Some(s(shown).into()));
            assert_eq!(place(shown).certain(), Some(&s(on_track)));
        }
        // Within a hold it stands still.
        for shown in 30..=35 {
            assert_eq!(place(shown).certain(), Some(&s(20)), "{shown}");
        }
        assert_eq!(track.ends(), Some(s(77).into()));
        // Nothing is read where it does not play.
        let reads = |shown: i64| track.reads(&s(shown).into());
        assert_eq!((reads(4), reads(78)), (None, None));
        assert_eq!(reads(77), Some(s(60).into()));
    }

    #[test]
    fn behind_an_open_hold_a_certain_time_has_an_open_place_and_the_other_way_round() {
        let hold = Time::between(Open::Length(0), &s(5), &s(9));
        let track = track(vec![(20, hold.clone())]);
        // 0:41 on the show clock is 31 s after the start, less the hold.
        let place = track.place(&s(41).into()).unwrap();
        assert_eq!(place.range, TimeRange::between(s(22), s(26)));
        let after = &Time::from(s(31)) + &hold;
        assert_eq!(track.place(&after).unwrap().certain(), Some(&s(21)));
        // At 0:36 it may still be held, or play again.
        let place = track.place(&s(36).into()).unwrap();
        assert_eq!((place.range, place.exact), (TimeRange::between(s(20), s(21)), None));
    }

    #[test]
    fn two_open_holds_are_passed_one_after_the_other() {
        let (one, two) = (
            Time::between(Open::Length(0), &s(1), &s(4)),
            Time::between(Open::Length(1), &s(2), &s(6)),
        );
        let track = track(vec![(20, one.clone()), (22, two.clone())]);
        let range = |shown: i64| track.place(&s(shown).into()).unwrap().range;
        // 22 on the track is reached at 33 to 36, and left at 35 to 42.
        assert_eq!((range(30), range(31)), (s(20).into(), TimeRange::between(s(20), s(20))));
        assert_eq!(range(34), TimeRange::between(s(20), s(22)));
        assert_eq!(range(36), TimeRange::between(s(22), s(23)));
        assert_eq!(range(44), TimeRange::between(s(24), s(31)));
        let both = &(&Time::from(s(32)) + &one) + &two;
        assert_eq!(track.place(&both).unwrap().certain(), Some(&s(22)));
        assert_eq!(track.at(&s(23)), Some(&both + &s(1)));
    }

    #[test]
    fn a_track_that_starts_after_an_open_pause_is_where_the_pause_leaves_it() {
        let starts = Time::between(Open::Length(0), &s(4), &s(12));
        let track = TrackSpan { starts: Some(starts.clone()), length: s(60), holds: Vec::new() };
        let at = |time: &Time| track.place(time).unwrap().range;
        assert_eq!(at(&s(20).into()), TimeRange::between(s(8), s(16)));
        assert_eq!(at(&(&starts + &s(3))), s(3).into());
        // At 0:10 it may play, so that nothing is read; at 0:03 it surely does not.
        let (plays, reads) =
            (|time: i64| track.may_play(&s(time).into()), |time: i64| track.reads(&s(time).into()));
        assert_eq!((plays(3), plays(4), plays(72), plays(73)), (false, true, true, false));
        assert_eq!((reads(10), reads(65)), (None, None));
        assert_eq!(reads(64), Some(TimeRange::between(s(52), s(60))));
        // What an error leaves unknown may be anywhere.
        let unknown = Time::from(s(3)).unknown(2);
        assert!(track.may_play(&unknown) && track.reads(&unknown).is_none());
        assert_eq!(TrackSpan { starts: None, ..track }.place(&s(5).into()), None);
    }
}
