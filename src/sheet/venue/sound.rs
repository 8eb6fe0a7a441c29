//! The music: what is played, how long it is, and who starts it on what.

use crate::act::Act;
use crate::routine::{Crew, Cue, Venue};

use super::super::cue_line::{CueLine, written};
use super::super::music_list::{PointCue, PointOf, TrackLine, music_list};
use super::super::words::plain;
use super::Fact;

pub(super) fn sound(act: &Act, venue: &Venue) -> Vec<Fact> {
    let mut facts: Vec<Fact> = Vec::new();
    let mut before = None;
    for one in act.with_encore() {
        facts.extend(music(one, before));
        before = Some(one);
    }
    facts.push(Fact::written("sound beside that", venue.sound.as_ref()));
    facts.push(Fact::written("power", venue.power.as_ref()));
    facts
}

/// The tracks of an act, or of its encore; `before` is the act of an encore.
fn music(act: &Act, before: Option<&Act>) -> Vec<Fact> {
    let label = if act.routine.is_encore { "music of the encore" } else { "music" };
    let lines = written(act);
    let list = music_list(act, &lines, before);
    let mut says: Vec<String> =
        list.tracks.iter().map(|track| of_track(act, track, &lines)).collect();
    says.extend(list.notes);
    match (says.is_empty(), act.routine.hidden.music || act.routine.hidden.encore) {
        (true, false) => vec![Fact::one(label, Some("none".to_owned()))],
        _ => vec![Fact::new(label, says)],
    }
}

/// As in `quay.wav, 1:05.0 long; started at 0:00.0 by SND 10: HEAR the bell`.
fn of_track(act: &Act, track: &TrackLine, lines: &[(&Cue, CueLine)]) -> String {
    let start = track.points.iter().find(|point| point.what == PointOf::Start);
    let at =
        start.filter(|start| start.at.is_known()).map(|start| format!(" at {}", start.at.clock()));
    let at = at.unwrap_or_default();
    let cues = start.map_or(&[][..], |start| &start.cues);
    let by = |cue: &PointCue| {
        let mut sound = lines.iter().filter(|(_, line)| line.crew == Crew::Sound);
        let (_, line) =
            sound.find(|(_, line)| line.label == cue.label && line.number == cue.number)?;
        let trigger = line.trigger.word().to_uppercase();
        Some(plain(&format!("{}: {trigger} {}", line.label, line.when.plain())))
    };
    let by: Vec<String> = cues.iter().filter_map(by).collect();
    match (by.is_empty(), !act.cues_known()) {
        (false, _) => format!("{}; started{at} by {}", track.words(), by.join(", ")),
        (true, false) => format!("{}; starts{at}, on no cue", track.words()),
        (true, true) => track.words(),
    }
}
