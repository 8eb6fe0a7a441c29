//! A track that starts while another still plays.

use crate::diagnostic::Diagnostic;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "tracks-overlap",
    what: "No track starts before the one before it has ended.",
    why: "Two pieces of music at once are mostly a slip; where they are not, the operator must \
          fade one out.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(40)),
        Pause(name: "bow", lasts: For("0:06")),
"#,
        r#"    tracks: {
        "main": Track(file: "a.wav", length: "0:15", starts: Start("tide")),
        "bow": Track(file: "b.wav", length: "0:05", starts: Start("bow")),
    },
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(40)),
        Pause(name: "bow", lasts: For("0:06")),
"#,
        r#"    tracks: {
        "main": Track(file: "a.wav", length: "0:12.2", starts: Start("tide")),
        "bow": Track(file: "b.wav", length: "0:05", starts: Start("bow")),
    },
"#
    ),
    finds: Finds::Timed(find),
};

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let timeline = case.timeline();
    let tracks: Vec<_> = case.routine.all_tracks().collect();
    let mut found = Vec::new();
    let name = |index: usize| {
        let (name, _) = tracks.get(index)?;
        Some(name.map_or("music", |name| name.value.as_str()))
    };
    for (later, (_, written)) in tracks.iter().enumerate() {
        for earlier in 0..tracks.len() {
            // Taken as one time, so that what moves both tracks alike moves nothing.
            let apart = timeline.range_where_known(|timeline| {
                let ends = timeline.tracks.get(earlier)?.ends()?;
                Some(timeline.tracks.get(later)?.starts.as_ref()? - &ends)
            });
            let order = timeline.range_where_known(|timeline| {
                let first = timeline.tracks.get(earlier)?.starts.clone()?;
                Some(timeline.tracks.get(later)?.starts.as_ref()? - &first)
            });
            let (Some(apart), Some(order)) = (apart, order) else { continue };
            // Of two that start together the one that is written later comes later.
            let zero = crate::time::Seconds::zero();
            let is_later = order.earliest > zero || (order.earliest == zero && earlier < later);
            if earlier == later || !is_later || !apart.earliest.is_negative() {
                continue;
            }
            let ends = timeline.range_where_known(|timeline| timeline.tracks.get(earlier)?.ends());
            let starts =
                timeline.range_where_known(|timeline| timeline.tracks.get(later)?.starts.clone());
            let (Some(first), Some(second)) = (name(earlier), name(later)) else { continue };
            let (Some(ends), Some(starts)) = (ends, starts) else { continue };
            let message = format!(
                "the track \"{second}\" starts at {} (show clock), before \"{first}\" ends at {}",
                starts.clock(),
                ends.clock()
            );
            found.push(
                Diagnostic::warning(CHECK.code, written.starts.at.clone(), message)
                    .label("two at once")
                    .help("Start it later, or give the first one the `length` that is played."),
            );
        }
    }
    found
}
