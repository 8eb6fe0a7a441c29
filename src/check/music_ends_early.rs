//! Music that ends while props are still in the air.

use crate::diagnostic::Diagnostic;
use crate::time::TimeRange;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "music-ends-early",
    what: "No track ends while something is juggled, and the last one not before the last catch.",
    why: "Silence under a pattern that the music was to carry is heard by everyone; a pause after \
          the last note is not.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(40)),
        Pause(name: "bow", lasts: For("0:06")),
"#,
        r#"    music: Track(file: "a.wav", length: "0:09", starts: Start("tide")),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(40)),
        Pause(name: "bow", lasts: For("0:06")),
"#,
        r#"    music: Track(file: "a.wav", length: "0:14", starts: Start("tide")),
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let timeline = case.timeline();
    let mut found = Vec::new();
    for (index, (_, track)) in case.routine.all_tracks().enumerate() {
        let Some(ends) = timeline.tracks.get(index).and_then(crate::timeline::TrackSpan::ends)
        else {
            continue;
        };
        // Another track may take over there.
        let goes_on = timeline.tracks.iter().enumerate().any(|(other, span)| {
            let starts = span.starts.as_ref();
            let after = span.ends();
            other != index
                && starts.is_some_and(|starts| *starts <= ends)
                && after.is_some_and(|after| after > ends)
        });
        let is_last = !timeline.tracks.iter().any(|span| span.ends().is_some_and(|end| end > ends));
        let under = timeline.sections.iter().enumerate().find(|(_, span)| {
            let caught = span.juggle.as_ref().and_then(|juggle| {
                let run = timeline.runs.get(juggle.run)?;
                if juggle.ends_run {
                    run.gather.last_catch.clone()
                } else {
                    Some(span.ends.clone())
                }
            });
            (is_last || span.starts < ends) && caught.is_some_and(|caught| ends < caught)
        });
        let Some((section, _)) = under.filter(|_| !goes_on) else { continue };
        let ends = timeline
            .range_where_known(|timeline| timeline.tracks.get(index)?.ends())
            .unwrap_or_else(|| TimeRange::from(ends));
        let name = &case.section(section).name;
        let message = format!(
            "this track ends at {} (show clock), before \"{}\" is juggled to its end",
            ends.clock(),
            name.value
        );
        found.push(
            Diagnostic::warning(CHECK.code, track.length.at.clone(), message)
                .label("over before the props are")
                .note_at(name.at.clone(), "This goes on in silence.")
                .help(
                    "Shorten what is before it, start the track later, or let it end in a `Pause`.",
                ),
        );
    }
    found
}
