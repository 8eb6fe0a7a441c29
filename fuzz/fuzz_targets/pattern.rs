//! Any text as a pattern.
#![no_main]

use libfuzzer_sys::fuzz_target;
use throwbook::export::{pattern_json, pattern_text};

fuzz_target!(|pattern: &str| {
    let _ = pattern_text::explain(pattern, 80);
    let _ = pattern_json::explain(pattern);
});
