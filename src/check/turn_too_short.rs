//! A turn that needs longer empty hands than the pattern gives.

use crate::diagnostic::Diagnostic;
use crate::measure::empty_hands;
use crate::time::seconds_text;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "turn-too-short",
    what: "A section with a `turn` has both hands empty for at least that long at once.",
    why: "A turn or a clap needs both hands free, from the last release to the next catch.",
    raises: example!(
        r#"        Juggle(name: "turn", set: "three", pattern: "55500", lasts: Cycles(2), turn: 1.0),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "turn", set: "three", pattern: "7770000", lasts: Cycles(2), turn: 1.0),
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let longest = empty_hands::longest(case.timeline());
    let found = case.juggles().filter_map(|(index, section, juggle)| {
        let turn = juggle.turn.as_ref()?;
        let free = longest.get(index)?;
        if *free >= turn.value {
            return None;
        }
        let message = format!(
            "the turn in \"{}\" needs {} with both hands empty, and the longest is {}",
            section.name.value,
            seconds_text(&turn.value),
            seconds_text(free)
        );
        Some(
            Diagnostic::warning(CHECK.code, turn.at.clone(), message)
                .label("hands empty for less")
                .help("throw higher before it, slower, or with more 0s after the high throws"),
        )
    });
    found.collect()
}
