//! A pause that is over before the props are picked up.

use crate::diagnostic::Diagnostic;
use crate::time::{Time, seconds_text};

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
    let found = case.act.sections().filter_map(|(_, section, span)| {
        let pause = section.pause()?;
        let slowest = Time::from(pause.slowest_pick_up()?.clone());
        let lasts = &span.ends - &span.starts;
        case.some_night(&pause.lasts.at, CHECK.code, |night| {
            let missing = &slowest - &lasts;
            night.worse_by(&missing);
            if !night.before(&lasts, &slowest) {
                return None;
            }
            let message = format!(
                "the pause \"{}\" lasts {}, and the slowest logged pick-up takes {}",
                section.name.value,
                seconds_text(&night.at(&lasts)),
                seconds_text(slowest.shortest())
            );
            let longer = seconds_text(&night.at(&missing));
            Some(
                Diagnostic::warning(CHECK.code, pause.lasts.at.clone(), message)
                    .label("too short to pick up")
                    .help(format!("make it at least {longer} longer")),
            )
        })
    });
    found.collect()
}
