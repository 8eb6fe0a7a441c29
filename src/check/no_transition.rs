//! An `Auto` transition that does not exist within the routine's bounds.

use crate::diagnostic::Diagnostic;
use crate::diagnostic::words::counted;
use crate::timeline::Trouble;
use crate::transition::{Bounds, Goal, ways};

use super::{Case, Check, Finds};

/// How far the offered bounds are widened at most.
const WIDEST: Bounds = Bounds { highest: 13, at_once: 2, beats: 12 };

pub(super) const CHECK: Check = Check {
    code: "no-transition",
    what: "An `Auto` transition exists within the routine's bounds of height, hand and beats.",
    why: "If nothing joins within the bounds, join the sections another way, or widen the bounds \
          on purpose.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "fountain", pattern: "900", lasts: Cycles(2), transition: Auto),
"#,
        r#"    transitions: Within(highest: 9, at_once: 1, beats: 1),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "fountain", pattern: "900", lasts: Cycles(2), transition: Auto),
"#,
        r#"    transitions: Within(highest: 9, at_once: 1, beats: 9),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::NoTransition { section, origin } = trouble else { return None };
            let juggle = case.juggle(*section);
            let bounds = case.routine().transitions;
            let lead = juggle.lead.as_ref().map(|lead| lead.value);
            let led = lead.map_or_else(String::new, |lead| format!(" led by the {lead} hand"));
            let message = format!(
                "no transition into `{}`{led} lies within {} of highest {} and {} at once",
                juggle.pattern.text,
                counted(bounds.beats, "beat"),
                bounds.highest,
                bounds.at_once
            );
            let mut diagnostic =
                Diagnostic::error(CHECK.code, juggle.transition.at.clone(), message)
                    .label("nothing found");
            let goal =
                Goal { pattern: &juggle.pattern.pattern, lead, preferred: case.routine().lead };
            let wider = Bounds {
                highest: bounds.highest.max(WIDEST.highest),
                at_once: bounds.at_once.max(WIDEST.at_once),
                beats: bounds.beats.max(WIDEST.beats),
            };
            for (bounds, what) in [
                (Bounds { beats: wider.beats, ..bounds }, "more beats"),
                (Bounds { highest: wider.highest, ..bounds }, "higher throws"),
                (Bounds { at_once: wider.at_once, ..bounds }, "more props at once"),
            ] {
                if let Some(way) = ways(origin, goal, bounds, 1).into_iter().next() {
                    let (highest, at_once) = way.throws.uses();
                    diagnostic = diagnostic.help(format!(
                        "with {what} allowed under `transitions`, `{}` joins ({}, highest \
                         {highest}, {at_once} at once)",
                        way.throws,
                        counted(way.beats, "beat")
                    ));
                }
            }
            Some(diagnostic.help("put a `Pause` before it and start it cold"))
        })
        .collect()
}
