//! Any two texts as patterns, with the ways between them.
#![no_main]

use libfuzzer_sys::fuzz_target;
use throwbook::export::{transition_json, transition_text};
use throwbook::sheet::transition::compose;
use throwbook::transition::Bounds;

fuzz_target!(|input: (&str, &str, u8, u8, u8)| {
    let (from, to, highest, at_once, beats) = input;
    let bounds =
        Bounds { highest: 1 + highest % 12, at_once: 1 + at_once % 3, beats: 1 + u32::from(beats % 8) };
    let sheet = compose(from, to, bounds, None);
    let _ = transition_text::text(&sheet, 80);
    let _ = transition_json::json(&sheet);
});
