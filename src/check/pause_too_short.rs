//! A pause that is over before the props are picked up.

use crate::diagnostic::Diagnostic;
use crate::routine::Part;
use crate::time::seconds_text;

use super::dark_too_short::slowest;
use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "pause-too-short",
    what: "A pause in which props are picked up lasts as long as the slowest logged pick-up.",
    why: "The next section starts while the performer is still picking up.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "pick up", lasts: For("0:03"), pick_up: [2.9, 3.4]),
        Juggle(name: "fleet", pattern: "3", lasts: Beats(20)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "pick up", lasts: For("0:04"), pick_up: [2.9, 3.4]),
        Juggle(name: "fleet", pattern: "3", lasts: Beats(20)),
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let spans = case.routine.score.iter().zip(&case.timeline().sections);
    let found = spans.filter_map(|(section, span)| {
        let Part::Pause(pause) = &section.part else { return None };
        let slowest = slowest(pause)?;
        let lasts = &span.ends - &span.starts;
        if lasts >= *slowest {
            return None;
        }
        let message = format!(
            "the pause \"{}\" lasts {}, and the slowest logged pick-up takes {}",
            section.name.value,
            seconds_text(&lasts),
            seconds_text(slowest)
        );
        Some(
            Diagnostic::warning(CHECK.code, pause.lasts.at.clone(), message)
                .label("too short to pick up")
                .help(format!("make it at least {} longer", seconds_text(&(slowest - &lasts)))),
        )
    });
    found.collect()
}
