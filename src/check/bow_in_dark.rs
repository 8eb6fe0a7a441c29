//! A last pause in the dark: a bow that nobody sees.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;

use super::{Case, Check, Finds, darks_of, of_both};

pub(super) const CHECK: Check = Check {
    code: "bow-in-dark",
    what: "A `Pause` that ends the act is not dark from its start to its end.",
    why: "Usually that is the bow, and then nobody sees it.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 2.0), does: "warm for the bow",
            count: 1),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    of_both(case, |one| diagnostic(one, &darks_of(case, one)).into_iter().collect())
}

fn diagnostic(case: &Case<'_>, darks: &Darks<'_>) -> Option<Diagnostic> {
    let (index, section, span) = case.act.sections().last()?;
    let pause = section.pause()?;
    case.some_night(&pause.lasts.at, CHECK.code, |night| {
        let (starts, ends) = (&span.starts, &span.ends);
        let in_it = |light: &Call| night.before(starts, &light.go) && night.before(&light.go, ends);
        if !night.before(starts, ends) || darks.brought_back().any(in_it) {
            return None;
        }
        night.worse_by(&(ends - starts));
        let dark =
            darks.dark_by(Some(starts), &|light| night.not_after(&light.go, starts), night)?;
        if dark.spot_stays {
            return None;
        }
        let name = &section.name.value;
        let message = format!("the stage is dark for the whole of \"{name}\", which ends the act");
        // Fire and blades that are in use by then need the light all the way.
        let in_use = case.act.in_use.iter().any(|used| used.reaches(index));
        let later =
            if in_use { String::new() } else { format!(", or let the dark begin in \"{name}\"") };
        Some(
            Diagnostic::warning(CHECK.code, pause.lasts.at.clone(), message)
                .label("nobody sees it")
                .note_at(dark.at.clone(), "this cue makes the stage dark")
                .help(format!("bring the light back at `Start(\"{name}\")`{later}"))
                .help(
                    "where it is the way off in the dark, leave it out, or say with `spot_stays: \
                     true` on the dark cue that a spot is on it",
                ),
        )
    })
}
