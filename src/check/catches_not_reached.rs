//! A declared number of catches or throws that the section does not reach.

use crate::diagnostic::Diagnostic;
use crate::diagnostic::words::{counted, counted_as};
use crate::measure::moves;
use crate::routine::Declares;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "catches-not-reached",
    what: "A section that declares catches or throws has at least as many of its own.",
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
        let listed = moves::of_section(case.act, index)?;
        let (asked, shown) = (listed.asked()?, listed.shown()?);
        if shown >= asked {
            return None;
        }
        let declares = match declared.value {
            Declares::Throws(_) => counted(asked, "throw"),
            Declares::Catches(_) => counted_as(asked, "catch", "catches"),
            Declares::Flash => format!("a flash, {}", counted_as(asked, "catch", "catches")),
            Declares::Qualify => format!("a qualify, {}", counted_as(asked, "catch", "catches")),
        };
        let join = match listed.makes.map_or(0, |makes| makes.join_catches) {
            0 => String::new(),
            join => format!("; the {join} of its join do not count"),
        };
        let message =
            format!("\"{}\" declares {declares} and reaches {shown}{join}", section.name.value);
        Some(
            Diagnostic::warning(CHECK.code, declared.at.clone(), message)
                .label(format!("{} short", asked - shown))
                .help("make the section longer, or declare less"),
        )
    });
    found.collect()
}
