//! A throw that is to be seen in one colour and is made by a prop of another.

use std::collections::BTreeMap;

use crate::diagnostic::Diagnostic;
use crate::routine::{Juggle, Section, Shown};
use crate::timeline::{Action, Run};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "colour-not-shown",
    what: "Every throw that `shows` a colour is made by a prop of that colour, in every cycle.",
    why: "A colour effect dies silently when one throw is added earlier, or when a prop starts in \
          the wrong hand.",
    raises: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(4),
            shows: { 2: ["coral"] }),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(4),
            loading: Hands(right: ["teal", "pearl"], left: ["coral"]), shows: { 2: ["coral"] }),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    if !case.props_known() {
        return Vec::new();
    }
    let found = case.juggles().flat_map(|(index, section, juggle)| {
        juggle.shows.iter().filter_map(move |shown| unmet(case, index, section, juggle, shown))
    });
    found.collect()
}

/// The first cycle in which a throw has another colour, in words.
fn unmet(
    case: &Case<'_>,
    index: usize,
    section: &Section,
    juggle: &Juggle,
    shown: &Shown,
) -> Option<Diagnostic> {
    let known = |name: &str| case.routine.colours.iter().any(|colour| colour.name.value == name);
    if !shown.colours.iter().all(|wanted| known(&wanted.value)) {
        // Reported where it is written.
        return None;
    }
    let span = case.timeline().sections.get(index)?.juggle.as_ref()?;
    let run = case.timeline().runs.get(span.run)?;
    let actions = run.actions.get(span.actions.clone())?;
    let made: Vec<&Action> = actions
        .iter()
        .filter(|action| action.number.is_some() && action.written == shown.throw.value)
        .collect();
    let colour_of = |action: &Action| {
        let prop = usize::from(action.prop?.0);
        let colour = case.routine.colours.get(run.colour(action)?)?;
        Some((prop, colour.name.value.as_str()))
    };
    let number = shown.throw.value;
    if made.is_empty() {
        let message = format!(
            "\"{}\" is over before it makes throw {number}, so that shows no colour",
            section.name.value
        );
        return Some(
            Diagnostic::warning(CHECK.code, shown.throw.at.clone(), message).label("never made"),
        );
    }
    let mut cycles = made.iter().zip(shown.colours.iter().cycle()).zip(1_u32..);
    let (action, wanted, cycle, seen) = cycles.find_map(|((action, wanted), cycle)| {
        let seen = colour_of(action);
        (seen.map(|(_, colour)| colour) != Some(wanted.value.as_str()))
            .then_some((action, wanted, cycle, seen))
    })?;
    let throw = action.throw;
    let message = match seen {
        Some((prop, colour)) => format!(
            "throw {number} of \"{}\" (the {throw} of `{}`) shows {colour} in cycle {cycle}, not \
             {}: it is made by prop {} of the set",
            section.name.value,
            juggle.pattern.text,
            wanted.value,
            prop + 1
        ),
        None => format!(
            "throw {number} of \"{}\" is a 0, an empty hand, so it can show no colour",
            section.name.value
        ),
    };
    let mut colours: BTreeMap<&str, usize> = BTreeMap::new();
    for (_, colour) in made.iter().filter_map(|action| colour_of(action)) {
        *colours.entry(colour).or_default() += 1;
    }
    let tally: Vec<String> =
        colours.iter().map(|(colour, times)| format!("{colour} in {times}")).collect();
    let mut diagnostic = Diagnostic::warning(CHECK.code, wanted.at.clone(), message)
        .label(format!("not {}", wanted.value));
    if !tally.is_empty() {
        diagnostic = diagnostic.note(format!(
            "over its {} cycles throw {number} shows {}",
            made.len(),
            tally.join(", ")
        ));
    }
    let mut takers: Vec<_> = made.iter().filter_map(|action| action.prop).collect();
    takers.sort_unstable();
    takers.dedup();
    if takers.len() > shown.colours.len() {
        let seen: Vec<String> = made
            .iter()
            .take(takers.len())
            .filter_map(|action| Some(format!("{:?}", colour_of(action)?.1)))
            .collect();
        return Some(diagnostic.help(format!(
            "{} props take turns at this throw: ask for their colours in turn, as in [{}]",
            takers.len(),
            seen.join(", ")
        )));
    }
    if let Some(text) = other_face(case, run, &made, shown).filter(|_| juggle.flip.is_none()) {
        let end = juggle.pattern.at.end;
        diagnostic = diagnostic.help_edit(text, (end..end).into(), ", flip: true");
    }
    Some(diagnostic.help(
        "load the props otherwise at the cold start (`loading: Hands(right: […], left: […])`), or \
         ask for the colour that is seen",
    ))
}

/// Whether the props' other faces are what is asked for, in words.
fn other_face(case: &Case<'_>, run: &Run, made: &[&Action], shown: &Shown) -> Option<String> {
    let wanted = shown.colours.iter().cycle();
    let all = !run.backs.is_empty()
        && made.iter().zip(wanted).all(|(action, wanted)| {
            let other = run.face_at(action.beat).other();
            let colour = action.prop.and_then(|prop| run.colour_of(prop, other));
            let colour = colour.and_then(|colour| case.routine.colours.get(colour));
            colour.is_some_and(|colour| colour.name.value == wanted.value)
        });
    all.then(|| "flip the props here: their other faces are what is asked for".to_owned())
}
