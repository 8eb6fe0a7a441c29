//! Two called cues that nobody can call one after the other.

use crate::act::calls::Call;
use crate::act::in_order::InOrder;
use crate::diagnostic::Diagnostic;
use crate::routine::{Cue, Trigger};
use crate::time::{Seconds, Time, seconds_text};

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
    let is_called = |call: &Call| {
        let cue = case.routine().cues.get(call.cue);
        cue.is_some_and(|cue| cue.trigger.value == Trigger::Called)
    };
    let called = case.act.calls.some(is_called);
    let pairs = called.neighbours().into_iter();
    pairs.filter_map(|(one, other)| too_close(case, &called, one, other)).collect()
}

/// Two calls that may come one right after the other.
fn too_close(
    case: &Case<'_>,
    called: &InOrder<'_>,
    one: &Call,
    other: &Call,
) -> Option<Diagnostic> {
    let second = Time::from(Seconds::fraction(1, 1));
    let cue = |call: &Call| case.routine().cues.get(call.cue);
    case.some_night(&cue(other)?.trigger.at, CHECK.code, |night| {
        let apart = &other.go - &one.go;
        if !night.before(&apart, &second) || !night.before(&(&Time::zero() - &apart), &second) {
            return None;
        }
        let (first, next) =
            if one.comes_before(other, night) { (one, other) } else { (other, one) };
        if !called.are_neighbours(first, next, night) {
            return None;
        }
        Some(diagnostic(cue(first)?, cue(next)?, &night.at(&(&next.go - &first.go))))
    })
}

fn diagnostic(first: &Cue, next: &Cue, apart: &Seconds) -> Diagnostic {
    let message = format!(
        "this cue is called {} after another called one; nobody can call both",
        seconds_text(apart)
    );
    let diagnostic = Diagnostic::warning(CHECK.code, next.trigger.at.clone(), message)
        .label("called here")
        .note_at(first.trigger.at.clone(), "the one before");
    match &first.number {
        Some(number) if *apart == Seconds::zero() => diagnostic.help(format!(
            "take both on one GO: `trigger: With({:?}({}))` in place of its moment",
            first.crew.value, number.value
        )),
        Some(number) => diagnostic.help(format!(
            "join them, or let this one follow: `trigger: Follow({:?}({}), Go, {})`",
            first.crew.value,
            number.value,
            apart.to_f64()
        )),
        None => {
            diagnostic.help("join them, or give the one before a number and let this one follow it")
        }
    }
}
