//! The time codes of a sheet's times: which clock they follow, and what that clock begins with.
//!
//! The clock is the track's where there is music, else the show clock. A time is given its nearest
//! frame, half away from zero; what comes before the clock's zero has no time code.

use crate::routine::Routine;
use crate::time::{Seconds, Timecode};
use crate::timeline::Timeline;

use super::words;

/// A clock that counts frames.
#[derive(Clone, Debug, PartialEq)]
pub struct TimecodeClock {
    /// What it reads at its zero.
    pub start: Timecode,
    /// Its zero, on the show clock.
    zero: Seconds,
    /// Its zero, in words.
    zero_words: String,
}

impl TimecodeClock {
    /// The clock of a routine that reads `start` at its zero.
    #[must_use]
    pub fn new(routine: &Routine, timeline: &Timeline, start: Timecode) -> TimecodeClock {
        let (zero, moment) = match timeline.track_start() {
            Some(track) => (track.clone(), routine.first_track_start()),
            None => (Seconds::zero(), routine.zero.value.clone()),
        };
        TimecodeClock { start, zero, zero_words: words::moment(&moment) }
    }

    /// What it reads at a time of the show clock; `None` before its zero.
    #[must_use]
    pub fn at(&self, time: &Seconds) -> Option<Timecode> {
        let since = time - &self.zero;
        (!since.is_negative()).then(|| self.start.after(&since))
    }

    /// How to read it, as one sentence.
    #[must_use]
    pub fn words(&self) -> String {
        format!(
            "Time code: {}; {} at {}, each time at its nearest frame.",
            self.start.rate().words(),
            self.start,
            self.zero_words
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms};
    use crate::routine::Moment;
    use crate::time::FrameRate;

    #[test]
    fn it_follows_the_track_and_has_nothing_before_it() {
        let mut quay = lantern_quay();
        quay.zero.value = Moment::FirstThrow;
        let start = Timecode::read("10:00:00:00", FrameRate::F25).unwrap();
        let clock = TimecodeClock::new(&quay, &compiled(&quay), start);
        // The track starts 7.5 s before the first throw.
        let reads = |time| clock.at(&ms(time)).map(|code| code.to_string());
        assert_eq!(reads(0).as_deref(), Some("10:00:07:13"));
        assert_eq!(reads(-7_500).as_deref(), Some("10:00:00:00"));
        assert_eq!(reads(-7_501), None);
        assert!(clock.words().contains("10:00:00:00 at track start"), "{}", clock.words());
    }

    #[test]
    fn without_music_it_follows_the_show_clock() {
        let mut quay = lantern_quay();
        (quay.music, quay.zero.value) = (None, Moment::FirstThrow);
        quay.score.remove(1);
        quay.cues.clear();
        quay.limits.clear();
        let start = Timecode::of_frame(FrameRate::F30, 0);
        let clock = TimecodeClock::new(&quay, &compiled(&quay), start);
        assert_eq!(clock.at(&ms(1_500)).map(|code| code.frame()), Some(45));
        assert!(clock.words().contains("00:00:00:00 at first throw"), "{}", clock.words());
    }
}
