//! A cue that speaks of the dark and does not say whether it is dark.

use crate::diagnostic::{Diagnostic, Severity};
use crate::routine::{Crew, words_of};

use super::{Case, Check, Finds};

/// What a cue of any crew may say where the stage goes dark; DBO is a dead blackout (common
/// practice, no source). Each is found as whole words.
const WORDS: [&str; 7] = ["blackout", "blackouts", "black", "dark", "darkness", "dbo", "b o"];

/// What a Light cue may say beside these.
const OF_LIGHT: [&str; 19] = [
    "unlit",
    "kill",
    "lights out",
    "lights off",
    "light out",
    "light off",
    "lx out",
    "lx off",
    "all out",
    "all off",
    "everything out",
    "everything off",
    "fade out",
    "snap out",
    "state 0",
    "to 0",
    "to zero",
    "to nothing",
    "to none",
];

pub(super) const CHECK: Check = Check {
    code: "dark-unsaid",
    what: "A cue that does a blackout, or speaks of black or dark, says `dark: true` or `dark: \
           false`.",
    why: "Only a cue with `dark: true` is checked for props in the air, fire, blades and pick-ups. \
          A blackout that does not say so is checked by nobody. In an act with fire or blades it is \
          an error, and no sheet is written.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all balls in hands"),
            does: "blackout", count: 0),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: See("all balls in hands"),
            does: "blackout", count: 0, dark: true),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 2.0), does: "warm", count: 1),
    ],
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut in_use = case.act.with_encore().flat_map(|act| &act.in_use);
    let has_danger = in_use.next().is_some();
    // Sound that is "all out" is silence, not a dark.
    let may_be_dark = |crew| !matches!(crew, Crew::Sound | Crew::Timekeeper);
    let cues = case.routine().cues.iter();
    let unsaid = cues.filter(|cue| !cue.says_dark && may_be_dark(cue.crew.value));
    let found = unsaid.filter_map(|cue| {
        let is_light = cue.crew.value == Crew::Light;
        let word = word_of_the_dark(&cue.does.value.words(), is_light).or_else(|| {
            // Light that goes out, wholly or in part: with fire or blades, which of the two counts.
            let words: Vec<String> = words_of(&cue.does.value.words()).collect();
            let goes = |out: &&str| words.iter().any(|word| word == out);
            let asked = is_light && (has_danger || words.len() == 1);
            ["out", "off"].into_iter().find(|out| asked && goes(out))
        })?;
        let message = format!("this cue says \"{word}\" and not whether the stage is dark");
        let mut diagnostic = Diagnostic::warning(CHECK.code, cue.does.at.clone(), message)
            .label("is the stage dark?");
        if has_danger && is_light {
            diagnostic.severity = Severity::Error;
            diagnostic = diagnostic
                .note("this act has fire or blades: no sheet is written until you answer");
        }
        Some(if is_light {
            diagnostic
                .help(
                    "if the stage is dark from this cue on, write `dark: true`, and it is checked",
                )
                .help("if it is not, write `dark: false`")
        } else {
            diagnostic
                .help("if the stage goes dark, give a Light cue `dark: true` at the same moment")
                .help("write `dark: false` on this one")
        })
    });
    found.collect()
}

/// The words of a cue that speak of the dark, if it has any.
fn word_of_the_dark(does: &str, is_light: bool) -> Option<&'static str> {
    let words: Vec<String> = words_of(does).collect();
    let says = |wanted: &str| {
        let wanted: Vec<&str> = wanted.split(' ').collect();
        words.windows(wanted.len()).any(|some| some == wanted.as_slice())
    };
    let of_light = OF_LIGHT.into_iter().filter(|_| is_light);
    WORDS.into_iter().chain(of_light).find(|wanted| says(wanted))
}
