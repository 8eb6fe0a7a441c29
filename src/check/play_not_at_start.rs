//! A Sound cue that plays a track before it starts or after.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::sound_cues::{meant, plays_at_no_start};
use crate::routine::{Crew, Cue};
use crate::time::{clock, seconds_text};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "play-not-at-start",
    what: "A Sound cue that plays a track goes where the routine has that track start.",
    why: "Every mark, bar and hold is counted from the track's start: a GO elsewhere moves them \
          all, and no sheet shows it.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:09")),
"#,
        r#"    music: Track(file: "surf.wav", length: "0:12", starts: Start("tide")),
    cues: [
        Cue(crew: Sound, number: 5, at: Shift(FirstThrow, 2.0), trigger: Called, does: "play surf"),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:09")),
"#,
        r#"    music: Track(file: "surf.wav", length: "0:12", starts: Start("tide")),
    cues: [
        Cue(crew: Sound, number: 5, at: TrackStart, trigger: See("arms up"), does: "play surf"),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let cues = case.calls_of(Crew::Sound);
    cues.filter_map(|(call, cue)| diagnostic(case, call, cue)).collect()
}

fn diagnostic(case: &Case<'_>, call: &Call, cue: &Cue) -> Option<Diagnostic> {
    let act = case.act;
    let all: Vec<_> = case.routine().all_tracks().zip(&case.timeline().tracks).collect();
    let meant = meant(act, cue).tracks;
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        if !plays_at_no_start(act, call, cue, night) {
            return None;
        }
        let go = clock(&night.at(&call.go));
        let message = match &meant[..] {
            [one] => {
                let starts = all.get(*one)?.1.starts.as_ref()?;
                let (apart, side) = match night.before(&call.go, starts) {
                    true => (starts - &call.go, "before"),
                    false => (&call.go - starts, "after"),
                };
                let apart = seconds_text(&night.at(&apart));
                format!("this cue plays the track at {go} (show clock), {apart} {side} it starts")
            }
            _ => format!("this cue plays a track at {go} (show clock), and none starts then"),
        };
        let mut found = Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
            .label("not where it starts");
        for ((name, track), span) in meant.iter().filter_map(|one| all.get(*one)) {
            let name = name.map_or_else(String::new, |name| format!(" \"{}\"", name.value));
            let starts = clock(&night.at(span.starts.as_ref()?));
            let note = format!("the track{name} starts here, at {starts}");
            found = found.note_at(track.starts.at.clone(), note);
        }
        Some(
            found.help("hang the cue on `TrackStart`, or correct the `starts` of the track").help(
                "where it plays something else, give every track a Sound cue at its own start",
            ),
        )
    })
}
