//! The program beside music files, as its user meets it.

use std::fs;

use crate::folder::Folder;
use crate::synthesis::clicks;

pub(crate) fn act(file: &str, length: &str) -> String {
    format!(
        "Routine(\n    title: \"Quay\", tempo: PerMinute(200),\n    colours: {{ \"tar\": \"#33415c\" \
         }},\n    sets: {{ \"one\": Set(kind: Ball, length: 0.07, colours: [\"tar\", \"tar\", \
         \"tar\"]) }},\n    music: Track(file: \"{file}\", length: \"{length}\", starts: \
         Start(\"tide\")),\n    score: [Juggle(name: \"tide\", set: \"one\", pattern: \"3\", lasts: \
         Beats(30))],\n)\n"
    )
}

#[test]
fn a_track_is_measured_from_the_folder_of_its_routine() {
    let folder = Folder::new("sound-length");
    folder
        .write("acts/music/quay.wav", clicks(12.35, 120.0, 0.5).wav())
        .write("acts/right.ron", act("music/quay.wav", "0:12.3"))
        .write("acts/wrong.ron", act("music/quay.wav", "0:12"));
    let (status, stdout, stderr) = folder.run(&["check", "--strict", "acts/right.ron"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert!(stdout.starts_with("acts/right.ron: no errors, no warnings\nlasts "), "{stdout}");

    let (status, stdout, _) = folder.run(&["check", "acts/wrong.ron", "--format", "json"]);
    let report: serde_json::Value = serde_json::from_str(&stdout).unwrap();
    let fault = &report["diagnostics"][0];
    assert_eq!((status, &fault["code"], &fault["line"]), (1, &"track-length".into(), &5.into()));
    assert_eq!(fault["helps"][0]["edits"][0]["insert"], "\"0:12.35\"");
    assert_eq!(
        fault["message"],
        "The music file is 0:12.4 long, 0.4 s longer than the routine says."
    );
    for command in [&["time", "acts/wrong.ron"][..], &["cues", "acts/wrong.ron"]] {
        let (status, stdout, stderr) = folder.run(command);
        assert_eq!(status, 1);
        assert!(stdout.starts_with("DRAFT: 1 error"), "{stdout}");
        assert!(stdout.contains("\nQuay · "), "{stdout}");
        assert!(stderr.contains("throwbook explain track-length"), "{stderr}");
    }
}

#[test]
fn the_music_of_an_encore_is_measured_too() {
    let folder = Folder::new("sound-encore");
    let with = |file: &str, length: &str| {
        let encore = format!(
            "encore: Encore(score: [Pause(name: \"back\", lasts: For(\"0:20\"))], music: \
             Track(file: \"{file}\", length: \"{length}\", starts: EncoreStart)),\n    score:"
        );
        act("music/quay.wav", "0:12.3").replace("score:", &encore)
    };
    folder
        .write("acts/music/quay.wav", clicks(12.35, 120.0, 0.5).wav())
        .write("acts/right.ron", with("music/quay.wav", "0:12.3"))
        .write("acts/wrong.ron", with("music/quay.wav", "0:10"))
        .write("acts/gone.ron", with("music/gone.wav", "0:12.3"));
    let (status, stdout, _) = folder.run(&["check", "--strict", "acts/right.ron"]);
    assert_eq!(status, 0);
    assert!(stdout.starts_with("acts/right.ron: no errors, no warnings\nlasts "), "{stdout}");
    let (status, _, stderr) = folder.run(&["check", "acts/wrong.ron"]);
    assert_eq!(status, 1);
    assert!(
        stderr.contains("throwbook explain track-length") && stderr.contains("2.4 s longer"),
        "{stderr}"
    );
    let (status, _, stderr) = folder.run(&["check", "acts/gone.ron"]);
    assert_eq!(status, 0);
    assert!(stderr.contains("throwbook explain track-missing"), "{stderr}");
    let (status, stdout, _) = folder.run(&["build", "acts/right.ron", "--out", "out"]);
    assert_eq!(status, 0, "{stdout}");
    let strip = fs::read_to_string(folder.0.join("out/right-strip.svg")).unwrap();
    let (of_act, of_encore) = strip.split_once("translate(0 ").unwrap();
    // Both have their loudness below the rows.
    assert!(
        of_act.contains("loudness of the music") && of_encore.contains("loudness of"),
        "{of_encore}"
    );
}

#[test]
fn a_track_that_is_not_there_is_a_warning_and_everything_is_still_made() {
    let folder = Folder::new("sound-missing");
    folder.write("acts/act.ron", act("quay.wav", "0:12"));
    let (status, stdout, stderr) = folder.run(&["check", "acts/act.ron"]);
    let said = "acts/act.ron: 1 warning\nlasts 0:09.2; no limit; nothing left open\n";
    assert_eq!((status, stdout.as_str()), (0, said));
    assert!(stderr.contains("throwbook explain track-missing"), "{stderr}");
    assert_eq!(folder.run(&["check", "--strict", "acts/act.ron"]).0, 1);
    let (status, _, _) = folder.run(&["strip", "acts/act.ron", "-o", "strip.svg"]);
    assert_eq!(status, 0);
    let drawn = fs::read_to_string(folder.0.join("strip.svg")).unwrap();
    assert!(!drawn.contains("loudness"));
}

#[test]
fn a_track_that_is_cut_off_or_no_sound_is_an_error_at_its_name_beside_all_others() {
    let folder = Folder::new("sound-cut");
    let whole = clicks(12.0, 120.0, 0.5).wav();
    folder
        .write("acts/cut.wav", &whole[..whole.len() / 2])
        .write("acts/no.wav", "Dear technician, the music follows on Monday.")
        .write("acts/empty.wav", "")
        .write("acts/music/quay.wav", &whole);
    for (file, why) in [
        ("cut.wav", "is cut off: it holds 0:06.0 of 0:12.0"),
        ("no.wav", "is not a kind of sound file"),
        ("empty.wav", "is empty"),
        ("music", "not a plain file"),
    ] {
        let text = act(file, "0:12").replace("pattern: \"3\"", "pattern: \"543\"");
        folder.write("acts/act.ron", text);
        let (status, _, stderr) = folder.run(&["check", "acts/act.ron"]);
        let told = stderr.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(status, 1);
        assert!(
            told.contains("throwbook explain track-unreadable") && told.contains(why),
            "{stderr}"
        );
        assert!(told.contains("throwbook explain landing-clash"), "{file}: {stderr}");
        assert!(told.contains("acts/act.ron:5:24"), "{file}: {stderr}");
    }
}

#[test]
fn a_strip_has_the_loudness_of_a_track_that_was_heard() {
    let folder = Folder::new("sound-strip");
    folder
        .write("acts/quay.wav", clicks(12.0, 120.0, 0.5).wav())
        .write("acts/act.ron", act("quay.wav", "0:12"));
    assert_eq!(folder.run(&["strip", "acts/act.ron", "-o", "strip.svg"]).0, 0);
    let drawn = fs::read_to_string(folder.0.join("strip.svg")).unwrap();
    assert!(drawn.contains("loudness of the music from 0:00 to 0:09"), "{drawn:.400}");
}

#[test]
fn listening_says_what_it_hears_or_why_it_cannot() {
    let folder = Folder::new("sound-listen");
    folder.write("quay.wav", clicks(12.0, 96.0, 0.75).wav()).write("no.wav", "no music");
    let (status, stdout, stderr) = folder.run(&["listen", "quay.wav", "--format", "json"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    let heard: serde_json::Value = serde_json::from_str(&stdout).unwrap();
    let number = |field: &str| heard[field].as_f64().unwrap();
    assert_eq!((number("length_s"), number("silence_s")), (12.0, 0.75));
    assert!((number("bpm") / 96.0 - 1.0).abs() < 0.0005 && number("confidence") > 0.9);
    assert!((number("first_beat_s") - 0.75).abs() < 0.002);
    assert_eq!(heard["alternatives"][0]["relation"], "half");
    let (status, stdout, _) = folder.run(&["listen", "quay.wav"]);
    assert_eq!(status, 0);
    assert!(stdout.contains("PROPOSAL") && stdout.contains("bpm: 96"), "{stdout}");
    fs::create_dir(folder.0.join("acts")).unwrap();
    for (file, why) in [
        ("no.wav", "not a kind of sound file"),
        ("none.wav", "none.wav"),
        ("acts", "not a plain file"),
    ] {
        let (status, stdout, stderr) = folder.run(&["listen", file]);
        assert_eq!((status, stdout.as_str()), (2, ""), "{file}");
        assert!(stderr.contains(why), "{stderr}");
    }
}
