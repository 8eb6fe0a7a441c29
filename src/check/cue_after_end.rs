//! A cue after everything is over.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::routine::Moment;
use crate::time::{Time, clock};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "cue-after-end",
    what: "No cue comes after the end of the last section, but for those that hang on the encore or \
           the strike.",
    why: "Nobody is on stage any more. Usually the routine has become shorter than the cue list \
          assumes.",
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
    let Some(ends) = case.timeline().ends() else { return Vec::new() };
    let on_its_own = case.act.calls.calls.iter().filter(|call| !is_around(case, call));
    on_its_own.filter_map(|call| late(case, call, ends)).collect()
}

fn late(case: &Case<'_>, call: &Call, ends: &Time) -> Option<Diagnostic> {
    let at = case.routine().cues.get(call.cue)?.timed_at();
    case.some_night(at, CHECK.code, |night| {
        night.worse_by(&(&call.go - ends));
        if !night.before(ends, &call.go) {
            return None;
        }
        let message = format!(
            "this cue goes at {} (show clock), after the end of the last section at {}",
            clock(&night.at(&call.go)),
            clock(&night.at(ends))
        );
        let help = "hang it on a moment of the routine, or add the `Pause` in which it happens";
        let diagnostic = Diagnostic::warning(CHECK.code, at.clone(), message);
        Some(diagnostic.label("after the end").help(help))
    })
}

/// Whether a cue, or the one that it follows in the end, hangs on the encore or the strike, which
/// come after the last section.
fn is_around(case: &Case<'_>, call: &Call) -> bool {
    let leads = |call: &Call| call.with.or(call.follows);
    let before = |call: &&Call| case.act.calls.of_cue(leads(call)?);
    let Some(first) = std::iter::successors(Some(call), before).last() else { return false };
    let when = case.routine().cues.get(first.cue).and_then(|cue| cue.when.as_ref());
    when.is_some_and(|when| {
        matches!(
            when.value.unshifted().0,
            Moment::EncoreStart | Moment::EncoreEnd | Moment::StrikeStart | Moment::StrikeEnd
        )
    })
}
