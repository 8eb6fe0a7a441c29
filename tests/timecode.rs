//! Time codes against published values, and what must hold for every frame of a day.
//!
//! Source of `data/smpte.csv`: the rule of SMPTE ST 12-1 (restated in MIDI Show Control, RP-002
//! v1.1.1 §3.2.1, whose worked example is among them); two independent programs agree.
#![allow(missing_docs)]

use std::collections::BTreeSet;

use throwbook::export::{cues_csv, cues_json, cues_page, cues_text, timing_json, timing_text};
use throwbook::sheet::stamp::TimecodeClock;
use throwbook::sheet::{cues, timing};
use throwbook::time::{FrameRate, Seconds, Timecode};

#[test]
fn published_numbers_are_met_both_ways() {
    let mut checked = BTreeSet::new();
    for row in csv::Reader::from_path("tests/data/smpte.csv").unwrap().records() {
        let row = row.unwrap();
        let (kind, text) = (&row[0], &row[1]);
        checked.insert(kind.to_owned());
        let rate = if kind == "ndf30" { FrameRate::F30 } else { FrameRate::Drop2997 };
        if kind == "df_missing" {
            let said = Timecode::read(text, rate).unwrap_err();
            assert!(said.contains("there is no"), "{text}: {said}");
            continue;
        }
        let frame: u32 = row[2].parse().unwrap();
        let read = Timecode::read(text, rate).unwrap();
        assert_eq!(read.frame(), frame, "{text}");
        assert_eq!(Timecode::of_frame(rate, i64::from(frame)).to_string(), text);
        // The published seconds lead back to the frame, too.
        let seconds = Seconds::decimal(row[3].parse().unwrap()).unwrap();
        let midnight = Timecode::of_frame(rate, 0);
        assert_eq!(midnight.after(&seconds).to_string(), text, "{} s", &row[3]);
    }
    assert_eq!(checked.into_iter().collect::<Vec<_>>(), ["df", "df_missing", "ndf30"]);
}

#[test]
fn every_frame_of_a_day_has_a_number_of_its_own_and_numbers_only_grow() {
    for rate in FrameRate::ALL {
        let mut before = String::new();
        for frame in 0..rate.frames_a_day() {
            let text = Timecode::of_frame(rate, i64::from(frame)).to_string();
            assert!(text > before, "{rate:?}: {text} after {before}");
            // Reading every one of a day takes a while: every 7th, and those about whole minutes.
            if frame % 7 == 0 || text.get(6..8) == Some("00") {
                assert_eq!(Timecode::read(&text, rate).unwrap().frame(), frame);
            }
            before = text;
        }
        let last = rate.numbers_a_second() - 1;
        let mark = if rate == FrameRate::Drop2997 { ';' } else { ':' };
        assert_eq!(before, format!("23:59:59{mark}{last}"));
    }
}

#[test]
fn drop_frame_leaves_out_two_numbers_in_nine_minutes_of_ten_and_no_others() {
    let mut left_out = 0;
    for hours in [0, 9, 23] {
        for minutes in 0..60 {
            for frames in 0..30 {
                let text = format!("{hours:02}:{minutes:02}:00;{frames:02}");
                let is_there = Timecode::read(&text, FrameRate::Drop2997).is_ok();
                assert_eq!(is_there, minutes % 10 == 0 || frames > 1, "{text}");
                left_out += u32::from(!is_there);
            }
        }
    }
    assert_eq!(left_out, 3 * 108);
}

#[test]
fn drop_frame_stays_within_a_sixth_of_a_second_of_the_clock_all_day() {
    for frame in (0..FrameRate::Drop2997.frames_a_day()).step_by(13) {
        let text = Timecode::of_frame(FrameRate::Drop2997, i64::from(frame)).to_string();
        let part = |at: usize| text[at..at + 2].parse::<f64>().unwrap();
        let reads = part(0) * 3600.0 + part(3) * 60.0 + part(6) + part(9) / 30.0;
        let is = f64::from(frame) * 1001.0 / 30_000.0;
        assert!((reads - is).abs() < 1.0 / 6.0, "{text} at {is} s");
    }
}

#[test]
fn the_sheets_show_time_codes_where_they_are_asked_for() {
    let opened = throwbook::open(include_str!("routines/lantern.ron"));
    let act = opened.finished().unwrap();
    let start = Timecode::read("10:00:00:00", FrameRate::F25).unwrap();
    let clock = TimecodeClock::new(act, start);

    let plain = cues::compose(act, None);
    let sheet = plain.clone().with_timecode(&clock);
    let codes = |text: &str| -> Vec<serde_json::Value> {
        let document: serde_json::Value = serde_json::from_str(text).unwrap();
        let cues = document["cues"].as_array().unwrap();
        cues.iter().map(|cue| cue["timecode"].clone()).collect()
    };
    assert_eq!(codes(&cues_json::of_sheet(&plain)), vec![serde_json::Value::Null; 5]);
    // House to half comes before the track. 7.5 s is 187.5 frames, 31.1 s 777.5.
    let expected =
        serde_json::json!([null, "10:00:00:00", "10:00:07:13", "10:00:31:03", "10:00:34:15"]);
    assert_eq!(serde_json::Value::from(codes(&cues_json::of_sheet(&sheet))), expected);

    let csv = cues_csv::of_sheet(&sheet);
    let rows: Vec<&str> = csv.lines().collect();
    assert!(rows[0].starts_with("time,time_s,timecode,timecode_latest,bar,music_beat,bar_latest,music_beat_latest,standby,"), "{csv}");
    assert!(rows[1].starts_with("-0:20.0,-20,,,,,,,-0:25.0,"), "{csv}");
    assert!(rows[3].starts_with("0:07.5,7.5,10:00:07:13,,4,2.3,,,0:02.5,"), "{csv}");
    assert_eq!(cues_csv::of_sheet(&plain), cues_csv::csv(act, None));

    assert!(cues_text::of_sheet(&sheet, 80).contains("\nLX 20     0:31.1 "));
    for text in [cues_text::of_sheet(&sheet, 80), cues_page::of_sheet(&sheet)] {
        assert!(text.contains("10:00:31:03"), "{text}");
        assert!(text.contains("10:00:00:00 at track start"), "{text}");
    }
    let longest = cues_text::of_sheet(&sheet, 80).lines().map(|line| line.chars().count()).max();
    assert!(longest <= Some(80));

    let sheet = timing::compose(act).with_timecode(clock);
    let document: serde_json::Value = serde_json::from_str(&timing_json::of_sheet(&sheet)).unwrap();
    let at = |index: usize| &document["sections"][index]["timecode"];
    // walk on stands before the track; 37.1 s is 927.5 frames.
    assert_eq!((at(0), at(7)), (&serde_json::json!(null), &serde_json::json!("10:00:37:03")));
    let text = timing_text::of_sheet(&sheet, 80);
    assert!(text.contains("10:00:37:03") && text.lines().all(|line| line.chars().count() <= 80));
}
