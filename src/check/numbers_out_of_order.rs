//! A cue that comes after one of its crew with a later number.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::routine::{Crew, Cue, CueNumber, Trigger};
use crate::time::{Night, Seconds, TooManyWays, clock};

use super::{Case, Check, Finds, too_open};

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

/// Of so many calls that may cross others it is told.
const MOST_TOLD: usize = 300;

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
    let ends: Vec<Ends<'_>> = numbered.series().map(|calls| Ends::of(calls, number)).collect();
    let crossing = case.act.calls.some(|one| {
        number(one).is_some() && ends.iter().any(|ends| ends.may_cross(one, number(one)))
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
    let told = crossing.calls().iter().take(MOST_TOLD).filter_map(out_of_order);
    let from = crossing.calls().get(MOST_TOLD).and_then(|call| case.routine().cues.get(call.cue));
    told.chain(from.map(|cue| too_open(cue.timed_at(), CHECK.code))).collect()
}

/// A series of calls that keep their order on every night, by their numbers.
struct Ends<'c> {
    /// The numbers in order.
    numbers: Vec<Option<CueNumber>>,
    /// Of each number and all below it the call that comes last.
    last: Vec<&'c Call>,
    /// Of each number and all above it the call that comes first.
    first: Vec<&'c Call>,
}

impl<'c> Ends<'c> {
    fn of(calls: Vec<&'c Call>, number: impl Fn(&Call) -> Option<CueNumber>) -> Ends<'c> {
        // With its place in the series, which is the order in which they come.
        let mut by_number: Vec<(Option<CueNumber>, usize)> =
            calls.iter().enumerate().map(|(place, call)| (number(call), place)).collect();
        by_number.sort_unstable();
        let last = by_number.iter().scan(0, |last, (_, place)| {
            *last = (*place).max(*last);
            Some(calls[*last])
        });
        let first = by_number.iter().rev().scan(usize::MAX, |first, (_, place)| {
            *first = (*place).min(*first);
            Some(calls[*first])
        });
        let mut first: Vec<&Call> = first.collect();
        first.reverse();
        let last = last.collect();
        Ends { numbers: by_number.iter().map(|(number, _)| *number).collect(), last, first }
    }

    /// Whether one of these with a higher number may come before a call, or one with a lower number
    /// after it.
    fn may_cross(&self, call: &Call, number: Option<CueNumber>) -> bool {
        let lower = self.numbers.partition_point(|one| *one < number);
        let higher = self.numbers.partition_point(|one| *one <= number);
        let comes_after = |one: &Call, other: &Call| (&one.go - &other.go).most() > Seconds::zero();
        let last_of_lower = lower.checked_sub(1).and_then(|at| self.last.get(at));
        last_of_lower.is_some_and(|one| comes_after(one, call))
            || self.first.get(higher).is_some_and(|one| comes_after(call, one))
    }
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
