//! MIDI files against the published bytes, and against the times that the sheets print.

use std::fmt::Write;

use throwbook::act::Act;
use throwbook::export::midi::midi;
use throwbook::measure::music_beats::MusicBeat;
use throwbook::routine::CueNumber;
use throwbook::sheet::rehearsal::grid::Grid;
use throwbook::sheet::rehearsal::sequence::{
    ALL_DEVICES, Equipment, Mark, Sequence, ShowControl, Start, compose,
};
use throwbook::time::Seconds;

use super::smf::{Event, Smf, bytes_of, read};
use super::{ACTS, LANTERN, media, opened};

const MARKER: u8 = 0x06;
const CUE_POINT: u8 = 0x07;

fn sequence(act: &Act, from: Option<&str>) -> Sequence {
    compose(act, media(act, from), Some(ALL_DEVICES)).unwrap()
}

/// A sequence of the worked example with nothing in it.
fn empty() -> Sequence {
    let act = opened(LANTERN);
    Sequence {
        grid: Grid::of(&[], |beat| beat.at.clone()).unwrap(),
        markers: Vec::new(),
        cue_points: Vec::new(),
        show_control: None,
        ends: 0,
        ..sequence(&act, None)
    }
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

#[test]
fn distances_between_events_are_the_published_quantities() {
    // Source: Standard MIDI Files 1.0 (RP-001), conventions and examples.
    let mut checked = 0;
    for row in csv::Reader::from_path("tests/data/vlq.csv").unwrap().records() {
        let row = row.unwrap();
        let tick = u32::from_str_radix(&row[0], 16).unwrap();
        let markers = vec![Mark { tick, words: "here".to_owned() }];
        let bytes = midi(&Sequence { markers, ends: tick, ..empty() });
        // The tempo before it stands at tick 0; the marker's event follows its distance.
        let mut expected = bytes_of("FF 51 03 0F 42 40");
        expected.extend(bytes_of(&row[1]));
        expected.extend(bytes_of("FF 06 04 68 65 72 65 00 FF 2F 00"));
        assert!(holds(&bytes, &expected), "{tick}");
        checked += 1;
    }
    assert_eq!(checked, 17);
}

#[test]
fn tempos_are_the_published_events() {
    // Source: Standard MIDI Files 1.0 (RP-001), and arithmetic that another reader agrees with.
    let mut checked = 0;
    for row in csv::Reader::from_path("tests/data/tempo_meta.csv").unwrap().records() {
        let row = row.unwrap();
        let bpm: i64 = row[0].parse().unwrap();
        let beats: Vec<MusicBeat> = (0..8)
            .map(|index| MusicBeat {
                at: Seconds::fraction(60 * index, bpm),
                parts: vec![Seconds::fraction(60, bpm)],
                bar: index / 4,
                number: u32::try_from(index % 4).unwrap() + 1,
                of: 4,
            })
            .collect();
        let grid = Grid::of(&beats, |beat| beat.at.clone()).unwrap();
        let bytes = midi(&Sequence { grid, ..empty() });
        let tempos: Vec<_> = read(&bytes).tracks[0].iter().filter(is_tempo).cloned().collect();
        assert_eq!(tempos.len(), 1, "one tempo is one event");
        assert!(holds(&bytes, &bytes_of(&row[2])), "{bpm}");
        // The example of the standard: four quarter notes to the bar.
        assert!(holds(&bytes, &bytes_of("FF 58 04 04 02 18 08")));
        checked += 1;
    }
    assert_eq!(checked, 7);
}

fn is_tempo(event: &&(u64, Event)) -> bool {
    matches!(event.1, Event::Meta(0x51, _))
}

#[test]
fn show_control_messages_are_the_published_bytes() {
    // Source: MIDI Show Control 1.1.1 (RP-002), §2.1, §2.2, §3.1, §4.1, §4.3.
    let rows: Vec<_> = csv::Reader::from_path("tests/data/msc.csv")
        .unwrap()
        .records()
        .map(|row| row.unwrap())
        .collect();
    let hex = |what: &str| &rows.iter().find(|row| &row[0] == what).unwrap()[1];
    let file = |equipment, tenths| {
        let start = Start { tick: 0, equipment, number: CueNumber { tenths } };
        let control = ShowControl { device: 1, starts: vec![start], not_started: Vec::new() };
        midi(&Sequence { show_control: Some(control), ..empty() })
    };
    // The published message goes on with a list and a path, which a routine does not have.
    let whole = bytes_of(hex("GO, lighting, device 1, that cue"));
    let number_ends = whole.iter().position(|&byte| byte == 0).unwrap();
    let message = [&whole[..number_ends], &[0xf7]].concat();
    assert!(message.ends_with(b"235.6\xf7"));
    let mut event = vec![0x00, 0xf0, u8::try_from(message.len() - 1).unwrap()];
    event.extend(&message[1..]);
    assert!(holds(&file(Equipment::Lighting, 2356), &event));
    // In a file F0 is followed by the length of what follows it.
    let plain = bytes_of(hex("GO, lighting, device 1, no cue, as an SMF event"));
    assert_eq!((plain[0], usize::from(plain[1])), (0xf0, plain.len() - 2));
    assert_eq!(plain[2..plain.len() - 1], message[1..message.len() - 6]);
    let format = |what: &str| {
        let formats = hex("formats").split(' ');
        let code = formats.filter_map(|one| one.split_once('=')).find(|(of, _)| *of == what);
        u8::from_str_radix(code.unwrap().1, 16).unwrap()
    };
    assert!(hex("codes").starts_with("GO=01 "));
    for (equipment, what) in [
        (Equipment::Lighting, "lighting"),
        (Equipment::Sound, "sound"),
        (Equipment::Machinery, "machinery"),
    ] {
        let go = [0xf0, 7, 0x7f, 1, 2, format(what), 1, b'5', 0xf7];
        assert!(holds(&file(equipment, 50), &go), "{what}");
    }
}

/// What a file holds, a line an event: tick, seconds, what.
fn dump(smf: &Smf) -> String {
    let mut text = format!("format {}, {} ticks a quarter note\n", smf.format, smf.division);
    for (index, track) in smf.tracks.iter().enumerate() {
        let _ = writeln!(text, "track {index}");
        for (tick, event) in track {
            let what = match event {
                Event::Meta(0x51, data) => {
                    let us = data.iter().fold(0_u32, |us, &byte| us << 8 | u32::from(byte));
                    format!("tempo {us} us")
                }
                Event::Meta(0x58, data) => format!("time signature {}/{}", data[0], 1 << data[1]),
                Event::Meta(0x2f, _) => "end".to_owned(),
                Event::Meta(kind, data) => {
                    let words = String::from_utf8_lossy(data);
                    let kind = match kind {
                        0x01 => "text",
                        0x03 => "name",
                        0x06 => "marker",
                        0x07 => "cue point",
                        _ => "?",
                    };
                    format!("{kind} \"{words}\"")
                }
                Event::Exclusive(data) => {
                    let hex: Vec<String> = data.iter().map(|byte| format!("{byte:02X}")).collect();
                    format!("exclusive F0 {}", hex.join(" "))
                }
                Event::Channel => "channel".to_owned(),
            };
            let _ = writeln!(text, "{tick:>7} {:>8.3}  {what}", smf.seconds(*tick));
        }
    }
    text
}

#[test]
fn the_sequence_of_the_worked_example() {
    let act = opened(LANTERN);
    let smf = read(&midi(&sequence(&act, None)));
    insta::assert_snapshot!(dump(&smf));
}

#[test]
fn every_section_and_cue_stands_within_half_a_tick_of_its_time() {
    for text in ACTS {
        let act = opened(text);
        for from in [None, Some("At(\"0:20\")")] {
            let media = media(&act, from);
            let smf = read(&midi(&sequence(&act, from)));
            let tempos = smf.tracks[0].iter().filter_map(|(_, event)| match event {
                Event::Meta(0x51, data) => {
                    Some(data.iter().fold(0, |us, &byte| us << 8 | u32::from(byte)))
                }
                _ => None,
            });
            let slowest = tempos.max().unwrap();
            assert!(slowest <= 1_000_000, "a tick is a thousandth or about so");
            // Half a tick of it, and what the seconds of a float are good for.
            let half = f64::from(slowest) / f64::from(smf.division) / 2e6 + 1e-9;
            let is_at = |tick: u64, time: &Seconds, words: &str| {
                let apart = smf.seconds(tick) - time.to_f64();
                assert!(apart.abs() <= half, "{words}: {apart} s");
            };
            let sections: Vec<_> = media
                .sections
                .iter()
                .filter_map(|section| Some((section.seen_from()?, section.name.clone())))
                .collect();
            let markers = smf.texts(MARKER);
            assert_eq!(markers.len(), sections.len());
            for ((tick, words), (at, name)) in markers.iter().zip(&sections) {
                assert_eq!(words, name);
                is_at(*tick, at, words);
            }
            let cues: Vec<_> = media.cues.iter().filter(|cue| !cue.at.is_negative()).collect();
            let points = smf.texts(CUE_POINT);
            assert_eq!(points.len(), cues.len());
            for ((tick, words), cue) in points.iter().zip(cues) {
                assert_eq!(*words, cue.words);
                is_at(*tick, &cue.at, words);
            }
            let is_started = |words: &str| words.contains(' ') && !words.starts_with("FS ");
            let numbered =
                points.iter().filter(|(_, words)| is_started(words.split_once(':').unwrap().0));
            let goes =
                smf.tracks[2].iter().filter(|(_, event)| matches!(event, Event::Exclusive(_)));
            assert_eq!(goes.count(), numbered.count());
        }
    }
}

#[test]
fn bars_that_change_their_tempo_and_their_beats_keep_their_lines() {
    let bars = "bars: [Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1), \
                Bars(from: \"0:08.85\", bpm: 95, music_beats: 3, number: 5)]";
    let text = LANTERN
        .replace("bars: [Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1)]", bars);
    let act = opened(&text);
    let smf = read(&midi(&sequence(&act, None)));
    let changes: Vec<_> = smf.tracks[0]
        .iter()
        .filter_map(|(tick, event)| match event {
            Event::Meta(0x58, data) => Some((*tick, data[0])),
            _ => None,
        })
        .collect();
    let second = (2 + 16) * 960;
    assert_eq!(changes, [(0, 2), (2 * 960, 4), (second, 3)]);
    assert!((smf.seconds(second) - 8.85).abs() < 1e-9);
    // Sixty beats of 631,578.947… µs, each 53 ns longer in the file.
    let drift = smf.seconds(second + 60 * 960) - (8.85 + 60.0 * 60.0 / 95.0);
    assert!((drift - 60.0 * 0.052_631_6e-6).abs() < 1e-9, "{drift}");
}
