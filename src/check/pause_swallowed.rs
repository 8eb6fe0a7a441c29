//! A pause until a moment that what comes before it leaves hardly any time.

use crate::diagnostic::Diagnostic;
use crate::time::{Seconds, Time, seconds_text};

use super::{Case, Check, Finds};

/// A pause that is shorter is hardly one, in tenths of a second (common practice, no source).
const LEAST_TENTHS: i64 = 5;

pub(super) const CHECK: Check = Check {
    code: "pause-swallowed",
    what: "A pause until a moment lasts at least half a second, whatever comes before it takes.",
    why: "What comes before it decides how long it is: on a slow night there is no time left to \
          settle. Half a second is common practice, no source.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:02", "0:06")),
        Pause(name: "settle", lasts: Until(At("0:12.3"))),
        Juggle(name: "beam", pattern: "3", lasts: Cycles(20)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:02", "0:06")),
        Pause(name: "settle", lasts: Until(At("0:14"))),
        Juggle(name: "beam", pattern: "3", lasts: Cycles(20)),
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let least = Time::from(Seconds::fraction(LEAST_TENTHS, 10));
    let found = case.act.sections().filter_map(|(_, section, span)| {
        let pause = section.pause()?;
        pause.lasts.value.until()?;
        let lasts = &span.ends - &span.starts;
        case.some_night(&pause.lasts.at, CHECK.code, |night| {
            night.worse_by(&(&least - &lasts));
            if !night.before(&lasts, &least) {
                return None;
            }
            let message = format!(
                "only {} of the pause \"{}\" are left",
                seconds_text(&night.at(&lasts)),
                section.name.value
            );
            Some(
                Diagnostic::warning(CHECK.code, pause.lasts.at.clone(), message)
                    .label("no time to settle")
                    .help("end it later, or shorten what is before it"),
            )
        })
    });
    found.collect()
}
