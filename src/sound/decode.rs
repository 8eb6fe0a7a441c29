//! From the bytes of a music file to a [`Recording`].
//!
//! What an encoder puts before and after the music is left out where the file says how much it is:
//! by symphonia in WAV, FLAC, MP3 and Ogg Vorbis, by the [edit list](super::edit_list) in M4A. An
//! MP3 or M4A that does not say so is a few hundredths of a second longer than its music, and its
//! music comes as much later: [`Recording::may_start_late`].

use std::io::{Cursor, ErrorKind};

use symphonia::core::codecs::audio::AudioDecoderOptions;
use symphonia::core::errors::Error;
use symphonia::core::formats::probe::Hint;
use symphonia::core::formats::{FormatOptions, FormatReader, TrackType};
use symphonia::core::io::MediaSourceStream;
use symphonia::core::meta::MetadataOptions;

use crate::time::Seconds;

use super::edit_list::{Edit, edit};
use super::whole::{m4a_is_cut_off, mp3_says_its_length, ogg_is_cut_off, wav_of_unknown_length};
use super::{Recorder, Recording, Unheard};

/// Nothing longer is listened to, in seconds.
const LONGEST_S: u64 = 4 * 60 * 60;
/// Of so many packets one may be damaged.
const DAMAGED: u64 = 20;

/// Decodes a whole music file: WAV, FLAC, MP3, Ogg Vorbis or M4A, known by its content.
///
/// # Errors
/// Why it cannot be heard, when it is no sound, broken, cut off or empty.
pub fn decode(bytes: &[u8]) -> Result<Recording, Unheard> {
    if bytes.is_empty() {
        return Err(Unheard::Empty);
    }
    let stream = MediaSourceStream::new(Box::new(Cursor::new(bytes)), Default::default());
    let probed = symphonia::default::get_probe().probe(
        &Hint::new(),
        stream,
        FormatOptions::default(),
        MetadataOptions::default(),
    );
    let mut format = probed.map_err(|error| match error {
        Error::IoError(error) if error.kind() == ErrorKind::UnexpectedEof && is_known(bytes) => {
            Unheard::CutOff { holds_s: 0.0, promises_s: None }
        }
        _ if m4a_is_cut_off(bytes) => Unheard::CutOff { holds_s: 0.0, promises_s: None },
        _ if is_known(bytes) => Unheard::Broken(error.to_string()),
        _ => Unheard::NotSound,
    })?;
    let (recording, promised) = read(&mut *format, bytes)?;
    let tenth = Seconds::fraction(1, 10);
    if let Some(promises) = promised
        && &recording.length() + &tenth < promises
    {
        let (holds_s, promises_s) = (recording.length().to_f64(), Some(promises.to_f64()));
        return Err(Unheard::CutOff { holds_s, promises_s });
    }
    if ogg_is_cut_off(bytes) {
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
    bytes: &[u8],
) -> Result<(Recording, Option<Seconds>), Unheard> {
    let broken = |error: &dyn std::fmt::Display| Unheard::Broken(error.to_string());
    let track = format.default_track(TrackType::Audio).ok_or(Unheard::NotSound)?;
    let parameters = track.codec_params.as_ref().and_then(|parameters| parameters.audio());
    let parameters = parameters.ok_or(Unheard::NotSound)?.clone();
    let (id, stated) = (track.id, track.num_frames);
    let mut decoder = symphonia::default::get_codecs()
        .make_audio_decoder(&parameters, &AudioDecoderOptions::default())
        .map_err(|error| match error {
            Error::Unsupported(_) => Unheard::NotSound,
            error => broken(&error),
        })?;

    let mut recorder: Option<(u32, Recorder, Option<Edit>)> = None;
    let mut interleaved: Vec<f32> = Vec::new();
    let (mut packets, mut damaged, mut ended_early) = (0_u64, 0_u64, false);
    loop {
        let packet = match format.next_packet() {
            Ok(Some(packet)) => packet,
            Ok(None) => break,
            Err(Error::IoError(error)) if error.kind() == ErrorKind::UnexpectedEof => {
                ended_early = true;
                break;
            }
            Err(_) if m4a_is_cut_off(bytes) => {
                ended_early = true;
                break;
            }
            Err(error) => return Err(broken(&error)),
        };
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
                    (0..packet.dur.get().min(1 << 16)).for_each(|_| recorder.take(&[0.0]));
                }
                continue;
            }
            Err(error) => return Err(broken(&error)),
        };
        let (rate, channels) = (buffer.spec().rate(), buffer.spec().channels().count());
        let (known, recorder, edited) = recorder.get_or_insert_with(|| {
            let edited = edit(bytes, rate);
            let mut recorder = Recorder::new(rate);
            recorder.skip(edited.map_or(0, |edited| edited.before));
            recorder.starts_late(if is_m4a(bytes) {
                edited.is_none()
            } else {
                !says_length(bytes)
            });
            (rate, recorder, edited)
        });
        if *known != rate {
            return Err(Unheard::Broken("its sample rate changes in the middle".to_owned()));
        }
        interleaved.clear();
        buffer.copy_to_vec_interleaved(&mut interleaved);
        let music = edited.and_then(|edited| edited.frames).unwrap_or(u64::MAX);
        for frame in interleaved.chunks_exact(channels.max(1)) {
            if recorder.frames() < music {
                recorder.take(frame);
            }
        }
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
    let stated = stated.filter(|_| says_length(bytes) && !wav_of_unknown_length(bytes));
    let promises = stated.and_then(|frames| i64::try_from(frames).ok());
    let promises = promises.map(|frames| Seconds::fraction(frames, i64::from(rate.max(1))));
    if m4a_is_cut_off(bytes) && promises.is_none() {
        return Err(Unheard::CutOff { holds_s: recording.length().to_f64(), promises_s: None });
    }
    if ended_early && promises.is_none() && !wav_of_unknown_length(bytes) {
        return Err(Unheard::CutOff { holds_s: recording.length().to_f64(), promises_s: None });
    }
    Ok((recording, promises))
}

/// Whether some bytes begin as a file of a known kind does.
fn is_known(bytes: &[u8]) -> bool {
    bytes.starts_with(b"OggS")
        || bytes.starts_with(b"fLaC")
        || bytes.starts_with(b"ID3")
        || (bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WAVE"))
        || is_m4a(bytes)
}

fn is_m4a(bytes: &[u8]) -> bool {
    bytes.get(4..8) == Some(b"ftyp")
}

/// Whether a file says how long its music is.
fn says_length(bytes: &[u8]) -> bool {
    (is_known(bytes) && !bytes.starts_with(b"ID3")) || mp3_says_its_length(bytes)
}
