//! Fire or blades between two runs while the stage is dark.

use crate::diagnostic::Diagnostic;
use crate::measure::calls::Dark;
use crate::measure::in_use::{InUse, in_use};
use crate::routine::Part;
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
    let darks = case.darks();
    let mut found = Vec::new();
    for used in in_use(case.timeline()) {
        let set = case.routine.sets.get(used.set);
        if !set.is_some_and(|set| set.kind.is_dangerous()) {
            continue;
        }
        for dark in &darks {
            found.extend(diagnostic(case, &used, dark));
        }
    }
    found
}

/// The first pause of a set in use that a dark reaches into.
fn diagnostic(case: &Case<'_>, used: &InUse, dark: &Dark) -> Option<Diagnostic> {
    let pause = used.sections.clone().find(|&index| {
        let is_pause = matches!(case.section(index).part, Part::Pause(_));
        let Some(span) = case.timeline().sections.get(index) else { return false };
        let ends_before = dark.until.as_ref().is_some_and(|(_, until)| *until <= span.starts);
        is_pause && dark.from < span.ends && !ends_before
    })?;
    let cue = case.routine.cues.get(*dark.cues.first()?)?;
    let section = case.section(pause);
    let set = case.routine.sets.get(used.set)?;
    let message = format!(
        "the stage goes dark at {} (show clock), and in \"{}\" fire or blades are still in use",
        clock(&dark.from),
        section.name.value
    );
    Some(
        Diagnostic::error(CHECK.code, cue.timed_at().clone(), message)
            .label("dark from here")
            .note_at(section.name.at.clone(), "the pause that it reaches into")
            .note_at(set.name.at.clone(), "what is juggled before it and after it")
            .note(
                "no sheet is written. Local codes, the venue and licensed practice decide what is \
                 safe; throwbook clears nothing",
            )
            .help("leave light on them until they are put out or put away"),
    )
}
