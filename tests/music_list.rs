//! The music list: every track at every point at which its operator does something.
#![allow(missing_docs, dead_code)]

mod written;

use throwbook::Opened;
use throwbook::export::{cues_json, cues_text};
use throwbook::routine::Crew;
use throwbook::sheet::cues::compose;
use written::{Written, score};

const SCORE: &str = r#"
        Juggle(name: "tide", set: "3", pattern: "3", lasts: Beats(30)),
        Pause(name: "applause", lasts: Between("0:04", "0:08")),
        Juggle(name: "ebb", pattern: "3", lasts: Beats(30)),
        Pause(name: "bow", lasts: For("0:06")),"#;

fn act(before: &str, after: &str) -> Written {
    let (before, after) = (before.to_owned(), after.to_owned());
    Written { before, after, ..score(SCORE) }
}

/// The music of the act, or of its encore, with spaces in place of columns.
fn music(opened: &Opened, encore: bool) -> Vec<String> {
    let sheet = compose(opened.act.as_ref().unwrap(), Some(Crew::Sound));
    let text = cues_text::of_sheet(&sheet, 200);
    let heading = if encore { "MUSIC OF THE ENCORE, ON ITS OWN CLOCK" } else { "MUSIC" };
    let lines = text.lines().skip_while(|line| *line != heading).skip(1);
    let block = lines.take_while(|line| !line.is_empty());
    block.map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

const TRACKS: &str = r#"    tracks: {
        "day": Track(file: "day.wav", length: "0:16", starts: Start("tide"), holds: {
            "pose": Hold(at: "0:08", lasts: Between("0:02", "0:03"), stops: Hear("bell"),
                resumes: See("arms down"), numbers: [20, 25]),
        }),
        "night": Track(length: "0:20", starts: Start("ebb")),
    },
"#;

#[test]
fn a_track_is_told_at_its_start_its_holds_every_sound_cue_and_its_end() {
    let opened = act(
        TRACKS,
        r#"cues: [
        Cue(crew: Sound, number: 10, at: TrackStart("day"), trigger: See, does: "play day"),
        Cue(crew: Sound, number: 15, at: At("0:05"), trigger: Hear("a drum"), does: "mic 2 up"),
        Cue(crew: Light, number: 5, at: At("0:06"), trigger: Called, does: "warm", count: 1),
        Cue(crew: Sound, number: 40, at: TrackStart("night"), trigger: See, does: "play night"),
        Cue(crew: Sound, number: 50, at: Shift(End("ebb"), 4), trigger: Called, does: "fade night"),
        Cue(crew: Sound, number: 60, at: Shift(End("ebb"), 5), trigger: Called, does: "mic 2 down"),
    ],"#,
    )
    .open();
    let expected = [
        "\"day\": day.wav, 0:16.0 long",
        "SHOW CLOCK TRACK WHAT",
        "0:00.0 0:00.0 start; SND 10 play day",
        "0:05.0 0:05.0 SND 15 mic 2 up",
        "0:08.0 0:08.0 hold \"pose\" for 2.0–3.0 s; SND 20",
        "0:10.0–0:11.0 0:08.0 resume \"pose\"; SND 25",
        "0:13.2–0:17.2 0:10.2–0:15.2 SND 40 play night",
        "0:18.0–0:19.0 0:16.0 end",
        "\"night\": live, 0:20.0 long",
        "0:13.2–0:17.2 0:00.0 start; SND 40 play night",
        "0:26.4–0:30.4 0:13.2 fade; SND 50 fade night",
        "0:33.2–0:37.2 0:20.0 end; 4.8 s past the end of the act; unless SND 50 has faded it",
    ];
    assert_eq!(music(&opened, false), expected);
}

#[test]
fn the_list_is_for_sound_and_for_all_crews_and_there_is_none_without_music() {
    let opened = act(TRACKS, "").open();
    let sheet = compose(opened.act.as_ref().unwrap(), None);
    for (crew, is_told) in [(None, true), (Some(Crew::Sound), true), (Some(Crew::Light), false)] {
        let sheet = crew.map_or_else(|| sheet.clone(), |crew| sheet.of_crew(crew));
        assert_eq!(cues_text::of_sheet(&sheet, 80).contains("\nMUSIC\n"), is_told, "{crew:?}");
        let document: serde_json::Value =
            serde_json::from_str(&cues_json::of_sheet(&sheet)).unwrap();
        let tracks = document["music"].as_array().unwrap();
        assert_eq!(tracks.len(), if is_told { 2 } else { 0 });
    }
    let document: serde_json::Value = serde_json::from_str(&cues_json::of_sheet(&sheet)).unwrap();
    let night = &document["music"][1];
    assert_eq!((&night["track"], night["file"].is_null()), (&"night".into(), true));
    let hold = &document["music"][0]["points"][1];
    assert_eq!((&hold["what"], &hold["hold"]), (&"hold".into(), &"pose".into()));
    assert_eq!((&hold["at_s"], &hold["track_s"]), (&8.0.into(), &8.0.into()));
    assert_eq!(hold["cues"], serde_json::json!([{"number": "20", "does": null}]));
    let on = &document["music"][0]["points"][2];
    assert_eq!((&on["at_s"], &on["at_latest_s"]), (&10.0.into(), &11.0.into()));

    let none = act("", "").open();
    let sheet = compose(none.act.as_ref().unwrap(), Some(Crew::Sound));
    assert!(!cues_text::of_sheet(&sheet, 80).contains("MUSIC"));
    assert!(cues_json::of_sheet(&sheet).contains("\"music\":[],\"music_notes\":[]"));
}

#[test]
fn an_encore_has_its_own_list_and_is_told_what_still_plays() {
    let opened = act(
        TRACKS,
        r#"encore: Encore(
        score: [Pause(name: "again", lasts: For("0:05")),
            Juggle(name: "more", set: "3", pattern: "3", lasts: Beats(20)),
            Pause(name: "last bow", lasts: For("0:05"))],
        music: Track(file: "d.wav", length: "0:10", starts: Start("more")),
        cues: [Cue(crew: Sound, number: 70, at: TrackStart, trigger: See, does: "play d")],
    ),"#,
    )
    .open();
    let expected = [
        "d.wav, 0:10.0 long",
        "SHOW CLOCK TRACK WHAT",
        "0:05.0 0:00.0 start; SND 70 play d",
        "0:15.0 0:10.0 end",
        "Track \"night\" of the act goes on 4.8 s past the end of the act and may still play here, \
         unless it is faded.",
    ];
    assert_eq!(music(&opened, true), expected);
    // Without a cue of Sound and without music of its own, it is still told.
    let silent =
        act(TRACKS, r#"encore: Encore(score: [Pause(name: "again", lasts: For("0:05"))]),"#).open();
    assert_eq!(music(&silent, true), expected[4..]);
}

#[test]
fn a_track_after_the_act_and_one_that_may_outlast_it_say_so() {
    let opened = act(
        r#"    tracks: {
        "late": Track(file: "a.wav", length: "0:02", starts: Shift(End("bow"), 2.0)),
        "long": Track(file: "b.wav", length: "0:31", starts: Start("tide")),
    },
"#,
        "",
    )
    .open();
    let lines = music(&opened, false);
    // The act ends at 0:28.4 with the shortest applause and at 0:32.4 with the longest.
    assert_eq!(
        lines[2],
        "0:30.4–0:34.4 0:00.0 start; at 2.0 s after end of \"bow\", on no cue; after the end of the act"
    );
    assert_eq!(lines[6], "0:31.0 0:31.0 end; up to 2.6 s past the end of the act");
}

#[test]
fn a_draft_leaves_out_in_words_what_an_error_hides() {
    // Nobody knows how long the ebb is, nor what follows it.
    let mut torn = act(
        r#"    music: Track(file: "a.wav", length: "0:10", starts: Start("bow")),
"#,
        r#"cues: [Cue(crew: Sound, number: 1, at: TrackStart, trigger: See, does: "play it")],"#,
    );
    torn.score = torn.score.replace(
        "pattern: \"3\", lasts: Beats(30)),\n        Pause(name: \"bow\"",
        "pattern: \"3x(\", lasts: Beats(30)),\n        Pause(name: \"bow\"",
    );
    let lines = music(&torn.open(), false);
    assert_eq!(
        lines,
        [
            "a.wav, 0:10.0 long",
            "SHOW CLOCK TRACK WHAT",
            "0:00.0 start; SND 1 play it; when is not known",
            "0:10.0 end; 4.0 s past the end of the act",
        ]
    );
    torn.before = torn.before.replace("bow", "tide");
    let lines = music(&torn.open(), false);
    assert_eq!(lines[3], "0:10.0 0:10.0 end; perhaps past the end of the act");
    // A track that could not be read is not passed over in silence.
    let lost =
        act("    music: Track(file: \"a.wav\", length: \"ten\", starts: Start(\"bow\")),\n", "");
    assert_eq!(music(&lost.open(), false), ["Music that could not be read may be missing here."]);
}
