//! Music that ends while props are still in the air.

use crate::diagnostic::Diagnostic;
use crate::routine::Track;
use crate::timeline::TrackSpan;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "music-ends-early",
    what: "No track ends while something is juggled, and the last one not before the last catch.",
    why: "Everyone hears the silence when the music stops under a pattern; nobody minds a pause \
          after the last note.",
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
    let tracks = case.routine().all_tracks().enumerate();
    tracks.filter_map(|(index, (_, track))| too_early(case, index, track)).collect()
}

fn too_early(case: &Case<'_>, index: usize, track: &Track) -> Option<Diagnostic> {
    let timeline = case.timeline();
    let ends = timeline.tracks.get(index)?.ends()?;
    let others = || timeline.tracks.iter().enumerate().filter(move |(other, _)| *other != index);
    case.some_night(&track.length.at, CHECK.code, |night| {
        // Another track may take over there.
        let plays = |span: &TrackSpan| {
            let starts = span.starts.as_ref();
            starts.is_some_and(|starts| night.not_after(starts, &ends))
                && span.ends().is_some_and(|after| night.before(&ends, &after))
        };
        let later = |span: &TrackSpan| span.ends().is_some_and(|end| night.before(&ends, &end));
        let is_last = !others().any(|(_, span)| later(span));
        let under = case.act.sections().find_map(|(_, section, span)| {
            let juggle = span.juggle.as_ref()?;
            let caught = match timeline.runs.get(juggle.run) {
                Some(run) if juggle.ends_run => run.gather.last_catch.as_ref()?,
                _ => &span.ends,
            };
            let is_under =
                (is_last || night.before(&span.starts, &ends)) && night.before(&ends, caught);
            is_under.then_some((section, caught))
        });
        let (section, caught) = under.filter(|_| !others().any(|(_, span)| plays(span)))?;
        night.worse_by(&(caught - &ends));
        let name = &section.name;
        let message = format!(
            "this track ends at {} (show clock), before \"{}\" is juggled to its end",
            ends.range().clock(),
            name.value
        );
        Some(
            Diagnostic::warning(CHECK.code, track.length.at.clone(), message)
                .label("over before the last catch")
                .note_at(name.at.clone(), "This goes on in silence.")
                .help(
                    "Shorten what is before it, start the track later, or let it end in a `Pause`.",
                ),
        )
    })
}
