//! What was heard of a music file for a terminal, with the proposal to paste.

use crate::sheet::listening::ListeningSheet;
use crate::sound::{Alternative, LoudnessChange, Relation, SILENCE_DB, Tempo};
use crate::time::{Seconds, clock, written};

use super::table::{NARROWEST, labelled, paragraph};

/// Strong beats that are printed.
const STRONG_BEATS: usize = 4;

/// The sheet for a terminal `width` columns wide; the proposal is never broken.
#[must_use]
pub fn text(sheet: &ListeningSheet, width: u16) -> String {
    let width = width.max(NARROWEST);
    let heard = &sheet.heard;
    let mut text = paragraph(width, 0, &format!("{} · heard by throwbook", sheet.file));
    text.push('\n');
    let mut line = |label: &str, words: &str| text += &labelled(width, 16, label, words);
    line("length", &clock(&heard.length));
    line("silence", &silence(&heard.silence, &heard.length));
    match &heard.tempo {
        Some(tempo) => {
            line("tempo", &tempo_in_words(tempo));
            line("or", &alternatives(&tempo.alternatives));
            line("strong beats", &strong_beats(tempo));
        }
        None => line("tempo", "no steady beat was found, so none is proposed"),
    }
    if let Some(searched) = &heard.searched {
        line("searched", &format!("only the first {} for a beat", clock(searched)));
    }
    if !heard.loudness_changes.is_empty() {
        line("loudness changes", &loudness_changes(&heard.loudness_changes));
    }
    if heard.may_be_late {
        line("times", MAY_BE_LATE);
    }
    text.push('\n');
    text += &paragraph(width, 0, PROPOSAL);
    text += &format!("\nmusic: {},\n", sheet.track());
    text
}

const MAY_BE_LATE: &str = "may be up to 0.05 s late, and the length as much too long: this file does \
                           not say how much its encoder put before the music";

const PROPOSAL: &str = "PROPOSAL · Estimated from onsets: tap along before you trust it. Paste it \
                        into the routine, and write for `starts` the moment at which the operator \
                        starts the track.";

fn silence(silence: &Seconds, length: &Seconds) -> String {
    if silence == length {
        return "all of it".to_owned();
    }
    format!(
        "{:.3} s at the beginning, to {SILENCE_DB:.0} dB below the highest peak",
        silence.to_f64()
    )
}

fn tempo_in_words(tempo: &Tempo) -> String {
    format!("{:.2} music beats a minute, confidence {:.2} of 1", tempo.bpm, tempo.confidence)
}

fn alternatives(alternatives: &[Alternative]) -> String {
    let each = alternatives.iter().map(|Alternative { bpm, relation }| {
        let why = match relation {
            Relation::Half => "if only every second beat is one",
            Relation::Double => "if there is a beat between any two",
            Relation::TwoThirds => "if two beats fill the time of three",
            Relation::ThreeHalves => "if three beats fill the time of two",
        };
        format!("{bpm:.2} ({}), {why}", relation.word())
    });
    each.collect::<Vec<_>>().join("; ")
}

fn strong_beats(tempo: &Tempo) -> String {
    let first = tempo.strong_beats.iter().take(STRONG_BEATS);
    let times: Vec<String> =
        first.map(|&at| written(&crate::sheet::listening::thousandths(at))).collect();
    let assumed =
        if tempo.stands_out { "" } else { "; no beat stands out, so four to the bar are assumed" };
    format!("{}, every {} music beats{assumed}", times.join(", "), tempo.music_beats)
}

fn loudness_changes(loudness_changes: &[LoudnessChange]) -> String {
    let each = loudness_changes.iter().map(|&LoudnessChange { at, by_db }| {
        let word = if by_db > 0.0 { "louder" } else { "quieter" };
        let at = Seconds::decimal(at).unwrap_or_else(Seconds::zero);
        format!("{} {word} by {:.0} dB", clock(&at), by_db.abs())
    });
    each.collect::<Vec<_>>().join("; ")
}
