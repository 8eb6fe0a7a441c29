//! A section without a prop set, or with another one in the middle of a run.

use crate::diagnostic::Diagnostic;
use crate::timeline::Trouble;

use super::{Case, Check, Finds};

pub(super) const MISSING: Check = Check {
    code: "no-set",
    what: "A prop set is in use wherever something is juggled.",
    why: "Without one it is unknown what is thrown, and in which colours.",
    raises: example!(
        r#"        Juggle(name: "tide", pattern: "3", lasts: Beats(6)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
    ),
    finds: Finds::Compiled(missing),
};

pub(super) const IN_RUN: Check = Check {
    code: "set-in-run",
    what: "Another prop set comes into use only after a pause.",
    why: "Props are put down and picked up with the hands at rest.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "fleet", set: "trio", pattern: "3", lasts: Beats(6)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "to the rings", lasts: For("0:04")),
        Juggle(name: "fleet", set: "trio", pattern: "3", lasts: Beats(6)),
"#
    ),
    finds: Finds::Compiled(in_run),
};

fn missing(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::NoSet { section } = trouble else { return None };
            let name = &case.section(*section).name;
            let message = format!("no prop set is in use in \"{}\"", name.value);
            let diagnostic = Diagnostic::error(MISSING.code, name.at.clone(), message)
                .label("juggled with what?");
            let props = case.juggle(*section).pattern.pattern.props() as usize;
            let fitting = case.routine().sets.iter().find(|set| set.colours.len() == props);
            Some(match fitting {
                Some(set) => diagnostic.help_edit(
                    format!("juggle with the set \"{}\"", set.name.value),
                    (name.at.end..name.at.end).into(),
                    format!(", set: {:?}", set.name.value),
                ),
                None => diagnostic.help(format!(
                    "write a set of {props} props under `sets` and name it with `set`"
                )),
            })
        })
        .collect()
}

fn in_run(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::SetInRun { section } = trouble else { return None };
            let at = case.juggle(*section).set.as_ref()?.at.clone();
            let name = &case.section(*section).name.value;
            let message = format!(
                "\"{name}\" changes the prop set while the props of the last one are in the air"
            );
            Some(
                Diagnostic::error(IN_RUN.code, at, message)
                    .label("another set than the one in use")
                    .help("put a `Pause` before it, in which the props are changed"),
            )
        })
        .collect()
}
