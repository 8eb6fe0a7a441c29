//! Fire that burns out before the act is done with it.

use crate::act::in_use::{Burn, InUse, burns};
use crate::diagnostic::Diagnostic;
use crate::routine::Hazard;
use crate::time::{Time, clock, seconds_text};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "burn-too-short",
    what: "The shortest tested burn of a set lasts from where it is lit to where it is put out, with \
           the longest open lengths and the slowest logged pick-ups.",
    why: "Burn time is a second clock: what goes out in the air goes out over somebody's head. A \
          burn that is long enough here is no clearance: wind, fuel and wick decide on the day, and \
          local codes, the venue and licensed practice decide what is safe.",
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

pub(super) const INTO_ENCORE: Check = Check {
    code: "burns-into-encore",
    what: "Fire that is lit in the act is put out in the act, where an encore may follow.",
    why: "It burns on through the applause, and nobody knows how long that takes: no tested burn \
          can be held against it. Local codes, the venue and licensed practice decide what is safe.",
    raises: example!(
        r#"        Pause(name: "light up", lasts: For("0:04"), lit: "fire"),
        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(20)),
"#,
        r#"    encore: Encore(score: [
        Pause(name: "again", lasts: For("0:04"), put_out: "fire"),
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
    ]),
"#
    ),
    mended: example!(
        r#"        Pause(name: "light up", lasts: For("0:04"), lit: "fire"),
        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(20)),
        Pause(name: "out", lasts: For("0:04"), put_out: "fire"),
"#,
        r#"    encore: Encore(score: [
        Pause(name: "again", lasts: For("0:04")),
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
    ]),
"#
    ),
    finds: Finds::Compiled(into_encores),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    burns(case.act).iter().filter_map(|burn| short(case, burn)).collect()
}

fn into_encores(case: &Case<'_>) -> Vec<Diagnostic> {
    case.act.in_use.iter().filter_map(|used| into_encore(case, used)).collect()
}

fn short(case: &Case<'_>, burn: &Burn) -> Option<Diagnostic> {
    let set = case.routine().sets.get(burn.in_use.set)?;
    let test = set.burn.get(burn.shortest)?;
    let lit = &case.section(burn.in_use.begins?).name;
    case.some_night(&test.at, CHECK.code, |night| {
        let is_slow = |slow: &&Time| night.before(&Time::zero(), slow);
        let slow: Vec<&Time> = burn.slow.iter().filter(is_slow).collect();
        let lasts = slow.iter().fold(burn.in_use.lasts(), |lasts, slow| &lasts + *slow);
        let over = &lasts - &Time::from(burn.test.clone());
        night.worse_by(&over);
        if !night.before(&Time::zero(), &over) {
            return None;
        }
        let message = format!(
            "\"{}\" is alight for {}, {} longer than its shortest tested burn",
            set.name.value,
            seconds_text(&night.at(&lasts)),
            seconds_text(&night.at(&over))
        );
        let from = clock(&night.at(&burn.in_use.from));
        let to = clock(&night.at(&burn.in_use.to));
        let mut diagnostic = Diagnostic::error(CHECK.code, test.at.clone(), message)
            .label("the shortest test")
            .note_at(lit.at.clone(), format!("lit here, from {from} (show clock)"));
        diagnostic = match burn.in_use.ends {
            Some(out) => {
                let out = case.section(out).name.at.clone();
                diagnostic.note_at(out, format!("put out here, until {to}"))
            }
            None => diagnostic
                .note(format!("no `Pause` puts it out: it burns to the end of the act, at {to}")),
        };
        if !slow.is_empty() {
            diagnostic = diagnostic
                .note("a pause in it is shorter than its slowest logged pick-up, which counts");
        }
        let diagnostic = diagnostic.help(
            "shorten what is juggled with it, or put it out, juggle with something else, and light \
             it anew",
        );
        Some(if burn.in_use.ends.is_some() {
            diagnostic
        } else {
            diagnostic.help(format!(
                "if it is put out before the end, say so: `put_out: \"{}\"` in the `Pause` in \
                 which it happens",
                set.name.value
            ))
        })
    })
}

/// Fire that the act leaves alight for an encore: no clock knows how long it burns.
fn into_encore(case: &Case<'_>, used: &InUse) -> Option<Diagnostic> {
    let encore = case.act.encore.as_deref()?;
    let set = case.routine().sets.get(used.set)?;
    if used.ends.is_some() || used.hazard != Hazard::Fire {
        return None;
    }
    let out = encore.in_use.iter().find(|carried| carried.is(used.set, Hazard::Fire))?.ends;
    let message = format!(
        "\"{}\" is alight at the end of the act, and it burns on through the applause into the \
         encore: nobody knows for how long",
        set.name.value
    );
    let mut diagnostic =
        Diagnostic::warning(INTO_ENCORE.code, set.name.at.clone(), message).label("this fire");
    if let Some(out) = out.and_then(|out| encore.routine.score.get(out)) {
        diagnostic = diagnostic.note_at(out.name.at.clone(), "put out here, in the encore");
    }
    Some(diagnostic.help(format!(
        "put it out in the act, with `put_out: \"{}\"` in a `Pause`, and light it again in the encore",
        set.name.value
    )))
}
