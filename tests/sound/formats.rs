//! Files of every kind: six seconds of clicks at 120 a minute from 0.5 s on, the first of each
//! four stronger (tests/data/sound/README.md says how they were made).

use std::io::Cursor;

use throwbook::sound::{HIGHEST_RATE, Heard, Recording, Unheard, hear, listen};
use throwbook::time::Seconds;

use crate::synthesis::{Music, clicks};

fn decode(bytes: &[u8]) -> Result<Recording, Unheard> {
    throwbook::sound::decode(Cursor::new(bytes))
}

const FILES: [(&str, &[u8]); 5] = [
    ("wav", include_bytes!("../data/sound/clicks.wav")),
    ("flac", include_bytes!("../data/sound/clicks.flac")),
    ("mp3", include_bytes!("../data/sound/clicks.mp3")),
    ("ogg", include_bytes!("../data/sound/clicks.ogg")),
    ("m4a", include_bytes!("../data/sound/clicks.m4a")),
];

#[test]
fn every_kind_of_file_has_its_length_to_the_sample_and_its_beats_where_they_are() {
    for (kind, bytes) in FILES {
        let recording = decode(bytes).unwrap();
        assert_eq!(recording.length(), Seconds::fraction(6, 1), "{kind}");
        let silence = recording.silence().to_f64();
        assert!((silence - 0.5).abs() < 0.03, "{kind}: {silence}");
        let tempo = listen(&recording).tempo.unwrap();
        assert!((tempo.bpm / 120.0 - 1.0).abs() < 0.0005, "{kind}: {}", tempo.bpm);
        let first = tempo.strong_beats[0];
        assert!((first - 0.5).abs() < 0.005, "{kind}: {first}");
    }
}

#[test]
fn a_file_that_is_cut_off_says_so() {
    for (kind, bytes) in FILES {
        for part in [2, 3, 5] {
            let cut = &bytes[..bytes.len() / part];
            match decode(cut) {
                Err(Unheard::CutOff { holds_s, .. }) => assert!(holds_s < 6.0, "{kind}"),
                other => panic!("{kind}, 1/{part}: {:?}", other.map(|heard| heard.length())),
            }
        }
    }
}

#[test]
fn what_is_no_sound_is_refused() {
    assert_eq!(decode(b""), Err(Unheard::Empty));
    assert_eq!(decode(&Music::silence(0.0).wav()), Err(Unheard::Empty));
    for text in ["Routine(title: \"Lantern Quay\")".repeat(400), "x".to_owned(), "\0".repeat(9000)]
    {
        assert_eq!(decode(text.as_bytes()), Err(Unheard::NotSound), "{:.20}", text);
    }
    let mut random = crate::synthesis::rand_like::Random(3);
    for _ in 0..20 {
        let noise: Vec<u8> = (0..20_000).map(|_| (random.part() * 256.0) as u8).collect();
        let heard = decode(&noise).map(|heard| heard.length());
        assert!(matches!(heard, Err(Unheard::NotSound | Unheard::Broken(_))), "{heard:?}");
    }
}

#[test]
fn damage_anywhere_in_a_file_ends_no_run() {
    let mut random = crate::synthesis::rand_like::Random(7);
    for (_, bytes) in FILES {
        for _ in 0..40 {
            let mut damaged = bytes[..bytes.len().min(20_000)].to_vec();
            let early = random.part() < 0.5;
            for _ in 0..1 + (random.part() * 8.0) as usize {
                let reach = if early { 400.min(damaged.len()) } else { damaged.len() };
                let place = (random.part() * reach as f64) as usize;
                damaged[place] = (random.part() * 256.0) as u8;
            }
            if let Ok(recording) = decode(&damaged) {
                let _ = listen(&recording);
            }
        }
    }
}

#[test]
fn a_wav_that_tests_make_is_as_long_as_it_was_made() {
    let recording = decode(&clicks(3.21, 123.4, 0.2).wav()).unwrap();
    assert_eq!(recording.length(), Seconds::fraction(321, 100));
}

#[test]
fn what_is_heard_once_is_what_is_heard_of_the_recording() {
    for (kind, bytes) in FILES {
        let heard = hear(Cursor::new(bytes)).unwrap();
        let recording = decode(bytes).unwrap();
        assert_eq!(heard, Heard::from(&recording), "{kind}");
        let loudest = [heard.loudness.loudest(), recording.loudness().loudest()];
        assert!((loudest[0] / loudest[1] - 1.0).abs() < 0.002, "{kind}: {loudest:?}");
    }
}

/// A WAV of silence, 8 bits.
fn silence(rate: u32, channels: u16, frames: u32) -> Vec<u8> {
    let spec = hound::WavSpec {
        channels,
        sample_rate: rate,
        bits_per_sample: 8,
        sample_format: hound::SampleFormat::Int,
    };
    let mut bytes = Cursor::new(Vec::new());
    let mut writer = hound::WavWriter::new(&mut bytes, spec).unwrap();
    (0..frames * u32::from(channels)).for_each(|_| writer.write_sample(0_i8).unwrap());
    writer.finalize().unwrap();
    bytes.into_inner()
}

#[test]
fn more_samples_than_music_has_are_refused_and_as_many_are_not() {
    let length =
        |rate, channels| hear(Cursor::new(silence(rate, channels, 1000))).map(|heard| heard.length);
    for (rate, channels) in [(HIGHEST_RATE, 2), (8_000, 8), (1, 1)] {
        assert_eq!(length(rate, channels), Ok(Seconds::fraction(1000, i64::from(rate))));
    }
    for (rate, channels) in [(HIGHEST_RATE + 1, 2), (655_350, 1), (u32::MAX, 1)] {
        let refused = Unheard::BeyondMusic { rate, channels: usize::from(channels) };
        assert_eq!(length(rate, channels), Err(refused));
    }
    let said = length(655_350, 1).unwrap_err().to_string();
    assert_eq!(
        said,
        "has 655350 samples a second in 1 channel; music has at most 384000 in 32, so save it with \
         fewer"
    );
    assert!(length(8_000, 33).is_err());
}

#[test]
fn four_hours_are_heard_and_no_more() {
    let four_hours = 4 * 60 * 60;
    let length =
        |seconds: u32| hear(Cursor::new(silence(10, 1, 10 * seconds))).map(|heard| heard.length);
    assert_eq!(length(four_hours), Ok(Seconds::fraction(14_400, 1)));
    assert_eq!(length(four_hours + 1), Err(Unheard::TooLong));
}
