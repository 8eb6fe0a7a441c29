//! Open acts worked by hand: what the clocks of the music read.

use serde_json::json;

use crate::act::{Act, Line, Track};
use crate::said::names::{CREW, TRIGGER};
use crate::said::{Wanted, said};
use crate::worked::{act, document, fields, hold, juggle, open, pause, track, up};

const TRACK: [&str; 4] = ["go_s", "go_latest_s", "track_s", "track_latest_s"];

/// A track from the first throw on, held at 0:10 for 3 to 8 s.
fn held(score: Vec<Line>, cues: Vec<String>) -> Act {
    let fields = "file: \"a.wav\", length: \"0:40\", starts: Start(\"a\"), marks: { \"drum\": \
                  \"0:12\" }, bars: [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)]";
    Act { tracks: vec![track(fields, vec![hold("freeze", "0:10", 3, 8)])], cues, ..act(score) }
}

/// Applause of 4 to 12 s between two sections, the second of so many beats, with a track of a minute
/// from the start of one of them on.
fn around_applause(starts: &str, beats: u32, cues: Vec<String>) -> Act {
    let fields = format!(
        "file: \"a.wav\", length: \"1:00\", starts: Start(\"{starts}\"), bars: [Bars(from: \"0:00\", \
         bpm: 120, music_beats: 4, number: 1)]"
    );
    let score = vec![
        juggle("a", "lasts: Beats(20), set: \"three\""),
        open("applause", 4, 12),
        juggle("b", &format!("lasts: Beats({beats})")),
    ];
    Act { tracks: vec![track(&fields, vec![])], cues, ..act(score) }
}

#[test]
fn the_clock_of_a_track_stands_while_the_track_is_held() {
    let act = held(
        vec![
            juggle("a", "lasts: Beats(20), set: \"three\""),
            pause("freeze", "Until(HoldEnd(\"freeze\"))"),
            juggle("b", "lasts: Beats(60)"),
        ],
        vec![up(1, "HoldEnd(\"freeze\")", 0), up(2, "Mark(\"drum\")", 0), up(3, "At(\"0:15\")", 0)],
    );
    let said = said(&act.text(), Wanted::Times);
    let cues = document(&said.cues, &said)["cues"].as_array().unwrap();
    let cue = |number: &str| {
        let is_it = |cue: &&serde_json::Value| cue["number"] == number;
        cues.iter().find(is_it).unwrap()
    };
    let ten = [json!(13.0), json!(18.0), json!(10.0), json!(null)];
    assert_eq!(fields(cue("1"), TRACK), ten);
    assert_eq!(fields(cue("2"), TRACK), [json!(15.0), json!(20.0), json!(12.0), json!(null)]);
    // At 15 s the track goes on since 2 s, or still stands.
    assert_eq!(fields(cue("3"), TRACK), [json!(15.0), json!(null), json!(10.0), json!(12.0)]);
    let names = ["timecode", "timecode_latest"];
    assert_eq!(fields(cue("1"), names), [json!("00:00:10:00"), json!(null)]);
    assert_eq!(fields(cue("2"), names), [json!("00:00:12:00"), json!(null)]);
    assert_eq!(fields(cue("3"), names), [json!("00:00:10:00"), json!("00:00:12:00")]);
    // A bar lasts 2 s.
    let names = ["go_bar", "go_music_beat", "go_bar_latest", "go_music_beat_latest"];
    assert_eq!(fields(cue("1"), names), [json!(6), json!(1.0), json!(null), json!(null)]);
    assert_eq!(fields(cue("3"), names), [json!(6), json!(1.0), json!(7), json!(1.0)]);
    let b = &document(&said.time, &said)["sections"][2];
    let names = ["starts_s", "starts_latest_s", "starts_bar", "starts_music_beat"];
    assert_eq!(fields(b, names), [json!(13.0), json!(18.0), json!(6), json!(1.0)]);
    let names = ["starts_bar_latest", "starts_music_beat_latest", "timecode", "timecode_latest"];
    assert_eq!(fields(b, names), [json!(null), json!(null), json!("00:00:10:00"), json!(null)]);
}

#[test]
fn a_certain_time_has_two_ends_on_a_track_that_starts_after_applause() {
    let at = format!(
        "Cue({CREW}: Light, number: 1, at: At(\"0:30\"), {TRIGGER}: See(\"a nod\"), does: \"up\", count: 1)"
    );
    let act = around_applause("b", 60, vec![at]);
    let said = said(&act.text(), Wanted::Times);
    let cue = &document(&said.cues, &said)["cues"][0];
    // The track starts at 10.2 to 18.2 s.
    assert_eq!(fields(cue, TRACK), [json!(30.0), json!(null), json!(11.8), json!(19.8)]);
    let names = ["timecode", "timecode_latest"];
    assert_eq!(fields(cue, names), [json!("00:00:11:20"), json!("00:00:19:20")]);
    let names = ["go_bar", "go_bar_latest"];
    assert_eq!(fields(cue, names), [json!(6), json!(10)]);
}

#[test]
fn what_comes_with_the_track_has_one_place_on_it_whenever_that_is() {
    let act = around_applause("b", 60, vec![up(1, "Start(\"b\")", 4000)]);
    let said = said(&act.text(), Wanted::Times);
    let cue = &document(&said.cues, &said)["cues"][0];
    assert_eq!(fields(cue, TRACK), [json!(14.2), json!(22.2), json!(4.0), json!(null)]);
    let names = ["timecode", "timecode_latest", "go_bar", "go_bar_latest"];
    assert_eq!(fields(cue, names), [json!("00:00:04:00"), json!(null), json!(3), json!(null)]);
}

/// Two tracks of 6 s and 20 s, the second after applause.
fn two(applause: Line, cues: Vec<String>) -> Act {
    let of = |name: &str, length: &str, start: &str| Track {
        name: name.to_owned(),
        fields: format!(
            "file: \"{name}.wav\", length: \"{length}\", starts: Start(\"{start}\"), marks: {{ \"m\": \"0:05\" }}"
        ),
        holds: Vec::new(),
    };
    Act {
        tracks: vec![of("day", "0:06.2", "a"), of("night", "0:20", "b")],
        named_tracks: true,
        cues,
        ..act(vec![
            juggle("a", "lasts: Beats(20), set: \"three\""),
            applause,
            juggle("b", "lasts: Beats(20)"),
            pause("bow", "For(\"0:20\")"),
        ])
    }
}

#[test]
fn of_several_tracks_the_clock_of_the_one_that_runs_is_read() {
    let cues = || {
        vec![
            up(1, "Mark(\"day\", \"m\")", 0),
            up(2, "Start(\"applause\")", 1000),
            up(3, "Mark(\"night\", \"m\")", 0),
            up(4, "TrackEnd(\"night\")", 5000),
        ]
    };
    let applause = [
        (pause("applause", "For(\"0:04\")"), [json!(null), json!(null), json!(null), json!(null)]),
        (open("applause", 4, 12), [json!(null), json!(null), json!(23.2), json!(43.2)]),
    ];
    for (applause, latest) in applause {
        let act = two(applause, cues());
        let said = said(&act.text(), Wanted::Times);
        let cues = document(&said.cues, &said)["cues"].as_array().unwrap();
        let of = |name: &str| cues.iter().map(|cue| cue[name].clone()).collect::<Vec<_>>();
        assert_eq!(of("go_s"), [json!(5.0), json!(7.2), json!(15.2), json!(35.2)]);
        assert_eq!(of("go_latest_s"), latest);
        // Between the two and behind the last no track runs.
        assert_eq!(of("track_s"), [json!(5.0), json!(null), json!(5.0), json!(null)]);
        assert_eq!(of("track_latest_s"), vec![json!(null); 4]);
    }
}

#[test]
fn a_track_that_may_be_over_has_no_certain_place() {
    // The track of 15 s runs from the first throw on; behind the applause it may be over.
    let fields_of = "file: \"a.wav\", length: \"0:15\", starts: Start(\"a\")";
    let act = Act {
        tracks: vec![track(fields_of, vec![])],
        cues: vec![up(1, "End(\"applause\")", 0)],
        ..act(vec![
            juggle("a", "lasts: Beats(20), set: \"three\""),
            open("applause", 4, 12),
            pause("bow", "For(\"0:05\")"),
        ])
    };
    let said = said(&act.text(), Wanted::Times);
    let cue = &document(&said.cues, &said)["cues"][0];
    assert_eq!(fields(cue, ["go_s", "go_latest_s"]), [json!(10.2), json!(18.2)]);
    assert!(cue["track_s"].is_null() || !cue["track_latest_s"].is_null(), "{cue}");
}

#[test]
fn a_stand_by_far_ahead_comes_in_a_range_as_its_go_does() {
    let fly = format!(
        "Cue({CREW}: Fly, number: 1, at: Start(\"b\"), {TRIGGER}: See(\"a nod\"), does: \"in\", standby: 4.2)"
    );
    let act = around_applause("a", 20, vec![fly]);
    let said = said(&act.text(), Wanted::Times);
    let cue = &document(&said.cues, &said)["cues"][0];
    let names = ["standby_s", "standby_latest_s", "standby_bar", "standby_bar_latest"];
    assert_eq!(fields(cue, names), [json!(6.0), json!(14.0), json!(4), json!(8)]);
}
