//! The music on the show clock: where it runs, its bars and its marks.

use num_traits::ToPrimitive;

use crate::routine::Routine;
use crate::sound::{Loudness, Tracks};
use crate::timeline::Timeline;

use super::millimetres::Mm;
use super::text;

/// Bars are drawn where they are at least so long.
const SHORTEST_BAR: Mm = Mm(1.5);
/// Music beats are drawn where they are at least so long.
const SHORTEST_BEAT: Mm = Mm(1.5);

/// The music of a routine.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Music {
    /// On the show clock.
    pub(super) starts: f64,
    /// On the show clock.
    pub(super) ends: f64,
    /// Its marks, on the show clock.
    pub(super) marks: Vec<(String, f64)>,
    /// How loud it is, where it was heard.
    pub(super) loudness: Option<Loudness>,
    stretches: Vec<Stretch>,
}

/// Bars at one tempo.
#[derive(Clone, Debug, PartialEq)]
struct Stretch {
    from: f64,
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

/// The music, where there is any.
pub(super) fn music(routine: &Routine, timeline: &Timeline, tracks: &Tracks) -> Option<Music> {
    let track = routine.music.as_ref()?;
    let starts = timeline.track_start.as_ref()?.to_f64();
    let ends = starts + track.length.value.to_f64();
    let begins =
        |index: usize| track.bars.get(index).map_or(ends, |bars| starts + bars.from.value.to_f64());
    let stretches = track.bars.iter().enumerate().map(|(index, bars)| Stretch {
        from: begins(index),
        to: begins(index + 1),
        music_beat_s: 60.0 / bars.bpm.to_f64().unwrap_or(f64::NAN),
        music_beats: bars.music_beats,
        number: bars.number,
    });
    let usable = |stretch: &Stretch| {
        stretch.music_beat_s.is_finite() && stretch.music_beat_s > 0.0 && stretch.music_beats > 0
    };
    let marks = track.marks.iter();
    Some(Music {
        starts,
        ends,
        loudness: tracks.heard(&track.file.value).map(|heard| heard.loudness.clone()),
        stretches: stretches.filter(usable).collect(),
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
        !self.stretches.is_empty()
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
            let (first, last) = (from.max(stretch.from), to.min(stretch.to));
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

    fn music_of(stretch: Stretch) -> Music {
        let stretches = vec![stretch];
        Music { starts: 0.0, ends: 60.0, marks: Vec::new(), loudness: None, stretches }
    }

    #[test]
    fn bars_are_counted_from_the_number_that_is_written() {
        let stretch =
            Stretch { from: 0.85, to: 60.0, music_beat_s: 0.5, music_beats: 4, number: 1 };
        let music = music_of(stretch);
        let beats = music.beats_within(2.0, 5.0, Mm(20.0));
        let downbeats: Vec<_> = beats.iter().filter(|beat| beat.is_downbeat).collect();
        assert_eq!(beats.len(), 6);
        assert_eq!(downbeats.len(), 2);
        assert_eq!((downbeats[0].number, downbeats[1].number), (2, 3));
        assert!((downbeats[0].at - 2.85).abs() < 1e-9);
    }

    #[test]
    fn bars_too_short_to_be_told_apart_are_not_drawn() {
        let stretch =
            Stretch { from: 0.0, to: 60.0, music_beat_s: 1e-9, music_beats: 4, number: 1 };
        let music = music_of(stretch);
        assert!(music.beats_within(0.0, 12.0, Mm(20.0)).is_empty());
    }
}
