//! A moment that never comes: a throw that is none, a catch of a section that is joined on.

use crate::act::calls::Uncallable;
use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::Moment;
use crate::timeline::Unresolved;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "moment-never-comes",
    what: "Every moment that a cue or a limit hangs on happens in the routine.",
    why: "A cue without a moment is a cue that nobody gives.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(4)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("tide"), trigger: Called, does: "warm", count: 2),
    ],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(4)),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: End("tide"), trigger: Called, does: "warm", count: 2),
    ],
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    // What the music has is known even where the times are not.
    let is_known = |why: &Unresolved| {
        case.act.times_known || matches!(why, Unresolved::NoBars | Unresolved::NoSuchBar { .. })
    };
    for uncallable in &case.act.calls.uncallable {
        if let Uncallable::Unresolved { cue, why } = uncallable
            && is_known(why)
            && let Some(when) = case.routine().cues.get(*cue).and_then(|cue| cue.when.as_ref())
        {
            found.extend(never(when, why));
        }
    }
    for limit in &case.routine().limits {
        for when in [&limit.starts, &limit.stops] {
            // What comes first on one night and last on another a limit counts all the same.
            if let Err(why) = case.act.moment(&when.value)
                && is_known(&why)
                && !matches!(why, Unresolved::HangsOn(_))
            {
                found.extend(never(when, &why));
            }
        }
    }
    found
}

fn never(when: &Placed<Moment>, why: &Unresolved) -> Option<Diagnostic> {
    // Unknown names are reported where they are written.
    let named = matches!(
        why,
        Unresolved::UnknownSection(_)
            | Unresolved::UnknownMark(_)
            | Unresolved::UnknownTrack(_)
            | Unresolved::UnknownHold(_)
            | Unresolved::WhichTrack
    );
    if named {
        return None;
    }
    if let Unresolved::HangsOn(_) = why {
        let message = "which of these comes first depends on a length that is left open";
        let fault = Diagnostic::error(CHECK.code, when.at.clone(), message);
        let fault = fault.label("one of them tonight, another tomorrow");
        return Some(fault.help("name the one moment on which it hangs"));
    }
    let diagnostic =
        Diagnostic::error(CHECK.code, when.at.clone(), format!("this moment never comes: {}", why))
            .label("never comes");
    Some(match why {
        Unresolved::JoinedOn(_) => diagnostic.help(
            "a section that is joined to the next has no last catch of its own: use \
             `End(\"…\")`, or the catch of one throw, `Catch(\"…\", 12)`",
        ),
        Unresolved::NotThrown { .. } => {
            diagnostic.help("choose the number of a throw that leaves the hand")
        }
        Unresolved::NoBars => diagnostic.help(
            "write where they lie in `music`: `bars: [Bars(from: \"0:00.5\", bpm: 120, \
             music_beats: 4, number: 1)]`",
        ),
        Unresolved::OfTheAct => {
            diagnostic.help("use `EncoreStart`, or a section of the encore, `Start(\"…\")`")
        }
        _ => diagnostic,
    })
}
