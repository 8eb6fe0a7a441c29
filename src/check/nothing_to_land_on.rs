//! `may_bend` where there is nothing to bend or to land on.

use crate::diagnostic::{Diagnostic, Help};
use crate::routine::{Length, Tempo};

use super::music_tempo::followed;
use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "nothing-to-land-on",
    what: "`may_bend` stands where a steady tempo has an end in time to land on.",
    why: "A section of so many beats or cycles ends where they end, at the tempo that is written, \
          and a ramp has no one tempo to bend.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(26), may_bend: 0.03),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: For("0:08"), may_bend: 0.03),
"#
    ),
    finds: Finds::Compiled(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.juggles().filter_map(|(index, section, juggle)| {
        let may_bend = juggle.may_bend.as_ref()?;
        let counted = matches!(juggle.lasts.value, Length::Beats(_) | Length::Cycles(_));
        let ramp = juggle.tempo.as_ref().filter(|tempo| matches!(tempo.value, Tempo::Ramp { .. }));
        let music = followed(case, index);
        let name = &section.name.value;
        let (message, way_out, note) = if counted {
            (
                format!("\"{name}\" has nothing to land on: its length is counted, not timed"),
                "end it at a moment or after a time, as in `lasts: Until(Mark(\"…\"))`",
                (&juggle.lasts.at, "it ends where these end"),
            )
        } else if let Some(ramp) = ramp {
            (
                format!("the tempo of \"{name}\" is a ramp, which does not bend"),
                "give it a steady tempo, such as `PerMinute(200)`",
                (&ramp.at, "the ramp"),
            )
        } else if let Some(music) = music {
            (
                format!("\"{name}\" goes as the music goes: a bent tempo would leave its beats"),
                "give it a steady tempo, such as `PerMinute(200)`",
                (&music.at, "so many throws a music beat"),
            )
        } else {
            return None;
        };
        let mut diagnostic = Diagnostic::error(CHECK.code, may_bend.most.at.clone(), message)
            .label("bends nothing")
            .note_at(note.0.clone(), note.1);
        diagnostic.helps.push(Help::edit("leave `may_bend` out", may_bend.field.clone(), ""));
        Some(diagnostic.help(way_out))
    });
    found.collect()
}
