//! Fire and blades that are lit, put out or put down where that cannot be.

use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::{Handling, Hazard, Pause, PropSet};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "danger-out-of-order",
    what: "What is lit is fire and not alight already; what is put out or put down is in use then, \
           and is lit or picked up again before it is juggled.",
    why: "From these fields throwbook knows when fire is alight and blades are out. Where they \
          contradict each other, nobody knows, and no check of the dark can be trusted.",
    raises: example!(
        r#"        Pause(name: "light up", lasts: For("0:04"), lit: "fire"),
        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(20)),
        Pause(name: "out", lasts: For("0:06"), put_out: "fire"),
        Pause(name: "bow", lasts: For("0:06"), put_out: "fire"),
"#
    ),
    mended: example!(
        r#"        Pause(name: "light up", lasts: For("0:04"), lit: "fire"),
        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(20)),
        Pause(name: "out", lasts: For("0:06"), put_out: "fire"),
        Pause(name: "bow", lasts: For("0:06")),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    // What an error hides may light it or put it out.
    if case.act.hides_sets() || case.routine().hidden.sets {
        return Vec::new();
    }
    let mut found = Vec::new();
    for (index, section, _) in case.act.sections() {
        let Some(pause) = section.pause() else { continue };
        for (handling, name) in &pause.handled {
            let Some(set) = case.routine().set_index(&name.value) else { continue };
            let Some(written) = case.routine().sets.get(set) else { continue };
            found.extend(fault(case, (index, pause), (*handling, name), (set, written)));
        }
    }
    found
}

fn fault(
    case: &Case<'_>,
    (index, pause): (usize, &Pause),
    (handling, name): (Handling, &Placed<String>),
    (set, written): (usize, &PropSet),
) -> Option<Diagnostic> {
    let hazard = handling.hazard();
    let of_set = || case.act.in_use.iter().filter(move |used| used.is(set, hazard));
    let is_juggled_next =
        case.timeline().runs.iter().any(|run| run.set == set && run.sections.start == index + 1);
    let error =
        |message: String| Diagnostic::error(CHECK.code, name.at.clone(), message).label("here");
    let quoted = format!("\"{}\"", name.value);
    let (taken, put_away) = (hazard.taken(), hazard.put_away());
    if !written.is(hazard) {
        let message = match hazard {
            Hazard::Fire => format!("{quoted} does not burn"),
            Hazard::Blades => format!("{quoted} has no blades"),
        };
        let help = match (hazard, written.is_dangerous()) {
            (Hazard::Fire, true) => "for blades write `picked_up` and `put_down`",
            (Hazard::Fire, false) => {
                "name a set of kind Torch, one with a tested `burn`, or one that says `danger: Fire`"
            }
            (Hazard::Blades, true) => "for fire write `lit` and `put_out`",
            (Hazard::Blades, false) => {
                "name a set of kind Knife, or one that says `danger: Blades`; other sets do not need it"
            }
        };
        return Some(error(message).note_at(written.at.clone(), "what it is").help(help));
    }
    let ends_here = pause
        .handled
        .iter()
        .any(|(other, of)| other.hazard() == hazard && !other.begins() && of.value == name.value);
    Some(match handling.begins() {
        true if ends_here => error(format!("{quoted} is {taken} and {put_away} in one pause"))
            .help("make it two pauses, so that it is known which comes first"),
        true if of_set().all(|used| used.begins != Some(index)) => {
            let error = error(format!("{quoted} is {taken}, and it is {} already", hazard.state()));
            let before = of_set().rfind(|used| used.begins.is_none_or(|begins| begins < index));
            let error = match before.and_then(|used| used.begins) {
                Some(entry) => {
                    let at = case.section(entry).name.at.clone();
                    error.note_at(at, format!("it is {taken} here before"))
                }
                None => error.note(format!("it is {} since the act", hazard.state())),
            };
            error.help(format!("say where it is {put_away} before, or leave this out"))
        }
        false if of_set().all(|used| used.ends != Some(index)) => {
            error(format!("{quoted} is not {} here", hazard.state())).help(format!(
                "leave `{}` out, or move it to the `Pause` in which it happens",
                handling.field()
            ))
        }
        false if is_juggled_next => {
            error(format!("{quoted} is {put_away} here and juggled right after it"))
                .note_at(case.section(index + 1).name.at.clone(), "juggled here")
                .help(format!("write another `Pause` between, in which it is {taken} again"))
        }
        _ => return None,
    })
}
