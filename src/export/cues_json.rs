//! The cue sheet as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Times are seconds on the show clock, the
//! nearest double to the exact time; cues stand in order of GO.

use serde::Serialize;

use crate::issue::Told;
use crate::routine::{Crew, CueOnPaper, FollowFrom, Routine};
use crate::sheet::bar_clock::figures;
use crate::sheet::cues::{CueLine, CueSheet, compose};
use crate::sheet::state::{State, states};
use crate::sheet::words::{crew_word, plain};
use crate::time::{Seconds, parse_clock};
use crate::timeline::Timeline;

use super::json::written;

#[derive(Serialize)]
struct Document<'a> {
    title: &'a str,
    zero: &'a str,
    cues: Vec<Cue<'a>>,
    encore: Option<Encore<'a>>,
    since_issue: Option<u32>,
    cut: Vec<Cut>,
}

#[derive(Serialize)]
struct Cue<'a> {
    crew: &'static str,
    number: Option<&'a str>,
    go_s: f64,
    go_latest_s: Option<f64>,
    go_bar: Option<i64>,
    go_music_beat: Option<f64>,
    track_s: Option<f64>,
    standby_s: Option<f64>,
    standby_latest_s: Option<f64>,
    standby_bar: Option<i64>,
    standby_music_beat: Option<f64>,
    timecode: Option<String>,
    trigger: &'static str,
    when: String,
    does: String,
    count_s: Option<f64>,
    on_drop: String,
    follows: Option<Follows<'a>>,
    with: Option<With<'a>>,
    dark: bool,
    state: Vec<InState<'a>>,
    new: bool,
    changed: &'a [String],
}

#[derive(Serialize)]
struct With<'a> {
    crew: &'static str,
    of: &'a str,
}

#[derive(Serialize)]
struct InState<'a> {
    crew: &'static str,
    number: Option<&'a str>,
    does: String,
}

#[derive(Serialize)]
struct Encore<'a> {
    zero: &'a str,
    cues: Vec<Cue<'a>>,
}

#[derive(Serialize)]
struct Cut {
    crew: &'static str,
    number: Option<String>,
    encore: bool,
    go_s: f64,
    does: String,
}

#[derive(Serialize)]
struct Follows<'a> {
    crew: &'static str,
    of: &'a str,
    from: &'static str,
    after_s: f64,
}

/// The cue sheet of all crews, or of one, as JSON.
#[must_use]
pub fn json(routine: &Routine, timeline: &Timeline, crew: Option<Crew>) -> String {
    of_sheet(&compose(routine, timeline, crew))
}

/// A composed cue sheet as JSON.
#[must_use]
pub fn of_sheet(sheet: &CueSheet) -> String {
    let states = states(sheet);
    let act_lines = sheet.lines.len();
    written(&Document {
        title: &sheet.title,
        zero: &sheet.zero,
        cues: cues(states.iter().take(act_lines), Some(sheet)),
        encore: sheet.encore.as_ref().map(|encore| Encore {
            zero: &encore.zero,
            cues: cues(states.iter().skip(act_lines), None),
        }),
        since_issue: sheet.since,
        cut: sheet.cut.iter().map(cut).collect(),
    })
}

/// The cues of the act, or of its encore; only the act has music, whose bars `act` knows.
fn cues<'a>(states: impl Iterator<Item = &'a State<'a>>, act: Option<&CueSheet>) -> Vec<Cue<'a>> {
    states.map(|state| cue(state.after, &state.crews, act)).collect()
}

/// A cue of the issue before that is gone.
fn cut(cue: &CueOnPaper) -> Cut {
    Cut {
        crew: crew_word(cue.crew),
        number: cue.number.map(|number| number.to_string()),
        encore: cue.encore,
        // What is on paper was read as a time.
        go_s: parse_clock(&cue.go).map_or(f64::NAN, |time| time.to_f64()),
        does: plain(&cue.does),
    }
}

fn cue<'a>(line: &'a CueLine, state: &[&'a CueLine], act: Option<&CueSheet>) -> Cue<'a> {
    let bars = act.and_then(|act| act.bars.as_ref());
    let track = act.and_then(|act| act.track.as_ref());
    let (go_bar, go_music_beat) = figures(bars, Some(&line.go));
    let (standby_bar, standby_music_beat) = figures(bars, line.standby.as_ref());
    Cue {
        crew: crew_word(line.crew),
        number: line.number.as_deref(),
        go_s: line.go.to_f64(),
        go_latest_s: line.go_latest.as_ref().map(Seconds::to_f64),
        go_bar,
        go_music_beat,
        track_s: track.and_then(|track| track.reads(&line.go)).map(|time| time.to_f64()),
        standby_s: line.standby.as_ref().map(Seconds::to_f64),
        standby_latest_s: line.standby_latest.as_ref().map(Seconds::to_f64),
        standby_bar,
        standby_music_beat,
        timecode: line.timecode.map(|code| code.to_string()),
        trigger: line.trigger.word(),
        when: line.when.plain(),
        does: line.does.plain(),
        count_s: line.count.as_ref().map(Seconds::to_f64),
        on_drop: line.on_drop.plain(),
        follows: line.follows.as_ref().map(|follows| Follows {
            crew: crew_word(follows.crew),
            of: &follows.of,
            from: match follows.from {
                FollowFrom::Go => "go",
                FollowFrom::Complete => "complete",
            },
            after_s: follows.after.to_f64(),
        }),
        with: line.with.as_ref().map(|with| With { crew: crew_word(with.crew), of: &with.of }),
        dark: line.dark,
        state: state
            .iter()
            .map(|line| InState {
                crew: crew_word(line.crew),
                number: line.number.as_deref(),
                does: line.does.plain(),
            })
            .collect(),
        new: line.told == Told::New,
        changed: match &line.told {
            Told::Changed(what) => what,
            Told::Same | Told::New => &[],
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};

    #[test]
    fn the_cues_of_the_worked_example_stand_in_order_of_go() {
        let quay = lantern_quay();
        let text = json(&quay, &compiled(&quay), None);
        let document: serde_json::Value = serde_json::from_str(&text).unwrap();
        let house = serde_json::json!({"crew": "house", "number": null, "does": "to half"});
        let light = |number: &str, does: &str| serde_json::json!({"crew": "light", "number": number, "does": does});
        let expected = serde_json::json!({
            "title": "Lantern Quay",
            "zero": "track start",
            "cues": [
                {
                    "crew": "house", "number": null, "go_s": -20.0, "go_latest_s": null, "standby_latest_s": null, "standby_s": -25.0, "timecode": null,
                    "crew": "house", "number": null, "go_s": -20.0, "go_bar": null, "go_music_beat": null,
                    "track_s": -20.0, "standby_s": -25.0, "standby_bar": null,
                    "standby_music_beat": null, "timecode": null,
                    "trigger": "called", "when": "20.0 s before track start", "does": "to half",
                    "count_s": 5.0, "on_drop": "waits for the call, ignores the time",
                    "follows": null, "with": null, "dark": false,
                    "state": [house], "new": false, "changed": [],
                },
                {
                    "crew": "light", "number": "15", "go_s": 7.5, "go_latest_s": null, "standby_latest_s": null, "standby_s": 2.5, "timecode": null,
                    "crew": "light", "number": "15", "go_s": 7.5, "go_bar": 4, "go_music_beat": 2.3,
                    "track_s": 7.5, "standby_s": 2.5, "standby_bar": 1, "standby_music_beat": 4.3,
                    "timecode": null,
                    "trigger": "hear", "when": "first drum", "does": "sides up, front low",
                    "count_s": 1.0, "on_drop": "taken by ear when it is heard, whatever the time",
                    "follows": null, "with": null, "dark": false,
                    "state": [house, light("15", "sides up, front low")],
                    "new": false, "changed": [],
                },
                {
                    "crew": "light", "number": "20", "go_s": 31.1, "go_latest_s": null, "standby_latest_s": null, "standby_s": 26.1, "timecode": null,
                    "crew": "light", "number": "20", "go_s": 31.1, "go_bar": 16, "go_music_beat": 1.5,
                    "track_s": 31.1, "standby_s": 26.1, "standby_bar": 13,
                    "standby_music_beat": 3.5, "timecode": null,
                    "trigger": "see", "when": "all balls in hands", "does": "blackout",
                    "count_s": 0.0, "on_drop": "taken by eye when it is seen, whatever the time",
                    "follows": null, "with": null, "dark": true,
                    "state": [house, light("20", "blackout")], "new": false, "changed": [],
                },
                {
                    "crew": "light", "number": "25", "go_s": 34.6, "go_latest_s": null, "standby_latest_s": null, "standby_s": null, "timecode": null,
                    "crew": "light", "number": "25", "go_s": 34.6, "go_bar": 17, "go_music_beat": 4.5,
                    "track_s": 34.6, "standby_s": null, "standby_bar": null,
                    "standby_music_beat": null, "timecode": null,
                    "trigger": "follow", "when": "3.5 s after LX 20 is complete",
                    "does": "sides and back", "count_s": 2.0, "on_drop": "goes with LX 20",
                    "follows":
                        {"crew": "light", "of": "20", "from": "complete", "after_s": 3.5},
                    "with": null, "dark": false,
                    "state": [house, light("25", "sides and back")], "new": false, "changed": [],
                },
            ],
            "encore": null,
            "since_issue": null,
            "cut": [],
        });
        assert_eq!(document, expected);
        let one = json(&quay, &compiled(&quay), Some(Crew::House));
        assert!(one.contains("to half") && !one.contains("blackout"), "{one}");
    }
}
