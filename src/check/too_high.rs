//! A throw that needs more height than the room has.

use crate::diagnostic::Diagnostic;
use crate::measure::height::{clear_height_m, highest, metres_and_feet};

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "too-high",
    what: "Every throw stays below the lowest thing overhead.",
    why: "A prop that meets a lamp or a beam comes down elsewhere, and perhaps not alone. The \
          heights are estimates: measure in the room, and ask the venue.",
    raises: example!(
        r#"        Juggle(name: "high", set: "three", pattern: "900", lasts: Cycles(3)),
"#,
        r#"    room: Room(clear_height: 3.0, hands_at: 1.0),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "high", set: "three", pattern: "900", lasts: Cycles(3)),
"#,
        r#"    room: Room(clear_height: 9.0, hands_at: 1.0),
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let Some(room) = &case.routine().room else { return Vec::new() };
    let found = case.juggles().filter_map(|(index, section, juggle)| {
        let highest = highest(case.timeline(), index)?;
        let run = case.timeline().sections.get(index)?.juggle.as_ref()?.run;
        let set = case.timeline().runs.get(run)?.set;
        let length = case.routine().sets.get(set)?.length;
        let needed = clear_height_m(room, highest.above_hand_m, length);
        if needed <= room.clear_height.value {
            return None;
        }
        let message = format!(
            "the {} of \"{}\" needs about {} clear, and the room has {}",
            highest.action.throw,
            section.name.value,
            metres_and_feet(needed),
            metres_and_feet(room.clear_height.value)
        );
        Some(
            Diagnostic::warning(CHECK.code, juggle.pattern.at.clone(), message)
                .label("too high for the room")
                .note_at(room.clear_height.at.clone(), "to the lowest thing overhead")
                .help(
                    "throw faster, which is lower, or choose lower throws; the height is an \
                     estimate, so leave room",
                ),
        )
    });
    found.collect()
}
