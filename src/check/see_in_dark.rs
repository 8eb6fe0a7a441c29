//! A cue that is taken by eye while the stage is dark.

use crate::act::calls::Call;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;
use crate::routine::{Crew, Cue, Trigger, has_word};
use crate::time::clock;

use super::{Case, Check, Finds, darks_of, of_both};

pub(super) const CHECK: Check = Check {
    code: "see-in-dark",
    what: "A cue that is taken by eye while the stage is dark says what can be seen then: a \
           light, a lamp, a glow.",
    why: "In the dark the operator sees nothing, waits, and takes the cue too late or not at all.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "crate", lasts: For("0:08")),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, at: Shift(LastCatch("tide"), 5.0), trigger: See("lid shut"),
            does: "warm", count: 1),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "crate", lasts: For("0:08")),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all in hands"),
            does: "blackout", dark: true),
        Cue(crew: Light, number: 10, at: Shift(LastCatch("tide"), 5.0),
            trigger: See("the lamp in the crate is lit"), does: "warm", count: 1),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

/// What can be seen in the dark: it shines, or it is a picture that needs no light.
const SHINES: [&str; 40] = [
    "candle",
    "candles",
    "clock",
    "counter",
    "display",
    "ember",
    "embers",
    "fire",
    "flame",
    "flames",
    "flash",
    "flashes",
    "flashlight",
    "flicker",
    "flickers",
    "glow",
    "glowing",
    "glows",
    "infrared",
    "lamp",
    "lamps",
    "lantern",
    "lanterns",
    "laser",
    "led",
    "leds",
    "light",
    "lights",
    "lit",
    "luminous",
    "monitor",
    "monitors",
    "screen",
    "screens",
    "shines",
    "spark",
    "sparks",
    "spotlight",
    "torchlight",
    "uv",
];

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    of_both(case, |one| {
        let darks = darks_of(case, one);
        let all = Crew::ALL.into_iter().flat_map(|crew| one.calls_of(crew));
        let unlit = all.filter(|(_, cue)| match &cue.trigger.value {
            Trigger::See(seen) => !seen.as_ref().is_some_and(|seen| has_word(seen, &SHINES)),
            _ => false,
        });
        unlit.filter_map(|(call, cue)| diagnostic(one, &darks, call, cue)).collect()
    })
}

fn diagnostic(case: &Case<'_>, darks: &Darks<'_>, call: &Call, cue: &Cue) -> Option<Diagnostic> {
    case.some_night(&cue.trigger.at, CHECK.code, |night| {
        let dark = darks.over(&call.go, call.cue, night).filter(|dark| !dark.spot_stays)?;
        let message = format!(
            "this is to be seen at {} (show clock), while the stage is dark",
            clock(&night.at(&call.go))
        );
        Some(
            Diagnostic::warning(CHECK.code, cue.trigger.at.clone(), message)
                .label("who sees it?")
                .note_at(dark.at.clone(), "this cue makes the stage dark")
                .help(
                    "say what is seen in the dark, such as See(\"the lamp is lit\") or See(\"on \
                     the infrared monitor: lid shut\")",
                )
                .help("or let the cue follow another, or take it by ear: `Hear(\"lid shut\")`"),
        )
    })
}
