//! A dark that is over before the props are picked up.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;
use crate::routine::Pause;
use crate::time::{Time, seconds_text};
use crate::timeline::SectionSpan;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "dark-too-short",
    what: "A dark during a pause in which props are picked up lasts as long as the slowest logged \
           pick-up.",
    why: "The light comes back on a performer who is still bending down.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "pick up", lasts: For("0:06"), pick_up: [2.9, 3.4]),
        Juggle(name: "fleet", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 3.0), does: "warm", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "pick up", lasts: For("0:06"), pick_up: [2.9, 3.4]),
        Juggle(name: "fleet", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 4.0), does: "warm", count: 2),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = Darks::of(case.act);
    let mut found = Vec::new();
    for (index, section, span) in case.act.sections() {
        let Some((pause, slowest)) =
            section.pause().and_then(|one| Some((one, one.slowest_pick_up()?)))
        else {
            continue;
        };
        // Fire and blades are not taken up in the dark at all: that is an error of its own.
        if case.act.in_use.iter().any(|used| used.reaches(index)) {
            continue;
        }
        let slowest = Time::from(slowest.clone());
        for call in darks.calls() {
            found.extend(too_short(case, &darks, call, (index, span), (pause, &slowest)));
        }
    }
    found
}

/// What of the dark that a cue begins lies in a pause is over before the slowest pick-up.
fn too_short(
    case: &Case<'_>,
    darks: &Darks<'_>,
    call: &Call,
    (index, span): (usize, &SectionSpan),
    (pause, slowest): (&Pause, &Time),
) -> Option<Diagnostic> {
    case.some_night(&pause.lasts.at, CHECK.code, |night| {
        if !night.before(&call.go, &span.ends) || !darks.is_on_after(call, &span.starts, night) {
            return None;
        }
        let dark = darks.begun_by(call, night)?;
        let from = if night.before(&span.starts, &dark.from) { &dark.from } else { &span.starts };
        // Where nothing ends the dark in it, the pause itself is too short, whatever the light does.
        let (ended_by, to) =
            dark.until.as_ref().filter(|(_, until)| night.before(until, &span.ends))?;
        let lasts = to - from;
        if !night.before(&Time::zero(), &lasts) || !night.before(&lasts, slowest) {
            return None;
        }
        let missing = slowest - &lasts;
        night.worse_by(&missing);
        let at = case.routine().cues.get(*ended_by)?.timed_at();
        let message = format!(
            "the dark in \"{}\" lasts {}, and the slowest logged pick-up takes {}",
            case.section(index).name.value,
            seconds_text(&night.at(&lasts)),
            seconds_text(slowest.shortest())
        );
        let longer = seconds_text(&night.at(&missing));
        Some(
            Diagnostic::warning(CHECK.code, at.clone(), message)
                .label("light again from here")
                .note_at(pause.lasts.at.clone(), "the pause in which the props are picked up")
                .help(format!("let it stay dark at least {longer} longer")),
        )
    })
}
