//! A moment that never comes: a throw that is none, a catch of a section that is joined on.

use crate::act::calls::Uncallable;
use crate::diagnostic::words::counted;
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
            if let Err(why) = case.act.moment(&when.value)
                && is_known(&why)
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
    let diagnostic = Diagnostic::error(
        CHECK.code,
        when.at.clone(),
        format!("this moment never comes: {}", reason(why)),
    )
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
        _ => diagnostic,
    })
}

/// Why a moment has no time, as the end of a sentence.
#[must_use]
pub fn reason(why: &Unresolved) -> String {
    match why {
        Unresolved::NotWritten(field) => format!("the routine has no `{field}`"),
        Unresolved::NoMusic => "the routine has no `music`".to_owned(),
        Unresolved::UnknownSection(name) => format!("no section is called \"{name}\""),
        Unresolved::UnknownMark(name) => format!("the music has no mark \"{name}\""),
        Unresolved::UnknownTrack(name) => format!("no track is called \"{name}\""),
        Unresolved::UnknownHold(name) => format!("the music has no hold \"{name}\""),
        Unresolved::WhichTrack => "the routine has several `tracks`, and it names none".to_owned(),
        Unresolved::NoBars => "the music has no `bars`".to_owned(),
        Unresolved::OutsideBars => "the music has not so many bars there".to_owned(),
        Unresolved::NoSuchBar { bar, music_beat, has, beats } => match beats {
            Some((first, last)) if first == last => {
                format!("bar {bar} has only music beat {first}, no {music_beat}")
            }
            Some((first, last)) => {
                format!("bar {bar} has the music beats {first} to {last}, no {music_beat}")
            }
            None => {
                let [first, last] = has.map(|(bar, beat)| format!("bar {bar}, music beat {beat}"));
                format!("there is no bar {bar}; the music goes from {first} to {last}")
            }
        },
        Unresolved::NotYet => {
            "it depends on something that is only known once this is known".to_owned()
        }
        Unresolved::HangsOn(_) => "it depends on a length that is left open".to_owned(),
        Unresolved::Circle => "it depends on itself".to_owned(),
        Unresolved::JoinedOn(name) => {
            format!("\"{name}\" is joined to the next section, so its props stay in the air")
        }
        Unresolved::NoThrows(name) => format!("nothing is juggled in \"{name}\""),
        Unresolved::NothingThrown => "the routine throws nothing".to_owned(),
        Unresolved::NothingCaught => "nothing is caught there".to_owned(),
        Unresolved::NoSuchThrow { section, has } => {
            format!("\"{section}\" has {}", counted(*has, "throw"))
        }
        Unresolved::NotThrown { section, throw } => match throw.value {
            0 => format!("that throw of \"{section}\" is a 0, an empty hand"),
            _ => format!("that throw of \"{section}\" is a {throw} that is held"),
        },
        Unresolved::NoSuchCycle { section, has } => {
            format!("\"{section}\" has {}", counted(*has, "cycle"))
        }
    }
}
