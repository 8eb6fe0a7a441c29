//! A track that starts without a Sound cue.

use crate::act::calls::Call;
use crate::diagnostic::{Diagnostic, Placed};
use crate::measure::sound_cues::{is_of_hold, is_started, meant, plays_at_no_start};
use crate::routine::{Crew, Cue, Track};
use crate::time::clock;

use super::{Case, Check, Finds, of_both};

pub(super) const CHECK: Check = Check {
    code: "track-without-cue",
    what: "Where an act has cues beside those of its holds, a Sound cue goes where each of its \
           tracks starts.",
    why: "The operator plays what is on the sheet: without a cue the music starts when somebody \
          remembers it.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:09")),
"#,
        r#"    music: Track(file: "surf.wav", length: "0:12", starts: Start("tide")),
    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "warm", count: 2),
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
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "warm", count: 2),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let has_cues = case.routine().with_encore().any(|routine| !routine.cues.iter().all(is_of_hold));
    of_both(case, |one| {
        // A cue that cannot be read or called may play it.
        let all_known = !one.routine().hidden.cues && one.act.calls.uncallable.is_empty();
        let tracks = one.routine().all_tracks().enumerate();
        let tracks = tracks.filter(|(_, (_, track))| has_cues && all_known && track.file.is_some());
        tracks.filter_map(|(index, (name, track))| silent(one, name, track, index)).collect()
    })
}

fn silent(
    case: &Case<'_>,
    name: Option<&Placed<String>>,
    track: &Track,
    index: usize,
) -> Option<Diagnostic> {
    let starts = case.timeline().tracks.get(index)?.starts.as_ref()?;
    let act = case.act;
    case.some_night(&track.starts.at, CHECK.code, |night| {
        // Of a cue that plays it elsewhere that is said already.
        let plays_elsewhere = |(call, cue): (&Call, &Cue)| {
            meant(act, cue).tracks.contains(&index) && plays_at_no_start(act, call, cue, night)
        };
        if is_started(act, index, None, night) || case.calls_of(Crew::Sound).any(plays_elsewhere) {
            return None;
        }
        let (called, moment) = match name {
            Some(name) => {
                let name = &name.value;
                (format!("\"{name}\""), format!("TrackStart(\"{name}\")"))
            }
            None => ("the music".to_owned(), "TrackStart".to_owned()),
        };
        let message = format!(
            "no Sound cue plays {called} where it starts, at {} (show clock)",
            clock(&night.at(starts))
        );
        Some(
            Diagnostic::warning(CHECK.code, track.starts.at.clone(), message)
                .label("starts here, and nobody plays it")
                .help(format!("add a Sound cue with `at: {moment}`")),
        )
    })
}
