//! A section that shows the other faces of props which have but one.

use crate::diagnostic::Diagnostic;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "other-face-without-backs",
    what: "Only props with two faces show their other ones.",
    why: "What the house is to see of the other faces has to be written, or no sheet can show it.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "trio", pattern: "3", lasts: Beats(6)),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(6), other_face: true),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "trio", pattern: "3", lasts: Beats(6)),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(6)),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.juggles().filter_map(|(index, section, juggle)| {
        let other = juggle.other_face.as_ref().filter(|other| other.value)?;
        let run = case.timeline().sections.get(index)?.juggle.as_ref()?.run;
        let set = case.routine().sets.get(case.timeline().runs.get(run)?.set)?;
        if !set.backs.is_empty() {
            return None;
        }
        let (name, set_name) = (&section.name.value, &set.name.value);
        let message = format!(
            "\"{name}\" shows other faces, and the props of the set \"{set_name}\" have only one face"
        );
        let help = format!(
            "write the colours of their other faces as `backs` of \"{set_name}\", in the order of \
             its `colours`"
        );
        Some(
            Diagnostic::error(CHECK.code, other.at.clone(), message)
                .label("no other face to show")
                .note_at(set.at.clone(), "the set in use, without `backs`")
                .help(help)
                .help_edit("or show the same faces", other.at.clone(), "false"),
        )
    });
    found.collect()
}
