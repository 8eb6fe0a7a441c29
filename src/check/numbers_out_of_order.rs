//! A cue that comes after one of its crew with a later number.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::routine::{Crew, Cue, Trigger};
use crate::time::{Seconds, clock};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "numbers-out-of-order",
    what: "The cues of a crew are taken in the order of their numbers, and a follow lands before \
           the next number goes.",
    why: "An operator goes down the list, and a desk steps through it: a number that comes after \
          a later one is passed over (common practice, no source).",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 10, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 5, at: End("tide"), trigger: Called, does: "cold", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 10, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 15, at: End("tide"), trigger: Called, does: "cold", count: 2),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    Crew::ALL.into_iter().flat_map(|crew| on_crew(case, crew)).collect()
}

fn on_crew(case: &Case<'_>, crew: Crew) -> Vec<Diagnostic> {
    let number = |call: &Call| {
        let cue = case.routine().cues.get(call.cue).filter(|cue| cue.crew.value == crew)?;
        cue.number.as_ref().map(|number| number.value)
    };
    let numbered = case.act.calls.some(|call| number(call).is_some());
    let calls = numbered.calls();
    if numbered.is_certain() && calls.is_sorted_by_key(|call| number(call)) {
        return Vec::new();
    }
    let out_of_order = |&call: &&Call| {
        let cue = case.routine().cues.get(call.cue)?;
        case.some_night(cue.timed_at(), CHECK.code, |night| {
            let later = calls.iter().filter(|other| number(other) > number(call));
            let before = later.filter(|other| night.before(&other.go, &call.go));
            let (other, other_cue) = before
                .filter_map(|other| Some((other, case.routine().cues.get(other.cue)?)))
                .next()?;
            Some(diagnostic((cue, &night.at(&call.go)), (other_cue, &night.at(&other.go))))
        })
    };
    calls.iter().filter_map(out_of_order).collect()
}

fn diagnostic((cue, go): (&Cue, &Seconds), (before, before_go): (&Cue, &Seconds)) -> Diagnostic {
    let goes = match &cue.trigger.value {
        Trigger::Follow { .. } => "follows and lands",
        _ => "goes",
    };
    let message = format!(
        "{} {goes} at {}, after {} at {} (show clock)",
        cue.label(),
        clock(go),
        before.label(),
        clock(before_go)
    );
    let diagnostic = Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
        .label("after a later number")
        .note_at(before.at.clone(), "the later number, which comes first");
    match &cue.trigger.value {
        Trigger::Follow { .. } => diagnostic
            .help(format!("let it follow sooner, or give it a number behind {}", before.label())),
        _ => diagnostic.help(format!(
            "give it a number behind {}; once it was handed out, cut it and write a new cue",
            before.label()
        )),
    }
}
