//! Any bytes as a music file, and a short WAV file with bytes changed.
#![no_main]

use std::io::Cursor;

use libfuzzer_sys::fuzz_target;
use throwbook::sound::decode;

fn wav() -> Vec<u8> {
    let spec = hound::WavSpec {
        channels: 2,
        sample_rate: 8000,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut bytes = Cursor::new(Vec::new());
    let mut writer = hound::WavWriter::new(&mut bytes, spec).expect("memory takes every write");
    for sample in 0..2000_i16 {
        writer.write_sample(sample.wrapping_mul(97)).expect("memory takes every write");
    }
    writer.finalize().expect("memory takes every write");
    bytes.into_inner()
}

fuzz_target!(|bytes: &[u8]| {
    let _ = decode(Cursor::new(bytes));
    let mut changed = wav();
    for change in bytes.chunks_exact(3) {
        let at = usize::from(change[0]) | usize::from(change[1] & 0x0f) << 8;
        let size = changed.len();
        changed[at % size] = change[2];
    }
    let _ = decode(Cursor::new(&changed));
});
