//! The commands as their user meets them.

use std::fs;

use super::LANTERN;
use super::folder::Folder;

/// A folder with the worked example in it, and its music as long as it says.
fn folder(name: &str) -> Folder {
    let folder = Folder::new(&format!("rehearsal-{name}"));
    folder.write("act.ron", LANTERN);
    folder
}

#[test]
fn each_file_says_where_it_begins_and_what_it_leaves_out() {
    let folder = folder("files");
    let (status, stdout, stderr) = folder.run(&["click", "act.ron", "-o", "click.wav"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    let lines: Vec<&str> = stdout.lines().collect();
    assert_eq!(lines[0], "wrote click.wav  (131 clicks in 0:55.3; 0:00.0 is track start)");
    assert_eq!(lines[1], "Start at a low volume: clicks reach 6 dB below full scale.");
    let left_out =
        "left out, before track start:\n  -0:20.0  HOUSE: to half\n   -0:06.0  walk on\n";
    let left_out = left_out.replace("  -0:20", "   -0:20");
    let (status, stdout, stderr) = folder.run(&["captions", "act.ron", "-o", "act.VTT"]);
    assert_eq!((status, stderr.as_str()), (0, left_out.as_str()));
    assert_eq!(stdout, "wrote act.VTT  (12 captions; 0:00.0 is track start)\n");
    let (status, stdout, stderr) = folder.run(&["midi", "act.ron", "-o", "act.mid"]);
    assert_eq!((status, stderr.as_str()), (0, left_out.as_str()));
    assert_eq!(stdout, "wrote act.mid  (markers 8, cue points 4; 0:00.0 is track start)\n");
    let arguments = ["midi", "act.ron", "-o", "go.mid", "--show-control", "--device-id", "1"];
    let (status, stdout, stderr) = folder.run(&arguments);
    assert_eq!(status, 0);
    assert!(stdout.contains("GO messages 4"), "{stdout}");
    assert!(stderr.contains("CAUTION") && stderr.lines().all(|line| line.len() <= 80), "{stderr}");
    let bytes = fs::read(folder.0.join("go.mid")).unwrap();
    assert!(bytes.windows(9).any(|part| part == b"\xf0\x08\x7f\x01\x02\x01\x0120"));
    // The same input gives the same bytes.
    let before = fs::read(folder.0.join("click.wav")).unwrap();
    folder.run(&["click", "act.ron", "-o", "click.wav"]);
    assert_eq!(fs::read(folder.0.join("click.wav")).unwrap(), before);
}

#[test]
fn a_file_begins_at_the_moment_that_is_asked_for() {
    let folder = folder("from");
    let from = ["--from", "Start(\"fleet\")"];
    let call = |rest: &[&str]| folder.run(&[rest, &from[..]].concat());
    let (status, stdout, stderr) = call(&["click", "act.ron", "-o", "a.wav"]);
    assert_eq!(status, 0);
    assert!(
        stdout.contains("50 clicks") && stdout.contains("0:00.0 is start of \"fleet\""),
        "{stdout}"
    );
    assert!(stderr.contains("tide, 26 clicks of throws"), "{stderr}");
    assert!(stderr.contains("no count-in: start of \"fleet\" leaves no room"), "{stderr}");
    let (_, stdout, stderr) = call(&["click", "act.ron", "-o", "b.wav", "--count-in", "4"]);
    assert!(stdout.contains("start of \"fleet\" comes 1.000 s into it"), "{stdout}");
    assert!(!stderr.contains("no count-in"), "{stderr}");
    let size = |name| fs::metadata(folder.0.join(name)).unwrap().len();
    assert_eq!(size("b.wav") - size("a.wav"), 96_000);
    let (_, _, stderr) = call(&["captions", "act.ron", "-o", "a.srt"]);
    assert!(stderr.contains("ebb") && !stderr.contains("fleet\n"), "{stderr}");
    let captions = fs::read_to_string(folder.0.join("a.srt")).unwrap();
    assert!(captions.starts_with("1\n00:00:00,000 --> 00:00:13,167\nfleet\n"), "{captions}");
}

#[test]
fn what_cannot_be_done_is_status_2_with_a_way_out_and_writes_nothing() {
    let folder = folder("refused");
    fs::write(
        folder.0.join("bare.ron"),
        LANTERN
            .replace("bars: [Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1)],", ""),
    )
    .unwrap();
    for (arguments, said) in [
        (&["click", "act.ron", "-o", "x.wav", "--from", "Start(\"tied\")"][..], "Write \"tide\""),
        (&["click", "act.ron", "-o", "x.wav", "--from", "tide"], "is no moment"),
        (&["click", "act.ron", "-o", "x.wav", "--from", "Start(\"tide\""], "--from:1:"),
        (&["click", "act.ron", "-o", "x.wav", "--from", "LastCatch(\"tide\")"], "never comes"),
        (&["click", "act.ron", "-o", "x.wav", "--from", ""], "no moment"),
        (
            &["click", "act.ron", "-o", "x.wav", "--from", "TrackEnd"],
            "nothing is clicked after track end",
        ),
        (
            &["captions", "act.ron", "-o", "x.srt", "--from", "TrackEnd"],
            "no section and no cue of the act comes",
        ),
        (
            &["midi", "act.ron", "-o", "x.mid", "--from", "TrackEnd"],
            "no section and no cue of the act comes",
        ),
        (&["click", "act.ron", "-o", "x.wav", "--from", "At(\"-300:00\")"], "two hours"),
        (&["midi", "act.ron", "-o", "x.mid", "--from", "At(\"-300:00\")"], "two hours"),
        (&["click", "act.ron", "-o", "x.wav", "--through-pauses"], "--per music-beat"),
        (&["click", "bare.ron", "-o", "x.wav", "--per", "music-beat"], "--per throw"),
        (&["click", "act.ron", "-o", "act.ron"], "is a routine file"),
        (&["midi", "act.ron", "-o", "act.ron"], "is a routine file"),
        (&["captions", "act.ron", "-o", "act.ron"], "act.vtt"),
        (&["midi", "act.ron", "-o", "x.mid", "--device-id", "1"], "--show-control"),
        (&["midi", "act.ron", "-o", "x.mid", "--show-control", "--device-id", "128"], "128"),
        (&["click", "act.ron", "-o", "x.wav", "--count-in", "65"], "65"),
        (&["click", "act.ron", "-o", "no/x.wav"], "no/x.wav"),
        (&["click", "missing.ron", "-o", "x.wav"], "missing.ron"),
    ] {
        let (status, stdout, stderr) = folder.run(arguments);
        assert_eq!((status, stdout.as_str()), (2, ""), "{arguments:?}: {stderr}");
        assert!(stderr.contains(said), "{arguments:?}: {stderr}");
    }
    let mut names: Vec<_> =
        fs::read_dir(&folder.0).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(names, ["act.ron", "bare.ron", "lantern.wav"]);
    assert_eq!(fs::read_to_string(folder.0.join("act.ron")).unwrap(), LANTERN);
    fs::write(folder.0.join("wrong.ron"), LANTERN.replace("lead: Right", "lead: Rigth")).unwrap();
    let (status, _, stderr) = folder.run(&["click", "wrong.ron", "-o", "x.wav"]);
    assert_eq!(status, 1, "{stderr}");
}

#[test]
fn build_writes_all_that_an_act_is_rehearsed_by() {
    let folder = folder("build");
    let (status, stdout, stderr) = folder.run(&["build", "act.ron", "--out", "out"]);
    assert_eq!(status, 0);
    for (name, start) in [
        ("act-click.wav", &b"RIFF"[..]),
        ("act-act.mid", b"MThd"),
        ("act-captions.vtt", b"WEBVTT\n"),
        ("act-captions.srt", b"1\n00:00:00,000"),
    ] {
        let bytes = fs::read(folder.0.join("out").join(name)).unwrap();
        assert!(bytes.starts_with(start), "{name}");
        assert!(stdout.contains(name), "{stdout}");
    }
    assert!(stderr.starts_with("left out of the files to rehearse by, before track start:\n"));
}
