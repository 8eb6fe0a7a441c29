//! Fire that burns out before the act is done with it.

use crate::diagnostic::Diagnostic;
use crate::measure::in_use::{Burn, burns};
use crate::time::{Time, clock, seconds_text};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "burn-too-short",
    what: "The shortest tested burn of a set lasts from the first section with it to the last \
           catch, pauses between included.",
    why: "Burn time is a second clock: what goes out in the air goes out over somebody's head. The \
          time from lighting to the first section comes on top. Local codes, the venue and \
          licensed practice decide what is safe.",
    raises: example!(
        r#"        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(200)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(100)),
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    burns(case.act).iter().filter_map(|burn| short(case, burn)).collect()
}

fn short(case: &Case<'_>, burn: &Burn) -> Option<Diagnostic> {
    let set = case.routine().sets.get(burn.in_use.set)?;
    let test = set.burn.get(burn.shortest)?;
    let first = &case.section(burn.in_use.sections.start).name;
    let last = &case.section(burn.in_use.sections.end.checked_sub(1)?).name;
    case.some_night(&test.at, CHECK.code, |night| {
        night.worse_by(&(&Time::zero() - &burn.left));
        if !night.before(&burn.left, &Time::zero()) {
            return None;
        }
        let message = format!(
            "\"{}\" is in use for {}, {} longer than its shortest tested burn",
            set.name.value,
            seconds_text(&night.at(&burn.in_use.lasts())),
            seconds_text(&night.at(&burn.left).abs())
        );
        let from = clock(&night.at(&burn.in_use.from));
        let to = clock(&night.at(&burn.in_use.to));
        let diagnostic = Diagnostic::error(CHECK.code, test.at.clone(), message)
            .label("the shortest test")
            .note_at(first.at.clone(), format!("in use from here, at {from} (show clock)"))
            .note_at(last.at.clone(), format!("to the last catch of this, at {to}"))
            .note("the time from lighting to the first section comes on top");
        Some(diagnostic.help(
            "shorten what is juggled with it, or juggle with something else between, and put it \
             out and light it anew",
        ))
    })
}
