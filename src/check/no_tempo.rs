//! A section without a tempo.

use crate::diagnostic::Diagnostic;
use crate::timeline::Trouble;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "no-tempo",
    what: "A tempo is in force wherever something is juggled.",
    why: "Beats become seconds through the tempo; nothing can be timed without it.",
    raises: r##"Routine(
    title: "Example",
    zero: FirstThrow,
    colours: { "coral": "#ec6a5c" },
    sets: { "three": Set(kind: Ball, length: 0.072, colours: ["coral", "coral", "coral"]) },
    score: [
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
    ],
)
"##,
    mended: r##"Routine(
    title: "Example",
    zero: FirstThrow,
    colours: { "coral": "#ec6a5c" },
    sets: { "three": Set(kind: Ball, length: 0.072, colours: ["coral", "coral", "coral"]) },
    score: [
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6), tempo: PerMinute(180)),
    ],
)
"##,
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let first = case.troubles().find_map(|trouble| match trouble {
        Trouble::NoTempo { section } => Some(*section),
        _ => None,
    });
    first
        .map(|section| {
            let name = &case.section(section).name;
            let at = case.juggle(section).tempo.as_ref().map_or(&name.at, |tempo| &tempo.at);
            Diagnostic::error(
                CHECK.code,
                at.clone(),
                format!("no tempo is in force where \"{}\" begins", name.value),
            )
            .label("how fast?")
            .help("write a tempo for the whole routine, such as `tempo: PerMinute(180)`, or here")
        })
        .into_iter()
        .collect()
}
