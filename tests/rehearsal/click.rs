//! Click tracks, heard by an onset finder that knows nothing of how they are made.

use std::collections::BTreeMap;

use throwbook::act::Act;
use throwbook::export::click_wav::{PEAK, RATE, wav};
use throwbook::hand::Hand;
use throwbook::sheet::rehearsal::clicks::{ClickTrack, Per, compose};

use super::{ACTS, LANTERN, media, opened};

/// The samples of a WAV file of 48,000 samples a second, 16 bits, one channel.
fn samples(bytes: &[u8]) -> Vec<i16> {
    let number = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap());
    assert_eq!((&bytes[..4], &bytes[8..16]), (&b"RIFF"[..], &b"WAVEfmt "[..]));
    assert_eq!(usize::try_from(number(4)).unwrap(), bytes.len() - 8);
    assert_eq!(bytes[20..24], [1, 0, 1, 0], "PCM, one channel");
    assert_eq!((number(24), number(28)), (48_000, 96_000));
    assert_eq!(bytes[32..36], [2, 0, 16, 0]);
    let data = 20 + usize::try_from(number(16)).unwrap();
    assert_eq!(&bytes[data..data + 4], b"data");
    let length = usize::try_from(number(data + 4)).unwrap();
    let samples = &bytes[data + 8..data + 8 + length];
    samples.chunks_exact(2).map(|two| i16::from_le_bytes([two[0], two[1]])).collect()
}

/// Samples that are heard after at least 5 ms of quiet.
fn onsets(samples: &[i16]) -> Vec<usize> {
    let (mut onsets, mut quiet) = (Vec::new(), usize::MAX / 2);
    for (index, sample) in samples.iter().enumerate() {
        if sample.unsigned_abs() < 64 {
            quiet += 1;
            continue;
        }
        if quiet >= 240 {
            onsets.push(index);
        }
        quiet = 0;
    }
    onsets
}

/// How high a click is: from its zero crossings in 10 ms.
fn hz(samples: &[i16]) -> f64 {
    let crossings = samples[..480].windows(2).filter(|pair| (pair[0] < 0) != (pair[1] < 0));
    let places = crossings.count() as f64;
    places / 2.0 / 0.01
}

fn track(act: &Act, per: Per, count_in: Option<u32>) -> ClickTrack {
    compose(act, media(act, None), per, count_in).unwrap()
}

#[test]
fn every_throw_is_heard_on_its_sample_from_the_hand_that_makes_it() {
    for text in ACTS {
        let act = opened(text);
        let track = track(&act, Per::Throw, Some(0));
        let samples = samples(&wav(&track));
        let zero = media(&act, None).reads(&throwbook::time::Seconds::zero()).to_f64();
        // Each instant, and which hands throw at it.
        let mut expected: BTreeMap<usize, Vec<Hand>> = BTreeMap::new();
        for run in &act.timeline.runs {
            for action in run.actions.iter().filter(|action| action.is_release()) {
                let time = run.time_of(action).shortest().to_f64() + zero;
                let hands = expected.entry((time * 48_000.0).round() as usize).or_default();
                if !hands.contains(&action.hand) {
                    hands.push(action.hand);
                }
            }
        }
        let heard = onsets(&samples);
        assert_eq!(heard.len(), expected.len(), "{}", act.routine.title.value);
        for (&onset, (&time, hands)) in heard.iter().zip(&expected) {
            assert!(onset.abs_diff(time) <= 1, "{onset} for {time}");
            if let [hand] = hands[..] {
                let hz = hz(&samples[onset..]);
                let tones = if hand == Hand::Right { [1200.0, 2400.0] } else { [800.0, 1600.0] };
                assert!(tones.iter().any(|tone| (hz - tone).abs() <= 100.0), "{hand:?}: {hz} Hz");
            }
        }
        let loudest = samples.iter().map(|sample| sample.unsigned_abs()).max().unwrap();
        assert_eq!(loudest, PEAK.unsigned_abs());
    }
}

#[test]
fn a_pause_is_quiet_and_a_section_begins_louder() {
    let act = opened(LANTERN);
    let whole = samples(&wav(&track(&act, Per::Throw, None)));
    let at = |seconds: f64| (seconds * f64::from(RATE)) as usize;
    // Four beats of 0.3 s are counted in before 7.5 s; ebb's last throw is at 30.3 s.
    let quiet = |from: f64, to: f64| whole[at(from)..at(to)].iter().all(|&sample| sample == 0);
    assert!(quiet(0.0, 6.29) && quiet(30.7, 37.09) && !quiet(37.09, 37.12));
    assert_eq!(onsets(&whole)[..5], [302_400, 316_800, 331_200, 345_600, 360_000]);
    let loudest =
        |from: f64| whole[at(from)..at(from + 0.1)].iter().map(|one| one.unsigned_abs()).max();
    assert_eq!((loudest(7.5), loudest(7.8)), (Some(16_384), Some(8_192)));
    assert_eq!((loudest(15.3), loudest(15.6)), (Some(16_384), Some(8_192)));
    // The act ends at 55.26666… s.
    assert_eq!(whole.len(), 2_652_800);
}

#[test]
fn music_beats_are_heard_where_the_bars_put_them() {
    let act = opened(LANTERN);
    let per = Per::MusicBeat { through_pauses: true };
    let whole = samples(&wav(&track(&act, per, Some(0))));
    let heard = onsets(&whole);
    // From 0.85 s every half second to the act's end at 55.26666… s.
    assert_eq!(heard.len(), 109);
    for (index, onset) in heard.iter().enumerate() {
        assert!(onset.abs_diff(40_800 + 24_000 * index) <= 1);
    }
    let tone = |index: usize| hz(&whole[heard[index]..]);
    // The first of every four beats is a bar; tide starts on the third of bar 4.
    for index in 0..heard.len() {
        let expected = if index % 4 == 0 { 1500.0 } else { 1000.0 };
        assert!((tone(index) - expected).abs() <= 100.0, "{index}: {} Hz", tone(index));
    }
}

#[test]
fn a_ramp_is_heard_to_the_sample() {
    // 60 to 120 a minute over 16 beats: t(b) = 16 ln(1 + b/16).
    let act = opened(
        "Routine(title: \"Ramp\", lead: Right, tempo: PerMinute(60), \
         colours: {\"a\": \"red\", \"b\": \"blue\", \"c\": \"green\"}, \
         sets: {\"three\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"b\", \"c\"])}, \
         score: [Juggle(name: \"a\", set: \"three\", pattern: \"3\", lasts: Beats(16), \
         tempo: Ramp(from: 60, to: 120))])",
    );
    let track = track(&act, Per::Throw, Some(2));
    let heard = onsets(&samples(&wav(&track)));
    assert_eq!(heard.len(), 18);
    let beat = |beats: f64| 16.0 * (beats / 16.0).ln_1p();
    // The count-in is as far apart as the first two beats, and the file is longer by it.
    for (index, &onset) in heard.iter().enumerate() {
        let beats = index as f64 - 2.0;
        let time = beat(1.0) * 2.0 + if beats < 0.0 { beats * beat(1.0) } else { beat(beats) };
        assert!(onset.abs_diff((time * 48_000.0).round() as usize) <= 1, "{onset} at {time} s");
    }
}

/// The markers of a WAV file, each a sample and a label, as RIFF has them ("Cue-Points Chunk" and
/// "Associated Data Chunk" of the Multimedia Programming Interface and Data Specifications 1.0,
/// 1991; from memory).
fn markers(bytes: &[u8]) -> Vec<(u32, String)> {
    let number = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap());
    let size = |at: usize| usize::try_from(number(at)).unwrap();
    let (mut samples, mut labels) = (BTreeMap::new(), BTreeMap::new());
    let mut at = 12;
    while at < bytes.len() {
        let (name, body, length) = (&bytes[at..at + 4], at + 8, size(at + 4));
        if name == b"cue " {
            assert_eq!(length, 4 + 24 * size(body));
            for point in (body + 4..body + length).step_by(24) {
                assert_eq!(&bytes[point + 8..point + 12], b"data");
                samples.insert(number(point), number(point + 20));
            }
        } else if name == b"LIST" {
            assert_eq!(&bytes[body..body + 4], b"adtl");
            let mut label = body + 4;
            while label < body + length {
                assert_eq!(&bytes[label..label + 4], b"labl");
                let text = &bytes[label + 12..label + 8 + size(label + 4)];
                let text = text.strip_suffix(&[0]).unwrap().to_vec();
                labels.insert(number(label + 8), String::from_utf8(text).unwrap());
                label += 8 + size(label + 4).next_multiple_of(2);
            }
        }
        at = body + length.next_multiple_of(2);
    }
    assert_eq!(at, bytes.len());
    samples.into_iter().map(|(name, sample)| (sample, labels.remove(&name).unwrap())).collect()
}

#[test]
fn an_audio_editor_finds_the_sections_and_the_cues() {
    let act = opened(LANTERN);
    let track = track(&act, Per::Throw, Some(4));
    let found = markers(&wav(&track));
    let sample = |time: &throwbook::time::Time| {
        let media = media(&act, None);
        let at = &media.reads(time.shortest()) + &track.lead_in;
        (at.to_f64() * f64::from(RATE)).round() as u32
    };
    let timeline = &act.timeline;
    let sections = timeline.sections.iter().zip(&act.routine.score);
    let seen = sections.filter(|(span, _)| {
        media(&act, None).reads(span.starts.shortest()) >= throwbook::time::Seconds::zero()
    });
    let mut names = 0;
    for (span, section) in seen {
        names += 1;
        assert!(found.contains(&(sample(&span.starts), section.name.value.clone())), "{found:?}");
    }
    let mut cues = 0;
    for call in &act.calls.calls {
        let cue = &act.routine.cues[call.cue];
        let words = format!("{}: {}", cue.label(), cue.does.value.words());
        if media(&act, None).reads(call.go.shortest()) >= throwbook::time::Seconds::zero() {
            cues += 1;
            assert!(found.contains(&(sample(&call.go), words)), "{found:?}");
        }
    }
    assert!(names > 2 && cues > 2 && found.len() >= names + cues, "{names} {cues} {found:?}");
    assert!(found.is_sorted_by_key(|(sample, _)| *sample));
}
