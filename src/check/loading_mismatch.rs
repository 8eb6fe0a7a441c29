//! A written loading that is not the set's props, or not what the hands hold.

use crate::diagnostic::Diagnostic;
use crate::timeline::Trouble;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "loading-mismatch",
    what: "A written loading names exactly the props of the set and, after a gather, what is in \
           each hand.",
    why: "Which colour comes when follows from the loading; a loading that cannot be is a colour \
          effect that dies silently.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6),
            loading: Hands(right: ["coral", "coral"], left: ["teal"])),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6),
            loading: Hands(right: ["coral", "pearl"], left: ["teal"])),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut found = not_as_held(case);
    let joined = case.juggles().filter(|(index, ..)| case.before(*index).is_some());
    found.extend(joined.filter_map(|(_, section, juggle)| {
        let written = juggle.loading.as_ref()?;
        let message = format!(
            "\"{}\" is joined to the section before it, so its props are in the air and cannot be \
             loaded",
            section.name.value
        );
        Some(
            Diagnostic::error(CHECK.code, written.at.clone(), message)
                .label("no cold start here")
                .help("write the loading where the run starts cold, or put a `Pause` before this"),
        )
    }));
    found
}

fn not_as_held(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::Loading { section, set, held } = trouble else { return None };
            let written = case.juggle(*section).loading.as_ref()?;
            let set = case.routine.sets.get(*set)?;
            let names = |colours: &[usize]| {
                let names = colours.iter().filter_map(|&colour| case.routine.colours.get(colour));
                names
                    .map(|colour| format!("{:?}", colour.name.value))
                    .collect::<Vec<_>>()
                    .join(", ")
            };
            Some(match held {
                Some((right, left)) => {
                    let (right, left) = (names(right), names(left));
                    Diagnostic::error(
                        CHECK.code,
                        written.at.clone(),
                        format!(
                            "after the gather the right hand holds {right} and the left {left}, \
                             which this loading is not"
                        ),
                    )
                    .label("other props are in the hands")
                    .help_edit(
                        "write what the hands hold, in any order within each hand",
                        written.at.clone(),
                        format!("Hands(right: [{right}], left: [{left}])"),
                    )
                }
                None => {
                    let colours: Vec<String> =
                        set.colours.iter().map(|colour| format!("{:?}", colour.value)).collect();
                    Diagnostic::error(
                        CHECK.code,
                        written.at.clone(),
                        format!(
                            "this loading is not the set \"{}\", whose props are {}",
                            set.name.value,
                            colours.join(", ")
                        ),
                    )
                    .label("not the props of the set")
                    .note_at(set.at.clone(), "the set in use")
                    .help("name each prop of the set once, in the hand that it starts in")
                }
            })
        })
        .collect()
}
