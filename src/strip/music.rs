//! The music on the show clock: where it runs, its bars and its marks.

use num_bigint::BigInt;
use num_rational::BigRational;

use crate::act::Act;
use crate::diagnostic::Placed;
use crate::routine::Track;
use crate::sound::{Loudness, Tracks};
use crate::time::{MusicMap, Seconds, TimeRange};
use crate::timeline::TrackSpan;

use super::certainty::Certainty;
use super::millimetres::Mm;
use super::text;

/// Bars are drawn where they are at least so long.
const SHORTEST_BAR: Mm = Mm(1.5);
/// Music beats are drawn where they are at least so long.
const SHORTEST_BEAT: Mm = Mm(1.5);

/// The reader takes no bars of more music beats.
const MOST_BEATS_OF_A_BAR: f64 = 100.0;

/// A track.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Music {
    /// Its name, if it has one.
    pub(super) name: Option<String>,
    /// On the show clock.
    pub(super) starts: f64,
    /// On the show clock.
    pub(super) ends: f64,
    /// Its marks, on the show clock.
    pub(super) marks: Vec<(String, f64)>,
    /// How loud it is, where it was heard.
    pub(super) loudness: Option<Loudness>,
    /// Where it stands still.
    pub(super) holds: Vec<Held>,
    /// The stretches of the show clock in which it is known where the track is.
    pub(super) known: Vec<(f64, f64)>,
    map: Option<MusicMap>,
    parts: Vec<Part>,
}

/// A part of a track that runs on without a hold.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Part {
    /// On the track.
    from: f64,
    /// On the track.
    to: f64,
    /// How much later the show clock reads.
    later: f64,
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

/// A hold, as long as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Held {
    /// On the show clock.
    pub(super) from: f64,
    /// On the show clock.
    pub(super) to: f64,
    /// Its name and what it can last: `hold stop: 3.0–8.0 s`.
    pub(super) label: String,
    /// What it can last.
    pub(super) lasts: String,
}

/// The tracks of a routine, in the order of its file.
pub(super) fn music(act: &Act, certainty: &Certainty) -> Vec<Music> {
    let Act { routine, timeline, .. } = act;
    let tracks = routine.all_tracks().zip(&timeline.tracks);
    tracks
        .filter_map(|((name, track), span)| one(name, track, span, (&act.heard, certainty)))
        .collect()
}

fn one(
    name: Option<&Placed<String>>,
    track: &Track,
    span: &TrackSpan,
    (heard, certainty): (&Tracks, &Certainty),
) -> Option<Music> {
    let begins = span.starts.clone()?;
    let span = &span.at_shortest();
    let starts = span.starts.as_ref()?.shortest().to_f64();
    let shown = |on_track: &Seconds| span.at(on_track).map_or(starts, |at| at.shortest().to_f64());
    let mut parts = Vec::new();
    let (mut from, mut later) = (0.0, starts);
    for hold in &span.holds {
        let to = hold.from.to_f64();
        parts.push(Part { from, to, later });
        (from, later) = (to, later + hold.lasts.shortest().to_f64());
    }
    parts.push(Part { from, to: track.length.value.to_f64(), later });
    let marks = track.marks.iter().map(|(name, at)| (text::clean(&name.value), shown(&at.value)));
    let holds = track.holds.iter().zip(&span.holds).map(|(hold, held)| {
        let from = shown(&held.from);
        let (shortest, longest) = hold.lasts.clone();
        let lasts = TimeRange::between(shortest, longest).seconds_text();
        let label = format!("hold {}: {lasts}", text::clean(&hold.name.value));
        Held { from, to: from + held.lasts.shortest().to_f64(), label, lasts }
    });
    let ends = shown(&track.length.value);
    Some(Music {
        known: certainty.known(&begins, starts, ends).collect(),
        name: name.map(|name| text::clean(&name.value)),
        starts,
        ends,
        map: track.music_map(),
        parts,
        marks: marks.collect(),
        holds: holds.collect(),
        loudness: track
            .file_name()
            .and_then(|file| heard.heard(file))
            .map(|heard| heard.loudness.clone()),
    })
}

impl Music {
    /// From when to when it was heard, on the show clock.
    pub(super) fn heard(&self) -> Option<(f64, f64)> {
        self.loudness.is_some().then_some((self.starts, self.ends))
    }

    /// How loud it is at most from one time to another, as a part of the loudest; nothing while it
    /// is held.
    pub(super) fn height(&self, from: f64, to: f64) -> f64 {
        let Some(loudness) = &self.loudness else { return 0.0 };
        let of_part = |part: &Part| {
            let from = (from - part.later).max(part.from);
            let to = (to - part.later).min(part.to);
            if from < to { loudness.height(from, to) } else { 0.0 }
        };
        self.parts.iter().map(of_part).fold(0.0, f64::max)
    }

    /// What is written before it.
    pub(super) fn label(&self) -> &str {
        match &self.name {
            Some(name) => name,
            None if self.map.is_none() => "music",
            None => "bar",
        }
    }

    /// The music beats from one time to another that stand far enough apart to be drawn.
    pub(super) fn beats_within(&self, from: f64, to: f64, second: Mm) -> Vec<Bar> {
        let Some(map) = &self.map else { return Vec::new() };
        let of_part = |part: &Part| {
            let from = (from - part.later).max(part.from);
            let to = (to - part.later).min(part.to);
            if from < to { beats_of(map, part, (from, to), second) } else { Vec::new() }
        };
        self.parts.iter().flat_map(of_part).collect()
    }
}

/// The music beats of a part, from one time on the track to another.
fn beats_of(map: &MusicMap, part: &Part, (from, to): (f64, f64), second: Mm) -> Vec<Bar> {
    // Too many to be drawn are not asked for one by one.
    let counts = map.whole_beats(&Seconds::Near(from), &Seconds::Near(to));
    let most = (second * (to - from)).0 / SHORTEST_BAR.0 * MOST_BEATS_OF_A_BAR + 1.0;
    if (counts.end - counts.start) as f64 > most {
        return Vec::new();
    }
    let whole = |count: i64| BigRational::from_integer(BigInt::from(count));
    let at = |count: i64| part.later + map.time(&whole(count)).to_f64();
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
            upbeat: 0,
        };
        let map = MusicMap::new(&[stretch], Seconds::fraction(60, 1));
        Music {
            name: None,
            starts: 0.0,
            ends: 60.0,
            marks: Vec::new(),
            loudness: None,
            holds: Vec::new(),
            known: vec![(0.0, 60.0)],
            map,
            parts: vec![Part { from: 0.0, to: 60.0, later: 0.0 }],
        }
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
