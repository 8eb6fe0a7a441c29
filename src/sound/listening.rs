//! What was heard in a recording, as a proposal.

use crate::time::Seconds;

use super::Loudness;
#[cfg(feature = "audio")]
use super::{Recording, onset, tempo};

/// What was heard in a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Listening {
    /// Its length, exactly.
    pub length: Seconds,
    /// The silence at its beginning.
    pub silence: Seconds,
    /// Its steady beat, if it has one.
    pub tempo: Option<Tempo>,
    /// How much of it, from its beginning, was searched for a beat, where that is not all of it.
    pub searched: Option<Seconds>,
    /// Where it gets much louder or quieter, in order.
    pub loudness_changes: Vec<LoudnessChange>,
    /// Whether every time here may be some hundredths of a second late: see
    /// [`Recording::may_start_late`](super::Recording::may_start_late).
    pub may_be_late: bool,
}

/// A steady beat, as far as it could be estimated.
#[derive(Clone, Debug, PartialEq)]
pub struct Tempo {
    /// Music beats a minute.
    pub bpm: f64,
    /// How certain that is, from 0 to 1.
    pub confidence: f64,
    /// Music beats from one strong one to the next.
    pub music_beats: u32,
    /// Whether the strong ones stand out; where none does, four to the bar are only assumed.
    pub stands_out: bool,
    /// The strong beats, in seconds from the first sample; at least one.
    pub strong_beats: Vec<f64>,
    /// What the tempo would be if the beat was mistaken, most likely first.
    pub alternatives: Vec<Alternative>,
}

/// A tempo that may be meant instead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alternative {
    /// Music beats a minute.
    pub bpm: f64,
    /// What it is of the estimate.
    pub relation: Relation,
}

/// What one tempo is of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relation {
    /// An octave below: every second beat.
    Half,
    /// An octave above: a beat more between any two.
    Double,
    /// Two for every three.
    TwoThirds,
    /// Three for every two.
    ThreeHalves,
}

/// The music gets much louder or quieter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoudnessChange {
    /// When, in seconds from the first sample.
    pub at: f64,
    /// By how many decibels; below zero when it gets quieter.
    pub by_db: f64,
}

impl Relation {
    /// The factor from the estimate to the alternative.
    #[must_use]
    pub fn factor(self) -> f64 {
        match self {
            Relation::Half => 0.5,
            Relation::Double => 2.0,
            Relation::TwoThirds => 2.0 / 3.0,
            Relation::ThreeHalves => 1.5,
        }
    }

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Relation::Half => "half",
            Relation::Double => "double",
            Relation::TwoThirds => "2:3",
            Relation::ThreeHalves => "3:2",
        }
    }
}

/// Listens to a recording.
#[cfg(feature = "audio")]
#[must_use]
pub fn listen(recording: &Recording) -> Listening {
    let novelty = onset::novelty(recording);
    let onsets = onset::onsets(recording, &novelty);
    let tempo = tempo::tempo(&novelty, &onsets);
    let length = recording.length();
    let loudness_changes = loudness_changes(recording.loudness(), length.to_f64(), tempo.as_ref());
    Listening {
        silence: recording.silence(),
        length,
        tempo,
        searched: recording.kept(),
        loudness_changes,
        may_be_late: recording.may_start_late(),
    }
}

/// A change is so many decibels at least.
const LOUDER_DB: f64 = 6.0;
/// It is measured over so many seconds before and after.
const COMPARED_S: f64 = 3.0;
/// Changes stand at least so many seconds apart.
const CHANGES_APART_S: f64 = 8.0;
/// More would be no help.
const MOST_CHANGES: usize = 6;
/// Nothing is quieter than so many decibels below the loudest.
const QUIETEST_DB: f64 = -50.0;

/// The greatest changes of loudness, each moved to the nearest strong beat within a second.
#[cfg_attr(not(feature = "audio"), allow(dead_code))]
fn loudness_changes(
    loudness: &Loudness,
    length_s: f64,
    tempo: Option<&Tempo>,
) -> Vec<LoudnessChange> {
    let loudest = loudness.loudest();
    if loudest <= 0.0 {
        return Vec::new();
    }
    let db =
        |from: f64, to: f64| (20.0 * (loudness.mean(from, to) / loudest).log10()).max(QUIETEST_DB);
    let mut found: Vec<LoudnessChange> = Vec::new();
    let mut at = COMPARED_S;
    while at + COMPARED_S <= length_s {
        let by_db = db(at, at + COMPARED_S) - db(at - COMPARED_S, at);
        if by_db.abs() >= LOUDER_DB {
            found.push(LoudnessChange { at, by_db });
        }
        at += Loudness::WINDOW_S;
    }
    found.sort_by(|one, other| {
        other.by_db.abs().total_cmp(&one.by_db.abs()).then(one.at.total_cmp(&other.at))
    });
    let mut kept: Vec<LoudnessChange> = Vec::new();
    for change in found {
        if kept.len() < MOST_CHANGES
            && kept.iter().all(|one| (one.at - change.at).abs() >= CHANGES_APART_S)
        {
            kept.push(change);
        }
    }
    for change in &mut kept {
        let beats = tempo.map(|tempo| tempo.strong_beats.as_slice()).unwrap_or_default();
        let near = beats
            .iter()
            .copied()
            .min_by(|one, other| (one - change.at).abs().total_cmp(&(other - change.at).abs()));
        if let Some(near) = near.filter(|near| (near - change.at).abs() <= 1.0) {
            change.at = near;
        }
    }
    kept.sort_by(|one, other| one.at.total_cmp(&other.at));
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_of_loudness_is_named_where_the_music_gets_much_louder_or_quieter() {
        let window = |place: u32| if (200..400).contains(&place) { 0.5 } else { 0.1 };
        let loudness = Loudness { windows: (0..700).map(window).collect() };
        let loudness_changes = loudness_changes(&loudness, 35.0, None);
        let rounded: Vec<(f64, f64)> = loudness_changes
            .iter()
            .map(|change| ((change.at * 20.0).round() / 20.0, change.by_db.round()))
            .collect();
        assert_eq!(rounded, [(10.0, 14.0), (20.0, -14.0)]);
    }
}
