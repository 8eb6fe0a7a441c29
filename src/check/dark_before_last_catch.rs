//! The stage goes dark while props are in the air.

use std::cell::Cell;

use crate::act::calls::Call;
use crate::diagnostic::{Diagnostic, Severity};
use crate::measure::dark::{Dark, Darks};
use crate::routine::{Cue, Hazard};
use crate::time::{Night, Time, clock, seconds_text};
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
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 2.0), does: "warm", count: 1),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = Darks::of(case.act);
    let mut found = Vec::new();
    let runs = case.timeline().runs.iter();
    let thrown = runs.filter_map(|run| {
        let (catch, (_, first)) = (run.gather.last_catch.as_ref()?, run.first_throw()?);
        Some((run, first, catch))
    });
    let runs: Vec<(&Run, Time, &Time)> = thrown.collect();
    for call in darks.calls() {
        // Runs come in their order on every night.
        let caught = |(.., catch): &(&Run, Time, &Time)| !(&call.go - *catch).least().is_negative();
        let from = runs.partition_point(caught);
        let until = darks.surely_ends(call);
        for (run, first, _) in &runs[from..] {
            if until.is_some_and(|until| !(first - until).least().is_negative()) {
                break;
            }
            found.extend(in_the_air(case, &darks, call, run));
        }
    }
    found.extend(darks.calls().into_iter().filter_map(|call| into_encore(case, &darks, call)));
    found
}

/// The act ends in the dark that a cue begins, and so the encore begins in it.
fn into_encore(case: &Case<'_>, darks: &Darks<'_>, call: &Call) -> Option<Diagnostic> {
    let encore = case.act.encore.as_deref()?;
    let begins = case.routine().cues.get(call.cue)?;
    let run = encore.timeline.runs.first()?;
    let (_, first) = run.first_throw()?;
    let of_encore = Darks::of(encore);
    let name = &encore.routine.score.get(run.sections.start)?.name;
    let set = case.routine().sets.get(run.set)?;
    case.some_night(begins.timed_at(), CHECK.code, |night| {
        if of_encore.brought_back().any(|light| night.not_after(&light.go, &first)) {
            return None;
        }
        darks.begun_by(call, night).filter(|dark| dark.until.is_none())?;
        let message = format!(
            "the act ends in the dark, and no Light cue of the encore brings the light back before \
             the first throw of \"{}\"",
            name.value
        );
        let diagnostic = Diagnostic::warning(CHECK.code, begins.timed_at().clone(), message)
            .label("dark from here")
            .note_at(name.at.clone(), "thrown in the dark, if the encore is called for")
            .help("begin the encore's cues with a Light cue");
        Some(if set.is_dangerous() { refused(diagnostic) } else { diagnostic })
    })
}

/// With fire or blades it is no warning.
fn refused(diagnostic: Diagnostic) -> Diagnostic {
    Diagnostic { severity: Severity::Error, ..diagnostic }.note(
        "fire or blades are in the air: no sheet is written. Local codes, the venue and licensed \
         practice decide what is safe; throwbook clears nothing",
    )
}

/// It is dark, by the dark that a cue begins, while the props of a run are in the air. It may be
/// still dark when the throws begin on one night, and already dark before they end on another: each
/// is said where it is written.
fn in_the_air(case: &Case<'_>, darks: &Darks<'_>, call: &Call, run: &Run) -> Vec<Diagnostic> {
    let mut found: Vec<Diagnostic> = Vec::new();
    found.extend(told(case, darks, (call, run), Told::Gone, &[]).map(|(said, _)| said));
    found.extend(told(case, darks, (call, run), Told::Never, &[]).map(|(said, _)| said));
    // Which cue brings the light back may hang on the lengths: each is told that comes too late.
    let mut backs = Vec::new();
    while let Some((said, back)) = told(case, darks, (call, run), Told::Back, &backs) {
        found.push(said);
        match back {
            Some(back) if !backs.contains(&back) => backs.push(back),
            _ => break,
        }
    }
    found
}

/// A dark while the props of a run are in the air, with the cue that brings the light back, which
/// is none of `but`.
fn told(
    case: &Case<'_>,
    darks: &Darks<'_>,
    (call, run): (&Call, &Run),
    told: Told,
    but: &[usize],
) -> Option<(Diagnostic, Option<usize>)> {
    let begins = case.routine().cues.get(call.cue)?;
    let set = case.routine().sets.get(run.set)?;
    let catch = run.gather.last_catch.as_ref()?;
    let (_, first) = run.first_throw()?;
    let back_with = Cell::new(None);
    let said = case.some_night(begins.timed_at(), CHECK.code, |night| {
        if !night.before(&call.go, catch) || !darks.is_on_after(call, &first, night) {
            return None;
        }
        let dark = darks.begun_by(call, night)?;
        let tell = match (night.not_after(&dark.from, &first), &dark.until) {
            (true, Some(_)) => Told::Back,
            (true, None) => Told::Never,
            (false, _) => Told::Gone,
        };
        let back = dark.until.as_ref().filter(|_| told == Told::Back);
        if tell != told || back.is_some_and(|(cue, _)| but.contains(cue)) {
            return None;
        }
        back_with.set(back.map(|(cue, _)| *cue));
        let diagnostic = match back {
            Some(back) => comes_back_late(case, (&dark, back), run, begins, (&first, night))?,
            None if told == Told::Never => never_back(case, &dark, run, begins, (&first, night))?,
            None => goes_too_early(case, &dark, run, begins, (catch, night))?,
        };
        Some(if set.is_dangerous() { refused(diagnostic) } else { diagnostic })
    })?;
    Some((said, back_with.get()))
}

/// What is to be told of a dark while props are in the air.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Told {
    /// The light comes back too late.
    Back,
    /// It goes too early.
    Gone,
    /// It does not come back.
    Never,
}

/// It gets dark while the props are in the air: said at the cue that makes it dark.
fn goes_too_early(
    case: &Case<'_>,
    dark: &Dark,
    run: &Run,
    begins: &Cue,
    (catch, night): (&Time, &Night<'_>),
) -> Option<Diagnostic> {
    let name = &case.routine().score.get(run.sections.end.checked_sub(1)?)?.name.value;
    let early = catch - &dark.from;
    night.worse_by(&early);
    let message = format!(
        "the stage goes dark at {}, {} before the last catch of \"{name}\" at {} (show clock)",
        clock(&night.at(&dark.from)),
        seconds_text(&night.at(&early)),
        clock(&night.at(catch))
    );
    let set = case.routine().sets.get(run.set)?;
    let help = match (set.is(Hazard::Fire), set.is(Hazard::Blades)) {
        (true, _) => "leave light on them until they are put out".to_owned(),
        (_, true) => "leave light on them until they are put down".to_owned(),
        _ => format!("hang the cue on `LastCatch(\"{name}\")` and take it by eye"),
    };
    Some(
        Diagnostic::warning(CHECK.code, begins.timed_at().clone(), message)
            .label("dark from here")
            .help(help),
    )
}

/// It is still dark when the throws begin: said at the cue that brings the light back.
fn comes_back_late(
    case: &Case<'_>,
    (dark, (ends, go)): (&Dark, &(usize, Time)),
    run: &Run,
    begins: &Cue,
    (first, night): (&Time, &Night<'_>),
) -> Option<Diagnostic> {
    let name = &case.routine().score.get(run.sections.start)?.name.value;
    let ends = case.routine().cues.get(*ends)?;
    let late = go - first;
    night.worse_by(&late);
    let message = format!(
        "the light comes back at {}, {} after the first throw of \"{name}\" at {} (show clock)",
        clock(&night.at(go)),
        seconds_text(&night.at(&late)),
        clock(&night.at(first))
    );
    let from = clock(&night.at(&dark.from));
    Some(
        Diagnostic::warning(CHECK.code, ends.timed_at().clone(), message)
            .label("light again from here")
            .note_at(begins.timed_at().clone(), format!("it is dark from {from}"))
            .help(bring_it_back(case, run, name)),
    )
}

/// No cue brings the light back: said at the one that took it.
fn never_back(
    case: &Case<'_>,
    dark: &Dark,
    run: &Run,
    begins: &Cue,
    (first, night): (&Time, &Night<'_>),
) -> Option<Diagnostic> {
    let name = &case.routine().score.get(run.sections.start)?.name.value;
    let message = format!(
        "the stage goes dark at {} (show clock), and no Light cue brings the light back before the \
         first throw of \"{name}\" at {}",
        clock(&night.at(&dark.from)),
        clock(&night.at(first))
    );
    let diagnostic = Diagnostic::warning(CHECK.code, begins.timed_at().clone(), message);
    Some(diagnostic.label("dark from here").help(bring_it_back(case, run, name)))
}

/// Fire and blades need the light where they are lit or picked up, all else at the first throw.
fn bring_it_back(case: &Case<'_>, run: &Run, name: &str) -> String {
    let mut in_use = case.act.in_use.iter();
    let taken = in_use.find(|used| used.set == run.set && used.reaches(run.sections.start));
    let taken = taken.and_then(|used| Some((used.hazard, case.section(used.begins?))));
    match taken {
        Some((hazard, section)) => format!(
            "bring the light back before `Start(\"{}\")`, where they are {}",
            section.name.value,
            hazard.taken()
        ),
        None => format!("bring the light back before `Start(\"{name}\")`"),
    }
}
