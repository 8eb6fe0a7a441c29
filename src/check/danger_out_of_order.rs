//! Fire and blades that are lit, put out or put down where that cannot be.

use crate::diagnostic::{Diagnostic, Placed};
use crate::routine::{Handling, Pause, PropSet};

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
            let sets = &case.routine().sets;
            if let Some(set) = sets.iter().position(|set| set.name.value == name.value) {
                found.extend(fault(case, (index, pause), (*handling, name), (set, &sets[set])));
            }
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
    let of_set = || case.act.in_use.iter().filter(|used| used.set == set);
    let is_juggled_next =
        case.timeline().runs.iter().any(|run| run.set == set && run.sections.start == index + 1);
    let error =
        |message: String| Diagnostic::error(CHECK.code, name.at.clone(), message).label("here");
    let quoted = format!("\"{}\"", name.value);
    Some(match handling {
        Handling::Lit if !written.is_fire() => error(format!("{quoted} does not burn"))
            .note_at(written.at.clone(), "what it is")
            .help("name a set of kind Torch, or one with a tested `burn`"),
        Handling::PutOut if !written.is_fire() => error(format!("{quoted} does not burn"))
            .note_at(written.at.clone(), "what it is")
            .help("`put_out` is for fire; for blades write `put_down`"),
        Handling::PutDown if written.is_fire() => error(format!("{quoted} burns on when put down"))
            .note_at(written.at.clone(), "what it is")
            .help("write `put_out` where its flames are put out"),
        Handling::PutDown if !written.is_blade() => error(format!("{quoted} has no blades"))
            .note_at(written.at.clone(), "what it is")
            .help("`put_down` is for blades: leave it out"),
        Handling::Lit if pause.says(Handling::PutOut, &name.value) => {
            error(format!("{quoted} is lit and put out in one pause"))
                .help("make it two pauses, so that it is known which comes first")
        }
        Handling::Lit if of_set().all(|used| used.begins != Some(index)) => {
            let error = error(format!("{quoted} is lit, and it is alight already"));
            let before = of_set().rfind(|used| used.begins.is_none_or(|begins| begins < index));
            let lit = before.and_then(|used| used.begins);
            let error = match lit {
                Some(entry) => {
                    error.note_at(case.section(entry).name.at.clone(), "it is lit here before")
                }
                None => error.note("it is alight since the act"),
            };
            error.help("put it out before, with `put_out`, or leave this `lit` out")
        }
        Handling::PutOut | Handling::PutDown if of_set().all(|used| used.ends != Some(index)) => {
            let is = if written.is_fire() { "alight" } else { "in somebody's hands" };
            let field = handling.field();
            error(format!("{quoted} is not {is} here"))
                .help(format!("leave `{field}` out, or move it to the `Pause` in which it happens"))
        }
        Handling::PutOut | Handling::PutDown if is_juggled_next => {
            let (done, again) = match handling {
                Handling::PutDown => ("put down", "picked up"),
                _ => ("put out", "lit"),
            };
            error(format!("{quoted} is {done} here and juggled right after it"))
                .note_at(case.section(index + 1).name.at.clone(), "juggled here")
                .help(format!("write another `Pause` between, in which it is {again} again"))
        }
        _ => return None,
    })
}
