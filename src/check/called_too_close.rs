//! Two called cues that nobody can call one after the other.

use crate::diagnostic::Diagnostic;
use crate::routine::{Cue, Trigger};
use crate::time::{Seconds, seconds_text};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "called-too-close",
    what: "Two called GOs are at least a second apart.",
    why: "A caller cannot say two GOs within a second: join them, or let one follow (common \
          practice, no source).",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Sound, number: 5, at: Shift(FirstThrow, 0.5), trigger: Called, does: "surf"),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Sound, number: 5, trigger: Follow(Light(5), Go, 0.5), does: "surf"),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let called: Vec<(&Cue, &Seconds)> = case
        .calls
        .calls
        .iter()
        .filter_map(|call| Some((case.routine.cues.get(call.cue)?, &call.go)))
        .filter(|(cue, _)| cue.trigger.value == Trigger::Called)
        .collect();
    let second = Seconds::fraction(1, 1);
    let mut found = Vec::new();
    for pair in called.windows(2) {
        let [(first, first_go), (next, next_go)] = pair else { continue };
        let apart = *next_go - *first_go;
        if apart >= second {
            continue;
        }
        let message = format!(
            "this cue is called {} after another called one; nobody can call both",
            seconds_text(&apart)
        );
        let diagnostic = Diagnostic::warning(CHECK.code, next.trigger.at.clone(), message)
            .label("called here")
            .note_at(first.trigger.at.clone(), "the one before");
        found.push(match &first.number {
            Some(number) if apart == Seconds::zero() => diagnostic.help(format!(
                "take both on one GO: `trigger: With({:?}({}))` in place of its moment",
                first.crew.value, number.value
            )),
            Some(number) => diagnostic.help(format!(
                "join them, or let this one follow: `trigger: Follow({:?}({}), Go, {})`",
                first.crew.value,
                number.value,
                apart.to_f64()
            )),
            None => diagnostic
                .help("join them, or give the one before a number and let this one follow it"),
        });
    }
    found
}
