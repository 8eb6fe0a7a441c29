//! A section that ends part-way through a cycle.

use crate::diagnostic::Diagnostic;
use crate::diagnostic::words::counted;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "cut-cycle",
    what: "A section ends at the end of a cycle of its pattern.",
    why: "It may be what you want. If not, the trick stops in the middle, and the next section \
          finds the props in other places.",
    raises: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Beats(10)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Beats(12)),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let cut =
        |(index, section, juggle): (usize, &crate::routine::Section, &crate::routine::Juggle)| {
            let span = case.timeline().sections.get(index)?.juggle.as_ref()?;
            let (whole, over) = span.cycles;
            if over == 0 {
                return None;
            }
            let period = juggle.pattern.pattern.period();
            let message = format!(
                "\"{}\" ends part-way through `{}`: after {} and {} of {period}",
                section.name.value,
                juggle.pattern.text,
                counted(whole, "cycle"),
                counted(over, "beat"),
            );
            let mut diagnostic = Diagnostic::warning(CHECK.code, juggle.lasts.at.clone(), message)
                .label(format!("{} beyond a whole cycle", counted(over, "beat")));
            for cycles in [whole, whole + 1].into_iter().filter(|&cycles| cycles > 0) {
                diagnostic = diagnostic.help_edit(
                    format!(
                        "{} {} {}",
                        counted(cycles, "cycle"),
                        if cycles == 1 { "is" } else { "are" },
                        counted(cycles * period, "beat")
                    ),
                    juggle.lasts.at.clone(),
                    format!("Cycles({cycles})"),
                );
            }
            Some(diagnostic)
        };
    case.juggles().filter_map(cut).collect()
}
