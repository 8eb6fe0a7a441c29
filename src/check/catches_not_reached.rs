//! A declared number of catches that the section does not reach.

use crate::diagnostic::Diagnostic;
use crate::diagnostic::words::counted_as;
use crate::measure::counts;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "catches-not-reached",
    what: "A section that declares a number of catches has at least as many.",
    why: "A declared move that stops short does not count.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(40),
            declares: Catches(50)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(50),
            declares: Catches(50)),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.juggles().filter_map(|(index, section, juggle)| {
        let declared = juggle.declares.as_ref()?;
        let catches = counts::of_section(case.timeline(), index)?.catches;
        if catches >= declared.value {
            return None;
        }
        let message = format!(
            "\"{}\" declares {} and reaches {catches}",
            section.name.value,
            counted_as(declared.value, "catch", "catches"),
        );
        Some(
            Diagnostic::warning(CHECK.code, declared.at.clone(), message)
                .label(format!("{} short", declared.value - catches))
                .help("make the section longer, or declare less"),
        )
    });
    found.collect()
}
