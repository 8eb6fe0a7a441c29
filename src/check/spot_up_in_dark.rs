//! A followspot that comes up while the stage is dark.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;
use crate::routine::{Crew, Cue, SpotMove};
use crate::time::clock;

use super::{Case, Check, Finds, darks_of, of_both};

pub(super) const CHECK: Check = Check {
    code: "spot-up-in-dark",
    what: "No followspot comes up while the stage is dark, unless the dark cue says that the spot \
           stays.",
    why: "The blackout is over when the spot is up, whatever the cue sheet says.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "crate", lasts: For("0:08")),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Spot, number: 1, trigger: Follow(Light(5), Go, 2.0), does: "pick up", spot: Up),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 5.0), does: "warm", count: 1),
        Cue(crew: Spot, number: 2, at: LastCatch, trigger: Called, does: "out", spot: Out),
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
        Cue(crew: Spot, number: 1, trigger: With(Light(10)), does: "pick up", spot: Up),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 5.0), does: "warm", count: 1),
        Cue(crew: Spot, number: 2, at: LastCatch, trigger: Called, does: "out", spot: Out),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    of_both(case, |one| {
        let darks = darks_of(case, one);
        let spots = one.calls_of(Crew::Spot).filter(|(_, cue)| cue.spot == Some(SpotMove::Up));
        spots.filter_map(|(call, cue)| diagnostic(one, &darks, call, cue)).collect()
    })
}

fn diagnostic(case: &Case<'_>, darks: &Darks<'_>, call: &Call, cue: &Cue) -> Option<Diagnostic> {
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        let dark = darks.over(&call.go, call.cue, night).filter(|dark| !dark.spot_stays)?;
        let message = format!(
            "the followspot comes up at {} (show clock), while the stage is dark",
            clock(&night.at(&call.go))
        );
        Some(
            Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
                .label("up in the dark")
                .note_at(dark.at.clone(), "this cue makes the stage dark")
                .help("bring the spot up on the GO that brings the light back, or after it")
                .help(
                    "or say that the dark leaves the spot up: `spot_stays: true` on the dark cue",
                ),
        )
    })
}
