//! How long hearing a music file takes: the decoder alone, and with all that is heard of it.
//!
//! `cargo bench --bench music`. The file is the track of four minutes that ships.

use std::io::Cursor;

use divan::{Bencher, black_box};
use symphonia::core::codecs::audio::AudioDecoderOptions;
use symphonia::core::formats::probe::Hint;
use symphonia::core::formats::{FormatOptions, TrackType};
use symphonia::core::io::MediaSourceStream;
use symphonia::core::meta::MetadataOptions;
use throwbook::sound;

const TRACK: &[u8] = include_bytes!("../routines/night-ferry.ogg");

fn main() {
    divan::main();
}

/// Every packet decoded, and nothing asked of it: the number of packets.
#[divan::bench]
fn decoder_alone(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| {
        let stream = MediaSourceStream::new(Box::new(Cursor::new(TRACK)), Default::default());
        let probe = symphonia::default::get_probe();
        let (format, metadata) = (FormatOptions::default(), MetadataOptions::default());
        let mut format = probe.probe(&Hint::new(), stream, format, metadata).expect("it ships");
        let track = format.default_track(TrackType::Audio).expect("it is sound");
        let parameters =
            track.codec_params.as_ref().and_then(|of| of.audio()).expect("it is sound");
        let mut decoder = symphonia::default::get_codecs()
            .make_audio_decoder(parameters, &AudioDecoderOptions::default())
            .expect("it ships");
        let mut packets = 0;
        while let Some(packet) = format.next_packet().expect("it ships") {
            black_box(decoder.decode(&packet).expect("it ships").frames());
            packets += 1;
        }
        packets
    });
}

#[divan::bench]
fn heard(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| sound::hear(Cursor::new(TRACK)));
}

#[divan::bench]
fn listened_to(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| sound::decode(Cursor::new(TRACK)));
}
