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
    let late =
        case.act.calls.calls.iter().filter_map(|call| {
            let at = case.routine().cues.get(call.cue)?.timed_at();
            case.some_night(at, CHECK.code, |night| {
            night.worse_by(&(&call.go - &last.ends));
            if !night.before(&last.ends, &call.go) {
                return None;
            }
            let message = format!(
                "this cue goes at {} (show clock), after the end of the last section at {}",
                clock(&night.at(&call.go)),
                clock(&night.at(&last.ends))
            );
            Some(Diagnostic::warning(CHECK.code, at.clone(), message).label("after the end").help(
                "hang it on a moment of the routine, or add the `Pause` in which it happens",
            ))
        })
        });
    late.collect()
}
