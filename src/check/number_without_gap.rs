//! Numbers of a first issue that leave no room for inserts, on a desk that wants it.

use crate::diagnostic::Diagnostic;
use crate::routine::{CueNumber, Desk, Numbering};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "number-without-gap",
    what: "Where a desk's `numbers` say so, its first issue has odd numbers only, or a free whole \
           number between any two.",
    why: "A number that was handed out is never changed, so an insert needs a gap (common \
          practice, no source). Later issues may use it: only issue 1 is checked.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    desks: { Light: Desk(numbers: Odd) },
    cues: [
        Cue(desk: Light, number: 1, at: FirstThrow, by: Called, does: "warm", count: 2),
        Cue(desk: Light, number: 2, at: End("tide"), by: Called, does: "cold", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    desks: { Light: Desk(numbers: Odd) },
    cues: [
        Cue(desk: Light, number: 1, at: FirstThrow, by: Called, does: "warm", count: 2),
        Cue(desk: Light, number: 3, at: End("tide"), by: Called, does: "cold", count: 2),
    ],
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    if case.routine.issue != 1 {
        return Vec::new();
    }
    let wanted =
        case.routine.desks.iter().filter_map(|desk| Some((desk.desk.value, desk.numbers?)));
    wanted.flat_map(|(desk, numbers)| on_desk(case, desk, numbers)).collect()
}

fn on_desk(case: &Case<'_>, desk: Desk, numbers: Numbering) -> Vec<Diagnostic> {
    let cues = case.routine.cues.iter().filter(|cue| cue.desk.value == desk);
    let mut all: Vec<_> = cues.filter_map(|cue| cue.number.as_ref()).collect();
    all.sort_by_key(|number| number.value);
    let is_odd = |number: CueNumber| number.tenths % 20 == 10;
    match numbers {
        Numbering::Odd => all
            .iter()
            .filter(|number| !is_odd(number.value))
            .map(|number| {
                let message = format!("{desk:?} {} is no odd number", number.value);
                Diagnostic::warning(CHECK.code, number.at.clone(), message)
                    .label("left for an insert")
                    .help("number the first issue in odd numbers; the others are for inserts")
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
                    format!("{desk:?} {} leaves no gap behind {}", next.value, before.value);
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
