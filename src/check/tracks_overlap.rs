//! A track that starts while another still plays.

use crate::act::Act;
use crate::act::calls::Call;
use crate::diagnostic::{Diagnostic, Place, Placed};
use crate::measure::sound_cues::{fades, meant};
use crate::time::Time;
use crate::timeline::TrackSpan;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "tracks-overlap",
    what: "No track starts before the one before it has ended, or a Sound cue has faded it.",
    why: "Two pieces of music at once are usually a slip; where they are not, the operator must \
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
    let tracks: Vec<_> = case.routine().all_tracks().zip(&case.timeline().tracks).collect();
    let mut found = Vec::new();
    for (later, ((second, written), second_span)) in tracks.iter().enumerate() {
        for (earlier, ((first, _), first_span)) in tracks.iter().enumerate() {
            if earlier == later {
                continue;
            }
            let overlap = overlap(
                case,
                (name(*first), earlier, first_span),
                (name(*second), second_span),
                (earlier < later, &written.starts.at),
            );
            found.extend(overlap);
        }
    }
    found
}

fn name(name: Option<&Placed<String>>) -> &str {
    name.map_or("music", |name| name.value.as_str())
}

/// A track that starts after another has, and before that one ends; of two that start together the
/// one that is written later comes later.
fn overlap(
    case: &Case<'_>,
    (first, index, first_span): (&str, usize, &TrackSpan),
    (second, second_span): (&str, &TrackSpan),
    (is_written_later, at): (bool, &Place),
) -> Option<Diagnostic> {
    let (first_starts, ends) = (first_span.starts.as_ref()?, first_span.ends()?);
    let starts = second_span.starts.as_ref()?;
    let fading: Vec<(&Call, Time)> = fading(case.act, index).collect();
    case.some_night(at, CHECK.code, |night| {
        let comes_later = match is_written_later {
            true => night.not_after(first_starts, starts),
            false => night.before(first_starts, starts),
        };
        if !comes_later
            || !night.before(starts, &ends)
            || fading.iter().any(|(call, done)| {
                night.not_after(first_starts, &call.go) && night.not_after(done, starts)
            })
        {
            return None;
        }
        let message = format!(
            "the track \"{second}\" starts at {} (show clock), before \"{first}\" ends at {}",
            starts.range().clock(),
            ends.range().clock()
        );
        Some(Diagnostic::warning(CHECK.code, at.clone(), message).label("two at once").help(
            "Start it later, or fade the first one out before, with a Sound cue that names it.",
        ))
    })
}

/// The cues that fade a track and nothing else, each with the time at which its count is over.
fn fading(act: &Act, track: usize) -> impl Iterator<Item = (&Call, Time)> {
    let fades_it = move |call: &&Call| {
        act.routine.cues.get(call.cue).filter(|cue| fades(cue)).is_some_and(|cue| {
            let meant = meant(act, cue);
            meant.tracks.contains(&track) && !meant.or_else
        })
    };
    let done = |call: &Call| call.count.as_ref().map_or(call.go.clone(), |count| &call.go + count);
    act.calls.calls.iter().filter(fades_it).map(move |call| (call, done(call)))
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_track_that_a_cue_has_faded_is_over() {
        let codes = |cue: &str| -> Vec<&str> {
            let text = format!(
                r#"Routine(title: "T", tempo: PerMinute(200), lead: Right, zero: Start("on"),
                colours: {{ "coral": "red" }},
                sets: {{ "one": Set(kind: Ball, length: 0.07, colours: ["coral"]) }},
                tracks: {{
                    "day": Track(length: "0:20", starts: Start("on")),
                    "night": Track(length: "0:20", starts: Start("late")),
                }},
                score: [
                    Pause(name: "on", lasts: Between("0:10", "0:12")),
                    Juggle(name: "hop", set: "one", pattern: "1", lasts: Beats(10)),
                    Pause(name: "late", lasts: For("0:20")),
                ],
                cues: [
                    Cue(crew: Sound, number: 1, at: Start("on"), trigger: See("it"), does: "play day"),
                    Cue(crew: Sound, number: 3, at: Start("late"), trigger: See("it"),
                        does: "play night"),
                    {cue}
                ])"#
            );
            crate::open(&text).diagnostics.iter().map(|one| one.code).collect()
        };
        let fade = |at: &str, count: u32, does: &str| {
            format!(
                "Cue(crew: Sound, number: 2, at: {at}, trigger: Called, does: \"{does}\", \
                 count: {count})"
            )
        };
        let overlaps = |cue: &str| codes(cue).contains(&"tracks-overlap");
        assert!(overlaps(""));
        assert!(!overlaps(&fade("Start(\"hop\")", 2, "fade day")), "3 s before the next begins");
        assert!(overlaps(&fade("Start(\"hop\")", 4, "fade day")), "it is still fading then");
        assert!(overlaps(&fade("Start(\"hop\")", 2, "fade night")), "another track");
        // On the shortest night the next begins at 0:13, and the fade is over at 0:14.
        assert!(overlaps(&fade("At(\"0:11\")", 3, "fade day")));
    }
}
