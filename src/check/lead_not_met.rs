//! A lead that the joins before it do not bring about.

use crate::diagnostic::Diagnostic;
use crate::hand::Hand;
use crate::timeline::Trouble;
use crate::transition::{Goal, ways};

use super::{Case, Check, Finds, transition_place};

pub(super) const CHECK: Check = Check {
    code: "lead-not-met",
    what: "A section whose `lead` is written is led by that hand.",
    why: "An odd number of beats flips the lead hand of everything after it in the run; a trick \
          practised on one side comes out on the other.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(7)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2), lead: Right),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(8)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2), lead: Right),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::Lead { section, got, fits, origin } = trouble else { return None };
            let juggle = case.juggle(*section);
            let demanded = juggle.lead.as_ref()?;
            let name = &case.section(*section).name.value;
            let message = format!(
                "\"{name}\" is to be led by the {} hand, and the {got} hand comes first here",
                demanded.value
            );
            let mut diagnostic = Diagnostic::error(CHECK.code, demanded.at.clone(), message)
                .label(format!("the {got} hand comes first"));
            let goal = Goal {
                pattern: &juggle.pattern.pattern,
                lead: Some(demanded.value),
                preferred: demanded.value,
            };
            let (at, before) = transition_place(juggle);
            for way in ways(origin, goal, case.routine().transitions, 1) {
                let throws = way.throws.to_string();
                diagnostic = diagnostic.help_edit(
                    format!("put `{throws}` between, which brings the hand round"),
                    at.clone(),
                    format!("{before}Throws(\"{throws}\")"),
                );
            }
            if *fits {
                let word = if *got == Hand::Left { "Left" } else { "Right" };
                let text = format!("let the {got} hand lead");
                diagnostic = diagnostic.help_edit(text, demanded.at.clone(), word);
            }
            Some(match case.before(*section) {
                Some((before, _)) => diagnostic.help(format!(
                    "make \"{}\" one beat longer or shorter, where its pattern allows",
                    before.name.value
                )),
                None => diagnostic,
            })
        })
        .collect()
}
