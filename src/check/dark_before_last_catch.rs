//! The stage goes dark while props are in the air.

use crate::diagnostic::{Diagnostic, Severity};
use crate::measure::calls::{Dark, darks};
use crate::time::{Seconds, clock, seconds_text};
use crate::timeline::Run;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "dark-before-last-catch",
    what: "The stage is not dark between a run's first throw and its last catch.",
    why: "Nobody catches what cannot be seen. With fire or blades it is an error, and no sheet is \
          written; local codes, the venue and licensed practice decide what is safe.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(desk: Light, number: 5, at: LastCatch("tide"), shift: -0.5, by: Called,
            does: "blackout", dark: true),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(desk: Light, number: 5, at: LastCatch("tide"), by: See("all balls in hands"),
            does: "blackout", dark: true),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = darks(case.routine, &case.calls.calls);
    let runs = || case.timeline().runs.iter();
    let both = darks
        .iter()
        .flat_map(|dark| runs().filter(|run| overlaps(dark, run)).map(move |run| (dark, run)));
    both.filter_map(|(dark, run)| diagnostic(case, dark, run)).collect()
}

/// Whether it is dark while the props of a run are in the air.
fn overlaps(dark: &Dark, run: &Run) -> bool {
    let Some(catch) = &run.gather.last_catch else { return false };
    let Some(first) = run.actions.iter().find(|action| action.is_release()) else { return false };
    dark.from < *catch && dark.until.as_ref().is_none_or(|(_, until)| *until > run.time_of(first))
}

fn diagnostic(case: &Case<'_>, dark: &Dark, run: &Run) -> Option<Diagnostic> {
    let cue = case.routine.cues.get(*dark.cues.first()?)?;
    let catch = run.gather.last_catch.as_ref()?;
    let set = case.routine.sets.get(run.set)?;
    let name = &case.routine.score.get(run.sections.end.checked_sub(1)?)?.name.value;
    let dangerous = set.kind.is_dangerous();
    let by: Seconds = catch - &dark.from;
    let message = format!(
        "the stage goes dark at {}, {} before the last catch of \"{name}\" at {} (show clock)",
        clock(&dark.from),
        seconds_text(&by),
        clock(catch)
    );
    let at = cue.timed_at();
    let mut diagnostic = Diagnostic::warning(CHECK.code, at.clone(), message)
        .label("dark from here")
        .help(format!("hang the cue on `LastCatch(\"{name}\")` and take it by eye"));
    if dangerous {
        diagnostic.severity = Severity::Error;
        diagnostic = diagnostic.note(
            "fire or blades are in the air: no sheet is written. Local codes, the venue and \
             licensed practice decide what is safe; throwbook clears nothing",
        );
    }
    Some(diagnostic)
}
