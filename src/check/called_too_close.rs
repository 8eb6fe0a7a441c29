//! Two called cues that nobody can call one after the other.

use crate::act::calls::Call;
use crate::act::in_order::{InOrder, Neighbours};
use crate::diagnostic::Diagnostic;
use crate::routine::{Crew, Cue, Trigger};
use crate::time::{Seconds, Time, seconds_text};

use super::{Case, Check, Finds, too_open};

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

pub(super) const BY_EYE: Check = Check {
    code: "taken-too-close",
    what: "Two GOs of one crew are at least a second apart where one of them is taken by eye.",
    why: "An operator who watches for one thing has no second eye or hand for another within a \
          second: join them, or let one follow (common practice, no source).",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch, trigger: See, does: "cold", count: 2),
        Cue(crew: Light, number: 10, at: Shift(LastCatch, 0.5), trigger: Called, does: "warm",
            count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch, trigger: See, does: "cold", count: 2),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 0.5), does: "warm", count: 2),
    ],
"#
    ),
    finds: Finds::Timed(by_eye),
};

fn by_eye(case: &Case<'_>) -> Vec<Diagnostic> {
    Crew::ALL.into_iter().flat_map(|crew| of_crew(case, crew)).collect()
}

fn of_crew(case: &Case<'_>, crew: Crew) -> Vec<Diagnostic> {
    let trigger = |call: &Call| {
        let cue = case.routine().cues.get(call.cue).filter(|cue| cue.crew.value == crew)?;
        Some(&cue.trigger.value)
    };
    let by_hand = case.act.calls.some(|call| {
        matches!(
            trigger(call),
            Some(Trigger::See(_) | Trigger::Counter { .. } | Trigger::Hear(_) | Trigger::Called)
        )
    });
    let is_seen =
        |call: &Call| matches!(trigger(call), Some(Trigger::See(_) | Trigger::Counter { .. }));
    all_too_close(case, &BY_EYE, &by_hand, |one, other| is_seen(one) || is_seen(other))
}

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let is_called = |call: &Call| {
        let cue = case.routine().cues.get(call.cue);
        cue.is_some_and(|cue| cue.trigger.value == Trigger::Called)
    };
    let called = case.act.calls.some(is_called);
    all_too_close(case, &CHECK, &called, |_, _| true)
}

/// Every two of the calls that come too close, of those that matter.
fn all_too_close(
    case: &Case<'_>,
    check: &Check,
    calls: &InOrder<'_>,
    matter: impl Fn(&Call, &Call) -> bool,
) -> Vec<Diagnostic> {
    let Neighbours { pairs, too_many_from } = calls.neighbours();
    let pairs = pairs.into_iter().filter(|(one, other)| matter(one, other));
    let found = pairs.filter_map(|(one, other)| too_close(case, check, calls, one, other));
    let from = too_many_from.and_then(|call| case.routine().cues.get(call.cue));
    found.chain(from.map(|cue| too_open(&cue.trigger.at, check.code))).collect()
}

/// Two calls that may come one right after the other.
fn too_close(
    case: &Case<'_>,
    check: &Check,
    calls: &InOrder<'_>,
    one: &Call,
    other: &Call,
) -> Option<Diagnostic> {
    let second = Time::from(Seconds::fraction(1, 1));
    let cue = |call: &Call| case.routine().cues.get(call.cue);
    case.some_night(&cue(other)?.trigger.at, check.code, |night| {
        let apart = &other.go - &one.go;
        if !night.before(&apart, &second) || !night.before(&(&Time::zero() - &apart), &second) {
            return None;
        }
        let (first, next) =
            if one.comes_before(other, night) { (one, other) } else { (other, one) };
        if !calls.are_neighbours(first, next, night) {
            return None;
        }
        Some(diagnostic(check.code, cue(first)?, cue(next)?, &night.at(&(&next.go - &first.go))))
    })
}

fn diagnostic(code: &'static str, first: &Cue, next: &Cue, apart: &Seconds) -> Diagnostic {
    let apart_text = seconds_text(apart);
    let (message, label) = match code == CHECK.code {
        true => (
            format!(
                "this cue is called {apart_text} after another called one; nobody can call both"
            ),
            "called here",
        ),
        false => (
            format!(
                "{} goes {apart_text} after another GO of its crew, and one of the two is taken by \
                 eye; nobody can take both",
                next.label()
            ),
            "taken here",
        ),
    };
    let diagnostic = Diagnostic::warning(code, next.trigger.at.clone(), message)
        .label(label)
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
