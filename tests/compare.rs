//! `throwbook compare` as its user runs it: two files, what was handed out, and a git checkout.
#![allow(missing_docs)]

use std::process::Command;

use serde_json::{Value, json};

#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;

use folder::Folder;

const LANTERN: &str = include_str!("routines/lantern.ron");

/// The act with pieces of its text replaced.
fn with(replaced: &[(&str, &str)]) -> String {
    folder::with(LANTERN, replaced)
}

/// A folder with the act and another one.
fn two(test: &str, replaced: &[(&str, &str)]) -> Folder {
    let folder = Folder::new(test);
    folder.write("old.ron", LANTERN).write("new.ron", with(replaced));
    folder
}

fn document(folder: &Folder, arguments: &[&str]) -> (i32, Value) {
    let all: Vec<&str> = arguments.iter().copied().chain(["--format", "json"]).collect();
    let (status, stdout, stderr) = folder.run(&all);
    assert_eq!(stderr, "");
    (status, serde_json::from_str(&stdout).unwrap())
}

#[test]
fn a_beat_more_is_traced_to_everything_it_moves() {
    let folder = two(
        "compare-text",
        &[("Beats(26)", "Beats(27)"), ("\"blackout\"", "\"black\""), ("\"1:00\"", "\"0:50\"")],
    );
    let (status, stdout, stderr) = folder.run(&["compare", "old.ron", "new.ron"]);
    assert_eq!((status, stderr.as_str()), (1, ""));
    insta::assert_snapshot!("compare_text", stdout);
    assert!(stdout.lines().all(|line| line.chars().count() <= 80), "{stdout}");
    let (status, document) = document(&folder, &["compare", "old.ron", "new.ron"]);
    assert_eq!((status, &document["same"]), (1, &json!(false)));
    let act = json!({"ends_by_s": 0.3, "ends_by_latest_s": null, "lasts_by_s": 0.3, "lasts_by_latest_s": null});
    assert_eq!(document["act"], act);
    let beam = &document["sections"][1];
    assert_eq!(
        (&beam["name"], &beam["was"], &beam["starts_by_s"]),
        (&json!("beam"), &json!(null), &json!(0.3))
    );
    assert_eq!((&beam["flips_lead"], &beam["moves_colours"]), (&json!(true), &json!(true)));
    let tide = &document["sections"][0]["counts_by"];
    assert_eq!((&tide["right"]["thrown"], &tide["left"]["thrown"]), (&json!(1), &json!(0)));
    let limit = &document["limits"][0];
    assert_eq!(
        (&limit["was"], &limit["now"], &limit["room_by_s"]),
        (&json!("inside"), &json!("grace"), &json!(-10.3))
    );
    let cues: Vec<_> = document["cues"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cue| (&cue["number"], &cue["what"], &cue["by_s"]))
        .collect();
    assert_eq!(
        cues,
        [
            (&json!("20"), &json!("changed"), &json!(0.3)),
            (&json!("25"), &json!("moved"), &json!(0.3))
        ]
    );
    assert_eq!(
        document["faults"],
        json!({"new": ["colour-not-shown", "limit-in-grace"], "gone": []})
    );
    let causes = document["causes"].as_array().unwrap();
    let edits: Vec<_> = causes.iter().map(|cause| cause["edit"].as_str().unwrap()).collect();
    assert_eq!(
        edits,
        [
            "tide: 26 → 27 beats",
            "limit \"tin cup, short class\": at_most \"1:00\" → \"0:50\"",
            "LX 20: does \"blackout\" → \"black\"",
        ]
    );
    assert_eq!(causes[0]["ends_by_s"], json!(0.3));
    assert_eq!(causes[0]["sections"].as_array().unwrap().len(), 7);
    assert_eq!((&causes[1]["ends_by_s"], &causes[1]["sections"]), (&json!(0.0), &json!([])));
}

#[test]
fn the_same_act_ends_with_status_0_whatever_its_layout() {
    let folder = two("compare-same", &[("lead: Right, ", "lead:Right,/* the right one */")]);
    let (status, stdout, _) = folder.run(&["compare", "old.ron", "new.ron"]);
    assert_eq!((status, stdout.as_str()), (0, "old.ron → new.ron\nNothing is different.\n"));
    let (status, document) = document(&folder, &["compare", "old.ron", "old.ron"]);
    assert_eq!((status, &document["same"]), (0, &json!(true)));
    for list in ["sections", "added", "gone", "cues", "limits", "causes"] {
        assert_eq!(document[list], json!([]), "{list}");
    }
}

#[test]
fn a_rename_a_moved_block_an_open_length_and_an_encore_are_told_as_what_they_are() {
    let encore =
        "encore: Encore(score: [Pause(name: \"back on\", lasts: For(\"0:03\"))]),\n    limits: [";
    let folder = two(
        "compare-moved",
        &[
            ("\"beam\"", "\"lighthouse\""),
            ("lasts: For(\"0:05\")", "lasts: Between(\"0:05\", \"0:09\")"),
            ("number: 15", "number: 17"),
            ("limits: [", encore),
        ],
    );
    let (status, stdout, _) = folder.run(&["compare", "old.ron", "new.ron"]);
    assert_eq!(status, 1);
    insta::assert_snapshot!("compare_moved_text", stdout);
    let (_, document) = document(&folder, &["compare", "old.ron", "new.ron"]);
    assert_eq!((&document["added"], &document["gone"]), (&json!([]), &json!([])));
    assert_eq!(
        (&document["act"]["ends_by_s"], &document["act"]["ends_by_latest_s"]),
        (&json!(0.0), &json!(4.0))
    );
    assert_eq!(document["sections"][0]["was"], "beam");
    assert_eq!(document["encore_only_in"], "new");
}

#[test]
fn what_an_error_hides_is_said_to_be_unknown_and_never_to_be_the_same() {
    let folder = two("compare-draft", &[("pattern: \"531\"", "pattern: \"5q?1\"")]);
    let (status, stdout, _) = folder.run(&["compare", "old.ron", "new.ron"]);
    assert_eq!(status, 1);
    insta::assert_snapshot!("compare_draft_text", stdout);
    let (_, there) = document(&folder, &["compare", "old.ron", "new.ron"]);
    assert_eq!(there["act"]["ends_by_s"], json!(null));
    let fleet =
        there["sections"].as_array().unwrap().iter().find(|one| one["name"] == "fleet").unwrap();
    assert_eq!((&fleet["starts_by_s"], &fleet["moves_colours"]), (&json!(null), &json!(null)));
    let cues = there["cues"].as_array().unwrap();
    assert!(cues.iter().any(|cue| cue["number"] == "25" && cue["by_s"].is_null()), "{cues:?}");
    let (status, same) = document(&folder, &["compare", "new.ron", "new.ron"]);
    assert_eq!((status, &same["same"], &same["sections"]), (0, &json!(true), &json!([])));
}

#[test]
fn the_old_act_is_drawn_pale_under_the_new_one_on_the_same_scale() {
    let folder =
        two("compare-strip", &[("Beats(26)", "Beats(41)"), ("\"beam\"", "\"lighthouse\"")]);
    let drawn = |arguments: &[&str]| {
        let (_, stdout, stderr) = folder.run(arguments);
        assert!(stdout.ends_with("\nwrote both.svg\n") && stderr.is_empty(), "{stdout}{stderr}");
        folder.text("both.svg")
    };
    let svg = drawn(&["compare", "old.ron", "new.ron", "--strip", "both.svg"]);
    assert_eq!(svg.matches("as it was: ").count(), 9);
    // The same section begins 4.5 s later and bears another name: its line leans to the right.
    let part = |name: &str| {
        let at = svg.find(&format!("as it was: {name}")).unwrap();
        let path = &svg[at..][svg[at..].find("M").unwrap() + 1..];
        path[..path.find(' ').unwrap()].parse::<f64>().unwrap()
    };
    let (was, second) = (part("beam"), (part("wake") - part("beam")) / 7.2);
    let now = was + 4.5 * second;
    let leans = |line: &str| {
        let numbers: Vec<f64> = line
            .split(|c: char| !c.is_ascii_digit() && c != '.')
            .filter_map(|n| n.parse().ok())
            .collect();
        matches!(numbers[..], [from, _, to, ..] if (from - was).abs() < 0.02 && (to - now).abs() < 0.1)
    };
    let lines = svg.match_indices("class=\"Y\" d=\"").map(|(at, mark)| &svg[at + mark.len()..]);
    assert!(lines.map(|line| &line[..line.find('"').unwrap()]).any(leans), "from {was} to {now}");
    assert_eq!(svg, drawn(&["compare", "old.ron", "new.ron", "--strip", "both.svg"]));
    // An act that went on for far longer is cut, and says so.
    folder.write("long.ron", with(&[("Cycles(50)", "Cycles(900)")]));
    let svg = drawn(&["compare", "long.ron", "new.ron", "--strip", "both.svg"]);
    assert!(svg.contains("went on to "));
    let (status, _, stderr) = folder.run(&["compare", "old.ron", "new.ron", "--strip", "new.ron"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("new.ron is a routine file"), "{stderr}");
}

#[test]
fn what_gives_no_act_cannot_be_compared() {
    let folder = two("compare-unread", &[]);
    folder
        .write("broken.ron", "Routine(")
        .write("empty.ron", "")
        .write("latin.ron", b"Routine(\xff");
    folder.write("large.ron", " ".repeat(4 * 1024 * 1024 + 1));
    for file in ["broken.ron", "empty.ron", "latin.ron", "large.ron"] {
        for arguments in [["compare", file, "old.ron"], ["compare", "old.ron", file]] {
            let (status, stdout, stderr) = folder.run(&arguments);
            assert_eq!((status, stdout.as_str()), (2, ""), "{file}");
            assert!(
                stderr.ends_with(&format!("cannot compare {file}: there is no act in it\n")),
                "{stderr}"
            );
        }
    }
    let (status, _, stderr) = folder.run(&["compare", "old.ron", "missing.ron"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("cannot read missing.ron"), "{stderr}");
    assert_eq!(folder.run(&["compare", "old.ron"]).0, 2);
}

#[test]
fn what_was_handed_out_is_compared_whole_and_an_older_record_by_its_cues() {
    let folder = Folder::new("compare-issue");
    folder.write("act.ron", LANTERN);
    let (status, _, stderr) = folder.run(&["compare", "act.ron", "--issue", "3"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("nothing was handed out: there is no act.issued.ron"), "{stderr}");
    assert_eq!(folder.run(&["issue", "act.ron"]).0, 0);
    assert_eq!(folder.run(&["compare", "act.ron", "--issue", "3"]).0, 0);
    let (status, _, stderr) = folder.run(&["compare", "act.ron", "--issue", "4"]);
    assert_eq!(
        (status, stderr.as_str()),
        (2, "throwbook: act.issued.ron has no issue 4; it has 3\n")
    );
    folder.write(
        "act.ron",
        with(&[("Beats(26)", "Beats(28)"), ("number: 15", "number: 16, standby: 3")]),
    );
    let (status, whole) = document(&folder, &["compare", "act.ron", "--issue", "3"]);
    assert_eq!(
        (status, &whole["cues_only"], &whole["act"]["ends_by_s"]),
        (1, &json!(false), &json!(0.6))
    );
    // A record from before the text was kept.
    let record = folder.text("act.issued.ron");
    let text = record.find(", text: ").unwrap();
    let end = text + record[text..].find('\n').unwrap();
    folder.write("act.issued.ron", format!("{}){}", &record[..text], &record[end - 1..]));
    let (status, stdout, stderr) = folder.run(&["compare", "act.ron", "--issue", "3"]);
    assert_eq!((status, stderr.as_str()), (1, ""));
    insta::assert_snapshot!("compare_cues_text", stdout);
    let (_, cues) = document(&folder, &["compare", "act.ron", "--issue", "3"]);
    assert_eq!(
        (&cues["cues_only"], &cues["act"]["ends_by_s"], &cues["sections"]),
        (&json!(true), &json!(null), &json!([]))
    );
    let told: Vec<_> = cues["cues"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cue| {
            (cue["number"].as_str().unwrap(), cue["what"].as_str().unwrap(), cue["by_s"].as_f64())
        })
        .collect();
    assert_eq!(
        told,
        [
            ("15", "cut", None),
            ("16", "added", None),
            ("20", "moved", Some(0.6)),
            ("25", "moved", Some(0.6))
        ]
    );
    folder.write("act.ron", with(&[("pattern: \"531\"", "pattern: \"51\"")]));
    let (status, _, stderr) = folder.run(&["compare", "act.ron", "--issue", "3"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("only the cues of issue 3 were kept"), "{stderr}");
}

#[test]
fn a_record_that_would_be_too_large_leaves_out_the_oldest_text_and_says_so() {
    let folder = Folder::new("compare-large");
    let comment = "/".repeat(4 * 1024 * 1024 - LANTERN.len() - 10);
    for issue in 3..=7 {
        let text = with(&[("issue: 3", &format!("issue: {issue}"))]);
        folder.write("act.ron", format!("{comment}\n{text}"));
        let (status, _, stderr) = folder.run(&["issue", "act.ron"]);
        assert_eq!(status, 0, "{stderr}");
        let left_out = match issue {
            3..=5 => "",
            6 => "at issue 3: `compare --issue`",
            _ => "at issue 4: `compare --issue`",
        };
        assert!(stderr.contains(left_out) && stderr.is_empty() == left_out.is_empty(), "{stderr}");
    }
    let of_issue = |issue| document(&folder, &["compare", "act.ron", "--issue", issue]).1;
    assert_eq!(of_issue("3")["cues_only"], true);
    assert_eq!(
        (of_issue("5")["cues_only"].clone(), of_issue("5")["causes"][0]["edit"].clone()),
        (json!(false), json!("issue 5 → 7"))
    );
}

#[test]
fn a_file_of_a_git_checkout_is_compared_with_what_it_was() {
    let folder = Folder::new("compare-git");
    folder.write("acts/act.ron", LANTERN);
    let (status, _, stderr) = folder.run(&["compare", "acts/act.ron", "--git", "-n"]);
    assert_eq!(status, 2);
    assert!(!stderr.is_empty());
    let without = folder
        .command(&["compare", "acts/act.ron", "--git", "HEAD"])
        .env("PATH", "")
        .output()
        .unwrap();
    assert_eq!(without.status.code(), Some(2));
    assert!(String::from_utf8(without.stderr).unwrap().contains("there is no git program here"));
    let git = |arguments: &[&str]| {
        let mut git = Command::new("git");
        git.current_dir(&folder.0)
            .args(["-c", "user.name=a", "-c", "user.email=a@b.c"])
            .args(arguments);
        git.output().is_ok_and(|output| output.status.success())
    };
    if !git(&["init", "-q"]) {
        // Where there is no git there is nothing more to ask.
        return;
    }
    assert!(git(&["add", "acts/act.ron"]) && git(&["commit", "-qm", "one"]));
    folder.write("acts/act.ron", with(&[("Beats(26)", "Beats(28)")]));
    let (status, stdout, stderr) = folder.run(&["compare", "acts/act.ron", "--git", "HEAD"]);
    assert_eq!((status, stderr.as_str()), (1, ""));
    assert!(
        stdout.starts_with("acts/act.ron (git HEAD) → acts/act.ron\nThe act ends 0.6 s later.\n"),
        "{stdout}"
    );
    let (status, _, stderr) = folder.run(&["compare", "acts/act.ron", "--git", "nowhere"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("git has no acts/act.ron at nowhere"), "{stderr}");
}
