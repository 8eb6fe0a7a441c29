//! The stage goes dark while props are in the air.

use crate::diagnostic::{Diagnostic, Severity};
use crate::measure::calls::{Call, Dark, calls};
use crate::routine::{Crew, Cue};
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
        Cue(crew: Light, number: 5, at: Shift(LastCatch("tide"), -0.5), trigger: Called,
            does: "blackout", dark: true),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all balls in hands"),
            does: "blackout", dark: true),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = case.darks();
    let runs = || case.timeline().runs.iter();
    let both = darks
        .iter()
        .flat_map(|dark| runs().filter(|run| overlaps(dark, run)).map(move |run| (dark, run)));
    let within = both.filter_map(|(dark, run)| diagnostic(case, dark, run));
    within.chain(into_encore(case, &darks)).collect()
}

/// The act ends in the dark, and so the encore begins in it: said at the cue that makes it dark.
fn into_encore(case: &Case<'_>, darks: &[Dark]) -> Option<Diagnostic> {
    let dark = darks.last().filter(|dark| dark.until.is_none())?;
    let begins = case.routine.cues.get(*dark.cues.first()?)?;
    let encore = case.routine.encore.as_ref()?;
    let timeline = case.timeline().encore.as_ref()?;
    let run = timeline.runs.first()?;
    let first = run.time_of(run.actions.iter().find(|action| action.is_release())?);
    let calls = calls(&encore.routine, timeline).calls;
    let lights = |call: &&Call| {
        let cue = encore.routine.cues.get(call.cue);
        cue.is_some_and(|cue| cue.crew.value == Crew::Light && !cue.dark)
    };
    if calls.iter().find(lights).is_some_and(|call| call.go <= first) {
        return None;
    }
    let name = &encore.routine.score.get(run.sections.start)?.name;
    let message = format!(
        "the act ends in the dark, and no Light cue of the encore brings the light back before \
         the first throw of \"{}\"",
        name.value
    );
    let diagnostic = Diagnostic::warning(CHECK.code, begins.timed_at().clone(), message)
        .label("dark from here")
        .note_at(name.at.clone(), "thrown in the dark, if the encore is called for")
        .help("begin the encore's cues with a Light cue");
    let set = case.routine.sets.get(run.set)?;
    Some(if set.kind.is_dangerous() { refused(diagnostic) } else { diagnostic })
}

/// With fire or blades it is no warning.
fn refused(diagnostic: Diagnostic) -> Diagnostic {
    Diagnostic { severity: Severity::Error, ..diagnostic }.note(
        "fire or blades are in the air: no sheet is written. Local codes, the venue and licensed \
         practice decide what is safe; throwbook clears nothing",
    )
}

/// Whether it is dark while the props of a run are in the air.
fn overlaps(dark: &Dark, run: &Run) -> bool {
    let Some(catch) = &run.gather.last_catch else { return false };
    let Some(first) = run.actions.iter().find(|action| action.is_release()) else { return false };
    dark.from < *catch && dark.until.as_ref().is_none_or(|(_, until)| *until > run.time_of(first))
}

fn diagnostic(case: &Case<'_>, dark: &Dark, run: &Run) -> Option<Diagnostic> {
    let begins = case.routine.cues.get(*dark.cues.first()?)?;
    let set = case.routine.sets.get(run.set)?;
    let first = run.actions.iter().find(|action| action.is_release())?;
    let first = run.time_of(first);
    let diagnostic = if dark.from <= first {
        comes_back_late(case, dark, run, begins, &first)?
    } else {
        goes_too_early(case, dark, run, begins)?
    };
    Some(if set.kind.is_dangerous() { refused(diagnostic) } else { diagnostic })
}

/// It gets dark while the props are in the air: said at the cue that makes it dark.
fn goes_too_early(case: &Case<'_>, dark: &Dark, run: &Run, begins: &Cue) -> Option<Diagnostic> {
    let catch = run.gather.last_catch.as_ref()?;
    let name = &case.routine.score.get(run.sections.end.checked_sub(1)?)?.name.value;
    let by: Seconds = catch - &dark.from;
    let message = format!(
        "the stage goes dark at {}, {} before the last catch of \"{name}\" at {} (show clock)",
        clock(&dark.from),
        seconds_text(&by),
        clock(catch)
    );
    Some(
        Diagnostic::warning(CHECK.code, begins.timed_at().clone(), message)
            .label("dark from here")
            .help(format!("hang the cue on `LastCatch(\"{name}\")` and take it by eye")),
    )
}

/// It is still dark when the throws begin: said at the cue that brings the light back, or where
/// none does, at the one that took it.
fn comes_back_late(
    case: &Case<'_>,
    dark: &Dark,
    run: &Run,
    begins: &Cue,
    first: &Seconds,
) -> Option<Diagnostic> {
    let name = &case.routine.score.get(run.sections.start)?.name.value;
    let help = format!("bring the light back before `Start(\"{name}\")`");
    let back = dark.until.as_ref().and_then(|(cue, go)| Some((case.routine.cues.get(*cue)?, go)));
    let Some((ends, go)) = back else {
        let message = format!(
            "the stage goes dark at {} (show clock), and no Light cue brings the light back before \
             the first throw of \"{name}\" at {}",
            clock(&dark.from),
            clock(first)
        );
        let diagnostic = Diagnostic::warning(CHECK.code, begins.timed_at().clone(), message);
        return Some(diagnostic.label("dark from here").help(help));
    };
    let message = format!(
        "the light comes back at {}, {} after the first throw of \"{name}\" at {} (show clock)",
        clock(go),
        seconds_text(&(go - first)),
        clock(first)
    );
    Some(
        Diagnostic::warning(CHECK.code, ends.timed_at().clone(), message)
            .label("light again from here")
            .note_at(begins.timed_at().clone(), format!("it is dark from {}", clock(&dark.from)))
            .help(help),
    )
}
