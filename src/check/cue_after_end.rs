//! A cue after everything is over.

use crate::diagnostic::Diagnostic;
use crate::time::clock;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "cue-after-end",
    what: "No cue comes after the end of the last section.",
    why: "Nobody is on stage any more to give it a sense; mostly the routine has become shorter \
          than the cue sheet thinks.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: At("0:30"), trigger: Called, does: "warm", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: Start("bow"), trigger: Called, does: "warm", count: 2),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let Some(last) = case.timeline().sections.last() else { return Vec::new() };
    let late = case.calls.calls.iter().filter(|call| call.go > last.ends);
    late.filter_map(|call| {
        let cue = case.routine.cues.get(call.cue)?;
        let at = cue.timed_at();
        let message = format!(
            "this cue goes at {} (show clock), after the end of the last section at {}",
            clock(&call.go),
            clock(&last.ends)
        );
        Some(
            Diagnostic::warning(CHECK.code, at.clone(), message)
                .label("after the end")
                .help("hang it on a moment of the routine, or add the `Pause` in which it happens"),
        )
    })
    .collect()
}
