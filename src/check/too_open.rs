//! More ways for a night to go than are followed.

use crate::diagnostic::{Diagnostic, Place};

use super::{Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "too-open-to-check",
    what: "Every check can follow each way in which the open lengths can put the cues in order.",
    why: "Silence would say that nothing is wrong, where nobody has looked. Where fire or blades \
          are in play it is an error.",
    raises: MANY,
    mended: FEWER,
    finds: Finds::Reading,
};

/// Says that a check could not follow every night.
pub(super) fn too_open(at: &Place, code: &'static str) -> Diagnostic {
    let message = format!(
        "this act leaves so much open that `{code}` could not be checked for every night here"
    );
    let diagnostic = match code {
        "danger-in-dark" | "dark-before-last-catch" | "burn-too-short" => {
            Diagnostic::error(CHECK.code, at.clone(), message)
        }
        _ => Diagnostic::warning(CHECK.code, at.clone(), message),
    };
    diagnostic
        .label("too many ways to go")
        .help("hang the cues on moments of the act instead of times of the show clock")
        .help("give the lengths that matter least one length, with `For`")
}

macro_rules! claps {
    ($($name:literal)*) => {
        concat!($("        Pause(name: \"", $name, "\", lasts: Between(\"0:01\", \"0:09\")),\n"),*)
    };
}

macro_rules! lights {
    ($($number:literal at $at:literal after $name:literal),*) => {
        concat!($(
            "        Cue(crew: Light, number: ", $number, ", at: At(\"", $at,
            "\"), trigger: Hear(\"bell\"), does: \"out\", dark: true),\n",
            "        Cue(crew: Light, number: 5", $number, ", at: End(\"", $name,
            "\"), trigger: See(\"bow\"), does: \"up\", count: 1),\n"
        ),*)
    };
}

const FEWER: &str = example!(
    r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#
);
const MANY: &str = example!("");
