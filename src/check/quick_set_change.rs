//! Another set is in the hands before anybody can have picked it up.

use crate::diagnostic::Diagnostic;
use crate::routine::{Pause, Section};
use crate::time::{Seconds, Time, seconds_text};
use crate::timeline::Run;

use super::{Case, Check, Finds};

/// A change of props that takes less is hardly done (common practice, no source).
const LEAST_S: i64 = 2;

pub(super) const CHECK: Check = Check {
    code: "quick-set-change",
    what: "From the last catch with one set to the first throw with another there are two seconds, \
           or a logged pick-up.",
    why: "Props are put down and others are picked up in that time. Two seconds are common \
          practice, no source; a pick-up that was timed in rehearsal knows better.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "to the rings", lasts: For("0:01")),
        Juggle(name: "fleet", set: "trio", pattern: "3", lasts: Beats(20)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "to the rings", lasts: For("0:04")),
        Juggle(name: "fleet", set: "trio", pattern: "3", lasts: Beats(20)),
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let runs = case.timeline().runs.windows(2);
    runs.filter_map(|runs| quick(case, runs.first()?, runs.last()?)).collect()
}

fn quick(case: &Case<'_>, before: &Run, after: &Run) -> Option<Diagnostic> {
    let (old, new) = (case.routine().sets.get(before.set)?, case.routine().sets.get(after.set)?);
    let pauses = case.routine().score.get(before.sections.end..after.sections.start)?;
    let logged = |pause: &Pause| !pause.pick_up.is_empty();
    if before.set == after.set || pauses.iter().filter_map(Section::pause).any(logged) {
        return None;
    }
    let last = before.gather.last_catch.as_ref().unwrap_or(&before.gather.ends);
    let first = &case.timeline().sections.get(after.sections.start)?.starts;
    let at = pauses.last()?.lasts_at();
    let least = Time::from(Seconds::fraction(LEAST_S, 1));
    case.some_night(at, CHECK.code, |night| {
        let lasts = first - last;
        night.worse_by(&(&least - &lasts));
        if !night.before(&lasts, &least) {
            return None;
        }
        let message = format!(
            "\"{}\" is put down and \"{}\" is picked up within {}",
            old.name.value,
            new.name.value,
            seconds_text(&night.at(&lasts))
        );
        Some(
            Diagnostic::warning(CHECK.code, at.clone(), message)
                .label("quick for a change of props")
                .help("make the pause longer")
                .help(
                    "or time the change and log it: `pick_up: [1.4, 1.6]` in the pause, the \
                     slowest counts",
                ),
        )
    })
}
