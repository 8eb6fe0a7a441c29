//! A cue at a fixed time of the show clock, where nobody knows what is on stage then.

use crate::diagnostic::Diagnostic;
use crate::routine::{Moment, Trigger};
use crate::time::{Seconds, clock};
use crate::timeline::Timeline;

use super::{Case, Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "timed-cue-after-range",
    what: "No cue hangs on a time of the show clock alone where the act comes in a range, or where \
           a track has been held.",
    why: "The clock goes on while the audience claps or the track is held: at the written time \
          something else is on stage.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:09")),
        Juggle(name: "beam", pattern: "3", lasts: Beats(40)),
"#,
        r#"    cues: [Cue(crew: Light, number: 5, at: At("0:16"), trigger: Called, does: "warm", count: 2)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(20)),
        Pause(name: "applause", lasts: Between("0:03", "0:09")),
        Juggle(name: "beam", pattern: "3", lasts: Beats(40)),
"#,
        r#"    cues: [Cue(crew: Light, number: 5, at: Throw("beam", 7), trigger: Called, does: "warm", count: 2)],
"#
    ),
    finds: Finds::Timed(find),
};

/// What is not certain at a time of the show clock.
enum Unknown {
    /// What is on stage.
    Stage,
    /// What is heard: the hold of that name has moved it.
    Track(String),
}

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let timeline = case.timeline();
    if case.routine.all_tracks().all(|(_, track)| track.holds.is_empty())
        && !timeline.is_uncertain()
    {
        return Vec::new();
    }
    let calls = case.calls.calls.iter();
    let found = calls.filter_map(|call| {
        let cue = case.routine.cues.get(call.cue)?;
        let when = cue.when.as_ref()?;
        if !matches!(when.value.unshifted().0, Moment::At(_))
            || !matches!(cue.trigger.value, Trigger::Called)
        {
            return None;
        }
        let why = match unknown(case, timeline, &call.go)? {
            Unknown::Stage => "what is on stage then is not certain".to_owned(),
            Unknown::Track(hold) => {
                format!("the hold \"{hold}\" has moved what is heard then")
            }
        };
        let message = format!("this cue goes at {} (show clock) alone: {why}", clock(&call.go));
        Some(
            Diagnostic::warning(CHECK.code, when.at.clone(), message)
                .label("a time, whatever happens")
                .help("Hang it on a moment of the act or of the track, such as `Start(\"…\")`.")
                .help("Let it be taken by eye or ear: `trigger: See(\"…\")`."),
        )
    });
    found.collect()
}

fn unknown(case: &Case<'_>, timeline: &Timeline, go: &Seconds) -> Option<Unknown> {
    let edge = |index: usize, ends: bool| {
        timeline.range_where_known(|timeline| {
            let span = timeline.sections.get(index)?;
            Some(if ends { span.ends.clone() } else { span.starts.clone() })
        })
    };
    // On stage is the last section that may have begun; before the first and behind the last one
    // the act's own edges count.
    let last = timeline.sections.len().checked_sub(1)?;
    let begun =
        (0..=last).rev().find(|&index| edge(index, false).is_some_and(|at| at.earliest <= *go));
    let edges = match begun {
        Some(index) => [edge(index, false), edge(index, true).filter(|at| at.earliest <= *go)],
        None => [edge(0, false), None],
    };
    if edges.into_iter().flatten().any(|at| !at.is_certain()) {
        return Some(Unknown::Stage);
    }
    let tracks = case.routine.all_tracks().zip(&timeline.tracks);
    tracks
        .filter(|(_, span)| span.ends().is_some_and(|ends| *go < ends))
        .flat_map(|((_, track), span)| {
            let held = track.holds.iter().zip(&span.holds);
            held.map(move |(hold, held)| (hold, span.at(&held.from)))
        })
        .find(|(_, from)| from.as_ref().is_some_and(|from| from < go))
        .map(|(hold, _)| Unknown::Track(hold.name.value.clone()))
}
