//! A pattern for another number of props than the set in use has.

use crate::diagnostic::Diagnostic;
use crate::diagnostic::words::counted;
use crate::timeline::Trouble;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "prop-count",
    what: "The set in use has as many props as the pattern needs.",
    why: "A hand that is to throw a prop that nobody holds stops the act.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "4", lasts: Beats(8)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "423", lasts: Beats(9)),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    case.troubles()
        .filter_map(|trouble| {
            let Trouble::PropCount { section, set } = trouble else { return None };
            let juggle = case.juggle(*section);
            let set = case.routine().sets.get(*set)?;
            let (has, needs) = (set.colours.len(), juggle.pattern.pattern.props());
            let message = format!(
                "`{}` is a pattern of {} and the set \"{}\" has {has}",
                juggle.pattern.text,
                counted(needs, "prop"),
                set.name.value
            );
            let fitting: Vec<&str> = case
                .routine()
                .sets
                .iter()
                .filter(|other| other.colours.len() == needs as usize)
                .map(|other| other.name.value.as_str())
                .collect();
            let mut diagnostic = Diagnostic::error(CHECK.code, juggle.pattern.at.clone(), message)
                .label(format!("needs {}", counted(needs, "prop")))
                .note_at(set.at.clone(), format!("the set in use, {}", counted(has, "prop")));
            for name in fitting {
                let text = format!("juggle with the set \"{name}\", which has {needs}");
                diagnostic = match &juggle.set {
                    Some(written) => {
                        diagnostic.help_edit(text, written.at.clone(), format!("{name:?}"))
                    }
                    None if case.before(*section).is_some() => diagnostic
                        .help(format!("{text}; props change at a `Pause`, so put one before it")),
                    None => {
                        let end = case.section(*section).name.at.end;
                        diagnostic.help_edit(text, (end..end).into(), format!(", set: {name:?}"))
                    }
                };
            }
            if case.routine().sets.iter().all(|other| other.colours.len() != needs as usize) {
                diagnostic = diagnostic.help(format!(
                    "choose a pattern whose values average {has}, or write a set of {}",
                    counted(needs, "prop")
                ));
            }
            Some(diagnostic)
        })
        .collect()
}
