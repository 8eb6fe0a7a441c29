//! Light that still comes up when the first throw after a dark is made.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;
use crate::routine::{Crew, Cue};
use crate::time::{Time, clock, seconds_text};
use crate::timeline::Run;

use super::{Case, Check, Finds, darks_of, of_both};

pub(super) const CHECK: Check = Check {
    code: "light-too-slow",
    what: "Light that ends a dark is all there by the next first throw: its count is done by then.",
    why: "Light that still comes up is not light yet, and the first throws are the ones that need \
          it.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "crate", lasts: For("0:08")),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, at: Shift(Start("ebb"), -1.0), trigger: Called, does: "warm",
            count: 3),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "crate", lasts: For("0:08")),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, at: Shift(Start("ebb"), -3.0), trigger: Called, does: "warm",
            count: 3),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    of_both(case, |one| {
        let darks = darks_of(case, one);
        let lights = one.calls_of(Crew::Light).filter(|(_, cue)| !cue.dark);
        let runs: Vec<(&Run, Time)> = one
            .timeline()
            .runs
            .iter()
            .filter_map(|run| Some((run, run.first_throw()?.1)))
            .collect();
        let mut found = Vec::new();
        for (call, cue) in lights {
            let Some(complete) = call.completes() else { continue };
            // Runs come in their order on every night.
            let first = runs.partition_point(|(_, first)| (first - &call.go).most().is_negative());
            let thrown = |(_, first): &(&Run, Time)| (first - &complete).least().is_negative();
            let until = first + runs[first..].partition_point(thrown);
            let runs = &runs[first..until];
            let one_of =
                |at| too_slow(one, &darks, (call, cue), (&complete, &runs[..at], &runs[at]));
            found.extend((0..runs.len()).filter_map(one_of));
        }
        found
    })
}

/// A cue that ends a dark and is not complete by the first throw of a run, which is the next one.
fn too_slow(
    case: &Case<'_>,
    darks: &Darks<'_>,
    (call, cue): (&Call, &Cue),
    (complete, before, (run, first)): (&Time, &[(&Run, Time)], &(&Run, Time)),
) -> Option<Diagnostic> {
    let name = &case.section(run.sections.start).name;
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        if !night.not_after(&call.go, first) || !night.before(first, complete) {
            return None;
        }
        let in_between = |(_, other): &(&Run, Time)| {
            night.not_after(&call.go, other) && night.before(other, first)
        };
        let is_there = |light: &Call| {
            call.comes_before(light, night)
                && light.completes().is_some_and(|done| night.not_after(&done, first))
        };
        let is_dark_again =
            |dark: &Call| call.comes_before(dark, night) && night.not_after(&dark.go, first);
        if before.iter().any(in_between)
            || darks.between(call, first).filter(|light| !darks.is_dark(light)).any(is_there)
            || darks.between(call, first).filter(|light| darks.is_dark(light)).any(is_dark_again)
            || !darks.ends_with(call, night)
        {
            return None;
        }
        let late = complete - first;
        night.worse_by(&late);
        let message = format!(
            "the light is all there at {}, {} after the first throw of \"{}\" at {} (show clock)",
            clock(&night.at(complete)),
            seconds_text(&night.at(&late)),
            name.value,
            clock(&night.at(first))
        );
        let count = call.count.as_ref().map_or_else(String::new, seconds_text);
        Some(
            Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
                .label(format!("ends the dark, and takes {count}"))
                .note_at(name.at.clone(), "thrown while the light still comes up")
                .help("give the cue a shorter `count`, or let it go earlier"),
        )
    })
}
