//! The tempo and the first strong beat of music whose beats are known: within half a percent and
//! a few milliseconds; an octave off is only allowed where it is named as such.

use throwbook::sound::{Listening, Relation, Tempo, listen};

use crate::synthesis::rand_like::Random;
use crate::synthesis::{Music, band, clicks};

/// A tempo is right within this part of it.
const RIGHT: f64 = 0.005;
/// Seconds by which a first strong beat may be off.
const OFF: f64 = 0.005;

fn heard(music: &Music) -> Listening {
    listen(&music.recording())
}

fn tempo(music: &Music) -> Tempo {
    heard(music).tempo.expect("the music keeps a steady beat")
}

fn is_right(estimate: f64, bpm: f64) -> bool {
    (estimate / bpm - 1.0).abs() < RIGHT
}

#[test]
fn clicks_from_60_to_200_have_their_tempo_and_their_first_strong_beat() {
    for (bpm, first) in [
        (60.0, 0.85),
        (72.5, 0.0),
        (88.0, 2.5),
        (95.0, 0.31),
        (110.3, 1.0),
        (123.4, 0.85),
        (151.7, 0.7),
        (174.0, 3.0),
        (200.0, 0.2),
    ] {
        let tempo = tempo(&clicks(24.0 + first, bpm, first));
        assert!((tempo.bpm / bpm - 1.0).abs() < 0.0005, "{bpm}: {}", tempo.bpm);
        assert!((tempo.strong_beats[0] - first).abs() < OFF, "{bpm}: {:?}", tempo.strong_beats);
        assert!((tempo.strong_beats[1] - first - 240.0 / bpm).abs() < OFF, "{bpm}");
        assert!(tempo.confidence > 0.9 && tempo.stands_out && tempo.music_beats == 4, "{tempo:?}");
    }
}

#[test]
fn clicks_in_noise_keep_their_tempo() {
    let mut random = Random(1);
    for bpm in [60.0, 84.0, 123.4, 160.0, 200.0] {
        // There is time for a bar of noise before the first click.
        let mut music = clicks(30.0, bpm, 4.85);
        music.noise(0.1, &mut random);
        let tempo = tempo(&music);
        assert!(is_right(tempo.bpm, bpm), "{bpm}: {}", tempo.bpm);
        assert!((tempo.strong_beats[0] - 4.85).abs() < 0.02, "{bpm}: {}", tempo.strong_beats[0]);
    }
}

#[test]
fn a_player_who_is_a_little_early_and_late_keeps_a_tempo() {
    let mut random = Random(10);
    let mut music = Music::silence(40.0);
    for beat in 0..78 {
        music.click(0.5 + f64::from(beat) * 0.5 + 0.02 * random.either_way(), 0.5, 1200.0);
    }
    let tempo = tempo(&music);
    assert!(is_right(tempo.bpm, 120.0), "{}", tempo.bpm);
    assert!(!tempo.stands_out, "no click is stronger than the others");
}

#[test]
fn a_band_keeps_its_tempo_straight_and_swung_or_the_octave_is_named() {
    let mut random = Random(4);
    let mut octaves = 0;
    for swing in [0.0, 1.0 / 6.0] {
        for bpm in [60.0, 84.0, 100.0, 128.0, 151.7, 180.0, 200.0] {
            let tempo = tempo(&band(30.0, bpm, 1.2, swing, &mut random));
            let named = |relation: Relation| {
                tempo
                    .alternatives
                    .iter()
                    .any(|other| other.relation == relation && is_right(other.bpm, bpm))
            };
            if is_right(tempo.bpm, bpm) {
                assert!((tempo.strong_beats[0] - 1.2).abs() < 0.006, "{bpm}: {tempo:?}");
            } else {
                assert!(named(Relation::Half) || named(Relation::Double), "{bpm}: {tempo:?}");
                octaves += 1;
            }
        }
    }
    assert!(octaves <= 1, "{octaves} of 14 are an octave off");
}

#[test]
fn three_beats_to_the_bar_are_heard() {
    let mut music = Music::silence(30.0);
    for beat in 0..48 {
        let at = 0.4 + f64::from(beat) * 0.6;
        // The music begins with an upbeat.
        let (loud, pitch) = if beat % 3 == 1 { (0.8, 900.0) } else { (0.4, 1200.0) };
        music.click(at, loud, pitch);
    }
    let tempo = tempo(&music);
    assert!(is_right(tempo.bpm, 100.0), "{tempo:?}");
    assert_eq!(tempo.music_beats, 3);
    assert!((tempo.strong_beats[0] - 1.0).abs() < OFF, "{:?}", tempo.strong_beats);
}

#[test]
fn what_has_no_steady_beat_gets_none() {
    let mut random = Random(21);
    let mut noise = Music::silence(20.0);
    noise.noise(0.3, &mut random);
    let mut drone = Music::silence(20.0);
    drone.tone(0.0, 0.5, 440.0, 100.0);
    let mut hurried = Music::silence(30.0);
    let (mut at, mut bpm) = (0.5, 90.0);
    while at < 30.0 {
        hurried.click(at, 0.5, 1200.0);
        at += 60.0 / bpm;
        bpm += 1.0;
    }
    let mut one = Music::silence(10.0);
    one.click(3.0, 0.5, 1000.0);
    for (name, music) in [
        ("silence", Music::silence(20.0)),
        ("nothing", Music::silence(0.0)),
        ("noise", noise),
        ("a drone", drone),
        ("an accelerando", hurried),
        ("one click", one),
    ] {
        assert_eq!(heard(&music).tempo, None, "{name}");
    }
    for seed in 0..6 {
        let mut random = Random(100 + seed);
        let mut drops = Music::silence(20.0);
        let mut at = 0.0;
        while at < 20.0 {
            at += 0.1 + 0.8 * random.part();
            drops.click(at, 0.5, 1200.0);
        }
        assert_eq!(heard(&drops).tempo, None, "drops of rain {seed}");
    }
}

#[test]
fn leading_silence_is_measured_to_a_thousandth() {
    for first in [0.0, 0.25, 1.234] {
        let heard = heard(&clicks(12.0, 100.0, first));
        assert!((heard.silence.to_f64() - first).abs() <= 0.001, "{first}: {:?}", heard.silence);
    }
    let all = heard(&Music::silence(2.0));
    assert_eq!(all.silence, all.length);
}

#[test]
fn the_estimate_holds_over_a_whole_song() {
    let tempo = tempo(&clicks(180.0, 97.3, 0.5));
    // A thousandth of a beat a minute off would be 10 ms after ten minutes.
    assert!((tempo.bpm - 97.3).abs() < 0.002, "{}", tempo.bpm);
    let last = tempo.strong_beats.last().unwrap();
    let bars = ((last - 0.5) / (240.0 / 97.3)).round();
    assert!((last - 0.5 - bars * 240.0 / 97.3).abs() < OFF, "{last}");
}
