//! Two cues of one crew with the same number.

use std::collections::BTreeMap;

use crate::diagnostic::Diagnostic;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "duplicate-cue-number",
    what: "A cue number stands once on its crew's list; 16.1 and 16.10 are the same number.",
    why: "An operator who is told a number must find one cue.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 16.1, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 16.10, at: End("tide"), trigger: Called, does: "cold", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 16.1, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 17, at: End("tide"), trigger: Called, does: "cold", count: 2),
    ],
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut first_of = BTreeMap::new();
    let mut found = Vec::new();
    let encore = case.routine().encore.iter().flat_map(|encore| &encore.routine.cues);
    for cue in case.routine().cues.iter().chain(encore) {
        let Some(number) = &cue.number else { continue };
        let key = (cue.crew.value, number.value);
        let Some(first) = first_of.get(&key).copied() else {
            first_of.insert(key, &number.at);
            continue;
        };
        let message = format!("two cues are {}", cue.label());
        found.push(
            Diagnostic::error(CHECK.code, number.at.clone(), message)
                .label("used again")
                .note_at(first.clone(), "first used here")
                .help("give one of them another number; numbers leave gaps for such inserts"),
        );
    }
    found
}
