//! A dark that is over before the props are picked up.

use crate::diagnostic::Diagnostic;
use crate::routine::{Part, Pause};
use crate::time::{Seconds, seconds_text};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "dark-too-short",
    what: "A dark during a pause in which props are picked up lasts as long as the slowest logged \
           pick-up.",
    why: "The light comes back on a performer who is still bending down.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "pick up", lasts: For("0:06"), pick_up: [2.9, 3.4]),
        Juggle(name: "fleet", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 3.0), does: "warm", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "pick up", lasts: For("0:06"), pick_up: [2.9, 3.4]),
        Juggle(name: "fleet", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 4.0), does: "warm", count: 2),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = case.darks();
    let mut found = Vec::new();
    for (index, section) in case.routine.score.iter().enumerate() {
        let Part::Pause(pause) = &section.part else { continue };
        let Some(slowest) = slowest(pause) else { continue };
        let Some(span) = case.timeline().sections.get(index) else { continue };
        for dark in &darks {
            // What of the dark lies in this pause: all that is left of it where nothing ends it.
            let from = if dark.from > span.starts { &dark.from } else { &span.starts };
            let until = dark.until.as_ref().filter(|(_, until)| *until < span.ends);
            let to = until.map_or(&span.ends, |(_, until)| until);
            let lasts = to - from;
            if lasts <= Seconds::zero() || lasts >= *slowest {
                continue;
            }
            // The pause itself is too short then, whatever the light does.
            let Some((ended_by, _)) = until else { continue };
            let Some(cue) = case.routine.cues.get(*ended_by) else { continue };
            let message = format!(
                "the dark in \"{}\" lasts {}, and the slowest logged pick-up takes {}",
                section.name.value,
                seconds_text(&lasts),
                seconds_text(slowest)
            );
            let at = cue.timed_at();
            let missing = slowest - &lasts;
            found.push(
                Diagnostic::warning(CHECK.code, at.clone(), message)
                    .label("light again from here")
                    .note_at(pause.lasts.at.clone(), "the pause in which the props are picked up")
                    .help(format!("let it stay dark at least {} longer", seconds_text(&missing))),
            );
        }
    }
    found
}

/// The slowest logged pick-up of a pause.
pub(super) fn slowest(pause: &Pause) -> Option<&Seconds> {
    pause
        .pick_up
        .iter()
        .map(|logged| &logged.value)
        .reduce(|slowest, logged| if logged > slowest { logged } else { slowest })
}
