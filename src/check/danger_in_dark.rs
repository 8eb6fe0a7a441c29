//! Fire or blades in use while the stage is dark.

use crate::act::calls::Call;
use crate::act::in_use::InUse;
use crate::diagnostic::Diagnostic;
use crate::measure::dark::Darks;
use crate::routine::{Handling, Hazard, PropSet};
use crate::time::{Night, Time, clock};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "danger-in-dark",
    what: "The stage has light from the moment fire is lit or blades are picked up until they are \
           put out or put down.",
    why: "They are alight, or in somebody's hands, and nobody sees where they are. It is an error, \
          and no sheet is written; local codes, the venue and licensed practice decide what is \
          safe.",
    raises: example!(
        r#"        Pause(name: "light up", lasts: For("0:04"), lit: "fire"),
        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(20)),
        Pause(name: "bow", lasts: For("0:06")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: LastCatch("sparks"), trigger: See("all in hands"),
            does: "blackout", dark: true),
    ],
"#
    ),
    mended: example!(
        r#"        Pause(name: "light up", lasts: For("0:04"), lit: "fire"),
        Juggle(name: "sparks", set: "fire", pattern: "3", lasts: Beats(20)),
        Pause(name: "out", lasts: For("0:06"), put_out: "fire"),
        Pause(name: "bow", lasts: For("0:06")),
"#,
        r#"    cues: [
        Cue(crew: Light, number: 5, at: End("bow"), trigger: See("bow is over"),
            does: "blackout", dark: true),
    ],
"#
    ),
    finds: Finds::Timed(find),
};

/// What is said where fire or blades have no light.
const NO_SHEET: &str = "no sheet is written. Local codes, the venue and licensed practice decide what \
                        is safe; throwbook clears nothing";

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let darks = Darks::of(case.act);
    let mut found = Vec::new();
    for call in darks.calls() {
        let in_use = case.act.in_use.iter();
        found.extend(in_use.filter_map(|used| in_the_act(case, &darks, used, call)));
        found.extend(into_encore(case, &darks, call));
    }
    found
}

/// The dark of a cue while fire or blades are in use.
fn in_the_act(case: &Case<'_>, darks: &Darks<'_>, used: &InUse, call: &Call) -> Option<Diagnostic> {
    let cue = case.routine().cues.get(call.cue)?;
    let set = case.routine().sets.get(used.set)?;
    case.some_night(cue.timed_at(), CHECK.code, |night| {
        let goes_in_time = used.ends.is_none() || night.before(&call.go, &used.to);
        let is_dark = is_dark_after(case, darks, call, &used.from, night);
        if !goes_in_time || !(is_dark || comes_from_nowhere(case, used)) {
            return None;
        }
        // In the air it is told by the check of last catches.
        if in_the_air(case, darks, used, call, night) {
            return None;
        }
        let dark = darks.begun_by(call, night)?;
        let from = clock(&night.at(&dark.from));
        let name = &set.name.value;
        let message = if !is_dark {
            format!(
                "the stage goes dark at {from} (show clock), before \"{name}\" is juggled, and \
                 nothing says where it is {}",
                used.hazard.taken()
            )
        } else if night.before(&dark.from, &used.from) {
            let at = clock(&night.at(&used.from));
            format!(
                "the stage goes dark at {from} (show clock), and the light is not yet up again at \
                 {at}, when \"{name}\" is {}",
                used.hazard.taken()
            )
        } else {
            format!(
                "the stage goes dark at {from} (show clock), while \"{name}\" is {}",
                used.hazard.state()
            )
        };
        let diagnostic =
            Diagnostic::error(CHECK.code, cue.timed_at().clone(), message).label("dark from here");
        Some(in_use_from_to(case, used, set, diagnostic, night))
    })
}

/// Whether the dark that a cue begins is on after a time, or the light that ends it is not yet up:
/// what comes up slowly is light only when its count is over.
fn is_dark_after(
    case: &Case<'_>,
    darks: &Darks<'_>,
    call: &Call,
    time: &Time,
    night: &Night<'_>,
) -> bool {
    if darks.is_on_after(call, time, night) {
        return true;
    }
    let until = darks.begun_by(call, night).and_then(|dark| dark.until);
    let light = until.and_then(|(cue, _)| case.act.calls.of_cue(cue));
    light.is_some_and(|light| night.before(time, &up(light)))
}

/// When the light of a cue is up.
fn up(light: &Call) -> Time {
    light.completes().unwrap_or_else(|| light.go.clone())
}

/// Whether it is dark while the props of that set are thrown and caught.
fn in_the_air(
    case: &Case<'_>,
    darks: &Darks<'_>,
    used: &InUse,
    call: &Call,
    night: &Night<'_>,
) -> bool {
    let mut runs = case.timeline().runs.iter().filter(|run| run.set == used.set);
    runs.any(|run| {
        let (Some(catch), Some((_, first))) = (&run.gather.last_catch, run.first_throw()) else {
            return false;
        };
        night.before(&call.go, catch) && darks.is_on_after(call, &first, night)
    })
}

/// Says where they are taken up and where they are put away, and what to do.
fn in_use_from_to(
    case: &Case<'_>,
    used: &InUse,
    set: &PropSet,
    mut diagnostic: Diagnostic,
    night: &Night<'_>,
) -> Diagnostic {
    let at = |time: &Time| clock(&night.at(time));
    diagnostic = match used.begins {
        Some(entry) => diagnostic.note_at(
            case.section(entry).name.at.clone(),
            format!("{} here, from {}", used.hazard.taken(), at(&used.from)),
        ),
        None => diagnostic.note_at(set.name.at.clone(), "in use since the act, before the encore"),
    };
    let put = used.hazard.put_away();
    let field = field(used.hazard, false);
    let name = &set.name.value;
    match used.ends {
        Some(entry) if case.section(entry).pause().is_some() => {
            diagnostic = diagnostic.note_at(
                case.section(entry).name.at.clone(),
                format!("{put} here, until {}", at(&used.to)),
            );
        }
        Some(entry) => {
            diagnostic = diagnostic.note_at(
                case.section(entry).name.at.clone(),
                format!("in somebody's hands until others are juggled here, at {}", at(&used.to)),
            );
        }
        None => {
            diagnostic = diagnostic.note(format!(
                "no later `Pause` says that \"{name}\" is {put}, so it counts as in use to the end \
                 of the act and after it"
            ));
        }
    }
    let diagnostic = diagnostic
        .note(NO_SHEET)
        .help(format!("leave light on \"{name}\" until the pause in which it is {put} is over"));
    let is_said = used.ends.is_some_and(|entry| case.section(entry).pause().is_some());
    if is_said {
        return diagnostic;
    }
    diagnostic.help(format!(
        "if it is {put} before that, say so: `{field}: \"{name}\"` in the `Pause` in which it \
         happens"
    ))
}

/// The field of a pause that says that they come into use, or are put away.
fn field(hazard: Hazard, begins: bool) -> &'static str {
    let says = |one: &Handling| one.hazard() == hazard && one.begins() == begins;
    Handling::ALL.into_iter().find(says).map_or("", Handling::field)
}

/// Whether they are juggled in the very first entry: they were lit or picked up before it.
fn comes_from_nowhere(case: &Case<'_>, used: &InUse) -> bool {
    used.begins == Some(0) && case.section(0).pause().is_none()
}

/// The act ends in the dark that a cue begins, and in the encore something is lit or picked up
/// before the light is back.
fn into_encore(case: &Case<'_>, darks: &Darks<'_>, call: &Call) -> Option<Diagnostic> {
    let encore = case.act.encore.as_deref()?;
    let cue = case.routine().cues.get(call.cue)?;
    let of_encore = Darks::of(encore);
    encore.in_use.iter().find_map(|used| {
        let entry = encore.routine.score.get(used.begins?)?;
        let set = case.routine().sets.get(used.set)?;
        case.some_night(cue.timed_at(), CHECK.code, |night| {
            if of_encore.brought_back().any(|light| night.not_after(&up(light), &used.from)) {
                return None;
            }
            darks.begun_by(call, night).filter(|dark| dark.until.is_none())?;
            let message = format!(
                "the act ends in the dark, and no Light cue of the encore brings the light back \
                 before \"{}\" is {} in \"{}\"",
                set.name.value,
                used.hazard.taken(),
                entry.name.value
            );
            Some(
                Diagnostic::error(CHECK.code, cue.timed_at().clone(), message)
                    .label("dark from here")
                    .note_at(entry.name.at.clone(), format!("{} in the dark", used.hazard.taken()))
                    .note(NO_SHEET)
                    .help("begin the encore's cues with a Light cue"),
            )
        })
    })
}
