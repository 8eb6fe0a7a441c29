//! From a music file to what is [`Heard`] of it, or to a [`Recording`], packet by packet.
//!
//! What an encoder puts before and after the music is left out where the file says how much it is:
//! by symphonia in WAV, FLAC, MP3 and Ogg Vorbis, by the [edit list](super::edit_list) in M4A. An
//! MP3 or M4A that does not say so is a few hundredths of a second longer than its music, and its
//! music comes as much later: [`Recording::may_start_late`].

use std::io::{self, ErrorKind};
use std::panic::{AssertUnwindSafe, catch_unwind};

use symphonia::core::codecs::audio::well_known::{
    CODEC_ID_AAC, CODEC_ID_ALAC, CODEC_ID_FLAC, CODEC_ID_MP3, CODEC_ID_VORBIS,
};
use symphonia::core::codecs::audio::{AudioCodecId, AudioDecoderOptions};
use symphonia::core::errors::Error;
use symphonia::core::formats::probe::Hint;
use symphonia::core::formats::{FormatOptions, FormatReader, TrackType};
use symphonia::core::io::MediaSourceStream;
use symphonia::core::meta::MetadataOptions;

use crate::time::Seconds;

use super::edit_list::Edit;
use super::source::{Meter, Metered, Source};
use super::tracks::{HIGHEST_RATE, MOST_CHANNELS};
use super::whole::Container;
use super::{Heard, Recorder, Recording, Unheard};

/// Nothing longer is listened to, in seconds.
const LONGEST_S: u64 = 4 * 60 * 60;
/// Of so many packets one may be damaged.
const DAMAGED: u64 = 20;

/// The work that is done for one file, in samples of a WAV: four hours of two channels at 48,000
/// samples a second, and half as much again. It is counted and not timed, so that every run says
/// the same.
const MOST_WORK: u64 = 2_000_000_000;
/// What a packet costs besides its samples.
const PACKET: u64 = 200;
/// So many bytes read cost as much as a sample.
const BYTES: u64 = 8;

/// What a sample costs to decode, in those of a WAV (measured, in whole numbers).
fn cost(codec: AudioCodecId) -> u64 {
    match codec {
        CODEC_ID_FLAC => 3,
        CODEC_ID_MP3 | CODEC_ID_AAC | CODEC_ID_VORBIS => 4,
        CODEC_ID_ALAC => 10,
        _ => 1,
    }
}

/// Hears a whole music file (WAV, FLAC, MP3, Ogg Vorbis or M4A, known by its content) once, and
/// keeps no samples of it: four hours take no more memory than a minute.
///
/// # Errors
/// Why it cannot be heard, when it is no sound, broken, cut off, empty or too much.
pub fn hear(mut source: impl Source) -> Result<Heard, Unheard> {
    whole(&mut source, false, MOST_WORK).map(|recording| Heard::from(&recording))
}

/// Decodes a whole music file to [listen](super::listen()) to it; samples are kept of its first
/// half hour.
///
/// # Errors
/// As [`hear`].
pub fn decode(mut source: impl Source) -> Result<Recording, Unheard> {
    whole(&mut source, true, MOST_WORK)
}

fn whole(source: &mut dyn Source, keeps: bool, most: u64) -> Result<Recording, Unheard> {
    // A decoder that stumbles over the bytes of a file must not take the whole command with it.
    let decoded = catch_unwind(AssertUnwindSafe(|| decoded(source, keeps, most)));
    decoded.unwrap_or_else(|_| Err(Unheard::Broken("the decoder cannot cope with it".to_owned())))
}

fn decoded(source: &mut dyn Source, keeps: bool, most: u64) -> Result<Recording, Unheard> {
    let unread = |error: io::Error| Unheard::Broken(error.to_string());
    let container = Container::of(source).map_err(unread)?;
    let meter = Meter::default();
    let metered = Metered::new(source, meter.clone()).map_err(unread)?;
    if metered.is_empty() {
        return Err(Unheard::Empty);
    }
    let stream = MediaSourceStream::new(Box::new(metered), Default::default());
    let probed = symphonia::default::get_probe().probe(
        &Hint::new(),
        stream,
        FormatOptions::default(),
        MetadataOptions::default(),
    );
    let mut format = probed.map_err(|error| match error {
        Error::IoError(error) if error.kind() == ErrorKind::UnexpectedEof && container.is_known => {
            Unheard::CutOff { holds_s: 0.0, promises_s: None }
        }
        _ if container.m4a_is_cut_off => Unheard::CutOff { holds_s: 0.0, promises_s: None },
        _ if container.is_known => Unheard::Broken(error.to_string()),
        _ => Unheard::NotSound,
    })?;
    let (recording, promised) = read(&mut *format, &container, (&meter, most), keeps)?;
    let tenth = Seconds::fraction(1, 10);
    if let Some(promises) = promised
        && &recording.length() + &tenth < promises
    {
        let (holds_s, promises_s) = (recording.length().to_f64(), Some(promises.to_f64()));
        return Err(Unheard::CutOff { holds_s, promises_s });
    }
    if container.ogg_is_cut_off {
        return Err(Unheard::CutOff { holds_s: recording.length().to_f64(), promises_s: None });
    }
    if recording.length() == Seconds::zero() {
        return Err(Unheard::Empty);
    }
    Ok(recording)
}

/// The whole recording, and how long the file says that it is.
fn read(
    format: &mut dyn FormatReader,
    container: &Container,
    (meter, most): (&Meter, u64),
    keeps: bool,
) -> Result<(Recording, Option<Seconds>), Unheard> {
    let broken = |error: &dyn std::fmt::Display| Unheard::Broken(error.to_string());
    let track = format.default_track(TrackType::Audio).ok_or(Unheard::NotSound)?;
    let parameters = track.codec_params.as_ref().and_then(|parameters| parameters.audio());
    let parameters = parameters.ok_or(Unheard::NotSound)?.clone();
    let (id, stated) = (track.id, track.num_frames);
    let bounded = |rate: u32, channels: usize| match (rate, channels) {
        (..=HIGHEST_RATE, ..=MOST_CHANNELS) => Ok(()),
        (rate, channels) => Err(Unheard::BeyondMusic { rate, channels }),
    };
    let channels = parameters.channels.as_ref().map_or(1, |channels| channels.count());
    bounded(parameters.sample_rate.unwrap_or(0), channels)?;
    let cost = cost(parameters.codec);
    let mut decoder = symphonia::default::get_codecs()
        .make_audio_decoder(&parameters, &AudioDecoderOptions::default())
        .map_err(|error| match error {
            Error::Unsupported(_) => Unheard::NotSound,
            error => broken(&error),
        })?;

    let mut recorder: Option<(u32, Recorder, Option<Edit>)> = None;
    let mut interleaved: Vec<f32> = Vec::new();
    let (mut packets, mut damaged, mut ended_early) = (0_u64, 0_u64, false);
    let mut work = 0_u64;
    loop {
        meter.next();
        let packet = match format.next_packet() {
            Ok(Some(packet)) => packet,
            Ok(None) => break,
            Err(Error::IoError(error)) if error.kind() == ErrorKind::UnexpectedEof => {
                ended_early = true;
                break;
            }
            Err(_) if container.m4a_is_cut_off => {
                ended_early = true;
                break;
            }
            Err(error) => return Err(broken(&error)),
        };
        work += PACKET;
        if work + meter.read() / BYTES > most {
            return Err(Unheard::TooMuch);
        }
        if packet.track_id != id {
            continue;
        }
        packets += 1;
        let buffer = match decoder.decode(&packet) {
            Ok(buffer) => buffer,
            Err(Error::DecodeError(_) | Error::IoError(_)) => {
                damaged += 1;
                // The time that it would have filled passes in silence.
                if let Some((_, recorder, _)) = &mut recorder {
                    let frames = packet.dur.get().min(1 << 16);
                    work += frames;
                    recorder.take_silence(frames);
                }
                continue;
            }
            Err(error) => return Err(broken(&error)),
        };
        let (rate, channels) = (buffer.spec().rate(), buffer.spec().channels().count().max(1));
        bounded(rate, channels)?;
        let (known, recorder, edited) = recorder.get_or_insert_with(|| {
            let edited = container.edits.and_then(|edits| edits.at(rate));
            let mut recorder =
                if keeps { Recorder::new(rate) } else { Recorder::without_samples(rate) };
            recorder.skip(edited.map_or(0, |edited| edited.before));
            recorder.starts_late(if container.is_m4a {
                edited.is_none()
            } else {
                !container.says_length
            });
            (rate, recorder, edited)
        });
        if *known != rate {
            return Err(Unheard::Broken("its sample rate changes in the middle".to_owned()));
        }
        buffer.copy_to_vec_interleaved(&mut interleaved);
        work += cost * interleaved.len() as u64;
        let music = edited.and_then(|edited| edited.frames).unwrap_or(u64::MAX);
        recorder.take_to(music, &interleaved, channels);
        if recorder.frames() > LONGEST_S * u64::from(rate) {
            return Err(Unheard::TooLong);
        }
    }
    let Some((rate, recorder, edited)) = recorder else {
        if ended_early {
            return Err(Unheard::CutOff { holds_s: 0.0, promises_s: None });
        }
        let nothing = if damaged > 0 { Unheard::NotSound } else { Unheard::Empty };
        return Err(nothing);
    };
    let recording = recorder.finish();
    if damaged > packets / DAMAGED && damaged > 1 {
        return Err(Unheard::Broken(format!("{damaged} of its {packets} pieces are damaged")));
    }
    let stated = edited.and_then(|edited| edited.frames).or(stated);
    // Where the file does not say it, its length is only guessed from its size.
    let stated = stated.filter(|_| container.says_length && !container.is_of_unknown_length);
    let promises = stated.and_then(|frames| i64::try_from(frames).ok());
    let promises = promises.map(|frames| Seconds::fraction(frames, i64::from(rate.max(1))));
    if container.m4a_is_cut_off && promises.is_none() {
        return Err(Unheard::CutOff { holds_s: recording.length().to_f64(), promises_s: None });
    }
    if ended_early && promises.is_none() && !container.is_of_unknown_length {
        return Err(Unheard::CutOff { holds_s: recording.length().to_f64(), promises_s: None });
    }
    Ok((recording, promises))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_takes_too_much_work_is_left_and_slow_kinds_take_more() {
        let files: [(&[u8], u64); 5] = [
            (include_bytes!("../../tests/data/sound/clicks.wav"), 1),
            (include_bytes!("../../tests/data/sound/clicks.flac"), 3),
            (include_bytes!("../../tests/data/sound/clicks.mp3"), 4),
            (include_bytes!("../../tests/data/sound/clicks.m4a"), 4),
            (include_bytes!("../../tests/data/sound/clicks.ogg"), 4),
        ];
        for (bytes, cost) in files {
            let heard = |most| whole(&mut io::Cursor::new(bytes), false, most);
            // Six seconds of one channel at 16,000.
            let samples = 96_000;
            assert_eq!(heard(samples * cost), Err(Unheard::TooMuch), "{cost}");
            assert!(heard(samples * cost * 3 / 2).is_ok(), "{cost}");
        }
    }

    #[test]
    fn what_no_decoder_reckons_with_is_broken() {
        let mut bytes = include_bytes!("../../tests/data/sound/clicks.wav").to_vec();
        // So many channels that a frame has more bytes than the header can say.
        bytes[23] = 0xe3;
        let heard = whole(&mut io::Cursor::new(bytes), false, MOST_WORK);
        assert!(heard.is_err(), "{heard:?}");
    }
}
