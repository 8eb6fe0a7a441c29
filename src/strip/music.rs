//! The music on the show clock: where it runs, its bars and its marks.

use num_bigint::BigInt;
use num_rational::BigRational;

use crate::routine::Routine;
use crate::sound::{Loudness, Tracks};
use crate::time::{MusicMap, Seconds};
use crate::timeline::Timeline;

use super::millimetres::Mm;
use super::text;

/// Bars are drawn where they are at least so long.
const SHORTEST_BAR: Mm = Mm(1.5);
/// Music beats are drawn where they are at least so long.
const SHORTEST_BEAT: Mm = Mm(1.5);

/// The reader takes no bars of more music beats.
const MOST_BEATS_OF_A_BAR: f64 = 100.0;

/// The music of a routine.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Music {
    /// On the show clock.
    pub(super) starts: f64,
    /// On the show clock.
    pub(super) ends: f64,
    /// Its marks, on the show clock.
    pub(super) marks: Vec<(String, f64)>,
    map: Option<MusicMap>,
    /// How loud it is, where it was heard.
    pub(super) loudness: Option<Loudness>,
}

/// A music beat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bar {
    /// When.
    pub(super) at: f64,
    /// The number of its bar.
    pub(super) number: i64,
    /// Whether it is the first of its bar.
    pub(super) is_downbeat: bool,
}

/// The music, where there is any.
pub(super) fn music(routine: &Routine, timeline: &Timeline, tracks: &Tracks) -> Option<Music> {
    let track = routine.music.as_ref()?;
    let starts = timeline.track_start.as_ref()?.to_f64();
    let ends = starts + track.length.value.to_f64();
    let marks = track.marks.iter();
    Some(Music {
        starts,
        ends,
        map: track.music_map(),
        loudness: tracks.heard(&track.file.value).map(|heard| heard.loudness.clone()),
        marks: marks
            .map(|(name, at)| (text::clean(&name.value), starts + at.value.to_f64()))
            .collect(),
    })
}

impl Music {
    /// From when to when it was heard, on the show clock.
    pub(super) fn heard(&self) -> Option<(f64, f64)> {
        self.loudness.is_some().then_some((self.starts, self.ends))
    }

    /// Whether its bars are known.
    pub(super) fn has_bars(&self) -> bool {
        self.map.is_some()
    }

    /// The music beats from one time to another that stand far enough apart to be drawn.
    pub(super) fn beats_within(&self, from: f64, to: f64, second: Mm) -> Vec<Bar> {
        let Some(map) = &self.map else { return Vec::new() };
        let (from, to) = (from.max(self.starts), to.min(self.ends));
        let on_track = |time: f64| Seconds::Near(time - self.starts);
        // Too many to be drawn are not asked for one by one.
        let counts = map.whole_beats(&on_track(from), &on_track(to));
        let most = (second * (to - from)).0 / SHORTEST_BAR.0 * MOST_BEATS_OF_A_BAR + 1.0;
        if (counts.end - counts.start) as f64 > most {
            return Vec::new();
        }
        let whole = |count: i64| BigRational::from_integer(BigInt::from(count));
        let at = |count: i64| self.starts + map.time(&whole(count)).to_f64();
        let beats = counts.filter_map(|count| {
            let named = map.named(&whole(count));
            let is_downbeat = named.whole_beat() == 1;
            let lasts = at(count + 1) - at(count);
            if second * (lasts * f64::from(named.of)) < SHORTEST_BAR
                || !is_downbeat && second * lasts < SHORTEST_BEAT
            {
                return None;
            }
            Some(Bar { at: at(count), number: named.bar, is_downbeat })
        });
        beats.collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::time::MusicStretch;

    fn music(from_ms: i64, bpm: i64) -> Music {
        let stretch = MusicStretch {
            from: Seconds::fraction(from_ms, 1000),
            bpm: BigRational::from_integer(BigInt::from(bpm)),
            ramp: None,
            music_beats: 4,
            number: 1,
            pick_up: 0,
        };
        let map = MusicMap::new(&[stretch], Seconds::fraction(60, 1));
        Music { starts: 0.0, ends: 60.0, marks: Vec::new(), map, loudness: None }
    }

    #[test]
    fn bars_are_counted_from_the_number_that_is_written() {
        let music = music(850, 120);
        let beats = music.beats_within(2.0, 5.0, Mm(20.0));
        let downbeats: Vec<_> = beats.iter().filter(|beat| beat.is_downbeat).collect();
        assert_eq!(beats.len(), 6);
        assert_eq!(downbeats.len(), 2);
        assert_eq!((downbeats[0].number, downbeats[1].number), (2, 3));
        assert!((downbeats[0].at - 2.85).abs() < 1e-9);
    }

    #[test]
    fn bars_too_short_to_be_told_apart_are_not_drawn() {
        let music = music(0, 10_000);
        assert!(music.beats_within(0.0, 12.0, Mm(20.0)).is_empty());
    }
}
