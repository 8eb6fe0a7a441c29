//! A follow that follows nothing, itself, or a cue that is never complete.

use crate::act::calls::Uncallable;
use crate::diagnostic::Diagnostic;
use crate::diagnostic::words::all_of;
use crate::routine::Cue;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "follow-of-nothing",
    what: "A cue that follows another follows one that exists, that has a count where its \
           completion is meant, and not itself.",
    why: "A follow goes by itself: if it hangs on nothing, nobody sees that it does not come.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 10, trigger: Follow(6, Go, 2.0), does: "cold", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: FirstThrow, trigger: Called, does: "warm", count: 2),
        Cue(crew: Light, number: 10, trigger: Follow(5, Go, 2.0), does: "cold", count: 2),
    ],
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.act.calls.uncallable.iter().filter_map(|uncallable| diagnostic(case, uncallable)).collect()
}

fn diagnostic(case: &Case<'_>, uncallable: &Uncallable) -> Option<Diagnostic> {
    let cue = |index: usize| case.routine().cues.get(index);
    match uncallable {
        Uncallable::NoCompletion { cue: index, followed } => {
            let followed = cue(*followed)?;
            let message = format!(
                "the cue that this follows has no count, so it is never complete{}",
                number_of(followed)
            );
            Some(
                Diagnostic::error(CHECK.code, cue(*index)?.trigger.at.clone(), message)
                    .label("follows its completion")
                    .note_at(followed.at.clone(), "the cue without a count")
                    .help("give that cue a count, or follow its `Go`"),
            )
        }
        Uncallable::Circle { cues } => {
            let first = cue(*cues.first()?)?;
            let names: Vec<String> =
                cues.iter().filter_map(|&index| Some(cue(index)?.label())).collect();
            let message = if names.len() == 1 {
                format!("{} follows itself, so it never goes", names[0])
            } else {
                format!("{} follow each other in a circle, so none ever goes", all_of(&names))
            };
            Some(
                Diagnostic::error(CHECK.code, first.trigger.at.clone(), message)
                    .label("round and round")
                    .help("hang one of them on a moment of the routine"),
            )
        }
        Uncallable::NoMoment { cue: index } => Some(
            Diagnostic::error(
                CHECK.code,
                cue(*index)?.at.clone(),
                "this cue does not follow another and has no moment",
            )
            .label("goes when?")
            .help("write its moment with `at`"),
        ),
        // Reported where the moment, or the cue that is followed, is at fault; a number that no
        // cue has, already while the file is read.
        Uncallable::Unresolved { .. }
        | Uncallable::FollowsUncallable { .. }
        | Uncallable::UnknownNumber { .. } => None,
    }
}

fn number_of(cue: &Cue) -> String {
    cue.number.as_ref().map_or_else(String::new, |_| format!(" ({})", cue.label()))
}
