//! `throwbook mend` as its user runs it: offers shown as changes of the file, and made.
#![allow(missing_docs)]

use std::fs;

#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;

use folder::Folder;

const LANTERN: &str = include_str!("routines/lantern.ron");

/// The act with pieces of its text replaced.
fn with(replaced: &[(&str, &str)]) -> String {
    folder::with(LANTERN, replaced)
}

/// A junction that clashes.
fn clashing() -> String {
    with(&[(", transition: Auto", " /* no way in */")])
}

#[test]
fn offers_are_shown_as_changes_and_those_chosen_are_made_with_every_comment_kept() {
    let folder = Folder::new("mend-shown");
    folder.write("act.ron", clashing());
    let (status, stdout, stderr) = folder.run(&["mend", "act.ron"]);
    assert_eq!((status, stderr.as_str()), (1, ""));
    insta::assert_snapshot!("mend_text", stdout);
    assert_eq!(folder.text("act.ron"), clashing(), "nothing is written unasked");
    let (status, stdout, stderr) = folder.run(&["mend", "act.ron", "--apply", "1"]);
    assert_eq!((status, stderr.as_str()), (0, ""), "{stdout}");
    assert!(stdout.contains("wrote act.ron  (1 applied; "), "{stdout}");
    let (was, is) = (clashing(), folder.text("act.ron"));
    assert_eq!(was.lines().count(), is.lines().count());
    let changed: Vec<_> = was.lines().zip(is.lines()).filter(|(was, is)| was != is).collect();
    assert_eq!(changed.len(), 1, "{changed:?}");
    assert!(changed[0].1.contains("/* no way in */") && changed[0].1.contains("Throws(\"4\")"));
}

#[test]
fn all_safe_makes_what_changes_nothing_else() {
    let folder = Folder::new("mend-safe");
    let text = with(&[("issue: 3, ", "isue: 3, ")]);
    folder.write("act.ron", &text);
    let (status, stdout, stderr) = folder.run(&["mend", "act.ron", "--all-safe"]);
    assert_eq!((status, stderr.as_str()), (0, ""));
    insta::assert_snapshot!("mend_safe_text", stdout);
    let (status, stdout, _) = folder.run(&["mend", "act.ron", "--all-safe"]);
    assert_eq!(status, 0);
    assert_eq!(stdout, "act.ron: no offer that moves nothing else; nothing was written\n");
    // What moves something is left to its user.
    folder.write("act.ron", clashing());
    let (status, _, _) = folder.run(&["mend", "act.ron", "--all-safe"]);
    assert_eq!((status, folder.text("act.ron")), (1, clashing()));
}

#[test]
fn what_cannot_be_made_is_refused_and_nothing_is_written() {
    let folder = Folder::new("mend-refused");
    let text = with(&[("Beats(26)", "Beats(27)")]);
    folder.write("act.ron", &text).write("latin.ron", b"Routine(\xff").write("empty.ron", "");
    for (arguments, says) in [
        (["mend", "act.ron", "--apply", "99"], "there is no offer 99: they go from 1 to "),
        (["mend", "act.ron", "--apply", "0"], "there is no offer 0"),
        (["mend", "act.ron", "--apply", "1,2"], "only one of them can be applied"),
        (["mend", "empty.ron", "--apply", "1"], "there is no offer 1: nothing is offered"),
    ] {
        let (status, stdout, stderr) = folder.run(&arguments);
        assert_eq!((status, stdout.as_str()), (2, ""), "{arguments:?}");
        assert!(stderr.replace('\n', " ").contains(says), "{stderr}");
    }
    assert_eq!(folder.text("act.ron"), text);
    for file in ["latin.ron", "empty.ron"] {
        let (status, stdout, _) = folder.run(&["mend", file]);
        assert_eq!(status, 1);
        let says = format!("{file}: 1 error, 0 offers; 1 message offers no change");
        assert!(stdout.starts_with(&says), "{stdout}");
    }
    let (status, _, stderr) = folder.run(&["mend", "missing.ron"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("cannot read missing.ron"), "{stderr}");
    let held = fs::File::open(folder.0.join("act.ron")).unwrap();
    held.lock().unwrap();
    let (status, _, stderr) = folder.run(&["mend", "act.ron", "--apply", "1"]);
    assert_eq!(status, 2);
    assert!(stderr.contains("another run is writing"), "{stderr}");
    assert_eq!((folder.text("act.ron"), folder.names().len()), (text, 3));
}
