//! A followspot that is still up when the stage goes dark.

use crate::diagnostic::Diagnostic;
use crate::measure::calls::Dark;
use crate::routine::{Cue, SpotMove};
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
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = case.darks();
    darks.iter().filter_map(|dark| diagnostic(case, dark)).collect()
}

fn diagnostic(case: &Case<'_>, dark: &Dark) -> Option<Diagnostic> {
    let cue = case.routine.cues.get(*dark.cues.first()?)?;
    if cue.spot_stays {
        return None;
    }
    let calls = case.calls.calls.iter();
    let so_far = calls.take_while(|call| call.go <= dark.from);
    let moves = so_far.filter_map(|call| {
        let cue: &Cue = case.routine.cues.get(call.cue)?;
        Some((cue, cue.spot?, &call.go))
    });
    let (spot, _, go) = moves.last().filter(|(_, spot, _)| *spot == SpotMove::Up)?;
    let message = format!(
        "the stage goes dark at {} (show clock), and the followspot is still up",
        clock(&dark.from)
    );
    let with = match &cue.number {
        Some(number) => format!("`trigger: With({:?}({}))`", cue.crew.value, number.value),
        None => "at the same moment".to_owned(),
    };
    Some(
        Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
            .label("dark, but for the spot")
            .note_at(spot.at.clone(), format!("it comes up here, at {}", clock(go)))
            .help(format!("take the spot out on the same GO: a Spot cue with `spot: Out`, {with}"))
            .help("or say that it stays: `spot_stays: true` on the dark cue"),
    )
}
