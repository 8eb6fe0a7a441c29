//! A time as a sheet prints it: on the show clock, and on every clock that runs then.
//!
//! Bars, music beats, time codes and positions on a track are read from the track that plays at
//! that time, of several the one that started last. A held track stands; before its start and after
//! its end, and where it is not certain that it plays, nothing is read. What is open has two ends.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;

use crate::act::Act;
use crate::routine::{Moment, Track};
use crate::time::{BarBeat, MusicMap, Seconds, Time, TimeRange, Timecode};
use crate::timeline::TrackSpan;

use super::words::{self, plain};

/// What the column of bars and music beats is called.
pub const BAR_AND_BEAT: &str = "bar, beat";

/// A time on every clock.
#[derive(Clone, Debug, PartialEq)]
pub struct Stamp {
    /// On the show clock.
    pub time: Time,
    /// On the track that plays, if one does.
    pub track: Option<OnTrack>,
    /// Its bar and music beat, where that track has bars.
    pub bar: Option<Ends<BarBeat>>,
    /// Its time code, where the sheet has them and their clock runs.
    pub timecode: Option<Ends<Timecode>>,
}

/// A place on a track.
#[derive(Clone, Debug, PartialEq)]
pub struct OnTrack {
    /// The track's name, if it has one.
    pub name: Option<String>,
    /// In seconds from its first sample.
    pub at: TimeRange,
}

/// The earliest of something, and the latest where that is another.
#[derive(Clone, Debug, PartialEq)]
pub struct Ends<T> {
    /// The earliest.
    pub earliest: T,
    /// The latest, where it is not the earliest.
    pub latest: Option<T>,
}

impl<T: PartialEq> Ends<T> {
    fn of(earliest: T, latest: T) -> Ends<T> {
        let latest = (latest != earliest).then_some(latest);
        Ends { earliest, latest }
    }

    /// In words, one or both.
    fn words(&self, one: impl Fn(&T) -> String) -> String {
        let earliest = one(&self.earliest);
        match self.latest.as_ref().map(one).filter(|latest| *latest != earliest) {
            Some(latest) => format!("{earliest}–{latest}"),
            None => earliest,
        }
    }
}

impl Stamp {
    /// A time that an error leaves unknown.
    #[must_use]
    pub fn unknown() -> Stamp {
        let time = Time::zero().unknown(usize::MAX);
        Stamp { time, track: None, bar: None, timecode: None }
    }

    /// From the earliest to the latest, on the show clock.
    #[must_use]
    pub fn range(&self) -> TimeRange {
        self.time.range()
    }

    /// The bar and the music beat: `9, 1`, between two music beats `9, 1.50`, rounded down.
    #[must_use]
    pub fn bar_words(&self) -> Option<String> {
        self.bar.as_ref().map(|bar| bar.words(bar_words))
    }

    /// The time code.
    #[must_use]
    pub fn timecode_words(&self) -> Option<String> {
        self.timecode.as_ref().map(|code| code.words(Timecode::to_string))
    }
}

fn bar_words(BarBeat { bar, music_beat, .. }: &BarBeat) -> String {
    if music_beat.is_integer() {
        return format!("{bar}, {music_beat}");
    }
    let hundredths = music_beat * BigRational::from_integer(BigInt::from(100));
    let hundredths = hundredths.floor().to_integer();
    format!("{bar}, {}.{:0>2}", &hundredths / 100, &hundredths % 100)
}

/// The number of a bar and the music beat in it, from 1, as documents write them.
#[must_use]
pub fn figures(bar: &BarBeat) -> (i64, Option<f64>) {
    (bar.bar, bar.music_beat.to_f64())
}

/// The clocks of an act that a sheet reads.
pub struct StampClocks {
    tracks: Vec<(Option<String>, TrackSpan, Option<MusicMap>)>,
}

impl StampClocks {
    /// Those of an act.
    #[must_use]
    pub fn of(act: &Act) -> StampClocks {
        let tracks = act.routine.all_tracks().zip(&act.timeline.tracks);
        let clock = |((name, track), span): ((_, &Track), &TrackSpan)| {
            let name: Option<&crate::diagnostic::Placed<String>> = name;
            (name.map(|name| plain(&name.value)), span.clone(), track.music_map())
        };
        StampClocks { tracks: tracks.map(clock).collect() }
    }

    /// Whether any track has bars.
    #[must_use]
    pub fn have_bars(&self) -> bool {
        self.tracks.iter().any(|(_, _, map)| map.is_some())
    }

    /// A time on every clock; it has no time code.
    #[must_use]
    pub fn stamp(&self, time: &Time) -> Stamp {
        let playing = self.tracks.iter().filter_map(|(name, span, map)| {
            Some((span.starts.as_ref()?, name, span.reads(time)?, map))
        });
        let last = playing.reduce(
            |last, one| {
                if (one.0 - last.0).least().is_negative() { last } else { one }
            },
        );
        let Some((_, name, at, map)) = last else {
            return Stamp { time: time.clone(), track: None, bar: None, timecode: None };
        };
        let bar = |at: Option<&Seconds>| map.as_ref()?.bar_beat(at?);
        let bar = bar(at.earliest()).zip(bar(at.latest()));
        Stamp {
            time: time.clone(),
            bar: bar.map(|(earliest, latest)| Ends::of(earliest, latest)),
            track: Some(OnTrack { name: name.clone(), at }),
            timecode: None,
        }
    }
}

/// A clock that counts frames: along the first track where there is music, else along the show
/// clock. A time has its nearest frame, half away from zero. Where the clock does not run, before
/// its zero and after the track, there is none.
#[derive(Clone, Debug, PartialEq)]
pub struct TimecodeClock {
    /// What it reads at its zero.
    pub start: Timecode,
    track: Option<TrackSpan>,
    /// Its zero, in words.
    zero_words: String,
    /// That of the encore, along its own first track, where it has music.
    pub encore: Option<Box<TimecodeClock>>,
}

impl TimecodeClock {
    /// The clock of an act that reads `start` at its zero; that of its encore reads the same at its
    /// own.
    #[must_use]
    pub fn new(act: &Act, start: Timecode) -> TimecodeClock {
        let track = act.timeline.tracks.first().filter(|track| track.starts.is_some()).cloned();
        let encore = act.encore.as_deref().filter(|encore| encore.timeline.track_start().is_some());
        let encore = encore.map(|encore| Box::new(TimecodeClock::new(encore, start)));
        let zero: Moment = match &track {
            Some(_) => act.routine.first_track_start(),
            None => act.routine.zero.value.clone(),
        };
        TimecodeClock { start, track, zero_words: words::moment(&zero), encore }
    }

    /// What it reads at a time of the show clock.
    #[must_use]
    pub fn at(&self, time: &Time) -> Option<Ends<Timecode>> {
        let since = match &self.track {
            Some(track) => track.reads(time)?,
            None => time.range(),
        };
        let (earliest, latest) = (since.earliest()?, since.latest()?);
        (!earliest.is_negative())
            .then(|| Ends::of(self.start.after(earliest), self.start.after(latest)))
    }

    /// Gives a time its time code.
    pub fn mark(&self, stamp: &mut Stamp) {
        stamp.timecode = self.at(&stamp.time);
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
    use crate::time::FrameRate;

    #[test]
    fn time_codes_follow_the_track_and_are_empty_where_it_does_not_play() {
        let mut quay = lantern_quay();
        quay.zero.value = Moment::FirstThrow;
        let start = Timecode::read("10:00:00:00", FrameRate::F25).unwrap();
        let clock = TimecodeClock::new(&compiled(&quay), start);
        // The track starts 7.5 s before the first throw, and lasts 65 s.
        let reads = |time| clock.at(&ms(time).into()).map(|code| code.earliest.to_string());
        assert_eq!(reads(0).as_deref(), Some("10:00:07:13"));
        assert_eq!(reads(-7_500).as_deref(), Some("10:00:00:00"));
        assert_eq!((reads(-7_501), reads(57_501)), (None, None));
        assert!(clock.words().contains("10:00:00:00 at track start"), "{}", clock.words());
    }

    #[test]
    fn without_music_time_codes_follow_the_show_clock() {
        let mut quay = lantern_quay();
        (quay.music, quay.zero.value) = (None, Moment::FirstThrow);
        quay.score.remove(1);
        quay.cues.clear();
        quay.limits.clear();
        let start = Timecode::of_frame(FrameRate::F30, 0);
        let clock = TimecodeClock::new(&compiled(&quay), start);
        let frame = clock.at(&ms(1_500).into()).map(|code| code.earliest.frame());
        assert_eq!(frame, Some(45));
        assert!(clock.words().contains("00:00:00:00 at first throw"), "{}", clock.words());
    }
}
