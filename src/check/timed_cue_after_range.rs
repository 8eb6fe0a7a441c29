//! A cue at a fixed time of the show clock, where nobody knows what is on stage then.

use crate::act::Act;
use crate::diagnostic::Diagnostic;
use crate::routine::{Moment, Trigger};
use crate::time::{Seconds, Time};

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

fn find(case: &Case<'_>) -> Vec<Diagnostic> {
    let act = case.act;
    let held = act.routine.all_tracks().any(|(_, track)| !track.holds.is_empty());
    if !held && !act.is_open() {
        return Vec::new();
    }
    let found = act.calls.calls.iter().filter_map(|call| {
        let cue = act.routine.cues.get(call.cue)?;
        let when = cue.when.as_ref()?;
        let (moment, _) = when.value.unshifted();
        if !matches!(moment, Moment::At(_)) || !matches!(cue.trigger.value, Trigger::Called) {
            return None;
        }
        let why = [stage(act, &call.go), held_before(act, &call.go)];
        let why: Vec<String> = why.into_iter().flatten().collect();
        if why.is_empty() {
            return None;
        }
        let why = why.join(", and ");
        let go = call.go.range().clock();
        let message = format!("this cue goes at {go} (show clock) alone: {why}");
        Some(
            Diagnostic::warning(CHECK.code, when.at.clone(), message)
                .label("a time, whatever happens")
                .help("Hang it on a moment of the act or of the track, such as `Start(\"…\")`.")
                .help("Let it be taken by eye or ear: `trigger: See(\"…\")`."),
        )
    });
    found.collect()
}

/// That what is on stage then is not certain.
fn stage(act: &Act, go: &Time) -> Option<String> {
    let sections = &act.timeline.sections;
    // On stage is the last section that may have begun; before the first and behind the last one
    // the act's own edges count.
    let may_be_past = |edge: &&Time| (*edge - go).least() <= Seconds::zero();
    let begun = sections.iter().rev().find(|span| may_be_past(&&span.starts));
    let edges = match begun {
        Some(span) => [Some(&span.starts), Some(&span.ends).filter(may_be_past)],
        None => [sections.first().map(|span| &span.starts), None],
    };
    let open = edges.into_iter().flatten().any(|edge| (edge - go).certain().is_none());
    open.then(|| "what is on stage then is not certain".to_owned())
}

/// That a hold before then has moved what is heard, or may have.
fn held_before(act: &Act, go: &Time) -> Option<String> {
    let tracks = act.routine.all_tracks().zip(&act.timeline.tracks);
    let before = |one: &Time, other: &Time| (other - one).most() > Seconds::zero();
    let surely = |one: &Time, other: &Time| (other - one).least() > Seconds::zero();
    for ((_, track), span) in tracks {
        let Some(ends) = span.ends().filter(|ends| before(go, ends)) else { continue };
        for (hold, held) in track.holds.iter().zip(&span.holds) {
            let Some(from) = span.at(&held.from).filter(|from| before(from, go)) else { continue };
            let has = if surely(&from, go) && surely(go, &ends) { "has" } else { "may have" };
            let name = &hold.name.value;
            return Some(format!("the hold \"{name}\" {has} moved what is heard then"));
        }
    }
    None
}
