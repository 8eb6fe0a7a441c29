//! The cue sheet as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Times are seconds on the show clock, the
//! nearest double to the exact time; cues stand in order of GO.

use serde::Serialize;

use crate::routine::{Desk, FollowFrom, Routine};
use crate::sheet::cues::{CueLine, compose};
use crate::sheet::words::desk_word;
use crate::time::Seconds;
use crate::timeline::Timeline;

use super::timing_json::written;

#[derive(Serialize)]
struct Document<'a> {
    title: &'a str,
    zero: &'a str,
    cues: Vec<Cue<'a>>,
}

#[derive(Serialize)]
struct Cue<'a> {
    desk: &'static str,
    number: Option<&'a str>,
    go_s: f64,
    standby_s: Option<f64>,
    trigger: &'static str,
    when: String,
    does: String,
    count_s: Option<f64>,
    on_drop: &'a str,
    follows: Option<Follows<'a>>,
}

#[derive(Serialize)]
struct Follows<'a> {
    desk: &'static str,
    of: &'a str,
    from: &'static str,
    after_s: f64,
}

/// The cue sheet of all desks, or of one, as JSON.
#[must_use]
pub fn json(routine: &Routine, timeline: &Timeline, desk: Option<Desk>) -> String {
    let sheet = compose(routine, timeline, desk);
    written(&Document {
        title: &sheet.title,
        zero: &sheet.zero,
        cues: sheet.lines.iter().map(cue).collect(),
    })
}

fn cue(line: &CueLine) -> Cue<'_> {
    Cue {
        desk: desk_word(line.desk),
        number: line.number.as_deref(),
        go_s: line.go.to_f64(),
        standby_s: line.standby.as_ref().map(Seconds::to_f64),
        trigger: line.taken.word(),
        when: line.when.plain(),
        does: line.does.plain(),
        count_s: line.count.as_ref().map(Seconds::to_f64),
        on_drop: &line.on_drop,
        follows: line.follows.as_ref().map(|follows| Follows {
            desk: desk_word(follows.desk),
            of: &follows.of,
            from: match follows.from {
                FollowFrom::Go => "go",
                FollowFrom::Complete => "complete",
            },
            after_s: follows.after.to_f64(),
        }),
    }
}
