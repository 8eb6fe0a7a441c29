//! A regrip of props that are not there.

use crate::diagnostic::{Diagnostic, Placed};
use crate::hand::Hand;
use crate::routine::HandColours;
use crate::timeline::{Trouble, WhyNoRegrip};

use super::loading_mismatch::{hands, held_in, props};
use super::{Case, Check, Finds};

pub(super) const MISMATCH: Check = Check {
    code: "regrip-mismatch",
    what: "A regrip names exactly the props that the hands hold.",
    why: "A prop that is left out of the hands is missing when the next pattern throws it.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "look up", lasts: For("0:04"),
            regrip: Hands(right: ["coral", "coral"], left: ["teal"])),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(6)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "look up", lasts: For("0:04"),
            regrip: Hands(right: ["coral", "teal"], left: ["pearl"])),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(6)),
"#
    ),
    finds: Finds::Compiled(mismatch),
};

pub(super) const OF_NOTHING: Check = Check {
    code: "regrip-of-nothing",
    what: "A regrip stands after a gather, and the props that it puts into the hands are juggled \
           on.",
    why: "Where no prop is in the hands yet, or others come into them, nothing can be moved: how a \
          set is first loaded is said where it is first juggled.",
    raises: example!(
        r#"        Pause(name: "walk on", lasts: For("0:04"),
            regrip: Hands(right: ["coral", "pearl"], left: ["teal"])),
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
    ),
    mended: example!(
        r#"        Pause(name: "walk on", lasts: For("0:04")),
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6),
            loading: Hands(right: ["coral", "pearl"], left: ["teal"])),
"#
    ),
    finds: Finds::Compiled(of_nothing),
};

/// The pauses that cannot load the hands again: what is written there, and why.
fn refused<'c>(
    case: &'c Case<'_>,
) -> impl Iterator<Item = (usize, &'c Placed<HandColours>, &'c WhyNoRegrip)> {
    case.troubles().filter_map(|trouble| {
        let Trouble::Regrip { section, why } = trouble else { return None };
        let pause = case.section(*section).pause()?;
        Some((*section, pause.regrip.as_ref()?, why))
    })
}

fn mismatch(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = refused(case).filter_map(|(_, written, why)| {
        let WhyNoRegrip::NotTheProps { set, held } = why else { return None };
        let set = case.routine().sets.get(*set)?;
        let message = format!(
            "this regrip does not name the props of \"{}\", which are {}",
            set.name.value,
            props(set, set.colours.iter().enumerate().map(|(prop, _)| prop))
        );
        let now = format!(
            "the right hand holds {} and the left {}",
            held_in(set, held, Hand::Right),
            held_in(set, held, Hand::Left)
        );
        Some(
            Diagnostic::error(MISMATCH.code, written.at.clone(), message)
                .label("not the props of the set")
                .note(now)
                .note_at(set.at.clone(), "the set in use")
                .help("name each prop of the set once, in the hand that it comes into")
                .help_edit(
                    "or begin from what the hands hold",
                    written.at.clone(),
                    hands(set, held),
                ),
        )
    });
    found.collect()
}

fn of_nothing(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = refused(case).filter_map(|(section, written, why)| {
        let name = &case.section(section).name.value;
        let message = match why {
            WhyNoRegrip::NotTheProps { .. } => return None,
            WhyNoRegrip::NothingGathered => {
                format!("nothing is gathered before \"{name}\", so there is nothing to re-grip")
            }
            WhyNoRegrip::OtherSet(set) => format!(
                "after \"{name}\" the set \"{}\" comes into the hands, so what they hold now is not \
                 juggled on",
                case.routine().sets.get(*set)?.name.value
            ),
        };
        let next = case.juggles().find(|(index, ..)| *index > section);
        let next = next.map(|(_, next, _)| format!(" of \"{}\"", next.name.value));
        let help = format!(
            "leave `regrip` out; which prop begins in which hand is the `loading`{}",
            next.unwrap_or_default()
        );
        Some(
            Diagnostic::error(OF_NOTHING.code, written.at.clone(), message)
                .label("nothing to move")
                .help(help),
        )
    });
    found.collect()
}
