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
    ($at:literal $($name:literal $number:literal)*) => {
        concat!(
            "Routine(\n    title: \"Example\",\n    lead: Right,\n    tempo: PerMinute(200),\n",
            "    zero: FirstThrow,\n    colours: { \"coral\": \"#ec6a5c\" },\n",
            "    sets: { \"three\": Set(kind: Ball, length: 0.072, ",
            "colours: [\"coral\", \"coral\", \"coral\"]) },\n    score: [\n",
            "        Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(20)),\n",
            $("        Pause(name: \"", $name, "\", lasts: Between(\"0:01\", \"0:09\")),\n",)*
            "        Juggle(name: \"beam\", pattern: \"3\", lasts: Beats(20)),\n    ],\n    cues: [\n",
            $("        Cue(crew: Light, number: ", $number, ", at: ", $at, ", trigger: See(\"bow\"), ",
            "does: \"up\", count: 1),\n        Cue(crew: Light, number: 1", $number, ", at: End(\"",
            $name, "\"), trigger: See(\"bow\"), does: \"out\", dark: true),\n",)*
            "        Cue(crew: Light, number: 90, at: Start(\"beam\"), trigger: See(\"beam\"), ",
            "does: \"up\", count: 1),\n    ],\n)\n"
        )
    };
}

/// Lights that come up at times of the show clock, between bows that nobody can time.
const MANY: &str = evening!("At(\"0:30\")" "a" "1" "b" "2" "c" "3" "d" "4" "e" "5" "f" "6" "g" "7" "h" "8" "i" "9");
/// The same lights where the act begins.
const FEWER: &str = evening!("Start(\"tide\")" "a" "1" "b" "2" "c" "3" "d" "4" "e" "5" "f" "6" "g" "7" "h" "8" "i" "9");
