//! What was heard of a music file as JSON: a contract, read by other programs. Seconds count from
//! the first sample.

use serde::Serialize;

use crate::sheet::listening::ListeningSheet;

use super::json::written;

#[derive(Serialize)]
struct Document<'a> {
    file: &'a str,
    length_s: f64,
    silence_s: f64,
    /// Null without a steady beat.
    bpm: Option<f64>,
    first_beat_s: Option<f64>,
    confidence: f64,
    alternatives: Vec<ToldAlternative>,
    music_beats: Option<u32>,
    strong_beats_s: Vec<f64>,
    /// How much of it was searched for a beat.
    searched_s: f64,
    loudness_changes: Vec<ToldChange>,
    may_be_late: bool,
    track: String,
}

#[derive(Serialize)]
struct ToldAlternative {
    bpm: f64,
    relation: &'static str,
}

#[derive(Serialize)]
struct ToldChange {
    at_s: f64,
    by_db: f64,
}

/// The sheet as JSON.
#[must_use]
pub fn json(sheet: &ListeningSheet) -> String {
    let heard = &sheet.heard;
    let tempo = heard.tempo.as_ref();
    let strong_beats = tempo.map(|tempo| tempo.strong_beats.as_slice()).unwrap_or_default();
    let alternatives = tempo.map(|tempo| tempo.alternatives.as_slice()).unwrap_or_default();
    written(&Document {
        file: &sheet.file,
        length_s: heard.length.to_f64(),
        silence_s: heard.silence.to_f64(),
        bpm: tempo.map(|tempo| thousandths(tempo.bpm)),
        first_beat_s: strong_beats.first().copied().map(thousandths),
        confidence: tempo.map_or(0.0, |tempo| thousandths(tempo.confidence)),
        alternatives: alternatives
            .iter()
            .map(|other| ToldAlternative {
                bpm: thousandths(other.bpm),
                relation: other.relation.word(),
            })
            .collect(),
        music_beats: tempo.map(|tempo| tempo.music_beats),
        strong_beats_s: strong_beats.iter().copied().map(thousandths).collect(),
        searched_s: heard.searched.as_ref().unwrap_or(&heard.length).to_f64(),
        loudness_changes: heard
            .loudness_changes
            .iter()
            .map(|change| ToldChange {
                at_s: thousandths(change.at),
                by_db: thousandths(change.by_db),
            })
            .collect(),
        may_be_late: heard.may_be_late,
        track: sheet.track(),
    })
}

/// An estimate to three decimals: more would say more than is known.
fn thousandths(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}
