//! Routine text through every document: an act that ships, cut and spliced, or any text at all.
#![no_main]

#[path = "../../tests/mangling/mod.rs"]
#[allow(dead_code)]
mod mangling;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| mangling::goes_through(&mangling::text_of(bytes)));
