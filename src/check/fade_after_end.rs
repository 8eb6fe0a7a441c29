//! A Sound cue that fades a track which has ended.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::sound_cues::{Meant, fades, meant};
use crate::routine::{Crew, Cue, Track};
use crate::time::{Time, clock, seconds_text};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "fade-after-end",
    what: "A Sound cue that fades a track goes before the track has ended.",
    why: "There is nothing left to fade: the track is shorter than the cue list assumes, or the \
          routine has become longer.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    music: Track(file: "surf.wav", length: "0:08", starts: Start("tide")),
    cues: [
        Cue(crew: Sound, number: 5, at: TrackStart, trigger: See("arms up"), does: "play surf"),
        Cue(crew: Sound, number: 10, at: Shift(End("bow"), -2.0), trigger: Called, does: "fade out",
            count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    music: Track(file: "surf.wav", length: "0:11", starts: Start("tide")),
    cues: [
        Cue(crew: Sound, number: 5, at: TrackStart, trigger: See("arms up"), does: "play surf"),
        Cue(crew: Sound, number: 10, at: Shift(End("bow"), -2.0), trigger: Called, does: "fade out",
            count: 2),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let cues = case.calls_of(Crew::Sound).filter(|(_, cue)| fades(cue));
    cues.filter_map(|(call, cue)| diagnostic(case, call, cue)).collect()
}

fn diagnostic(case: &Case<'_>, call: &Call, cue: &Cue) -> Option<Diagnostic> {
    let all: Vec<_> = case.routine().all_tracks().zip(&case.timeline().tracks).collect();
    // Words that speak of no track and no music may mean what is no track.
    let Meant { tracks: meant, or_else: false } = meant(case.act, cue) else { return None };
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        let mut last: Option<(&Track, Time)> = None;
        for ((_, track), span) in meant.iter().filter_map(|one| all.get(*one)) {
            let (starts, ends) = (span.starts.as_ref()?, span.ends()?);
            if !night.not_after(starts, &call.go) {
                continue;
            }
            if !night.before(&ends, &call.go) {
                return None;
            }
            if last.as_ref().is_none_or(|(_, last)| night.before(last, &ends)) {
                last = Some((track, ends));
            }
        }
        // What fades before any track has begun is no track.
        let (track, ends) = last?;
        let late = &call.go - &ends;
        night.worse_by(&late);
        let message = format!(
            "this cue fades at {} (show clock), {} after the track has ended",
            clock(&night.at(&call.go)),
            seconds_text(&night.at(&late))
        );
        let ended = clock(&night.at(&ends));
        Some(
            Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
                .label("nothing left to fade")
                .note_at(track.length.at.clone(), format!("the track, which ends at {ended}"))
                .help("fade before `TrackEnd`, or leave the cue out")
                .help("where it fades something else, say so without the words `fade` and `out`"),
        )
    })
}
