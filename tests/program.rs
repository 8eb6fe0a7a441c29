//! The program as its user meets it: exit status, what goes to which stream, and files.

use std::fs;
use std::path::Path;
use std::process::Stdio;

#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;

use folder::Folder;

const LANTERN: &str = include_str!("routines/lantern.ron");

#[test]
fn a_new_routine_is_clean_and_never_overwrites() {
    let folder = Folder::new("new");
    let (status, stdout, stderr) = folder.run(&["new", "act.ron"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert!(stdout.contains("act.ron"));
    let (status, stdout, stderr) = folder.run(&["check", "--strict", "act.ron"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert!(stdout.starts_with("act.ron: no errors, no warnings\nlasts "), "{stdout}");

    folder.write("act.ron", "mine");
    let (status, stdout, stderr) = folder.run(&["new", "act.ron"]);
    assert_eq!((status, stdout.as_str()), (2, ""));
    assert!(stderr.contains("act.ron is there already"), "{stderr}");
    assert_eq!(fs::read_to_string(folder.0.join("act.ron")).unwrap(), "mine");

    let (status, _, stderr) = folder.run(&["new", "no/such/folder.ron"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("no/such/folder.ron"), "{stderr}");
    assert_eq!(folder.names(), ["act.ron"]);
}

#[test]
fn errors_go_to_standard_error_with_status_1() {
    let folder = Folder::new("errors");
    folder.write("act.ron", LANTERN.replace("lead: Right", "lead: Rigth"));
    let (status, stdout, stderr) = folder.run(&["check", "act.ron"]);
    assert_eq!((status, stdout.as_str()), (1, "act.ron: 1 error\n"));
    assert!(stderr.contains("throwbook explain unknown-word"), "{stderr}");
    assert!(stderr.contains("act.ron:4:11"), "{stderr}");
    assert!(stderr.ends_with("1 error\n"), "{stderr}");
    let (status, stdout, _) = folder.run(&["build", "act.ron", "--out", "out"]);
    assert_eq!((status, stdout.as_str()), (1, ""));
    assert_eq!(folder.names(), ["act.ron"], "a routine with errors makes no document");
}

#[test]
fn a_warning_is_fine_unless_check_is_strict() {
    let folder = Folder::new("strict");
    // The act is 0:50.3 long, within its margin of the limit.
    folder.write("act.ron", LANTERN.replace("at_most: \"1:00\"", "at_most: \"0:51\""));
    let (status, stdout, stderr) = folder.run(&["check", "act.ron"]);
    assert_eq!(status, 0, "{stderr}");
    let in_short =
        "lasts 1:01.3; closest limit: tin cup, short class, INSIDE by 0.7 s; nothing left\nopen\n";
    assert_eq!(stdout, format!("act.ron: 1 warning\n{in_short}"));
    assert!(stderr.contains("Warning: "), "{stderr}");
    let (status, _, _) = folder.run(&["check", "--strict", "act.ron"]);
    assert_eq!(status, 1);
    let (status, stdout, stderr) = folder.run(&["time", "act.ron"]);
    assert_eq!(status, 0);
    assert!(stdout.contains("Lantern Quay") && stderr.contains("Warning: "));
}

#[test]
fn json_reports_sum_over_files_and_say_nothing_on_standard_error() {
    let folder = Folder::new("json");
    folder
        .write("acts/b.ron", LANTERN.replace("issue: 3", "isue: 3"))
        .write("acts/a/two.ron", LANTERN.replace("\"531\"", "\"5B1\""))
        .write("acts/fine.ron", LANTERN)
        .write("acts/notes.txt", "no routine")
        .write("acts/.hidden/c.ron", "broken");
    let (status, stdout, stderr) = folder.run(&["check", "acts", "--format", "json"]);
    assert_eq!((status, stderr.as_str()), (1, ""));
    let report: serde_json::Value = serde_json::from_str(&stdout).unwrap();
    assert_eq!((report["errors"].as_u64(), report["warnings"].as_u64()), (Some(2), Some(0)));
    let places: Vec<String> = report["diagnostics"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| format!("{}:{}:{}", one["file"].as_str().unwrap(), one["line"], one["column"]))
        .collect();
    assert_eq!(places, ["acts/a/two.ron:24:41", "acts/b.ron:3:5"]);
    let (status, _, _) = folder.run(&["check", "acts/fine.ron", "--format", "json"]);
    assert_eq!(status, 0);
}

#[test]
fn what_cannot_be_read_is_status_2_and_keeps_nothing_else_from_being_checked() {
    let folder = Folder::new("unreadable");
    folder.write("act.ron", LANTERN).write("empty/notes.txt", "");
    let (status, stdout, stderr) = folder.run(&["check", "missing.ron", "act.ron"]);
    assert_eq!(status, 2);
    assert!(stdout.starts_with("act.ron: no errors, no warnings\nlasts "), "{stdout}");
    assert!(stderr.contains("cannot read missing.ron"), "{stderr}");
    for arguments in [
        &["time", "missing.ron"][..],
        &["time", "empty"],
        &["check", "empty"],
        &["check"],
        &["dance"],
        &["time", "act.ron", "--format", "csv"],
        &["strip", "act.ron"],
    ] {
        let (status, stdout, stderr) = folder.run(arguments);
        assert_eq!((status, stdout.as_str()), (2, ""), "{arguments:?}");
        assert!(!stderr.is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_file_that_is_no_text_is_an_error_of_the_routine() {
    let folder = Folder::new("bytes");
    let mut bytes = LANTERN.as_bytes().to_vec();
    let at = LANTERN.find("Quay").unwrap();
    bytes[at] = 0xff;
    folder.write("act.ron", bytes).write("zeros.ron", [0; 100]).write("empty.ron", "");
    let (status, _, stderr) = folder.run(&["check", "act.ron"]);
    assert_eq!(status, 1);
    assert!(stderr.contains("not-utf-8") && stderr.contains("act.ron:2:21"), "{stderr}");
    for name in ["zeros.ron", "empty.ron"] {
        let (status, _, stderr) = folder.run(&["check", name]);
        assert_eq!(status, 1, "{name}");
        assert!(stderr.contains("throwbook explain syntax"), "{stderr}");
    }
}

#[test]
fn colour_follows_the_option_and_no_color() {
    let folder = Folder::new("colour");
    folder.write("act.ron", LANTERN.replace("lead: Right", "lead: Rigth"));
    let coloured = |arguments: &[&str], variable: Option<(&str, &str)>| {
        let mut command = folder.command(arguments);
        command.envs(variable);
        let output = command.output().unwrap();
        assert!(!output.stdout.contains(&0x1b));
        output.stderr.contains(&0x1b)
    };
    assert!(!coloured(&["check", "act.ron"], None), "a pipe is no terminal");
    assert!(coloured(&["check", "act.ron", "--color", "always"], None));
    assert!(coloured(&["--color=always", "check", "act.ron"], Some(("NO_COLOR", "1"))));
    assert!(!coloured(&["check", "act.ron", "--color", "never"], Some(("CLICOLOR_FORCE", "1"))));
    assert!(coloured(&["check", "act.ron"], Some(("CLICOLOR_FORCE", "1"))));
    let both = [("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")];
    let output = folder.command(&["check", "act.ron"]).envs(both).output().unwrap();
    assert!(!output.stderr.contains(&0x1b), "NO_COLOR wins over CLICOLOR_FORCE");
}

#[test]
fn a_strip_replaces_its_file_whole_and_leaves_nothing_beside_it() {
    let folder = Folder::new("strip");
    folder.write("act.ron", LANTERN).write("strip.svg", "old");
    let (status, _, stderr) = folder.run(&["strip", "act.ron", "-o", "strip.svg"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert!(fs::read_to_string(folder.0.join("strip.svg")).unwrap().starts_with("<svg"));
    assert_eq!(folder.names(), ["act.ron", "strip.svg"]);
    let (status, _, stderr) = folder.run(&["strip", "act.ron", "-o", "no/strip.svg"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("no/strip.svg"), "{stderr}");
    fs::create_dir(folder.0.join("taken")).unwrap();
    let (status, _, stderr) = folder.run(&["strip", "act.ron", "-o", "taken"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("taken"), "{stderr}");
    assert_eq!(folder.names(), ["act.ron", "strip.svg", "taken"]);
}

#[cfg(unix)]
#[test]
fn a_link_keeps_pointing_at_the_file_that_is_written() {
    let folder = Folder::new("link");
    folder.write("act.ron", LANTERN).write("real.svg", "old");
    std::os::unix::fs::symlink("real.svg", folder.0.join("link.svg")).unwrap();
    let (status, _, _) = folder.run(&["strip", "act.ron", "-o", "link.svg"]);
    assert_eq!(status, 0);
    assert!(folder.0.join("link.svg").is_symlink());
    assert!(fs::read_to_string(folder.0.join("real.svg")).unwrap().starts_with("<svg"));
}

#[cfg(unix)]
#[test]
fn a_full_disk_is_status_2_and_a_closed_pipe_is_quiet() {
    let folder = Folder::new("pipe");
    folder.write("act.ron", LANTERN);
    if let Ok(full) = fs::OpenOptions::new().write(true).open("/dev/full") {
        let output = folder.command(&["time", "act.ron"]).stdout(full).output().unwrap();
        assert_eq!(output.status.code(), Some(2));
        assert!(String::from_utf8(output.stderr).unwrap().contains("cannot write the results"));
    }
    let mut child = folder
        .command(&["completions", "bash"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!((output.status.code(), output.stderr), (Some(0), vec![]));
}

#[test]
fn what_is_handed_out_is_kept_beside_the_routine_and_later_sheets_tell_what_changed() {
    let folder = Folder::new("issue");
    folder.write("acts/act.ron", LANTERN);
    let (status, stdout, stderr) = folder.run(&["issue", "acts/act.ron"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert_eq!(stdout, "wrote acts/act.issued.ron  (issue 3: 5 cues)\n");
    let record = fs::read_to_string(folder.0.join("acts/act.issued.ron")).unwrap();
    let (status, stdout, _) = folder.run(&["issue", "acts/act.ron"]);
    let said = "acts/act.issued.ron: issue 3 stands there already, with the same cues\n";
    assert_eq!((status, stdout.as_str()), (0, said));
    // The record is no routine of its own.
    let (status, stdout, stderr) = folder.run(&["check", "--strict", "acts"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert!(stdout.starts_with("acts/act.ron: no errors, no warnings\nlasts "), "{stdout}");

    let (status, stdout, _) = folder.run(&["check", "acts/act.issued.ron", "acts/act.ron"]);
    assert_eq!(status, 0);
    assert!(stdout.starts_with("acts/act.ron: no errors, no warnings\nlasts "), "{stdout}");

    // The same issue with other cues is not handed out, and the record stays as it was.
    let moved = LANTERN.replace("Follow(20, Complete, 3.5)", "Follow(20, Complete, 4.0)");
    folder.write("acts/act.ron", &moved);
    let (status, stdout, stderr) = folder.run(&["issue", "acts/act.ron"]);
    assert_eq!((status, stdout.as_str()), (1, ""));
    assert!(stderr.contains("throwbook explain issue-not-raised"), "{stderr}");
    assert!(stderr.ends_with("issue 3 is not handed out: issue-not-raised\n"), "{stderr}");
    assert_eq!(fs::read_to_string(folder.0.join("acts/act.issued.ron")).unwrap(), record);

    folder.write("acts/act.ron", moved.replace("issue: 3", "issue: 4"));
    let (status, sheet, stderr) = folder.run(&["cues", "acts/act.ron"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert!(sheet.contains("CHANGED SINCE ISSUE 3\nLX 25"), "{sheet}");
    assert!(sheet.contains("time 0:34.6, now 0:35.1 (0.5 s later)"), "{sheet}");
    let (_, house, _) = folder.run(&["cues", "acts/act.ron", "--crew", "house"]);
    assert!(house.contains("CHANGED SINCE ISSUE 3\nNothing.\n"), "{house}");
    let (_, text, _) = folder.run(&["cues", "acts/act.ron", "--format", "json"]);
    let document: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(document["since_issue"], 3);
    assert_eq!(document["cues"][4]["changed"].as_array().unwrap().len(), 2);
    let (status, stdout, _) = folder.run(&["issue", "acts/act.ron"]);
    assert_eq!(status, 0);
    let wrote = "wrote acts/act.issued.ron  (issue 4: 5 cues; since issue 3: 1 changed)\n";
    assert_eq!(stdout, wrote);
    // Handed out or not, the sheet of issue 4 says the same.
    let (_, again, _) = folder.run(&["cues", "acts/act.ron"]);
    assert_eq!(again, sheet);
    assert!(
        fs::read_to_string(folder.0.join("acts/act.issued.ron")).unwrap().contains("number: 4")
    );
    assert_eq!(Folder(folder.0.join("acts")).names(), ["act.issued.ron", "act.ron"]);
}

#[test]
fn a_damaged_record_is_an_error_in_every_command_that_makes_a_sheet() {
    let folder = Folder::new("record");
    folder.write("act.ron", LANTERN).write("act.issued.ron", "Issued(title: \"Lantern Quay\",");
    for command in [
        &["check", "act.ron"][..],
        &["cues", "act.ron"],
        &["time", "act.ron"],
        &["issue", "act.ron"],
        &["build", "act.ron", "--out", "out"],
    ] {
        let (status, stdout, stderr) = folder.run(command);
        assert_eq!(status, 1, "{command:?}");
        assert!(!stdout.contains("wrote"), "{stdout}");
        assert!(stderr.contains("act.issued.ron:1:"), "{command:?}: {stderr}");
    }
    folder.write("act.issued.ron", [0xff, 0xfe]);
    let (status, _, stderr) = folder.run(&["cues", "act.ron"]);
    assert_eq!(status, 1);
    assert!(stderr.contains("throwbook explain not-utf-8"), "{stderr}");
    let (status, report, _) = folder.run(&["check", "act.ron", "--format", "json"]);
    assert_eq!(status, 1);
    let report: serde_json::Value = serde_json::from_str(&report).unwrap();
    assert_eq!(report["diagnostics"][0]["file"], "act.issued.ron");
    assert_eq!(folder.names(), ["act.issued.ron", "act.ron"]);
    fs::remove_file(folder.0.join("act.issued.ron")).unwrap();
    fs::create_dir(folder.0.join("act.issued.ron")).unwrap();
    let (status, _, stderr) = folder.run(&["cues", "act.ron"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("cannot read act.issued.ron"), "{stderr}");
}

#[test]
fn the_sheet_of_a_crew_without_cues_is_named_and_left() {
    let folder = Folder::new("left");
    folder.write("act.ron", LANTERN);
    let (_, _, stderr) = folder.run(&["build", "act.ron", "--out", "out"]);
    assert!(!stderr.contains("is left"), "{stderr}");
    folder.write("act.ron", LANTERN.replace("Cue(crew: House", "Cue(crew: Deck"));
    let (status, _, stderr) = folder.run(&["build", "act.ron", "--out", "out"]);
    let said = "is left from an earlier build: the routine has nothing for it any more\n";
    assert_eq!(status, 0);
    assert!(stderr.contains(&format!("out/act-cues-house.html {said}")), "{stderr}");
    let names = Folder(folder.0.join("out")).names();
    assert!(names.contains(&"act-cues-house.html".to_owned()), "{names:?}");
    assert!(names.contains(&"act-cues-deck.html".to_owned()), "{names:?}");
}

#[test]
fn the_crews_after_each_cue_are_a_table_of_their_own() {
    let folder = Folder::new("state");
    folder.write("act.ron", LANTERN);
    let (status, stdout, _) = folder.run(&["cues", "act.ron", "--state"]);
    assert_eq!(status, 0);
    let (crews, on) = stdout.split_once("\nWHAT IS ON\n").unwrap();
    let last = |text: &str| {
        text.lines().last().unwrap().split_whitespace().map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(last(crews), ["0:34.6", "LX", "25", "to", "half", "25", "5"]);
    assert_eq!(last(on).join(" "), "0:34.6 LX 25 look: sides and back; track playing");
    let (status, _, _) = folder.run(&["cues", "act.ron", "--state", "--format", "json"]);
    assert_eq!(status, 2);
}

#[test]
fn every_shell_has_completions_and_every_command_a_page() {
    let folder = Folder::new("pages");
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let (status, stdout, stderr) = folder.run(&["completions", shell]);
        assert_eq!((status, stderr.as_str()), (0, ""));
        assert!(stdout.contains("transition"), "{shell}");
    }
    let (status, stdout, _) = folder.run(&["man"]);
    assert_eq!(status, 0);
    assert!(stdout.contains(".TH throwbook 1"), "{stdout:.200}");
    fs::create_dir(folder.0.join("man1")).unwrap();
    let (status, _, stderr) = folder.run(&["man", "--dir", "man1"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    let pages = Folder(folder.0.join("man1"));
    let commands = [
        "build",
        "captions",
        "check",
        "click",
        "colours",
        "compare",
        "completions",
        "cues",
        "explain",
        "fit",
        "issue",
        "listen",
        "man",
        "mend",
        "midi",
        "new",
        "pattern",
        "print",
        "strip",
        "time",
        "transition",
    ];
    let expected: Vec<String> =
        commands.iter().map(|command| format!("throwbook-{command}.1")).collect();
    assert_eq!(pages.names(), [expected, vec!["throwbook.1".to_owned()]].concat());
}

#[test]
fn a_regrip_and_the_other_faces_are_told_on_every_document() {
    const BOATS: &str = include_str!("../routines/paper-boats.ron");
    let folder = Folder::new("regrip");
    let seen = "at: Start(\"stream\"), trigger: Called, does: \"sides to cool blue\"";
    assert!(BOATS.contains(seen));
    folder.write("boats.ron", BOATS.replace(seen, &seen.replace("Called", "See")));
    let (status, text, _) = folder.run(&["time", "boats.ron"]);
    assert_eq!(status, 0);
    let told = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for line in [
        "bank · regrip: ink from the left hand to the right, where it leaves first; ivory from \
         the right hand to the left, where it leaves second",
        "then right: ink, moss · left: ivory, ivory",
        "left waits, other",
    ] {
        assert!(told.contains(line), "{line}\n{text}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    let (_, json, _) = folder.run(&["time", "boats.ron", "--format", "json"]);
    let sheet: serde_json::Value = serde_json::from_str(&json).unwrap();
    let section = |name: &str| {
        let mut sections = sheet["sections"].as_array().unwrap().iter();
        sections.find(|one| one["name"] == name).unwrap().clone()
    };
    assert_eq!(
        section("bank")["regrip"],
        serde_json::json!({
            "right": ["ink", "moss"],
            "left": ["ivory", "ivory"],
            "moves": [
                {"colour": "ink", "from": "left", "to": "right", "leaves": 1},
                {"colour": "ivory", "from": "right", "to": "left", "leaves": 2},
            ],
            "reordered": [],
        })
    );
    for (name, face, other) in
        [("brook", "front", false), ("stream", "back", true), ("eddy", "back", false)]
    {
        let section = section(name);
        let told = (section["face"].as_str(), section["other_face"].as_bool());
        assert_eq!(told, (Some(face), Some(other)), "{name}");
        assert!(section["regrip"].is_null());
    }
    // Stream's first throw is made with the other faces of the rings.
    let (_, cues, _) = folder.run(&["cues", "boats.ron", "--format", "json"]);
    assert!(cues.contains("start of \\\"stream\\\": first throw, right hand, lake"), "{cues}");
}

#[test]
fn arms_and_ways_are_checked_counted_and_drawn() {
    let folder = Folder::new("arms");
    let act = include_str!("../routines/bowline.ron");
    folder.write("act.ron", act);
    let (status, stdout, stderr) = folder.run(&["time", "act.ron", "--format", "json"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    let document: serde_json::Value = serde_json::from_str(&stdout).unwrap();
    let section = |name: &str| {
        let sections = document["sections"].as_array().unwrap();
        sections.iter().find(|section| section["name"] == name).unwrap().clone()
    };
    // An arm above on every throw, twelve of them; four pairs of each half on crossed arms.
    assert_eq!(section("hitch")["crossings"], 12);
    assert_eq!(section("bight")["crossings"], 8);
    assert_eq!(section("coil")["made"]["right"], serde_json::json!({ "outside": 6 }));
    assert_eq!(section("step over")["made"]["left"], serde_json::json!({ "under-leg": 2 }));
    assert_eq!(section("walk on")["made"], serde_json::Value::Null);
    assert_eq!(document["crossings"], 24);
    assert_eq!(document["made"]["left"]["over-top"], 4);

    let (status, stdout, _) = folder.run(&["time", "act.ron"]);
    assert_eq!(status, 0);
    assert!(stdout.contains("ARMS AND WAYS"), "{stdout}");
    let (status, _, _) = folder.run(&["strip", "act.ron", "-o", "act.svg"]);
    let drawn = fs::read_to_string(folder.0.join("act.svg")).unwrap();
    assert_eq!((status, drawn.matches("arm over, beat").count()), (0, 24));

    // Without the beat to cross in, the arms do not meet: a warning, and the sheets are written.
    folder.write("act.ron", act.replacen(", transition: Throws(\"3\"),", ",", 1));
    let (status, _, stderr) = folder.run(&["check", "act.ron"]);
    assert_eq!(status, 0);
    assert!(stderr.contains("throwbook explain arms-do-not-meet"), "{stderr}");
    let words: Vec<&str> = stderr.split_whitespace().collect();
    assert!(words.join(" ").contains("needs 1 beat between to cross"), "{stderr}");
    assert_eq!(folder.run(&["check", "--strict", "act.ron"]).0, 1);
    assert_eq!(folder.run(&["time", "act.ron"]).0, 0);

    folder.write("act.ron", act.replace("made: { 3: UnderLeg }", "made: { 2: UnderLeg }"));
    let (status, _, stderr) = folder.run(&["check", "act.ron"]);
    assert_eq!(status, 1);
    assert!(stderr.contains("throwbook explain made-not-thrown"), "{stderr}");
}

#[test]
fn sheets_say_bar_and_music_beat_beside_the_clock() {
    let folder = Folder::new("bars");
    folder.write("flat.ron", include_str!("../routines/salt-flat.ron"));
    let read = |arguments: &[&str]| -> serde_json::Value {
        let (status, out, err) = folder.run(arguments);
        assert_eq!(status, 0, "{err}");
        serde_json::from_str(&out).unwrap()
    };
    // Bar 51 begins 200 music beats at 100 a minute after 0.5 s.
    let time = read(&["time", "flat.ron", "--format", "json"]);
    let bow = time["sections"].as_array().unwrap().last().unwrap();
    assert_eq!(bow["ends_s"], 120.5);
    assert_eq!((&bow["ends_bar"], &bow["ends_music_beat"]), (&51.into(), &1.0.into()));
    let walk_on = &time["sections"][0];
    assert!(walk_on["starts_bar"].is_null() && walk_on["starts_music_beat"].is_null());
    let cues = read(&["cues", "flat.ron", "--format", "json"]);
    let mut cues = cues["cues"].as_array().unwrap().iter().rev();
    let last = cues.find(|cue| cue["crew"] == "light").unwrap();
    assert_eq!((&last["go_s"], &last["track_s"]), (&118.1.into(), &118.1.into()));
    assert_eq!((&last["go_bar"], &last["go_music_beat"]), (&50.into(), &1.0.into()));
    // The bar stands under the time.
    let (_, sheet, _) = folder.run(&["cues", "flat.ron"]);
    assert!(sheet.contains(" 1:58.1     50, 1 "), "{sheet}");
}

#[cfg(not(feature = "audio"))]
#[test]
fn a_program_without_audio_says_so_and_looks_for_no_music() {
    let folder = Folder::new("deaf");
    folder.write("act.ron", LANTERN.replace("lantern.wav", "elsewhere.wav"));
    let (status, stdout, stderr) = folder.run(&["listen", "lantern.wav"]);
    assert_eq!((status, stdout.as_str()), (2, ""));
    assert!(stderr.contains("built without the feature `audio`"), "{stderr}");
    let (status, _, stderr) = folder.run(&["check", "--strict", "act.ron"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
}

#[test]
fn what_nobody_can_time_is_a_range_on_every_document() {
    let folder = Folder::new("ranges");
    let act =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("routines/signal-box.ron"))
            .unwrap();
    folder.write("act.ron", &act);
    // Its tracks do not lie there, which is said; nothing else is.
    let (status, _, stderr) = folder.run(&["check", "act.ron"]);
    let missing = stderr.matches("track-missing").count();
    assert_eq!((status, stderr.matches("Warning: ").count()), (0, missing), "{stderr}");
    let (status, cues, _) = folder.run(&["cues", "act.ron", "--crew", "sound"]);
    assert_eq!(status, 0);
    for line in [
        "HEAR bell             hold track \"day\"",
        "SEE arms down         resume track \"day\"",
        "STAND BY SND 25 for GO at 0:29.0–0:34.0",
        "A time with two ends is the earliest and the latest",
    ] {
        assert!(cues.contains(line), "{line}\n{cues}");
    }
    let (_, time, _) = folder.run(&["time", "act.ron"]);
    for line in [
        "the pause applause lasts 4.0–12.0 s",
        "the hold signal at danger of day lasts 3.0–8.0 s",
        "at worst INSIDE by 4.8 s; at best INSIDE by 17.8 s",
        "1:37.2–1:50.2 on this contest's clock",
        "track: day",
        "track: night",
    ] {
        assert!(time.contains(line), "{line}\n{time}");
    }
    assert!(time.lines().all(|line| line.chars().count() <= 80), "{time}");
    assert_eq!(folder.run(&["strip", "act.ron", "-o", "strip.svg"]).0, 0);
    let strip = fs::read_to_string(folder.0.join("strip.svg")).unwrap();
    for word in
        ["≥0:30", "≥1:00", "hold signal at danger: 3.0–8.0 s", "pause of open length", "whistle"]
    {
        assert!(strip.contains(word), "{word}");
    }
    assert!(!strip.contains("≥0:28"), "the ruler is certain up to the end of the hold");

    // What cannot be is said at its place, with a way out.
    for (from, to, code, help) in [
        ("\"0:04\", \"0:12\"", "\"0:12\", \"0:04\"", "range-reversed", "Exchange the two"),
        ("Cycles(10)", "Between(\"0:08\", \"0:10\")", "range-of-juggle", "Give it beats"),
        ("at: Mark(\"bell\")", "at: \"0:53\"", "out-of-range", "Hold it at an earlier point"),
        ("\"bell\": \"0:26.0\"", "\"bell\": \"0:56.0\"", "out-of-range", ""),
        ("TrackEnd(\"night\")", "TrackEnd(\"nigth\")", "unknown-track", "Write \"night\""),
        ("TrackEnd(\"night\")", "TrackEnd", "which-track", "Say of \"night\""),
        ("Mark(\"night\", \"whistle\")", "Mark(\"whistle\")", "which-track", "Say of \"night\""),
        ("HoldEnd(\"day\", \"signal at", "HoldEnd(\"day\", \"signals at", "unknown-hold", "Write"),
        ("Beats(48)", "Until(At(\"1:16.2\"))", "range-moves-beats", "Give it beats or cycles"),
    ] {
        assert!(act.contains(from), "{from}");
        folder.write("act.ron", act.replacen(from, to, 1));
        let (status, _, said) = folder.run(&["check", "act.ron"]);
        assert_eq!(status, 1, "{to}");
        assert!(said.contains(code) && said.contains(help), "{to}: {said}");
    }
}

#[test]
fn the_rows_of_a_strip_hold_the_seconds_asked_for_and_a_wrong_number_is_told_with_its_bounds() {
    let folder = Folder::new("rows");
    folder.write("act.ron", LANTERN);
    let strip = |more: &[&str]| {
        let (status, _, stderr) =
            folder.run(&[&["strip", "act.ron", "-o", "strip.svg"][..], more].concat());
        (status, stderr)
    };
    assert_eq!(strip(&["--seconds-per-row", "30"]), (0, String::new()));
    let long = fs::read_to_string(folder.0.join("strip.svg")).unwrap();
    assert!(long.contains("Row from 0:00 to 0:30"), "{long}");
    for wrong in ["0", "1", "601", "-5", "2.5", "many"] {
        let (status, stderr) = strip(&[&format!("--seconds-per-row={wrong}")]);
        assert_eq!(status, 2, "{wrong}");
        assert!(stderr.contains("--seconds-per-row"), "{stderr}");
        assert!(stderr.contains("a row holds whole seconds, from 2 to 600"), "{stderr}");
    }
    for right in ["2", "600"] {
        assert_eq!(strip(&["--seconds-per-row", right]).0, 0, "{right}");
    }
    assert_eq!(strip(&["--seconds-per-row", "30"]).0, 0);
    assert_eq!(strip(&["--seconds-per-row", "30", "--overview"]).0, 2);
    assert_eq!(fs::read_to_string(folder.0.join("strip.svg")).unwrap(), long);
}
