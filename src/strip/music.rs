//! The music on the show clock: where it runs, its bars and its marks.

use num_traits::ToPrimitive;

use crate::diagnostic::Placed;
use crate::routine::{Routine, Track};
use crate::sound::{Loudness, Tracks};
use crate::time::{Seconds, TimeRange};
use crate::timeline::{Timeline, TrackSpan};

use super::millimetres::Mm;
use super::text;

/// Bars are drawn where they are at least so long.
const SHORTEST_BAR: Mm = Mm(1.5);
/// Music beats are drawn where they are at least so long.
const SHORTEST_BEAT: Mm = Mm(1.5);

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
    stretches: Vec<Stretch>,
}

/// Bars at one tempo.
#[derive(Clone, Debug, PartialEq)]
struct Stretch {
    /// Where its first music beat lies, or would lie had no hold come between.
    from: f64,
    /// Where it is heard from.
    begins: f64,
    to: f64,
    music_beat_s: f64,
    music_beats: u32,
    number: i32,
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
pub(super) fn music(routine: &Routine, timeline: &Timeline, heard: &Tracks) -> Vec<Music> {
    let tracks = routine.all_tracks().zip(&timeline.tracks);
    tracks.filter_map(|((name, track), span)| one(name, track, span, heard)).collect()
}

fn one(
    name: Option<&Placed<String>>,
    track: &Track,
    span: &TrackSpan,
    heard: &Tracks,
) -> Option<Music> {
    let starts = span.starts.as_ref()?.to_f64();
    let shown = |on_track: &Seconds| span.at(on_track).map_or(starts, |at| at.to_f64());
    let mut stretches = Vec::new();
    for (index, bars) in track.bars.iter().enumerate() {
        let (from, next) = (&bars.from.value, track.bars.get(index + 1));
        let to = next.map_or(&track.length.value, |next| &next.from.value);
        // A hold within it parts it: what is behind comes so much later.
        let held = span.holds.iter().map(|hold| &hold.from);
        let inside = held.filter(|at| from < *at && *at < to);
        let mut begins = shown(from);
        let mut later = begins - from.to_f64();
        for end in inside.chain([to]) {
            let ends = later + end.to_f64();
            stretches.push(Stretch {
                from: later + from.to_f64(),
                begins,
                to: ends,
                music_beat_s: 60.0 / bars.bpm.to_f64().unwrap_or(f64::NAN),
                music_beats: bars.music_beats,
                number: bars.number,
            });
            let hold = span.holds.iter().find(|hold| hold.from == *end);
            let lasts = hold.map_or(0.0, |hold| hold.lasts.to_f64());
            (begins, later) = (ends + lasts, later + lasts);
        }
    }
    let usable = |stretch: &Stretch| {
        stretch.music_beat_s.is_finite() && stretch.music_beat_s > 0.0 && stretch.music_beats > 0
    };
    let marks = track.marks.iter().map(|(name, at)| (text::clean(&name.value), shown(&at.value)));
    let holds = track.holds.iter().zip(&span.holds).map(|(hold, held)| {
        let from = shown(&held.from);
        let (shortest, longest) = hold.lasts.clone();
        let lasts = TimeRange { earliest: shortest, latest: longest }.seconds_text();
        let label = format!("hold {}: {lasts}", text::clean(&hold.name.value));
        Held { from, to: from + held.lasts.to_f64(), label, lasts }
    });
    Some(Music {
        name: name.map(|name| text::clean(&name.value)),
        starts,
        ends: shown(&track.length.value),
        stretches: stretches.into_iter().filter(usable).collect(),
        marks: marks.collect(),
        holds: holds.collect(),
        // Where the track stands still its loudness would stand beside its time.
        loudness: heard
            .heard(&track.file.value)
            .filter(|_| span.holds.is_empty())
            .map(|heard| heard.loudness.clone()),
    })
}

impl Music {
    /// From when to when it was heard, on the show clock.
    pub(super) fn heard(&self) -> Option<(f64, f64)> {
        self.loudness.is_some().then_some((self.starts, self.ends))
    }

    /// What is written before it.
    pub(super) fn label(&self) -> &str {
        match &self.name {
            Some(name) => name,
            None if self.stretches.is_empty() => "music",
            None => "bar",
        }
    }

    /// The music beats from one time to another that stand far enough apart to be drawn.
    pub(super) fn beats_within(&self, from: f64, to: f64, second: Mm) -> Vec<Bar> {
        let mut beats = Vec::new();
        for stretch in &self.stretches {
            let per_bar = f64::from(stretch.music_beats);
            let beats_too = second * stretch.music_beat_s >= SHORTEST_BEAT;
            if second * (stretch.music_beat_s * per_bar) < SHORTEST_BAR {
                continue;
            }
            let step = if beats_too { 1.0 } else { per_bar };
            let (first, last) = (from.max(stretch.begins), to.min(stretch.to));
            let begin =
                ((first - stretch.from) / stretch.music_beat_s / step - 1e-6).ceil().max(0.0);
            for index in 0_u32.. {
                let beat = (begin + f64::from(index)) * step;
                let at = stretch.from + beat * stretch.music_beat_s;
                if at >= last - 1e-6 {
                    break;
                }
                let bar = (beat / per_bar).floor();
                beats.push(Bar {
                    at,
                    number: i64::from(stretch.number) + bar as i64,
                    is_downbeat: (beat - bar * per_bar).abs() < 0.5,
                });
            }
        }
        beats
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn music_of(stretches: Vec<Stretch>) -> Music {
        let (marks, holds) = (Vec::new(), Vec::new());
        Music { name: None, starts: 0.0, ends: 60.0, marks, holds, loudness: None, stretches }
    }

    #[test]
    fn bars_are_counted_from_the_number_that_is_written() {
        let stretch = Stretch {
            from: 0.85,
            begins: 0.85,
            to: 60.0,
            music_beat_s: 0.5,
            music_beats: 4,
            number: 1,
        };
        let music = music_of(vec![stretch]);
        let beats = music.beats_within(2.0, 5.0, Mm(20.0));
        let downbeats: Vec<_> = beats.iter().filter(|beat| beat.is_downbeat).collect();
        assert_eq!(beats.len(), 6);
        assert_eq!(downbeats.len(), 2);
        assert_eq!((downbeats[0].number, downbeats[1].number), (2, 3));
        assert!((downbeats[0].at - 2.85).abs() < 1e-9);
    }

    #[test]
    fn bars_too_short_to_be_told_apart_are_not_drawn() {
        let stretch = Stretch {
            from: 0.0,
            begins: 0.0,
            to: 60.0,
            music_beat_s: 1e-9,
            music_beats: 4,
            number: 1,
        };
        let music = music_of(vec![stretch]);
        assert!(music.beats_within(0.0, 12.0, Mm(20.0)).is_empty());
    }
}
