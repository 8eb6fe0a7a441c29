//! A followspot that is still up when the stage goes dark.

use crate::act::calls::Call;
use crate::act::in_order::InOrder;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;
use crate::routine::SpotMove;
use crate::time::clock;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "spot-in-dark",
    what: "A followspot goes out on the GO of a dark cue, or the cue says that it stays.",
    why: "A blackout with a spot on the juggler is no blackout, and nobody notices on paper.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Spot, number: 1, at: FirstThrow, trigger: Called, does: "pick up", spot: Up),
        Cue(crew: Light, number: 5, at: LastCatch, trigger: See("all in hands"), does: "blackout",
            dark: true),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Spot, number: 1, at: FirstThrow, trigger: Called, does: "pick up", spot: Up),
        Cue(crew: Light, number: 5, at: LastCatch, trigger: See("all in hands"), does: "blackout",
            dark: true),
        Cue(crew: Spot, number: 2, trigger: With(Light(5)), does: "out", spot: Out),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 2.0), does: "warm", count: 1),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = Darks::of(case.act);
    let moves =
        |call: &Call| case.routine().cues.get(call.cue).is_some_and(|cue| cue.spot.is_some());
    let spots = case.act.calls.some(moves);
    let begins = darks.calls().into_iter();
    begins.filter_map(|call| diagnostic(case, &darks, &spots, call)).collect()
}

fn diagnostic(
    case: &Case<'_>,
    darks: &Darks<'_>,
    spots: &InOrder<'_>,
    call: &Call,
) -> Option<Diagnostic> {
    let cues = &case.routine().cues;
    let cue = cues.get(call.cue).filter(|cue| !cue.spot_stays)?;
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        // What moves at the very instant of the dark counts, whatever its rank.
        let mut last: Option<&Call> = None;
        for &spot in spots.calls() {
            if night.not_after(&spot.go, &call.go)
                && last.is_none_or(|last| last.comes_before(spot, night))
            {
                last = Some(spot);
            }
        }
        let last = last?;
        let dark = darks.begun_by(call, night)?;
        let spot = cues.get(last.cue).filter(|cue| cue.spot == Some(SpotMove::Up))?;
        let message = format!(
            "the stage goes dark at {} (show clock), and the followspot is still up",
            clock(&night.at(&dark.from))
        );
        let with = match &cue.number {
            Some(number) => format!("`trigger: With({:?}({}))`", cue.crew.value, number.value),
            None => "at the same moment".to_owned(),
        };
        let up = clock(&night.at(&last.go));
        Some(
            Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
                .label("dark, but for the spot")
                .note_at(spot.at.clone(), format!("it comes up here, at {up}"))
                .help(format!(
                    "take the spot out on the same GO: a Spot cue with `spot: Out`, {with}"
                ))
                .help("or say that it stays: `spot_stays: true` on the dark cue"),
        )
    })
}
