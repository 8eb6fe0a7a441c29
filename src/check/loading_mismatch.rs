//! A written loading that is not the set's props, or not what the hands hold.

use crate::diagnostic::{Diagnostic, Placed};
use crate::hand::Hand;
use crate::routine::{Loading, Part, PropSet};
use crate::timeline::{HandLoading, Trouble, names_the_props};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "loading-mismatch",
    what: "A written loading names exactly the props of the set and, after a gather, what is in \
           each hand.",
    why: "Which colour comes when follows from the loading; with an impossible loading a colour \
          effect dies silently.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "look up", lasts: For("0:04")),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(6),
            loading: Hands(right: ["coral", "teal"], left: ["pearl"])),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "look up", lasts: For("0:04")),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(6),
            loading: Hands(right: ["coral", "pearl"], left: ["teal"])),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut found = not_as_held(case);
    let joined = case.juggles().filter(|(index, ..)| case.before(*index).is_some());
    found.extend(joined.filter_map(|(_, section, juggle)| {
        let written = juggle.loading.as_ref()?;
        let message = format!(
            "\"{}\" is joined to the section before it, so its props are in the air and cannot be \
             loaded",
            section.name.value
        );
        Some(
            Diagnostic::error(CHECK.code, written.at.clone(), message)
                .label("no cold start here")
                .help("write the loading where the run starts cold, or put a `Pause` before this"),
        )
    }));
    found
}

fn not_as_held(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::Loading { section, set, held } = trouble else { return None };
            let written = case.juggle(*section).loading.as_ref()?;
            let set = case.routine().sets.get(*set)?;
            Some(match held {
                Some(held) => held_otherwise(case, *section, set, written, held),
                None => Diagnostic::error(
                    CHECK.code,
                    written.at.clone(),
                    format!(
                        "this loading does not name the props of \"{}\", which are {}",
                        set.name.value,
                        props(set, set.colours.iter().enumerate().map(|(prop, _)| prop))
                    ),
                )
                .label("not the props of the set")
                .note_at(set.at.clone(), "the set in use")
                .help("name each prop of the set once, in the hand that it starts in"),
            })
        })
        .collect()
}

/// A loading that is not what the hands hold.
fn held_otherwise(
    case: &Case<'_>,
    section: usize,
    set: &PropSet,
    written: &Placed<Loading>,
    held: &HandLoading,
) -> Diagnostic {
    let before = case.routine().score.get(..section).unwrap_or_default().iter().rev();
    let mut pauses = before.map_while(|section| match &section.part {
        Part::Pause(pause) => Some((&section.name.value, pause)),
        Part::Juggle(_) | Part::Unread(_) => None,
    });
    let last = pauses.clone().next();
    let after = match pauses.find(|(_, pause)| pause.regrip.is_some()) {
        Some((name, _)) => format!("the regrip of \"{name}\""),
        None => "the gather".to_owned(),
    };
    let diagnostic = Diagnostic::error(
        CHECK.code,
        written.at.clone(),
        format!(
            "after {after} the right hand holds {} and the left {}; this loading says otherwise",
            held_in(set, held, Hand::Right),
            held_in(set, held, Hand::Left)
        ),
    )
    .label("other props are in the hands")
    .help_edit(
        "write what the hands hold, in any order within each hand",
        written.at.clone(),
        hands(set, held),
    );
    let Loading::Hands(colours) = &written.value else { return diagnostic };
    let Some((_, pause)) = last.filter(|_| names_the_props(set, colours)) else {
        return diagnostic;
    };
    let names = |names: &[Placed<String>]| quoted(names.iter().map(|name| name.value.as_str()));
    let (right, left) = (names(&colours.right), names(&colours.left));
    let regrip = format!("Hands(right: [{right}], left: [{left}])");
    let text = format!("or have the pause before it re-grip: `regrip: {regrip}`");
    match &pause.regrip {
        Some(other) => diagnostic.help_edit(text, other.at.clone(), regrip),
        None => {
            let end = pause.lasts.at.end;
            diagnostic.help_edit(text, (end..end).into(), format!(", regrip: {regrip}"))
        }
    }
}

/// Names, quoted as in the file.
fn quoted<'n>(names: impl Iterator<Item = &'n str>) -> String {
    names.map(|name| format!("{name:?}")).collect::<Vec<_>>().join(", ")
}

/// The names by which a loading calls some props.
pub(super) fn props(set: &PropSet, props: impl Iterator<Item = usize>) -> String {
    let names: Vec<String> = props.map(|prop| set.name_of(prop)).collect();
    quoted(names.iter().map(String::as_str))
}

/// The same of what a hand holds, in a sentence.
pub(super) fn held_in(set: &PropSet, held: &HandLoading, hand: Hand) -> String {
    let held = in_hand(set, held, hand);
    if held.is_empty() { "nothing".to_owned() } else { held }
}

fn in_hand(set: &PropSet, held: &HandLoading, hand: Hand) -> String {
    props(set, held.in_hand(hand).iter().map(|prop| usize::from(prop.0)))
}

/// What the hands hold, as it is written in the file.
pub(super) fn hands(set: &PropSet, held: &HandLoading) -> String {
    let (right, left) = (in_hand(set, held, Hand::Right), in_hand(set, held, Hand::Left));
    format!("Hands(right: [{right}], left: [{left}])")
}
