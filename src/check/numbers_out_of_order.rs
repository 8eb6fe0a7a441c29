//! A cue that comes after one of its crew with a later number.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::routine::{Crew, Cue, CueNumber, Trigger};
use crate::time::{Night, Seconds, TooManyWays, clock};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "numbers-out-of-order",
    what: "The cues of a crew are taken in the order of their numbers, and a follow lands before \
           the next number goes.",
    why: "An operator goes down the list, and a desk steps through it: a number that comes after \
          a later one is passed over (common practice, no source).",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 10, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 5, at: End("tide"), trigger: Called, does: "cold", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 10, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 15, at: End("tide"), trigger: Called, does: "cold", count: 2),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

/// Of more calls than these that may cross each other, no order is followed as a whole.
const MOST_CROSSING: usize = 10;

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    Crew::ALL.into_iter().flat_map(|crew| on_crew(case, crew)).collect()
}

fn on_crew(case: &Case<'_>, crew: Crew) -> Vec<Diagnostic> {
    let number = |call: &Call| {
        let cue = case.routine().cues.get(call.cue).filter(|cue| cue.crew.value == crew)?;
        cue.number.as_ref().map(|number| number.value)
    };
    let numbered = case.act.calls.some(|call| number(call).is_some());
    if numbered.is_certain() {
        let outside = outside_rising(numbered.calls(), number);
        let found = outside.into_iter().filter_map(|call| {
            case.some_night(case.routine().cues.get(call.cue)?.timed_at(), CHECK.code, |night| {
                beside(case, numbered.calls(), number, call, night)
            })
        });
        return found.collect();
    }
    // What comes behind every lower number and before every higher one on every night is in every
    // longest run.
    let may_cross = |one: &Call, other: &Call| {
        number(one) < number(other) && (&one.go - &other.go).most() > Seconds::zero()
    };
    let crossing = case.act.calls.some(|one| {
        let mut others = numbered.calls().iter();
        number(one).is_some() && others.any(|other| may_cross(one, other) || may_cross(other, one))
    });
    let out_of_order = |&call: &&Call| {
        let look = |night: &Night<'_>| {
            let outside = outside_rising(&crossing.on(night), number);
            let is_outside = outside.iter().any(|one| one.cue == call.cue);
            is_outside.then(|| beside(case, crossing.calls(), number, call, night)).flatten()
        };
        let at = case.routine().cues.get(call.cue)?.timed_at();
        // With too many orders to follow, whatever crosses another is told.
        let look_at_all = |night: &Night<'_>| beside(case, crossing.calls(), number, call, night);
        if crossing.calls().len() > MOST_CROSSING {
            return case.some_night(at, CHECK.code, look_at_all);
        }
        match case.act.some_night(look) {
            Ok(_) => case.some_night(at, CHECK.code, look),
            Err(TooManyWays) => case.some_night(at, CHECK.code, look_at_all),
        }
    };
    crossing.calls().iter().filter_map(out_of_order).collect()
}

/// The calls outside the longest run of rising numbers, in order; of several such runs the one that
/// begins earliest counts.
fn outside_rising<'c>(
    calls: &[&'c Call],
    number: impl Fn(&Call) -> Option<CueNumber>,
) -> Vec<&'c Call> {
    // From behind: how long a run begins at each, and the highest number that begins a run of each
    // length.
    let mut highest: Vec<Option<CueNumber>> = Vec::new();
    let mut runs: Vec<usize> = Vec::with_capacity(calls.len());
    for call in calls.iter().rev() {
        let number = number(call);
        let behind = highest.partition_point(|begins| *begins >= number);
        match highest.get_mut(behind) {
            Some(begins) => *begins = number,
            None => highest.push(number),
        }
        runs.push(behind + 1);
    }
    let mut left = highest.len();
    let mut last = None;
    let mut outside = Vec::new();
    for (&call, run) in calls.iter().zip(runs.into_iter().rev()) {
        if run == left && number(call) >= last {
            last = number(call);
            left -= 1;
        } else {
            outside.push(call);
        }
    }
    outside
}

/// Says of a call what it comes behind, or before, on a night against the order of the numbers.
fn beside(
    case: &Case<'_>,
    calls: &[&Call],
    number: impl Fn(&Call) -> Option<CueNumber>,
    call: &Call,
    night: &Night<'_>,
) -> Option<Diagnostic> {
    let higher = calls.iter().filter(|other| number(other) > number(call));
    let lower = calls.iter().filter(|other| number(other) < number(call));
    let mut before = higher.filter(|other| night.before(&other.go, &call.go));
    let mut after = lower.filter(|other| night.before(&call.go, &other.go));
    let (other, is_after) = match before.next() {
        Some(other) => (other, true),
        None => (after.next()?, false),
    };
    let cue = |call: &Call| case.routine().cues.get(call.cue);
    let timed = |call: &Call| Some((cue(call)?, night.at(&call.go)));
    Some(diagnostic(timed(call)?, timed(other)?, is_after))
}

fn diagnostic(
    (cue, go): (&Cue, Seconds),
    (other, at): (&Cue, Seconds),
    is_after: bool,
) -> Diagnostic {
    let is_follow = matches!(cue.trigger.value, Trigger::Follow { .. });
    let goes = if is_follow { "follows and lands" } else { "goes" };
    let (side, label, note, behind, sooner) = match is_after {
        true => (
            "after",
            "after a later number",
            "the later number, which comes first",
            "behind",
            "sooner",
        ),
        false => (
            "before",
            "before an earlier number",
            "the earlier number, which comes later",
            "before",
            "later",
        ),
    };
    let message = format!(
        "{} {goes} at {}, {side} {} at {} (show clock)",
        cue.label(),
        clock(&go),
        other.label(),
        clock(&at)
    );
    let other_label = other.label();
    Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
        .label(label)
        .note_at(other.at.clone(), note)
        .help(match is_follow {
            true => format!("let it follow {sooner}, or give it a number {behind} {other_label}"),
            false => format!(
                "give it a number {behind} {other_label}; once it was handed out, cut it and write \
                 a new cue"
            ),
        })
}
