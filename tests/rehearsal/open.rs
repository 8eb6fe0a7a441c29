//! Files of acts that leave lengths open: they say so, and start nothing whose time is not known.

use std::fs;

use super::LANTERN;
use super::folder::Folder;
use super::smf::{Event, Smf, read};

/// The worked example with applause of nobody knows what length before its last section, and cues
/// before it and behind it.
fn applause() -> String {
    let text = LANTERN
        .replace(
            "Pause(name: \"pick up two\", lasts: For(\"0:06\"),",
            "Pause(name: \"applause\", lasts: Between(\"0:06\", \"0:14\"),",
        )
        .replace(
            "    cues: [\n",
            "    cues: [
        Cue(crew: Spot, number: 7, at: Start(\"tide\"), trigger: Called, does: \"up\", spot: Up),
        Cue(crew: Light, number: 40, at: Throw(\"fleet\", 12), trigger: Called, does: \"blue\", count: 2),
        Cue(crew: Deck, number: 41, at: Shift(Throw(\"fleet\", 12), 2.0), trigger: Called, does: \"ramp\"),
",
        );
    assert!(text.contains("applause") && text.contains("number: 41"));
    text
}

fn goes(smf: &Smf) -> Vec<String> {
    let go = |(_, event): &(u64, Event)| match event {
        Event::Exclusive(bytes) => {
            Some(String::from_utf8_lossy(&bytes[5..bytes.len() - 1]).into_owned())
        }
        _ => None,
    };
    smf.tracks.last().unwrap().iter().filter_map(go).collect()
}

const EARLIEST: &str = "Earliest times: \"applause\" (6.0–14.0 s) is at its shortest.";

#[test]
fn show_control_starts_no_cue_whose_time_is_open_and_no_followspot() {
    let folder = Folder::new("rehearsal-open-go");
    folder.write("act.ron", applause());
    let (status, stdout, stderr) =
        folder.run(&["midi", "act.ron", "-o", "go.mid", "--show-control"]);
    assert_eq!(status, 0, "{stderr}");
    assert!(stdout.contains("GO messages 3;"), "{stdout}");
    let smf = read(&fs::read(folder.0.join("go.mid")).unwrap());
    assert_eq!(goes(&smf), ["15", "20", "25"]);
    let listed = stderr.split("not started by show control:\n").nth(1).unwrap();
    let listed: Vec<&str> = listed.lines().take_while(|line| line.starts_with("  ")).collect();
    assert_eq!(
        listed,
        [
            "  FS 7  (a followspot is worked by a person)",
            "  LX 40  (its time is open)",
            "  DECK 41  (its time is open)",
        ]
    );
}

#[test]
fn files_say_that_their_times_are_the_earliest() {
    let folder = Folder::new("rehearsal-open-words");
    folder.write("act.ron", applause());
    folder.write("fixed.ron", LANTERN);
    for (command, file) in
        [("captions", "a.vtt"), ("captions", "a.srt"), ("midi", "a.mid"), ("click", "a.wav")]
    {
        let (status, _, stderr) = folder.run(&[command, "act.ron", "-o", file]);
        assert_eq!(status, 0, "{stderr}");
        assert!(stderr.replace('\n', " ").contains(EARLIEST), "{command} {file}: {stderr}");
        let said = stderr.lines().skip_while(|line| !line.starts_with("Earliest"));
        assert!(said.into_iter().all(|line| line.chars().count() <= 80), "{stderr}");
        let (_, _, stderr) = folder.run(&[command, "fixed.ron", "-o", &format!("fixed-{file}")]);
        assert!(!stderr.contains("Earliest"), "{stderr}");
    }
    let vtt = fs::read_to_string(folder.0.join("a.vtt")).unwrap();
    assert!(vtt.contains(&format!("\n\nNOTE {EARLIEST}")), "{vtt}");
    let smf = read(&fs::read(folder.0.join("a.mid")).unwrap());
    assert!(smf.texts(0x01).iter().any(|(tick, text)| *tick == 0 && text.starts_with(EARLIEST)));
    let fixed = read(&fs::read(folder.0.join("fixed-a.mid")).unwrap());
    assert_eq!(fixed.texts(0x01), []);
    let (_, _, stderr) = folder.run(&["build", "act.ron", "--out", "out"]);
    assert_eq!(stderr.replace('\n', " ").matches(EARLIEST).count(), 1, "{stderr}");
    // From behind the applause on, nothing in the file hangs on it.
    let arguments = ["captions", "act.ron", "-o", "b.vtt", "--from", "Start(\"fleet\")"];
    let (_, _, stderr) = folder.run(&arguments);
    assert!(!stderr.contains("Earliest"), "{stderr}");
}
