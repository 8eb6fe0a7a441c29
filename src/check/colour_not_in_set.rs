//! A section asks for a colour that its props do not have.

use crate::diagnostic::words::all_of;
use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::PropSet;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "colour-not-in-set",
    what: "A section asks only for colours that props of its set have.",
    why: "If no prop can show it, the name of the colour or the set is wrong.",
    raises: example!(
        r#"        Juggle(name: "beam", set: "trio", pattern: "531", lasts: Cycles(4),
            shows: { 2: ["pearl"] }),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "beam", set: "trio", pattern: "531", lasts: Cycles(4),
            loading: Found, shows: { 2: ["teal"] }),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for (index, _, juggle) in case.juggles() {
        let span = case.timeline().sections.get(index).and_then(|span| span.juggle.as_ref());
        let run = span.and_then(|span| case.timeline().runs.get(span.run));
        let Some(set) = run.and_then(|run| case.routine().sets.get(run.set)) else { continue };
        let shown = juggle.seen.shows.iter().flat_map(|shown| &shown.colours);
        let caught = juggle.seen.caught.iter().map(|caught| &caught.colour);
        for asked in shown.chain(caught) {
            let known = case.routine().colour(&asked.value).is_some();
            // What no colour of the routine is called is reported where it is written.
            if known && !colours(set).any(|colour| colour.value == asked.value) {
                found.push(fault(set, asked));
            }
        }
    }
    found
}

fn colours(set: &PropSet) -> impl Iterator<Item = &Placed<String>> {
    set.colours.iter().chain(&set.backs)
}

fn fault(set: &PropSet, asked: &Placed<String>) -> Diagnostic {
    let mut names: Vec<String> = Vec::new();
    for colour in colours(set) {
        let name = format!("{:?}", colour.value);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let message = format!("no prop of the set {:?} is {}", set.name.value, asked.value);
    Diagnostic::error(CHECK.code, asked.at.clone(), message)
        .label("no prop shows this")
        .note_at(set.at.clone(), "the set in use")
        .help(format!("ask for what it has, {}, or give it such a prop", all_of(&names)))
}
