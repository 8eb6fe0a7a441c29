//! Which tracks a Sound cue plays or fades, as far as its words tell.
//!
//! A cue means the tracks that its words name, by their name or by their file; where it names none,
//! it may mean any.

use crate::act::Act;
use crate::act::calls::Call;
use crate::routine::{Crew, Cue, Moment, has_word, words_of};
use crate::time::{Night, Time};
use crate::timeline::TrackSpan;

const PLAYS: [&str; 6] = ["play", "plays", "start", "starts", "run", "runs"];
const FADES: [&str; 3] = ["fade", "fades", "out"];

/// Words that mean the music and nothing else that Sound may play.
const MUSIC: [&str; 6] = ["track", "music", "song", "tune", "playback", "it"];

/// Whether a cue plays something.
#[must_use]
pub fn plays(cue: &Cue) -> bool {
    cue.crew.value == Crew::Sound && has_word(&cue.does.value.words(), &PLAYS)
}

/// Words beside those of a fade that speak of no other thing.
const HOW: [&str; 16] = [
    "all",
    "away",
    "down",
    "everything",
    "fast",
    "gently",
    "in",
    "now",
    "over",
    "quick",
    "quickly",
    "slow",
    "slowly",
    "the",
    "then",
    "to",
];

/// Whether a cue fades something or takes it out, and neither plays nor brings anything in.
#[must_use]
pub fn fades(cue: &Cue) -> bool {
    let does = &cue.does.value.words();
    cue.crew.value == Crew::Sound && has_word(does, &FADES) && !plays(cue) && !brings_in(does)
}

/// Whether a text fades something in: `fade in surf`, `day out, night in`.
fn brings_in(does: &str) -> bool {
    does.split([',', ';', '.', ':']).any(|phrase| {
        let words: Vec<String> = words_of(phrase).collect();
        let is_in = |word: &String| ["in", "up"].contains(&word.as_str());
        words.last().is_some_and(is_in)
            || words.windows(2).any(|two| FADES[..2].contains(&two[0].as_str()) && is_in(&two[1]))
    })
}

/// What a cue means, as indices into the tracks, and whether it may mean something else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meant {
    /// The tracks.
    pub tracks: Vec<usize>,
    /// Whether its words speak of no track and of no music.
    pub or_else: bool,
}

/// What a Sound cue means.
#[must_use]
pub fn meant(act: &Act, cue: &Cue) -> Meant {
    let says: Vec<String> = words_of(&cue.does.value.words()).collect();
    let has = |name: &str| {
        let name: Vec<String> = words_of(name).collect();
        !name.is_empty() && says.windows(name.len()).any(|words| words == name)
    };
    let all = || act.routine.all_tracks().enumerate();
    let names = all().filter(|(_, (name, track))| {
        let file = track.file_name().unwrap_or_default();
        let file = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
        name.is_some_and(|name| has(&name.value)) || has(file)
    });
    let named: Vec<usize> = names.map(|(index, _)| index).collect();
    if !named.is_empty() {
        return Meant { tracks: named, or_else: false };
    }
    let is_of_fade = |word: &String| {
        let word = word.as_str();
        FADES.contains(&word) || HOW.contains(&word) || word.parse::<u32>().is_ok()
    };
    let is_music =
        says.len() == 1 || has_word(&cue.does.value.words(), &MUSIC) || says.iter().all(is_of_fade);
    Meant { tracks: all().map(|(index, _)| index).collect(), or_else: !is_music }
}

/// Whether a time is one at which an operator sets a track going on a night: its start, or the end
/// of a hold.
#[must_use]
pub fn sets_going(span: &TrackSpan, time: &Time, night: &Night<'_>) -> bool {
    let is_it = |other: &Time| is_at(time, other, night);
    let resumed = span
        .holds
        .iter()
        .any(|hold| span.at(&hold.from).is_some_and(|from| is_it(&(&from + &hold.lasts))));
    span.starts.as_ref().is_some_and(is_it) || resumed
}

/// Whether two times are one on a night.
fn is_at(one: &Time, other: &Time, night: &Night<'_>) -> bool {
    night.not_after(one, other) && night.not_after(other, one)
}

/// Whether a Sound cue other than `but` that may mean a track, an index, goes where that starts on a
/// night. What holds a track or lets it go on starts none, nor does what only fades.
#[must_use]
pub fn is_started(act: &Act, track: usize, but: Option<usize>, night: &Night<'_>) -> bool {
    let span = act.timeline.tracks.get(track);
    let Some(starts) = span.and_then(|span| span.starts.as_ref()) else { return false };
    let starts_it = |cue: &Cue| {
        cue.crew.value == Crew::Sound
            && !is_of_hold(cue)
            && !fades(cue)
            && meant(act, cue).tracks.contains(&track)
    };
    let mut calls = act.calls.calls.iter().filter(|call| Some(call.cue) != but);
    calls.any(|call| {
        let cue = act.routine.cues.get(call.cue);
        cue.is_some_and(starts_it) && is_at(&call.go, starts, night)
    })
}

/// Whether a cue holds a track, or lets it go on.
#[must_use]
pub fn is_of_hold(cue: &Cue) -> bool {
    let Some(when) = &cue.when else { return false };
    let of = match when.value.unshifted().0 {
        Moment::OfTrack(_, of) => of,
        moment => moment,
    };
    matches!(of, Moment::HoldStart(_) | Moment::HoldEnd(_))
}

/// Whether a cue plays a track, and goes on a night where none of those that it means starts or
/// goes on. A cue that may play something else does so where every track has a cue of its own.
#[must_use]
pub fn plays_at_no_start(act: &Act, call: &Call, cue: &Cue, night: &Night<'_>) -> bool {
    let Meant { tracks, or_else } = meant(act, cue);
    let spans = || tracks.iter().filter_map(|track| act.timeline.tracks.get(*track));
    if !plays(cue) || tracks.is_empty() || spans().any(|span| sets_going(span, &call.go, night)) {
        return false;
    }
    !or_else || !tracks.iter().all(|track| is_started(act, *track, Some(call.cue), night))
}
