//! A light or sound cue long before the routine begins.

use crate::diagnostic::Diagnostic;
use crate::routine::Crew;
use crate::time::{Seconds, clock};

use super::{Case, Check, Finds};

/// A light or sound cue may come this long before the first section.
const LONGEST_BEFORE_S: i64 = 60;

pub(super) const CHECK: Check = Check {
    code: "cue-too-early",
    what: "No Light or Sound cue comes more than 60 s before the first section.",
    why: "The stage still belongs to the act before; usually the sign of a shift is wrong.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: Shift(FirstThrow, -90.0), trigger: Called, does: "warm",
            count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: Shift(FirstThrow, -9.0), trigger: Called, does: "warm",
            count: 2),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let Some(first) = case.timeline().sections.first() else { return Vec::new() };
    let earliest = &first.starts - &Seconds::fraction(LONGEST_BEFORE_S, 1);
    let early = case.act.calls.calls.iter().filter_map(|call| {
        let cue = case.routine().cues.get(call.cue)?;
        if !matches!(cue.crew.value, Crew::Light | Crew::Sound) {
            return None;
        }
        let at = cue.timed_at();
        case.some_night(at, CHECK.code, |night| {
            night.worse_by(&(&earliest - &call.go));
            if !night.before(&call.go, &earliest) {
                return None;
            }
            let message = format!(
                "this cue goes at {} (show clock), more than {LONGEST_BEFORE_S} s before the first \
                 section at {}",
                clock(&night.at(&call.go)),
                clock(&night.at(&first.starts))
            );
            Some(
                Diagnostic::warning(CHECK.code, at.clone(), message)
                    .label("long before the act")
                    .help("bring it closer, or give it to the crew's list for the act before"),
            )
        })
    });
    early.collect()
}
