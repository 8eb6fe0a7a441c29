//! Times that contradict each other: an end that cannot be known, or that comes before its start.

use crate::diagnostic::Diagnostic;
use crate::time::seconds_text;
use crate::timeline::{Trouble, Unresolved};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "times-contradict",
    what: "The moments that end sections, start the music and set the clock can all be worked \
           out, and follow each other.",
    why: "A section that ends where the next one starts, which starts where it ends, has no \
          length.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Until(Start("beam"))),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Until(At("0:03"))),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2)),
"#
    ),
    finds: Finds::Compiled(find),
};

pub(super) const NEGATIVE_PAUSE: Check = Check {
    code: "negative-pause",
    what: "A pause ends after it has begun.",
    why: "A pause until a moment that is already past means that what is before it is too long.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "pose", lasts: Until(At("0:05"))),
        Juggle(name: "beam", pattern: "3", lasts: Cycles(2)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(12)),
        Pause(name: "pose", lasts: Until(At("0:05"))),
        Juggle(name: "beam", pattern: "3", lasts: Cycles(2)),
"#
    ),
    finds: Finds::Compiled(negative_pause),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| match trouble {
            Trouble::UntilUnknown { section, why } => {
                let section = case.section(*section);
                let lasts = section.lasts_at().clone();
                let message = format!(
                    "it cannot be worked out when \"{}\" ends: {}",
                    section.name.value, why
                );
                let help = match why {
                    Unresolved::NoSuchBar { .. } | Unresolved::OutsideBars => {
                        "end it inside the music's bars, or at `TrackEnd`"
                    }
                    Unresolved::NoBars | Unresolved::NoMusic => {
                        "write where the bars lie, in `music: Track(bars: [Bars(…)])`, or how \
                         long it lasts in seconds or beats"
                    }
                    Unresolved::Bends(_) => {
                        "leave out the `may_bend` of that section, or land its own first throw \
                         with `Until(…)`"
                    }
                    Unresolved::NotNext(_) => {
                        "name a throw of the section that comes next, or land the last throw of a \
                         value of this one: `LastThrow(7)`, `LastCatch(7)`"
                    }
                    Unresolved::StartsAnywhere(_) => {
                        "leave `StartingThrow` out of its `free`, or land its own first throw with \
                         `Until(…)`"
                    }
                    Unresolved::AtAnotherTempo => {
                        "make the next section longer, or land a throw that is caught sooner"
                    }
                    Unresolved::NeverThrown { .. } => {
                        "name a value that the section throws often enough to end with it"
                    }
                    Unresolved::NoSuchThrow { .. } | Unresolved::NotThrown { .. } => {
                        "choose the number of a throw that it makes"
                    }
                    Unresolved::JoinedOn(_) => {
                        "land the catch of its last throw of a value, such as `LastCatch(7)`"
                    }
                    _ => {
                        "end it at a mark of the music, at a time of the clock, or at \
                         something that happens earlier"
                    }
                };
                Some(Diagnostic::error(CHECK.code, lasts, message).label("this moment").help(help))
            }
            Trouble::UntilTooEarly { section, by } => {
                let section = case.section(*section);
                let message = format!(
                    "\"{}\" would end {} before it starts",
                    section.name.value,
                    seconds_text(by)
                );
                Some(
                    Diagnostic::error(CHECK.code, section.lasts_at().clone(), message)
                        .label("already past")
                        .help("shorten what is before it, or end it later"),
                )
            }
            Trouble::ZeroUnknown { why } => Some(
                Diagnostic::error(
                    CHECK.code,
                    case.routine().zero.at.clone(),
                    format!("the show clock has no zero: {}", why),
                )
                .label("this moment")
                .help("choose a moment that happens, such as `FirstThrow`"),
            ),
            Trouble::TrackStartUnknown { track, why } => {
                let (_, music) = case.routine().all_tracks().nth(*track)?;
                Some(
                    Diagnostic::error(
                        CHECK.code,
                        music.starts.at.clone(),
                        format!("it cannot be worked out when the music starts: {}", why),
                    )
                    .label("this moment")
                    .help("start it at a section, such as `Start(\"…\")`"),
                )
            }
            _ => None,
        })
        .collect()
}

fn negative_pause(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::NegativePause { section, lasts } = trouble else { return None };
            let section = case.section(*section);
            let message = format!(
                "the pause \"{}\" would last {}: what is before it runs past its end",
                section.name.value,
                seconds_text(lasts)
            );
            Some(
                Diagnostic::error(NEGATIVE_PAUSE.code, section.lasts_at().clone(), message)
                    .label("already past")
                    .help(format!(
                        "shorten what is before it by at least {}, or end it later",
                        seconds_text(&lasts.abs())
                    )),
            )
        })
        .collect()
}
