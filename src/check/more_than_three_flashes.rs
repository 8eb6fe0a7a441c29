//! Light that flashes more than three times in any one second.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::flashes::{MOST_IN_ONE_SECOND, from_go_to_go, most_in_one_second};
use crate::routine::Crew;
use crate::time::{Night, Seconds, Time, clock};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "more-than-three-flashes",
    what: "No light flashes more than three times in any one second, by its own rate or from GO \
           to GO.",
    why: "Flashing light can bring on seizures. The line is that of WCAG 2.2, SC 2.3.1, used here \
          as a conservative one; it clears nothing: the venue and local rules decide.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "flicker", count: 1,
            flashes: 3.5),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "flicker", count: 1,
            flashes: 2.5),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

const DECIDE: &str = "more than three in any one second is past the line of WCAG 2.2, SC 2.3.1; \
                      the venue and local rules decide what is safe, throwbook clears nothing";

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut found: Vec<Diagnostic> = case
        .routine()
        .cues
        .iter()
        .filter_map(|cue| cue.flashes.as_ref())
        .filter_map(by_rate)
        .collect();
    found.extend(by_go(case));
    found
}

fn by_rate(flashes: &crate::diagnostic::Placed<f64>) -> Option<Diagnostic> {
    // A steady rate above three puts a fourth flash into some second.
    if flashes.value <= 3.0 {
        return None;
    }
    let message = format!("the light flashes {} times a second", flashes.value);
    Some(
        Diagnostic::warning(CHECK.code, flashes.at.clone(), message)
            .label("more than three")
            .note(DECIDE)
            .help_edit("flash at most three times a second", flashes.at.clone(), "3"),
    )
}

/// The worst second of flashes from GO to GO, counted from whichever change gives more.
fn by_go(case: &Case<'_>) -> Option<Diagnostic> {
    let cues = &case.routine().cues;
    let is_light =
        |call: &Call| cues.get(call.cue).is_some_and(|cue| cue.crew.value == Crew::Light);
    let lights = case.act.calls.some(is_light);
    // So many changes must be able to fall within one second.
    let second = Seconds::fraction(1, 1);
    let near = |one: &Call, other: &Call| {
        let apart = &one.go - &other.go;
        apart.least() < second && -apart.most() < second
    };
    let changes = 2 * MOST_IN_ONE_SECOND + 1;
    let all = lights.calls();
    let crowd = match lights.is_certain() {
        true => all.windows(changes).find(|some| near(some[changes - 1], some[0]))?.first()?,
        false => {
            let crowded =
                |one: &&&Call| all.iter().filter(|other| near(one, other)).count() >= changes;
            all.iter().find(crowded)?
        }
    };
    let first = cues.get(crowd.cue)?;
    case.some_night(first.timed_at(), CHECK.code, |night| {
        let order = lights.on(night);
        let phases = from_go_to_go(case.act, &order);
        if !phases.iter().any(|flashes| is_too_fast(flashes, night)) {
            return None;
        }
        let worst = phases.iter().filter_map(|flashes| {
            let times: Vec<Seconds> = flashes.iter().map(|(_, go)| night.at(go)).collect();
            let (most, first) = most_in_one_second(&times)?;
            Some((most, flashes.get(first..first + most)?))
        });
        let (most, flashes) =
            worst.reduce(|worst, one| if one.0 > worst.0 { one } else { worst })?;
        let (cue, go) = flashes.first()?;
        let cue = cues.get(*cue)?;
        let message = format!(
            "the light goes out and comes back {most} times in the second from {} (show clock)",
            clock(&night.at(go))
        );
        let diagnostic = Diagnostic::warning(CHECK.code, cue.timed_at().clone(), message)
            .label("the first flash")
            .note(DECIDE);
        let last = flashes.last().and_then(|(last, _)| cues.get(*last));
        Some(match last {
            Some(last) => diagnostic.note_at(last.timed_at().clone(), "the last one"),
            None => diagnostic,
        })
    })
}

/// Whether more flashes than the line allows begin within one second.
fn is_too_fast(flashes: &[(usize, Time)], night: &Night<'_>) -> bool {
    let second = Seconds::fraction(1, 1);
    flashes.windows(MOST_IN_ONE_SECOND + 1).any(|flashes| {
        let ends = flashes.first().zip(flashes.last());
        ends.is_some_and(|((_, first), (_, last))| night.before(last, &(first + &second)))
    })
}
