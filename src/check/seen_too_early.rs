//! A cue that is taken by eye, before what is seen happens.

use crate::diagnostic::Diagnostic;
use crate::routine::{Cue, Moment, Trigger, has_word, words_of};
use crate::time::seconds_text;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "seen-too-early",
    what: "A cue that is taken by eye does not go before what is seen.",
    why: "Nobody sees what has not happened yet: the cue comes late, or it is guessed.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: Shift(LastCatch, -0.5), trigger: See, does: "warm", count: 1),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch, trigger: See, does: "warm", count: 1),
    ],
"#
    ),
    finds: Finds::Compiled(find),
};

/// Words with which a catch is seen.
const CAUGHT: [&str; 8] = ["hand", "hands", "catch", "catches", "caught", "held", "holds", "home"];

/// Words with which a throw is seen.
const THROWN: [&str; 6] = ["throw", "throws", "thrown", "release", "releases", "released"];

/// Whether what is seen in the words of a user is what happens at a moment itself.
fn is_at(seen: &str, moment: &Moment) -> bool {
    match moment {
        Moment::LastCatch(_) | Moment::Catch(..) => has_word(seen, &CAUGHT),
        Moment::FirstThrow | Moment::Throw(..) | Moment::Cycle(..) => has_word(seen, &THROWN),
        Moment::Start(name) => {
            let (seen, name): (Vec<String>, Vec<String>) =
                (words_of(seen).collect(), words_of(&name.value).collect());
            !name.is_empty() && seen.windows(name.len()).any(|words| words == name)
        }
        _ => false,
    }
}

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.routine().cues.iter().filter_map(diagnostic).collect()
}

fn diagnostic(cue: &Cue) -> Option<Diagnostic> {
    let Trigger::See(seen) = &cue.trigger.value else { return None };
    let when = cue.when.as_ref()?;
    let (moment, by) = when.value.unshifted();
    // What its user wrote may be another thing that is seen earlier, but not where it is the catch,
    // the throw or the section itself.
    let is_it = seen.as_ref().is_none_or(|seen| is_at(seen, moment));
    if !by.is_negative() || !is_it {
        return None;
    }
    let message = format!("this cue goes {} before what is to be seen", seconds_text(&by.abs()));
    Some(
        Diagnostic::warning(CHECK.code, when.at.clone(), message)
            .label("before it happens")
            .note_at(cue.trigger.at.clone(), "taken by eye")
            .help("leave out the shift: an operator who sees it is quick enough")
            .help("or say what is seen so much earlier, such as See(\"last high throw\")"),
    )
}
