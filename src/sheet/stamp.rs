//! A time as a sheet prints it: on the show clock, and on every clock that runs then.
//!
//! Bars, music beats, time codes and positions on a track are read from the track that plays at
//! that time, of several the one that started last. A held track stands; before its start and after
//! its end, and where it is not certain that it plays, nothing is read. What is open has two ends.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;

use crate::act::Act;
use crate::routine::Moment;
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
        Stamp::alone(Time::zero().unknown(usize::MAX))
    }

    /// A time of the show clock with nothing beside it.
    fn alone(time: Time) -> Stamp {
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
        let tracks = tracks.map(|((name, track), span)| {
            (name.map(|name| plain(&name.value)), span.clone(), track.music_map())
        });
        StampClocks { tracks: tracks.collect() }
    }

    /// Whether any track has bars.
    #[must_use]
    pub fn have_bars(&self) -> bool {
        self.tracks.iter().any(|(_, _, map)| map.is_some())
    }

    /// The track that plays at a time, and its place there: the one that surely started last of all
    /// that may play.
    fn playing(&self, time: &Time) -> Option<(&Option<String>, TimeRange, &Option<MusicMap>)> {
        let may = self.tracks.iter().filter_map(|(name, span, map)| {
            Some((span.starts.as_ref()?, name, span, map)).filter(|_| span.may_play(time))
        });
        let may: Vec<_> = may.collect();
        let is_last =
            |starts: &Time| may.iter().all(|(other, ..)| !(starts - *other).least().is_negative());
        let (_, name, span, map) = may.iter().rev().find(|(starts, ..)| is_last(starts))?;
        Some((name, span.reads(time)?, map))
    }

    /// A time on every clock; it has no time code.
    #[must_use]
    pub fn stamp(&self, time: &Time) -> Stamp {
        let Some((name, at, map)) = self.playing(time) else {
            return Stamp::alone(time.clone());
        };
        let bar = |at: Option<&Seconds>| map.as_ref()?.bar_beat(at?);
        let bar = bar(at.earliest()).zip(bar(at.latest()));
        Stamp {
            bar: bar.map(|(earliest, latest)| Ends::of(earliest, latest)),
            track: Some(OnTrack { name: name.clone(), at }),
            ..Stamp::alone(time.clone())
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
    use crate::time::{FrameRate, Open};
    use crate::timeline::HoldSpan;

    /// A track of 30 s with bars of four at 60 a minute from its start.
    fn clock(
        name: &str,
        starts: Time,
        hold: Option<HoldSpan>,
    ) -> (Option<String>, TrackSpan, Option<MusicMap>) {
        let quay = lantern_quay();
        let mut track = quay.music.unwrap();
        track.bars[0].from.value = ms(0);
        track.bars[0].bpm = BigRational::from_integer(60.into());
        let span = TrackSpan {
            starts: Some(starts),
            length: ms(30_000),
            holds: hold.into_iter().collect(),
        };
        (Some(name.to_owned()), span, track.music_map())
    }

    /// The track that plays at a time and what it reads: seconds and bars.
    fn read(clocks: &StampClocks, time: &Time) -> Option<(String, String, String)> {
        let stamp = clocks.stamp(time);
        let track = stamp.track.as_ref()?;
        let name = track.name.clone().unwrap();
        Some((name, track.at.seconds_text(), stamp.bar_words().unwrap_or_default()))
    }

    fn reads(name: &str, at: &str, bar: &str) -> Option<(String, String, String)> {
        Some((name.to_owned(), at.to_owned(), bar.to_owned()))
    }

    #[test]
    fn a_place_on_the_track_has_both_its_ends_and_a_held_track_stands() {
        let lasts = Time::between(Open::Length(0), &ms(3_000), &ms(8_000));
        let hold = HoldSpan { from: ms(10_000), lasts: lasts.clone() };
        let clocks = StampClocks { tracks: vec![clock("day", Time::zero(), Some(hold))] };
        let at = |seconds: i64| read(&clocks, &Time::from(ms(seconds * 1000)));
        assert_eq!(at(-1), None);
        assert_eq!(at(8), reads("day", "8.0 s", "3, 1"));
        assert_eq!(
            (at(10), at(12)),
            (reads("day", "10.0 s", "3, 3"), reads("day", "10.0 s", "3, 3"))
        );
        // It may stand still, or go on.
        assert_eq!(at(15), reads("day", "10.0–12.0 s", "3, 3–4, 1"));
        assert_eq!(at(20), reads("day", "12.0–17.0 s", "4, 1–5, 2"));
        // Two seconds after the hold, whenever that is.
        let after = &(&lasts + &ms(10_000)) + &ms(2_000);
        assert_eq!(read(&clocks, &after), reads("day", "12.0 s", "4, 1"));
        // From 33 on it may be over.
        assert_eq!(at(33), reads("day", "25.0–30.0 s", "7, 2–8, 3"));
        assert_eq!((at(34), at(39)), (None, None));
    }

    #[test]
    fn of_several_tracks_the_one_that_surely_started_last_is_read() {
        let open = Time::between(Open::Length(0), &ms(10_000), &ms(14_000));
        let tracks = vec![clock("day", Time::zero(), None), clock("night", open.clone(), None)];
        let clocks = StampClocks { tracks };
        let at = |seconds: i64| read(&clocks, &Time::from(ms(seconds * 1000)));
        assert_eq!(at(9), reads("day", "9.0 s", "3, 2"));
        // From 10 to 14 nobody knows which it is; then the night, to its own end.
        assert_eq!((at(10), at(13)), (None, None));
        assert_eq!(at(14), reads("night", "0.0–4.0 s", "1, 1–2, 1"));
        assert_eq!(at(40), reads("night", "26.0–30.0 s", "7, 3–8, 3"));
        assert_eq!(at(41), None);
        assert_eq!(read(&clocks, &(&open + &ms(1_000))), reads("night", "1.0 s", "1, 2"));
        // Which of two starts last may be open too.
        let tracks = vec![clock("night", open, None), clock("day", Time::from(ms(12_000)), None)];
        let clocks = StampClocks { tracks };
        assert_eq!(read(&clocks, &Time::from(ms(20_000))), None);
        // Of two that start at once it is the one that is written last.
        let tracks = vec![clock("a", Time::zero(), None), clock("b", Time::zero(), None)];
        let at_once = read(&StampClocks { tracks }, &Time::zero());
        assert_eq!(at_once, reads("b", "0.0 s", "1, 1"));
    }

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
