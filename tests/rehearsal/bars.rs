//! Bars and music beats of a MIDI file, found again from its tempo and its time signatures, against
//! those of the act.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;
use throwbook::act::Act;
use throwbook::export::midi::midi;
use throwbook::sheet::rehearsal::Go;
use throwbook::sheet::rehearsal::sequence::compose;
use throwbook::time::{MusicMap, Seconds};

use super::smf::{Event, Smf, read};
use super::{LANTERN, media, opened};

const CUE_POINT: u8 = 0x07;
const WRITTEN: &str = "bars: [Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1)]";

/// The worked example with other bars.
fn with_bars(bars: &str) -> Act {
    assert!(LANTERN.contains(WRITTEN));
    opened(&LANTERN.replace(WRITTEN, &format!("bars: [{bars}]")))
}

/// The file of an act with a cue every 97 thousandths from 0.9 s on, the track playing from 0.
fn every_tenth(act: &Act, until_ms: i64) -> (Smf, Vec<Seconds>) {
    let mut media = media(act, None);
    assert_eq!(media.zero, "track start");
    let times: Vec<Seconds> =
        (900..until_ms).step_by(97).map(|at| Seconds::fraction(at, 1000)).collect();
    let go = |at: &Seconds| Go { cue: 0, at: at.clone(), is_certain: true, words: "go".to_owned() };
    media.cues = times.iter().map(go).collect();
    (read(&midi(&compose(act, media, None).unwrap())), times)
}

/// The music beat in its bar from 0, by the file's time signatures, and which of its bars it is.
fn in_bar(smf: &Smf, tick: u64) -> (u64, f64) {
    let (mut bars, mut last) = (0, (0, 4));
    for (at, event) in &smf.tracks[0] {
        if let Event::Meta(0x58, data) = event
            && *at <= tick
        {
            bars += (at - last.0) / 960 / last.1;
            last = (*at, u64::from(data[0]));
        }
    }
    let into = (tick - last.0) as f64 / 960.0;
    let bar = (into / last.1 as f64).floor();
    (bars + bar as u64, into - bar * last.1 as f64)
}

/// Where a place in the count of music beats is, its bar from the first of all.
fn named(map: &MusicMap, time: &Seconds) -> (i64, f64) {
    let place = map.bar_beat(time).unwrap();
    (place.bar, place.music_beat.to_f64().unwrap() - 1.0)
}

#[test]
fn bars_and_music_beats_of_the_file_are_those_of_the_act() {
    for bars in [
        // Nothing changes.
        "Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1)",
        // The last music beat before the change has 0.6, 1.2 and 0.4 of its length.
        "Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1), \
         Bars(from: \"0:08.65\", bpm: 95, music_beats: 3, number: 5)",
        "Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1), \
         Bars(from: \"0:08.95\", bpm: 70, music_beats: 4, number: 5)",
        "Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1), \
         Bars(from: \"0:30.05\", bpm: 200, music_beats: 5, number: 20)",
        // The act ends in another stretch than it begins in, in the middle of a slow music beat.
        "Bars(from: \"0:00.85\", bpm: 120, music_beats: 4, number: 1), \
         Bars(from: \"0:40.85\", bpm: 41, music_beats: 3, number: 21)",
        // Ramps: held after it, cut by the next stretch, steep, up to the end of the act.
        "Bars(from: \"0:00.85\", bpm: 90, music_beats: 4, number: 1, to: 140, over: 16)",
        "Bars(from: \"0:00.85\", bpm: 60, music_beats: 4, number: 1, to: 240, over: 4), \
         Bars(from: \"0:10.2\", bpm: 90, music_beats: 4, number: 10, to: 45, over: 5)",
        "Bars(from: \"0:00.85\", bpm: 50, music_beats: 4, number: 1, to: 170, over: 200)",
    ] {
        let act = with_bars(bars);
        let map = act.routine.first_track().unwrap().music_map().unwrap();
        let (smf, times) = every_tenth(&act, 58_000);
        let points = smf.texts(CUE_POINT);
        assert_eq!(points.len(), times.len());
        let (first, _) = named(&map, &times[0]);
        let (first_of_file, _) = in_bar(&smf, points[0].0);
        // A cut bar may begin within rounding of a bar line: then both say how far it is.
        for ((tick, _), time) in points.iter().zip(&times) {
            let (bar, beat) = named(&map, time);
            let (of_file, read_beat) = in_bar(&smf, *tick);
            let off = (read_beat - beat) * 960.0;
            let said = format!("{bars}\n{time:?}: {bar}, {beat}; file {of_file}, {read_beat}");
            let bars_apart = (of_file - first_of_file).cast_signed();
            let jumps = bars.contains("number: 20") || bars.contains("number: 10");
            assert!(jumps || bar - first == bars_apart, "{said}");
            assert!(off.abs() <= 1.0, "{said}: off by {off} ticks");
            let seconds = smf.seconds(*tick) - time.to_f64();
            assert!(seconds.abs() < 0.001, "{said}: off by {seconds} s");
        }
        // A music beat is where the file has a quarter note, wherever the act stands.
        let lead_in = points.iter().zip(&times).map(|((tick, _), time)| {
            *tick as f64 / 960.0 - map.count(time).unwrap().to_f64().unwrap()
        });
        let lead_in = lead_in.clone().sum::<f64>() / lead_in.count() as f64;
        assert!((lead_in - lead_in.round()).abs() < 0.001, "{bars}: {lead_in}");
        for count in 0..60 {
            let at = map.time(&BigRational::from_integer(BigInt::from(count))).to_f64();
            let tick = (f64::from(count) + lead_in.round()) * 960.0;
            let off = smf.seconds(tick as u64) - at;
            assert!(at > 58.0 || off.abs() < 0.0005, "{bars}: beat {count} off by {off} s");
        }
    }
}

#[test]
fn a_music_beat_that_a_hold_makes_long_keeps_the_bars_after_it() {
    let held = LANTERN.replace(
        "marks: { \"drum\": \"0:07.5\" },",
        "marks: { \"drum\": \"0:07.5\" },
        holds: { \"still\": Hold(at: \"0:04.1\", lasts: Between(\"0:30\", \"0:30\"), resumes: See(\"a nod\")) },",
    );
    let act = opened(&held);
    let smf = read(&midi(&compose(&act, media(&act, None), None).unwrap()));
    // The first music beat of bar 9 is at 16.85 on the track, and 30 s later in the show.
    let tick = (1..).find(|tick| smf.seconds(*tick) >= 46.85 - 1e-4).unwrap();
    let (_, beat) = in_bar(&smf, tick);
    assert!(beat < 0.002 || beat > 3.998, "{beat}");
}
