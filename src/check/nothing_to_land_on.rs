//! A give where there is nothing to bend or to land on.

use crate::diagnostic::{Diagnostic, Help};
use crate::routine::{Length, Tempo};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "nothing-to-land-on",
    what: "`give` stands where a steady tempo has an end in time to land on.",
    why: "A section of so many beats or cycles ends where they end, at the tempo that is written, \
          and a ramp has no one tempo to bend.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(26), give: 0.03),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: For("0:08"), give: 0.03),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.juggles().filter_map(|(_, section, juggle)| {
        let give = juggle.give.as_ref()?;
        let counted = matches!(juggle.lasts.value, Length::Beats(_) | Length::Cycles(_));
        let ramp =
            matches!(juggle.tempo.as_ref().map(|tempo| &tempo.value), Some(Tempo::Ramp { .. }));
        let name = &section.name.value;
        let (message, way_out) = if counted {
            (
                format!("\"{name}\" has nothing to land on: its length is counted, not timed"),
                "end it at a moment or after a time, as in `lasts: Until(Mark(\"…\"))`",
            )
        } else if ramp {
            (
                format!("the tempo of \"{name}\" is a ramp, which does not bend"),
                "give it a steady tempo, such as `PerMinute(200)`",
            )
        } else {
            return None;
        };
        let mut diagnostic = Diagnostic::error(CHECK.code, give.most.at.clone(), message)
            .label("bends nothing")
            .note_at(
                if counted { juggle.lasts.at.clone() } else { juggle.tempo.as_ref()?.at.clone() },
                if counted { "it ends where these end" } else { "the ramp" },
            );
        diagnostic.helps.push(Help::edit("leave `give` out", give.field.clone(), ""));
        Some(diagnostic.help(way_out))
    });
    found.collect()
}
