//! Fire or blades between two runs while the stage is dark.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;
use crate::measure::in_use::{InUse, in_use};
use crate::time::clock;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "danger-in-dark",
    what: "The stage is not dark in a pause between two runs with the same fire or blades.",
    why: "They are alight, or in somebody's hands, and nobody sees where they are. It is an error, \
          and no sheet is written; local codes, the venue and licensed practice decide what is \
          safe.",
    raises: example!(
        r#"        Juggle(name: "sparks", set: "knives", pattern: "3", lasts: Beats(20)),
        Pause(name: "turn round", lasts: For("0:06")),
        Juggle(name: "more", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("sparks"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 4.0), does: "warm", count: 1),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "sparks", set: "knives", pattern: "3", lasts: Beats(20)),
        Pause(name: "turn round", lasts: For("0:06")),
        Juggle(name: "more", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("sparks"), trigger: See("all in hands"),
            does: "down to half", count: 2),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 4.0), does: "warm", count: 1),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = Darks::of(case.act);
    let mut found = Vec::new();
    for used in in_use(case.timeline()) {
        let set = case.routine().sets.get(used.set);
        if !set.is_some_and(|set| set.kind.is_dangerous()) {
            continue;
        }
        let begins = darks.calls().into_iter();
        found.extend(begins.filter_map(|call| diagnostic(case, &darks, &used, call)));
    }
    found
}

/// The first pause of a set in use that the dark of a cue reaches into.
fn diagnostic(case: &Case<'_>, darks: &Darks<'_>, used: &InUse, call: &Call) -> Option<Diagnostic> {
    let cue = case.routine().cues.get(call.cue)?;
    let set = case.routine().sets.get(used.set)?;
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        let pause = used.sections.clone().find(|&index| {
            let Some(span) = case.timeline().sections.get(index) else { return false };
            case.section(index).pause().is_some()
                && night.before(&call.go, &span.ends)
                && darks.is_on_after(call, &span.starts, night)
        })?;
        let dark = darks.begun_by(call, night)?;
        let section = case.section(pause);
        let message = format!(
            "the stage goes dark at {} (show clock), and in \"{}\" fire or blades are still in use",
            clock(&night.at(&dark.from)),
            section.name.value
        );
        Some(
            Diagnostic::error(CHECK.code, cue.timed_at().clone(), message)
                .label("dark from here")
                .note_at(section.name.at.clone(), "the pause that it reaches into")
                .note_at(set.name.at.clone(), "what is juggled before it and after it")
                .note(
                    "no sheet is written. Local codes, the venue and licensed practice decide what \
                     is safe; throwbook clears nothing",
                )
                .help("leave light on them until they are put out or put away"),
        )
    })
}
