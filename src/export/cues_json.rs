//! The cue sheet as JSON: a contract, read by other programs.
//!
//! Field names, their order and their meaning are fixed. Times are seconds on the show clock, the
//! nearest double to the exact time; cues stand in order of GO.

use serde::Serialize;

use crate::act::Act;
use crate::issue::Told;
use crate::routine::{Crew, CueOnPaper, FollowFrom};
use crate::sheet::cue_line::CueLine;
use crate::sheet::cues::{CuePart, CueSheet, compose};
use crate::sheet::flames::FlamesLine;
use crate::sheet::music_list::{MusicList, PointCue, TrackLine, TrackPoint};
use crate::sheet::on::{On, Sure, TrackOn};
use crate::sheet::section_row::SectionRow;
use crate::sheet::state::{State, states};
use crate::sheet::words::plain;
use crate::time::{Seconds, on_paper};

use super::json::written;
use super::stamped_json::{Ranged, Stamped, timecode};

#[derive(Serialize)]
struct Document<'a> {
    title: &'a str,
    draft: usize,
    unissued_changes: Option<bool>,
    zero: &'a str,
    cues: Vec<Cue<'a>>,
    sections: Vec<Section<'a>>,
    flames: Vec<Flames<'a>>,
    music: Vec<Music<'a>>,
    music_notes: &'a [String],
    encore: Option<Encore<'a>>,
    since_issue: Option<u32>,
    cut: Vec<Cut>,
}

#[derive(Serialize)]
struct Cue<'a> {
    crew: &'static str,
    number: Option<&'a str>,
    #[serde(flatten)]
    go: Stamped<'a>,
    track: Option<&'a str>,
    #[serde(flatten)]
    on_track: Ranged,
    #[serde(flatten)]
    standby: Stamped<'a>,
    timecode: Option<String>,
    timecode_latest: Option<String>,
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
    on: Option<OnNow<'a>>,
}

#[derive(Serialize)]
struct OnNow<'a> {
    looks: &'a [String],
    no_look_yet: &'static str,
    dark: &'static str,
    spot: Option<&'static str>,
    strobe: &'static str,
    tracks: Vec<TrackNow<'a>>,
    flames: Vec<FlamesNow<'a>>,
    words: Vec<String>,
}

#[derive(Serialize)]
struct TrackNow<'a> {
    track: Option<&'a str>,
    stands: Vec<&'static str>,
}

#[derive(Serialize)]
struct FlamesNow<'a> {
    set: &'a str,
    alight: &'static str,
}

#[derive(Serialize)]
struct Section<'a> {
    name: &'a str,
    #[serde(flatten)]
    starts: Stamped<'a>,
    props: Option<u32>,
    kind: Option<&'a str>,
    pattern: Option<&'a str>,
    looks: Option<&'a str>,
    place: Option<&'a str>,
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
    sections: Vec<Section<'a>>,
    flames: Vec<Flames<'a>>,
    music: Vec<Music<'a>>,
    music_notes: &'a [String],
}

#[derive(Serialize)]
struct Flames<'a> {
    set: &'a str,
    what: &'static str,
    #[serde(flatten)]
    at: Ranged,
    place: &'a str,
}

#[derive(Serialize)]
struct Music<'a> {
    track: Option<&'a str>,
    file: Option<&'a str>,
    length_s: f64,
    points: Vec<Point<'a>>,
}

#[derive(Serialize)]
struct Point<'a> {
    what: &'static str,
    #[serde(flatten)]
    at: Ranged,
    #[serde(flatten)]
    on_track: Ranged,
    hold: Option<&'a str>,
    cues: Vec<CueOfPoint<'a>>,
    notes: &'a [String],
}

#[derive(Serialize)]
struct CueOfPoint<'a> {
    number: Option<&'a str>,
    does: Option<&'a str>,
}

#[derive(Serialize)]
struct Cut {
    crew: &'static str,
    number: Option<String>,
    encore: bool,
    #[serde(flatten)]
    go: Ranged,
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
pub fn json(act: &Act, crew: Option<Crew>) -> String {
    of_sheet(&compose(act, crew))
}

/// A composed cue sheet as JSON.
#[must_use]
pub fn of_sheet(sheet: &CueSheet) -> String {
    let states = states(sheet);
    let act_lines = sheet.act.lines.len();
    written(&Document {
        title: &sheet.heading.title,
        draft: sheet.heading.errors,
        unissued_changes: sheet.heading.unissued,
        zero: &sheet.act.zero,
        cues: cues(states.iter().take(act_lines)),
        sections: sections(&sheet.act),
        flames: sheet.act.flames.iter().map(flames).collect(),
        music: music(&sheet.act.music),
        music_notes: &sheet.act.music.notes,
        encore: sheet.encore.as_ref().map(|encore| Encore {
            zero: &encore.zero,
            cues: cues(states.iter().skip(act_lines)),
            sections: sections(encore),
            flames: encore.flames.iter().map(flames).collect(),
            music: music(&encore.music),
            music_notes: &encore.music.notes,
        }),
        since_issue: sheet.since,
        cut: sheet.cut.iter().map(cut).collect(),
    })
}

fn cues<'a>(states: impl Iterator<Item = &'a State<'a>>) -> Vec<Cue<'a>> {
    states.map(|state| cue(state.after, &state.crews)).collect()
}

fn sections(part: &CuePart) -> Vec<Section<'_>> {
    let section = |section| {
        let SectionRow { name, starts, juggled, looks, place, .. }: &SectionRow = section;
        let juggled = juggled.as_ref();
        Section {
            name,
            starts: Stamped("starts", Some(starts)),
            props: juggled.map(|juggled| juggled.props),
            kind: juggled.and_then(|juggled| juggled.kind.as_deref()),
            pattern: juggled.map(|juggled| juggled.pattern.as_str()),
            looks: looks.as_deref(),
            place: place.as_deref(),
        }
    };
    part.sections.iter().map(section).collect()
}

fn on(on: &On) -> OnNow<'_> {
    let track = |track| {
        let TrackOn { name, stands }: &TrackOn = track;
        let stands = stands.iter().map(|stands| stands.words()).collect();
        TrackNow { track: name.as_deref(), stands }
    };
    let alight = on.flames.iter().map(|(set, alight)| FlamesNow { set, alight: alight.word() });
    OnNow {
        looks: &on.looks,
        no_look_yet: on.no_look_yet.word(),
        dark: on.dark.word(),
        spot: on.spot.map(Sure::word),
        strobe: on.strobe.word(),
        tracks: on.tracks.iter().map(track).collect(),
        flames: alight.collect(),
        words: on.words(),
    }
}

fn flames(line: &FlamesLine) -> Flames<'_> {
    let at = Ranged("at", Some(line.at.range()));
    Flames { set: &line.set, what: line.what.word(), at, place: &line.place }
}

fn music(list: &MusicList) -> Vec<Music<'_>> {
    let cue = |cue| {
        let PointCue { number, does, .. }: &PointCue = cue;
        CueOfPoint { number: number.as_deref(), does: does.as_deref() }
    };
    let point = |point| {
        let TrackPoint { what, at, on_track, cues, notes }: &TrackPoint = point;
        Point {
            what: what.word(),
            at: Ranged("at", Some(at.clone())),
            on_track: Ranged("track", Some(on_track.clone())),
            hold: what.hold(),
            cues: cues.iter().map(cue).collect(),
            notes,
        }
    };
    let track = |track| {
        let TrackLine { name, file, length, points }: &TrackLine = track;
        Music {
            track: name.as_deref(),
            file: file.as_deref(),
            length_s: length.to_f64(),
            points: points.iter().map(point).collect(),
        }
    };
    list.tracks.iter().map(track).collect()
}

/// A cue of the issue before that is gone.
fn cut(cue: &CueOnPaper) -> Cut {
    Cut {
        crew: cue.crew.word(),
        number: cue.number.map(|number| number.to_string()),
        encore: cue.encore,
        go: Ranged("go", Some(on_paper(&cue.go))),
        does: plain(&cue.does),
    }
}

fn cue<'a>(line: &'a CueLine, state: &[&'a CueLine]) -> Cue<'a> {
    let track = line.go.track.as_ref();
    let (timecode, timecode_latest) = timecode(&line.go);
    Cue {
        crew: line.crew.word(),
        number: line.number.as_deref(),
        go: Stamped("go", Some(&line.go)),
        track: track.and_then(|track| track.name.as_deref()),
        on_track: Ranged("track", track.map(|track| track.at.clone())),
        standby: Stamped("standby", line.standby.as_ref()),
        timecode,
        timecode_latest,
        trigger: line.trigger.word(),
        when: line.when.plain(),
        does: line.does.plain(),
        count_s: line.count.as_ref().map(Seconds::to_f64),
        on_drop: line.on_drop.plain(),
        follows: line.follows.as_ref().map(|follows| Follows {
            crew: follows.crew.word(),
            of: &follows.of,
            from: match follows.from {
                FollowFrom::Go => "go",
                FollowFrom::Complete => "complete",
            },
            after_s: follows.after.to_f64(),
        }),
        with: line.with.as_ref().map(|with| With { crew: with.crew.word(), of: &with.of }),
        dark: line.dark,
        state: state
            .iter()
            .map(|line| InState {
                crew: line.crew.word(),
                number: line.number.as_deref(),
                does: line.does.plain(),
            })
            .collect(),
        new: line.told == Told::New,
        changed: match &line.told {
            Told::Changed(what) => what,
            Told::Same | Told::New => &[],
        },
        on: line.on.as_ref().map(on),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};

    #[test]
    fn the_cues_of_the_worked_example_stand_in_order_of_go() {
        let quay = lantern_quay();
        let text = json(&compiled(&quay), None);
        let document: serde_json::Value = serde_json::from_str(&text).unwrap();
        let house = serde_json::json!({"crew": "house", "number": null, "does": "to half"});
        let light = |number: &str, does: &str| serde_json::json!({"crew": "light", "number": number, "does": does});
        let mut expected = serde_json::json!({
            "title": "Lantern Quay",
            "draft": 0,
            "unissued_changes": false,
            "sections": null,
            "zero": "track start",
            "cues": [
                {
                    "crew": "house", "number": null, "go_s": -20.0, "go_bar": null, "go_music_beat": null,
                    "track_s": null, "standby_s": -25.0, "standby_bar": null,
                    "standby_music_beat": null, "timecode": null,
                    "trigger": "called", "when": "20.0 s before track start", "does": "to half",
                    "count_s": 5.0, "on_drop": "waits for the call, ignores the time",
                    "follows": null, "with": null, "dark": false,
                    "state": [house], "new": false, "changed": [],
                },
                {
                    "crew": "light", "number": "15", "go_s": 7.5, "go_bar": 4, "go_music_beat": 2.3,
                    "track_s": 7.5, "standby_s": 2.5, "standby_bar": 1, "standby_music_beat": 4.3,
                    "timecode": null,
                    "trigger": "hear", "when": "first drum", "does": "sides up, front low",
                    "count_s": 1.0, "on_drop": "taken by ear when it is heard, not by the clock",
                    "follows": null, "with": null, "dark": false,
                    "state": [house, light("15", "sides up, front low")],
                    "new": false, "changed": [],
                },
                {
                    "crew": "light", "number": "20", "go_s": 31.1, "go_bar": 16, "go_music_beat": 1.5,
                    "track_s": 31.1, "standby_s": 26.1, "standby_bar": 13,
                    "standby_music_beat": 3.5, "timecode": null,
                    "trigger": "see", "when": "all balls in hands", "does": "blackout",
                    "count_s": 0.0, "on_drop": "waits until no prop is in the air; then taken by eye when it is seen, not by the clock",
                    "follows": null, "with": null, "dark": true,
                    "state": [house, light("20", "blackout")], "new": false, "changed": [],
                },
                {
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
            "flames": [],
            "music": null,
            "music_notes": [],
            "encore": null,
            "since_issue": null,
            "cut": [],
            "draft": 0,
        });
        // Every time of it is certain, and its only track has no name.
        let nulls = [
            "go_latest_s",
            "go_bar_latest",
            "go_music_beat_latest",
            "track",
            "track_latest_s",
            "standby_latest_s",
            "standby_bar_latest",
            "standby_music_beat_latest",
            "timecode_latest",
        ];
        for cue in expected["cues"].as_array_mut().unwrap() {
            nulls.iter().for_each(|&null| cue[null] = serde_json::Value::Null);
        }
        // After its blackout, while the track plays on.
        let mut document = document;
        let on: Vec<_> = document["cues"]
            .as_array_mut()
            .unwrap()
            .iter_mut()
            .map(|cue| cue["on"].take())
            .collect();
        let dark = serde_json::json!({
            "looks": ["blackout"], "no_look_yet": "no", "dark": "yes", "spot": null, "strobe": "no", "flames": [],
            "tracks": [{"track": null, "stands": ["playing"]}],
            "words": ["look: blackout", "DARK", "track playing"],
        });
        assert_eq!(on[2], dark);
        let sections = document["sections"].take();
        let beam = serde_json::json!({
            "name": "beam", "starts_s": 15.3, "starts_latest_s": null, "starts_bar": 8,
            "starts_music_beat": 1.9, "starts_bar_latest": null, "starts_music_beat_latest": null,
            "props": 3, "kind": "balls", "pattern": "531", "looks": "throws go higher",
            "place": null,
        });
        assert_eq!(sections[3], beam);
        let music = document["music"].take();
        assert_eq!(
            (&music[0]["file"], &music[0]["length_s"]),
            (&"lantern.wav".into(), &65.0.into())
        );
        let point = |what: &str, at: f64| {
            serde_json::json!({
                "what": what, "at_s": at, "at_latest_s": null, "track_s": at, "track_latest_s": null,
                "hold": null, "cues": [], "notes": [],
            })
        };
        let mut start = point("start", 0.0);
        start["notes"] = serde_json::json!(["at start of \"stillness\", on no cue"]);
        let mut end = point("end", 65.0);
        end["notes"] = serde_json::json!(["9.7 s past the end of the act"]);
        assert_eq!(music[0]["points"], serde_json::json!([start, end]));
        for cue in expected["cues"].as_array_mut().unwrap() {
            cue["on"] = serde_json::Value::Null;
        }
        assert_eq!(document, expected);
        let one = json(&compiled(&quay), Some(Crew::House));
        assert!(one.contains("to half") && !one.contains("blackout"), "{one}");
    }
}
