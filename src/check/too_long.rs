//! A routine with more beats than any performance has.

use crate::diagnostic::Diagnostic;
use crate::timeline::Trouble;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "too-long",
    what: "The routine has at most a million beats.",
    why: "More is a slip of the pen (a minute too many, a cycle count typed twice), and would \
          take the machine's memory.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(600000)),
        Juggle(name: "beam", pattern: "531", lasts: Beats(600000)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(60)),
        Juggle(name: "beam", pattern: "531", lasts: Beats(60)),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::TooLong { section } = trouble else { return None };
            let name = &case.section(*section).name.value;
            let message = format!("with \"{name}\" the routine has more than a million beats");
            Some(
                Diagnostic::error(CHECK.code, case.juggle(*section).lasts.at.clone(), message)
                    .label("too many beats")
                    .help("shorten it, or write the performance as several routines"),
            )
        })
        .collect()
}
