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
    finds: Finds::Elsewhere,
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

macro_rules! evening {
    ($($name:literal $number:literal $at:literal)*) => {
        concat!(
            "Routine(\n    title: \"Example\",\n    lead: Right,\n    tempo: PerMinute(200),\n",
            "    zero: FirstThrow,\n    colours: { \"coral\": \"#ec6a5c\" },\n",
            "    sets: { \"three\": Set(kind: Ball, length: 0.072, ",
            "colours: [\"coral\", \"coral\", \"coral\"]) },\n    score: [\n",
            "        Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(20)),\n",
            $("        Pause(name: \"", $name, "\", lasts: Between(\"0:01\", \"0:09\")),\n",)*
            "        Pause(name: \"bow\", lasts: For(\"0:30\")),\n    ],\n    cues: [\n",
            $("        Cue(crew: Light, number: ", $number, ", at: ", $at, ", trigger: Hear(\"bell\"), ",
            "does: \"up\", count: 1),\n        Cue(crew: Light, number: ", $number, ".5, at: End(\"",
            $name, "\"), trigger: Hear(\"drum\"), does: \"out\", dark: true),\n",)*
            "        Cue(crew: Light, number: 9, at: Shift(Start(\"bow\"), 0.5), trigger: Hear(\"bell\"), ",
            "does: \"up\", count: 1),\n    ],\n)\n"
        )
    };
}

/// Lights that come up at times of the show clock, between bows that nobody can time.
const MANY: &str = evening!(
    "a" "1" "At(\"0:15\")"
    "b" "2" "At(\"0:16\")"
    "c" "3" "At(\"0:17\")"
    "d" "4" "At(\"0:18\")"
    "e" "5" "At(\"0:19\")"
    "f" "6" "At(\"0:20\")"
    "g" "7" "At(\"0:21\")"
);
/// The same lights at moments of the act.
const FEWER: &str = evening!(
    "a" "1" "Start(\"a\")"
    "b" "2" "Shift(Start(\"b\"), 0.5)"
    "c" "3" "Shift(Start(\"c\"), 0.5)"
    "d" "4" "Shift(Start(\"d\"), 0.5)"
    "e" "5" "Shift(Start(\"e\"), 0.5)"
    "f" "6" "Shift(Start(\"f\"), 0.5)"
    "g" "7" "Shift(Start(\"g\"), 0.5)"
);
