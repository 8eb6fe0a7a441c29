//! A length that is left open changes more than times: the beats of a section, or a pause that
//! would have none left.

use crate::diagnostic::{Diagnostic, Place};
use crate::time::{Open, Time, seconds_text};
use crate::timeline::{LeftOpen, MovedByOpen, Trouble};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "range-moves-beats",
    what: "A pause or a hold that lasts as long as it takes leaves every section its beats.",
    why: "A section that is thrown until a mark of the music cannot be practised if nobody knows \
          how many throws that is.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:06")),
        Juggle(name: "beam", pattern: "3", lasts: Until(At("0:30.2"))),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:06")),
        Pause(name: "pose", lasts: Until(At("0:18.2"))),
        Juggle(name: "beam", pattern: "3", lasts: Until(At("0:30.2"))),
"#
    ),
    finds: Finds::Compiled(moves_beats),
};

pub(super) const TOO_SHORT: Check = Check {
    code: "range-too-long",
    what: "A pause until a moment is still there when what is before it lasts its longest.",
    why: "A pause until a moment takes up what is uncertain before it, and can take up no more \
          than its own length.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:09")),
        Pause(name: "pose", lasts: Until(At("0:15"))),
        Juggle(name: "beam", pattern: "3", lasts: Beats(20)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:09")),
        Pause(name: "pose", lasts: Until(At("0:16"))),
        Juggle(name: "beam", pattern: "3", lasts: Beats(20)),
"#
    ),
    finds: Finds::Compiled(too_long),
};

fn moves_beats(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.troubles().filter_map(|trouble| {
        let Trouble::Range { section, by, moved } = trouble else { return None };
        let section = case.section(*section);
        let name = &section.name.value;
        let (open, at) = open(case, *by)?;
        let message = match moved {
            MovedByOpen::Beats => {
                format!("how many beats \"{name}\" has would depend on how long {open} lasts")
            }
            MovedByOpen::Pace => {
                format!(
                    "how fast \"{name}\" follows the music would depend on how long {open} lasts"
                )
            }
            MovedByOpen::Which => {
                format!(
                    "which of its moments ends \"{name}\" would depend on how long {open} lasts"
                )
            }
            MovedByOpen::Bend => {
                format!("how far \"{name}\" bends its tempo would depend on how long {open} lasts")
            }
            MovedByOpen::Negative(_) => return None,
        };
        Some(
            Diagnostic::error(CHECK.code, section.lasts_at().clone(), message)
                .label("hangs on an open length")
                .note_at(at, "That is left open here.")
                .help("Give it beats or cycles: the sections behind it then come in a range.")
                .help("Put a `Pause` until a moment before it, which takes up what is uncertain."),
        )
    });
    found.collect()
}

/// What messages call an open length, and where it is written.
fn open<'a>(case: &Case<'a>, by: Open) -> Option<(&'a str, Place)> {
    let Open::Length(place) = by else { return None };
    let name = case.act.open.get(usize::from(place))?.name.as_str();
    let at = match case.act.left_open(place)? {
        LeftOpen::Pause(index) => case.section(index).lasts_at().clone(),
        LeftOpen::Hold { track, hold } => {
            let (_, track) = case.routine().all_tracks().nth(track)?;
            track.holds.get(hold)?.at.clone()
        }
    };
    Some((name, at))
}

fn too_long(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.troubles().filter_map(|trouble| {
        let Trouble::Range { section, by, moved: MovedByOpen::Negative(lasts) } = trouble else {
            return None;
        };
        let section = case.section(*section);
        let (name, at) = open(case, *by)?;
        let none = Time::zero();
        case.some_night(section.lasts_at(), TOO_SHORT.code, |night| {
            let short = &none - lasts;
            night.worse_by(&short);
            if !night.before(lasts, &none) {
                return None;
            }
            let short = seconds_text(&night.at(&short));
            let message = format!(
                "the pause \"{}\" would end {short} before it starts where {name} lasts its longest",
                section.name.value
            );
            Some(
                Diagnostic::error(TOO_SHORT.code, section.lasts_at().clone(), message)
                    .label("already past")
                    .note_at(at.clone(), "That is left open here.")
                    .help(format!("End the pause at least {short} later."))
                    .help(format!("Let {name} last {short} less at its longest.")),
            )
        })
    });
    found.collect()
}
