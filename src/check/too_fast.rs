//! More catches a minute than have ever been seen.

use crate::diagnostic::Diagnostic;
use crate::measure::counts;
use crate::measure::fit::MOST_CATCHES_A_MINUTE;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "too-fast",
    what: "A section has at most 500 catches a minute (its catches by its length).",
    why: "The fastest seen is nearly 500 a minute (Physics Today 73(2), 2020, p. 62): beyond it \
          the tempo is a slip of the pen.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(90),
            tempo: PerMinute(600)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(90),
            tempo: PerMinute(300)),
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = case.juggles().filter_map(|(index, section, juggle)| {
        let span = case.timeline().sections.get(index)?;
        let catches = counts::of_section(case.timeline(), index)?.catches;
        let lasts = (&span.ends - &span.starts).shortest().to_f64();
        let a_minute = f64::from(catches) * 60.0 / lasts;
        if lasts <= 0.0 || a_minute <= MOST_CATCHES_A_MINUTE {
            return None;
        }
        let at = juggle.tempo.as_ref().map_or(&section.name.at, |tempo| &tempo.at);
        let message = format!(
            "\"{}\" has {a_minute:.0} catches a minute; the fastest ever seen is nearly 500",
            section.name.value
        );
        Some(
            Diagnostic::warning(CHECK.code, at.clone(), message)
                .label("faster than anybody")
                .help("lower the tempo: it is in throws a minute, both hands together"),
        )
    });
    found.collect()
}
