//! Files that are written are whole, kept apart from other runs, and safe from names that steer a
//! terminal.
#![allow(missing_docs)]

#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;

use std::fs::{self, File};

use folder::Folder;

const LANTERN: &str = include_str!("routines/lantern.ron");
const BUILD: [&str; 4] = ["build", "act.ron", "--out", "out"];
const CHECK_BUILT: [&str; 4] = ["check", "act.ron", "--built", "out"];

fn lantern(test: &str) -> Folder {
    let folder = Folder::new(test);
    folder.write("act.ron", LANTERN);
    folder
}

#[test]
fn a_folder_is_held_against_what_the_last_build_wrote() {
    let folder = lantern("built");
    let (status, _, stderr) = folder.run(&CHECK_BUILT);
    assert_eq!(status, 1);
    assert!(stderr.contains("out: no build of act.ron was finished here"), "{stderr}");

    let (status, stdout, stderr) = folder.run(&BUILD);
    assert_eq!(status, 0);
    assert!(!stderr.contains("was changed"), "{stderr}");
    assert!(stdout.ends_with("(what was written, for check --built)\n"), "{stdout}");
    let (status, stdout, stderr) = folder.run(&CHECK_BUILT);
    assert_eq!((status, stderr.as_str()), (0, ""));
    assert!(stdout.starts_with("out: "), "{stdout}");
    assert!(stdout.contains(" documents of issue 3, all as the last build wrote them\n"));
    // Programs read nothing but the report.
    let (_, stdout, _) = folder.run(&[&CHECK_BUILT[..], &["--format", "json"]].concat());
    assert!(stdout.starts_with('{'), "{stdout}");

    // Handing out what was built changes no document.
    assert_eq!(folder.run(&["issue", "act.ron"]).0, 0);
    assert_eq!(folder.run(&CHECK_BUILT).0, 0);

    // As a build leaves it that is killed midway, or as somebody's pen does.
    folder.write("out/act-time.txt", "of another version");
    fs::remove_file(folder.0.join("out/act-cues.csv")).unwrap();
    folder.write("act.ron", format!("{LANTERN}// Rehearsed.\n"));
    let (status, stdout, stderr) = folder.run(&CHECK_BUILT);
    assert_eq!(status, 1);
    for said in [
        "out/act-time.txt is not what the last whole build wrote",
        "out/act-cues.csv is gone",
        "act.ron has changed since this build",
    ] {
        assert!(stderr.contains(said), "{said}: {stderr}");
    }
    assert!(!stdout.contains("all as"), "{stdout}");

    let (status, _, stderr) = folder.run(&BUILD);
    assert_eq!(status, 0);
    assert!(stderr.contains("out/act-time.txt was changed"), "{stderr}");
    assert_eq!(folder.run(&CHECK_BUILT).0, 0);
    assert!(
        !folder.run(&BUILD).2.contains("was changed"),
        "what was written anew is nothing to speak of"
    );
}

#[test]
fn drafts_are_never_taken_for_what_is_final() {
    let folder = Folder::new("built-draft");
    folder.write("act.ron", LANTERN.replace("pattern: \"531\"", "pattern: \"532\""));
    let (status, _, _) = folder.run(&[&BUILD[..], &["--draft"]].concat());
    assert_eq!(status, 1);
    let (status, stdout, _) = folder.run(&CHECK_BUILT);
    assert_eq!(status, 1);
    assert!(stdout.contains(", drafts, all as the last build wrote them"), "{stdout}");
}

#[test]
fn a_list_of_a_build_that_cannot_be_read_is_not_written_over() {
    let folder = lantern("built-broken");
    folder.write("out/act-build.json", "mine");
    for arguments in [&BUILD, &CHECK_BUILT] {
        let (status, _, stderr) = folder.run(arguments);
        assert_eq!(status, 2);
        assert!(stderr.contains("out/act-build.json is not a list"), "{stderr}");
    }
    assert_eq!(folder.text("out/act-build.json"), "mine");
}

#[test]
fn what_a_killed_run_leaves_is_swept_away_and_nothing_else() {
    let folder = lantern("strays");
    let strays = [".act-time.txt.4711", ".act-strip-draft.svg.4711", ".act-cues-light.html.9"];
    let kept =
        [".act-time.txt.old", ".act-notes.txt.4711", ".other-time.txt.4711", "act-notes.txt"];
    for name in strays.iter().chain(&kept) {
        folder.write(&format!("out/{name}"), "x");
    }
    assert_eq!(folder.run(&BUILD).0, 0);
    let names = folder.all_names("out");
    assert!(strays.iter().all(|name| !names.iter().any(|one| one == name)), "{names:?}");
    assert!(kept.iter().all(|name| names.iter().any(|one| one == name)), "{names:?}");
}

#[test]
fn two_runs_at_once_do_not_write_the_same_files() {
    let folder = lantern("alone");
    let other = File::open(folder.0.join("act.ron")).unwrap();
    other.lock().unwrap();
    for arguments in [&BUILD[..], &["issue", "act.ron"]] {
        let (status, _, stderr) = folder.run(arguments);
        assert_eq!(status, 2);
        assert!(stderr.contains("another run is writing what belongs to act.ron"), "{stderr}");
    }
    assert_eq!(folder.names(), ["act.ron"]);
    drop(other);
    assert_eq!(folder.run(&["issue", "act.ron"]).0, 0);
}

#[test]
fn of_many_runs_at_once_every_one_that_says_so_has_handed_out_its_issue() {
    let folder = lantern("race");
    for issue in 3..12 {
        folder.write("act.ron", LANTERN.replace("issue: 3", &format!("issue: {issue}")));
        let runs: Vec<_> = (0..4)
            .map(|_| {
                let mut command = folder.command(&["issue", "act.ron"]);
                command.stdout(std::process::Stdio::null()).stderr(std::process::Stdio::null());
                command.spawn().unwrap()
            })
            .collect();
        let codes: Vec<_> = runs.into_iter().map(|mut run| run.wait().unwrap().code()).collect();
        assert!(codes.contains(&Some(0)), "one of them comes through");
        let record = folder.text("act.issued.ron");
        assert!(
            (3..=issue).all(|one| record.contains(&format!("number: {one}, cues"))),
            "{record}"
        );
    }
}

#[test]
fn two_files_of_one_stem_do_not_share_a_record() {
    let folder = lantern("stem");
    assert_eq!(folder.run(&["issue", "act.ron"]).0, 0);
    folder.write("act.txt", LANTERN.replace("blackout", "dim"));
    let (status, _, stderr) = folder.run(&["issue", "act.txt"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("act.txt does not end in .ron"), "{stderr}");
    let (status, _, stderr) = folder.run(&["check", "act.txt"]);
    assert_eq!((status, stderr.as_str()), (0, ""), "the record of another file says nothing of it");
}

#[cfg(unix)]
#[test]
fn a_record_that_leads_nowhere_or_is_no_file_is_an_error() {
    let folder = lantern("record");
    let record = folder.0.join("act.issued.ron");
    std::os::unix::fs::symlink("nowhere.ron", &record).unwrap();
    for arguments in [["issue", "act.ron"], ["check", "act.ron"]] {
        let (status, _, stderr) = folder.run(&arguments);
        assert_eq!(status, 2);
        assert!(stderr.contains("cannot read act.issued.ron"), "{stderr}");
    }
    assert!(!folder.0.join("nowhere.ron").exists());
    fs::remove_file(&record).unwrap();
    assert!(std::process::Command::new("mkfifo").arg(&record).status().unwrap().success());
    let (status, _, stderr) = folder.run(&["check", "act.ron"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("it is not a plain file"), "{stderr}");
}

#[cfg(unix)]
#[test]
fn a_file_that_is_replaced_keeps_its_mode_and_one_that_is_read_only_stays() {
    use std::os::unix::fs::PermissionsExt;
    let folder = lantern("modes");
    let strip = folder.0.join("strip.svg");
    let run = || folder.run(&["strip", "act.ron", "-o", "strip.svg"]);
    folder.write("strip.svg", "old");
    fs::set_permissions(&strip, fs::Permissions::from_mode(0o640)).unwrap();
    assert_eq!(run().0, 0);
    assert_eq!(fs::metadata(&strip).unwrap().permissions().mode() & 0o777, 0o640);
    folder.write("strip.svg", "old");
    fs::set_permissions(&strip, fs::Permissions::from_mode(0o440)).unwrap();
    let (status, _, stderr) = run();
    assert_eq!(
        (status, stderr.as_str()),
        (2, "throwbook: cannot write strip.svg: it is read-only\n")
    );
    assert_eq!(folder.text("strip.svg"), "old");
    assert_eq!(folder.all_names(".").iter().filter(|name| name.contains("strip")).count(), 1);
}

#[test]
fn names_that_steer_a_terminal_are_shown_and_not_obeyed() {
    let folder = lantern("hostile");
    let names = ["nor.\u{202e}tca.ron", "a\u{9b}2Jb.ron", "a\u{1b}[2Jb.ron", "a\nb.ron"];
    let steers =
        |text: &str| text.chars().any(|one| (one.is_control() && one != '\n') || one == '\u{202e}');
    for name in names {
        folder.write(name, LANTERN.replace("lead: Right", "lead: Rigth // \u{9b}2J \u{202e}\n"));
        for arguments in [
            &["check", name][..],
            &["strip", name, "-o", "x.svg"],
            &["time", name, name],
            &["explain", name],
            &["build", "act.ron", "--out", name],
        ] {
            let (_, stdout, stderr) = folder.run(arguments);
            assert!(!steers(&stdout) && !steers(&stderr), "{arguments:?}: {stdout:?} {stderr:?}");
        }
    }
    let (_, _, stderr) = folder.run(&["check", "a\nb.ron"]);
    assert!(stderr.contains("at a\\u{a}b.ron:"), "{stderr}");
}

#[cfg(target_os = "linux")]
#[test]
fn help_that_cannot_be_written_is_a_failure() {
    let folder = Folder::new("full");
    for (arguments, to, code) in
        [("--help", "/dev/full", 2), ("--help", "/dev/null", 0), ("--version", "/dev/full", 2)]
    {
        let to = fs::OpenOptions::new().write(true).open(to).unwrap();
        let status = folder.command(&[arguments]).stdout(to).status().unwrap();
        assert_eq!(status.code(), Some(code), "{arguments}");
    }
    assert_eq!(folder.run(&["--no-such-thing"]).0, 2);
}
