//! What was heard of music files is kept for the next command, and never in the way.

use std::fs::{self, File};
use std::time::{Duration, SystemTime};

use crate::folder::Folder;
use crate::program::act;
use crate::synthesis::clicks;

/// The music that most tests here have, and how long it is.
const LENGTH: &str = "0:12.3";

/// A folder with an act and its music, which was written long ago.
fn folder(name: &str) -> Folder {
    let folder = Folder::new(name);
    folder.write("act.ron", act("quay.wav", LENGTH));
    music(&folder, &clicks(12.3, 120.0, 0.5).wav());
    folder
}

/// Writes the music, with the same time of change whenever that is.
fn music(folder: &Folder, bytes: &[u8]) {
    folder.write("quay.wav", bytes);
    let long_ago = SystemTime::UNIX_EPOCH + Duration::from_secs(1_700_000_000);
    let file = File::options().write(true).open(folder.0.join("quay.wav")).unwrap();
    file.set_modified(long_ago).unwrap();
}

/// The files of the cache.
fn entries(folder: &Folder) -> Vec<std::path::PathBuf> {
    let entries = fs::read_dir(folder.cache().join("throwbook")).into_iter().flatten();
    entries.map(|entry| entry.unwrap().path()).collect()
}

/// The strip of the act, which has its loudness.
fn strip(folder: &Folder, more: &[&str]) -> String {
    let arguments = [&["strip", "act.ron", "-o", "strip.svg"][..], more].concat();
    let (status, _, stderr) = folder.run(&arguments);
    assert_eq!((status, stderr.as_str()), (0, ""));
    let strip = folder.text("strip.svg");
    assert!(strip.contains("loudness of the music"));
    strip
}

#[test]
fn what_was_heard_is_kept_and_everything_is_the_same_with_it() {
    let folder = folder("kept-same");
    let without = strip(&folder, &["--no-cache"]);
    assert!(!folder.cache().exists());
    assert_eq!(strip(&folder, &[]), without);
    let kept = entries(&folder);
    assert_eq!(kept.len(), 1);
    let written = || fs::metadata(&kept[0]).unwrap().modified().unwrap();
    let (bytes, first) = (fs::read(&kept[0]).unwrap(), written());
    assert!(bytes.len() < 1_000, "{}", bytes.len());
    assert_eq!(strip(&folder, &[]), without);
    assert_eq!(strip(&folder, &["--no-cache"]), without);
    // What is found is not written again.
    assert_eq!((entries(&folder), written()), (kept.clone(), first));
    // What is damaged counts as nothing, and is written anew.
    for damage in [&bytes[..bytes.len() / 2], b"", &[&bytes[..], b"more"].concat()] {
        fs::write(&kept[0], damage).unwrap();
        assert_eq!(strip(&folder, &[]), without);
        assert_eq!(fs::read(&kept[0]).unwrap(), bytes);
    }
    let mut changed = bytes.clone();
    changed[70] ^= 1;
    fs::write(&kept[0], &changed).unwrap();
    assert_eq!(strip(&folder, &[]), without);
    assert_eq!(fs::read(&kept[0]).unwrap(), bytes);
}

#[cfg(unix)]
#[test]
fn a_file_of_the_same_size_and_time_of_change_is_heard_again() {
    let folder = folder("kept-changed");
    assert_eq!(folder.run(&["check", "act.ron"]).0, 0);
    // Half the samples a second: twice as long.
    let mut slower = clicks(12.3, 120.0, 0.5).wav();
    assert_eq!(slower[24..28], 16_000_u32.to_le_bytes());
    slower[24..28].copy_from_slice(&8_000_u32.to_le_bytes());
    let heard = |folder: &Folder| folder.run(&["check", "act.ron"]).2.contains("0:24.6 long");
    music(&folder, &slower);
    assert!(heard(&folder));
    // Another file in its place.
    fs::rename(folder.0.join("quay.wav"), folder.0.join("slower.wav")).unwrap();
    music(&folder, &clicks(12.3, 120.0, 0.5).wav());
    assert!(!heard(&folder));
    fs::rename(folder.0.join("slower.wav"), folder.0.join("quay.wav")).unwrap();
    assert!(heard(&folder) && heard(&folder));
    assert_eq!(entries(&folder).len(), 1);
}

#[test]
fn what_was_just_written_or_cannot_be_heard_is_not_kept() {
    let folder = folder("kept-not");
    folder.write("quay.wav", clicks(12.3, 120.0, 0.5).wav());
    assert_eq!(folder.run(&["check", "act.ron"]).0, 0);
    let whole = clicks(12.3, 120.0, 0.5).wav();
    music(&folder, &whole[..whole.len() / 2]);
    assert_eq!(folder.run(&["check", "act.ron"]).0, 1);
    assert_eq!(entries(&folder), Vec::<std::path::PathBuf>::new());
    music(&folder, &whole);
    assert_eq!(folder.run(&["check", "act.ron"]).0, 0);
    assert_eq!(entries(&folder).len(), 1);
    fs::remove_file(folder.0.join("quay.wav")).unwrap();
    let (_, _, stderr) = folder.run(&["check", "act.ron"]);
    assert!(stderr.contains("throwbook explain track-missing"), "{stderr}");
}

#[test]
fn a_cache_that_cannot_be_written_or_read_is_left_out() {
    let folder = folder("kept-nowhere");
    let right = folder.run(&["check", "--no-cache", "act.ron"]);
    assert_eq!(right.0, 0);
    // A file where the folder should be.
    fs::write(folder.cache(), "no folder").unwrap();
    assert_eq!(folder.run(&["check", "act.ron"]), right);
    assert_eq!(fs::read(folder.cache()).unwrap(), b"no folder");
    fs::remove_file(folder.cache()).unwrap();
    // A folder where the entry should be.
    assert_eq!(folder.run(&["check", "act.ron"]), right);
    let entry = entries(&folder).remove(0);
    fs::remove_file(&entry).unwrap();
    fs::create_dir(&entry).unwrap();
    assert_eq!(folder.run(&["check", "act.ron"]), right);
    assert_eq!(entries(&folder), [entry]);
}

#[test]
fn old_entries_go_where_there_are_too_many() {
    let folder = folder("kept-many");
    let cache = folder.cache().join("throwbook");
    fs::create_dir_all(&cache).unwrap();
    for number in 0..300 {
        fs::write(cache.join(format!("{number}.heard")), "old").unwrap();
    }
    fs::write(cache.join("somebody-elses.txt"), "left alone").unwrap();
    let long_ago = SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000_000);
    let stray = cache.join("0123.77.new");
    fs::write(&stray, "half-wri").unwrap();
    File::options().write(true).open(&stray).unwrap().set_modified(long_ago).unwrap();
    assert_eq!(folder.run(&["check", "act.ron"]).0, 0);
    assert_eq!(entries(&folder).len(), 257);
    assert!(cache.join("somebody-elses.txt").exists() && !stray.exists());
    let is_new = |path: &std::path::PathBuf| fs::metadata(path).unwrap().len() > 100;
    assert_eq!(entries(&folder).iter().filter(|path| is_new(path)).count(), 1);
}

#[test]
fn runs_at_once_do_not_hurt_each_other() {
    let folder = folder("kept-at-once");
    let right = folder.run(&["check", "--no-cache", "act.ron"]);
    for _ in 0..4 {
        let runs: Vec<_> = (0..8)
            .map(|_| {
                let mut command = folder.command(&["check", "act.ron"]);
                command.stdout(std::process::Stdio::piped()).spawn().unwrap()
            })
            .collect();
        for run in runs {
            let said = run.wait_with_output().unwrap();
            assert_eq!(said.status.code(), Some(0));
            assert_eq!(String::from_utf8(said.stdout).unwrap(), right.1);
        }
        let kept = entries(&folder);
        assert_eq!(kept.len(), 1, "{kept:?}");
        fs::remove_file(&kept[0]).unwrap();
    }
}
