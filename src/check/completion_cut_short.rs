//! A follow from the completion of a fade that another cue cuts short.

use crate::act::calls::Call;
use crate::act::in_order::InOrder;
use crate::diagnostic::Diagnostic;
use crate::measure::sound_cues::{Meant, fades, meant, plays};
use crate::routine::{Crew, Cue, FollowFrom, Trigger, words_of};
use crate::time::{clock, seconds_text};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "completion-cut-short",
    what: "A cue that follows the completion of a fade of light or sound follows one that no other \
           cue cuts short.",
    why: "A fade that another cue takes over is never complete: the desk sends the follow early, \
          late or not at all (common practice, no source).",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "warm", count: 4),
        Cue(crew: Light, number: 10, at: Shift(FirstThrow, 3.0), trigger: Called, does: "blue",
            count: 1),
        Cue(crew: Light, number: 15, trigger: Follow(5, Complete, 1.0), does: "cold", count: 1),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "warm", count: 4),
        Cue(crew: Light, number: 10, at: Shift(FirstThrow, 4.0), trigger: Called, does: "blue",
            count: 1),
        Cue(crew: Light, number: 15, trigger: Follow(5, Complete, 1.0), does: "cold", count: 1),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let calls = case.act.calls.calls.iter();
    let crew = |call: &Call| Some(case.routine().cues.get(call.cue)?.crew.value);
    let crews = Crew::ALL.map(|one| (one, case.act.calls.some(|call| crew(call) == Some(one))));
    calls.filter_map(|call| cut_short(case, &crews, call)).collect()
}

/// Whether a cue may take over what another fades. On Sound that is what touches a track that the
/// other may mean; scenery and what is carried are each a thing of their own.
fn may_cut(case: &Case<'_>, fade: &Cue, other: &Call) -> bool {
    let Some(other) = case.routine().cues.get(other.cue) else { return false };
    match fade.crew.value {
        Crew::Fly | Crew::Deck | Crew::Timekeeper => false,
        Crew::Sound => {
            let Meant { tracks, .. } = meant(case.act, fade);
            let Meant { tracks: touched, or_else } = meant(case.act, other);
            // A single word may name a sound as well as the music: `bell`.
            let is_of_track =
                plays(other) || fades(other) || words_of(&other.does.value.words()).count() > 1;
            !or_else && is_of_track && touched.iter().any(|track| tracks.contains(track))
        }
        Crew::House | Crew::Light | Crew::Spot => true,
    }
}

fn cut_short(case: &Case<'_>, crews: &[(Crew, InOrder<'_>)], call: &Call) -> Option<Diagnostic> {
    let cue = case.routine().cues.get(call.cue)?;
    let Trigger::Follow { from: FollowFrom::Complete, .. } = &cue.trigger.value else {
        return None;
    };
    let followed = case.act.calls.of_cue(call.follows?)?;
    let fade = case.routine().cues.get(followed.cue)?;
    let complete = followed.completes()?;
    let (_, crew) = crews.iter().find(|(crew, _)| *crew == fade.crew.value)?;
    let others = crew.between(followed, &complete);
    case.some_night(&cue.trigger.at, CHECK.code, |night| {
        let cuts = |other: &Call| {
            may_cut(case, fade, other)
                && night.before(&followed.go, &other.go)
                && night.before(&other.go, &complete)
        };
        let other = others.iter().find(|other| other.cue != call.cue && cuts(other))?;
        let cut_by = case.routine().cues.get(other.cue)?;
        let message = format!(
            "this follows the completion of {} at {} (show clock), and {} cuts that fade short at \
             {}",
            fade.label(),
            clock(&night.at(&complete)),
            cut_by.label(),
            clock(&night.at(&other.go))
        );
        Some(
            Diagnostic::warning(CHECK.code, cue.trigger.at.clone(), message)
                .label("follows a completion")
                .note_at(fade.at.clone(), "the fade that it follows")
                .note_at(cut_by.at.clone(), "this cue cuts it short")
                .help(format!(
                    "count from its `Go`, which comes all the same: {}",
                    seconds_text(&night.at(&(&call.go - &followed.go)))
                ))
                .help("or let the other cue go once the fade is complete"),
        )
    })
}
