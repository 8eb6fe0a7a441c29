//! Numbers of a first issue that leave no room for inserts, on a crew that wants it.

use crate::diagnostic::Diagnostic;
use crate::routine::{Crew, CueNumber, Numbering};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "number-without-gap",
    what: "Where a crew's `numbers` say so, its first issue has odd numbers only, or a free whole \
           number between any two.",
    why: "A number that was handed out is never changed, so an insert needs a gap (common \
          practice, no source). Later issues may use it: only issue 1 is checked.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    crews: { Light: Crew(numbers: Odd) },
    cues: [
        Cue(crew: Light, number: 1, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 2, at: End("tide"), trigger: Called, does: "cold", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    crews: { Light: Crew(numbers: Odd) },
    cues: [
        Cue(crew: Light, number: 1, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 3, at: End("tide"), trigger: Called, does: "cold", count: 2),
    ],
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    if case.routine().issue != 1 {
        return Vec::new();
    }
    let wanted =
        case.routine().crews.iter().filter_map(|crew| Some((crew.crew.value, crew.numbers?)));
    wanted.flat_map(|(crew, numbers)| on_crew(case, crew, numbers)).collect()
}

fn on_crew(case: &Case<'_>, crew: Crew, numbers: Numbering) -> Vec<Diagnostic> {
    let cues = case.routine().cues.iter().filter(|cue| cue.crew.value == crew);
    let mut all: Vec<_> = cues.filter_map(|cue| cue.number.as_ref()).collect();
    all.sort_by_key(|number| number.value);
    let is_odd = |number: CueNumber| number.tenths % 20 == 10;
    match numbers {
        Numbering::Odd => all
            .iter()
            .filter(|number| !is_odd(number.value))
            .map(|number| {
                let message = format!("{} is an even number", crew.cue(number.value));
                Diagnostic::warning(CHECK.code, number.at.clone(), message)
                    .label("left for an insert")
                    .help(
                        "number the first issue in odd numbers, and keep the even ones for inserts",
                    )
            })
            .collect(),
        Numbering::Gaps => all
            .windows(2)
            .filter_map(|pair| {
                let [before, next] = pair else { return None };
                // A whole number strictly between the two.
                let first_free = (before.value.tenths / 10 + 1) * 10;
                if before.value == next.value || first_free < next.value.tenths {
                    return None;
                }
                let message =
                    format!("{} leaves no gap behind {}", crew.cue(next.value), before.value);
                Some(
                    Diagnostic::warning(CHECK.code, next.at.clone(), message)
                        .label("no whole number between")
                        .note_at(before.at.clone(), "the number before it")
                        .help("count the first issue in fives"),
                )
            })
            .collect(),
    }
}
