//! A cue that speaks of the dark and does not say whether it is dark.

use crate::diagnostic::Diagnostic;
use crate::routine::Crew;

use super::{Case, Check, Finds};

/// Words of a cue that may mean that the stage goes dark; DBO is a dead blackout (common practice,
/// no source).
const WORDS: [&str; 7] = ["blackout", "blackouts", "b/o", "black", "dark", "darkness", "dbo"];

pub(super) const CHECK: Check = Check {
    code: "dark-unsaid",
    what: "A cue that does a blackout, or speaks of black or dark, says `dark: true` or `dark: \
           false`.",
    why: "Only a cue with `dark: true` is checked for props in the air, fire, blades and pick-ups. \
          A blackout that does not say so is checked by nobody.",
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
    ],
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let unsaid = case.routine().cues.iter().filter(|cue| !cue.says_dark);
    let found = unsaid.filter_map(|cue| {
        let does = cue.does.value.to_lowercase();
        let mut words = does.split(|letter: char| !letter.is_alphanumeric() && letter != '/');
        let word = words.find(|word| WORDS.contains(word))?;
        let message =
            format!("this cue does \"{word}\" and does not say whether the stage is dark");
        let diagnostic =
            Diagnostic::warning(CHECK.code, cue.does.at.clone(), message).label("is it dark then?");
        Some(if cue.crew.value == Crew::Light {
            diagnostic
                .help("if the stage is dark from it on, write `dark: true`, and it is checked")
                .help("if it is not, write `dark: false`")
        } else {
            diagnostic
                .help("if the stage goes dark, give a Light cue `dark: true` at the same moment")
                .help("write `dark: false` on this one")
        })
    });
    found.collect()
}
