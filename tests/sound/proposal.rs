//! What `listen` proposes is a track that a routine file can hold.

use std::io::Cursor;

use throwbook::sheet::listening::compose;
use throwbook::sound::{Listening, decode, listen};
use throwbook::time::Seconds;
use throwbook::{export, read};

use crate::synthesis::{Music, clicks};

/// A routine with a track pasted into it.
fn with(track: &str) -> String {
    format!(
        "Routine(\n    title: \"Quay\", tempo: PerMinute(200), zero: FirstThrow,\n    colours: {{ \
         \"tar\": \"#33415c\" }},\n    sets: {{ \"one\": Set(kind: Ball, length: 0.07, colours: \
         [\"tar\", \"tar\", \"tar\"]) }},\n    music: {track},\n    score: [Juggle(name: \"tide\", \
         set: \"one\", pattern: \"3\", lasts: Beats(30))],\n)\n"
    )
}

#[test]
fn the_proposal_reads_back_as_it_was_meant() {
    let sheet = compose("quay \"7\" \\ é.wav", listen(&clicks(30.0, 123.4, 0.85).recording()));
    let opened = throwbook::open(&with(&sheet.track()));
    assert!(opened.diagnostics.is_empty(), "{:?}\n{}", opened.diagnostics, sheet.track());
    let track = opened.act.unwrap().routine.music.unwrap();
    assert_eq!(track.file_name().unwrap(), "quay \"7\" \\ é.wav");
    assert_eq!(track.length.value, Seconds::fraction(30, 1));
    assert_eq!(track.bars.len(), 1);
    assert!((track.bars[0].from.value.to_f64() - 0.85).abs() < 0.002);
    assert_eq!(track.bars[0].bpm, throwbook::time::exact_decimal(123.4).unwrap());
    assert_eq!(track.marks[0].1.value, track.bars[0].from.value);
}

#[test]
fn without_a_beat_no_bars_are_proposed() {
    let mut music = Music::silence(8.0);
    music.tone(1.5, 0.5, 440.0, 2.0);
    let sheet = compose("drone.wav", listen(&music.recording()));
    assert!(!sheet.track().contains("bars"), "{}", sheet.track());
    let reading = read::read(&with(&sheet.track()));
    assert!(reading.diagnostics.is_empty(), "{:?}", reading.diagnostics);
    let text = export::listening_text::text(&sheet, 80);
    assert!(text.contains("no steady beat was found"), "{text}");
    let silent = compose("silent.wav", listen(&Music::silence(2.0).recording()));
    assert!(read::read(&with(&silent.track())).diagnostics.is_empty());
    assert!(export::listening_text::text(&silent, 80).contains("all of it"));
}

#[test]
fn the_sheet_of_a_file_reads_like_this() {
    let bytes = include_bytes!("../data/sound/clicks.wav");
    let heard: Listening = listen(&decode(Cursor::new(bytes)).unwrap());
    let sheet = compose("clicks.wav", heard);
    insta::assert_snapshot!("text", export::listening_text::text(&sheet, 80));
    insta::assert_snapshot!("json", export::listening_json::json(&sheet));
}

#[test]
fn the_music_that_ships_is_what_its_routines_say() {
    for act in ["night-ferry", "salt-flat"] {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("routines");
        let text = std::fs::read_to_string(folder.join(act).with_extension("ron")).unwrap();
        let track = throwbook::open(&text).act.unwrap().routine.music.unwrap();
        let recording =
            decode(std::fs::File::open(folder.join(track.file_name().unwrap())).unwrap()).unwrap();
        assert_eq!(recording.length(), track.length.value, "{act}");
        let sheet = compose(track.file_name().unwrap(), listen(&recording));
        let (bars, says) = (sheet.bars.unwrap(), &track.bars[0]);
        assert_eq!(throwbook::time::exact_decimal(bars.bpm).unwrap(), says.bpm, "{act}");
        assert_eq!(bars.music_beats, says.music_beats, "{act}");
        let off = (bars.from.to_f64() - says.from.value.to_f64()).abs();
        assert!(off < 0.005, "{act}: {off}");
    }
}
