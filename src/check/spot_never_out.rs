//! A followspot that nobody takes out.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::routine::{Crew, Cue, SpotMove};
use crate::time::clock;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "spot-never-out",
    what: "A followspot that comes up goes out before the act is over; all Spot cues are taken for \
           those of one spot, so with two the last `Out` must be meant for both.",
    why: "The operator has no cue to leave by, and the next act begins with a spot on an empty \
          stage.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Spot, number: 1, at: FirstThrow, trigger: Called, does: "pick up", spot: Up),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Spot, number: 1, at: FirstThrow, trigger: Called, does: "pick up", spot: Up),
        Cue(crew: Spot, number: 2, at: End("bow"), trigger: Called, does: "out", spot: Out),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    // A cue that cannot be read or called may take it out.
    if case.routine().hidden.cues || !case.act.calls.uncallable.is_empty() {
        return Vec::new();
    }
    let moves: Vec<(&Call, &Cue)> =
        case.calls_of(Crew::Spot).filter(|(_, cue)| cue.spot.is_some()).collect();
    let up = moves.iter().filter(|(_, cue)| cue.spot == Some(SpotMove::Up));
    up.filter_map(|(call, cue)| diagnostic(case, &moves, call, cue)).collect()
}

fn diagnostic(
    case: &Case<'_>,
    moves: &[(&Call, &Cue)],
    call: &Call,
    cue: &Cue,
) -> Option<Diagnostic> {
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        // From the last on: of many moves it answers most often.
        let mut later = moves.iter().rev().filter(|(other, _)| other.cue != call.cue);
        if later.any(|(other, _)| call.comes_before(other, night)) {
            return None;
        }
        let message = format!(
            "the followspot comes up at {} (show clock), and no cue takes it out",
            clock(&night.at(&call.go))
        );
        Some(
            Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
                .label("up for good")
                .help("add a Spot cue with `spot: Out` where the spot goes out"),
        )
    })
}
