//! Light that still comes up when the first throw after a dark is made.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;
use crate::routine::{Crew, Cue};
use crate::time::{clock, seconds_text};
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
        let runs = &one.timeline().runs;
        lights
            .flat_map(|light| runs.iter().map(move |run| (light, run)))
            .filter_map(|((call, cue), run)| too_slow(one, &darks, (call, cue), run))
            .collect()
    })
}

/// A cue that ends a dark and is not complete by the first throw of a run, which is the next one.
fn too_slow(
    case: &Case<'_>,
    darks: &Darks<'_>,
    (call, cue): (&Call, &Cue),
    run: &Run,
) -> Option<Diagnostic> {
    let complete = call.completes()?;
    let (_, first) = run.first_throw()?;
    let name = &case.section(run.sections.start).name;
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        if !night.not_after(&call.go, &first) || !night.before(&first, &complete) {
            return None;
        }
        let in_between = |other: &Run| {
            other.first_throw().is_some_and(|(_, other)| {
                night.not_after(&call.go, &other) && night.before(&other, &first)
            })
        };
        let is_there = |light: &Call| {
            call.comes_before(light, night)
                && light.completes().is_some_and(|done| night.not_after(&done, &first))
        };
        let is_dark_again =
            |dark: &Call| call.comes_before(dark, night) && night.not_after(&dark.go, &first);
        if case.timeline().runs.iter().any(in_between)
            || darks.brought_back().any(is_there)
            || darks.gone_dark().any(is_dark_again)
            || !darks.ends_with(call, night)
        {
            return None;
        }
        let late = &complete - &first;
        night.worse_by(&late);
        let message = format!(
            "the light is all there at {}, {} after the first throw of \"{}\" at {} (show clock)",
            clock(&night.at(&complete)),
            seconds_text(&night.at(&late)),
            name.value,
            clock(&night.at(&first))
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
