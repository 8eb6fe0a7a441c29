//! Every edit that a message offers, made on the text: what comes of it is opened again.
#![no_main]

#[path = "../../tests/mangling/mod.rs"]
#[allow(dead_code)]
mod mangling;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let text = mangling::text_of(bytes);
    let opened = throwbook::open(&text);
    // A few are enough: there can be thousands.
    for help in opened.diagnostics.iter().flat_map(|one| &one.helps).take(4) {
        let mut changed = text.clone();
        let mut edits: Vec<_> = help.edits.iter().collect();
        edits.sort_by_key(|edit| std::cmp::Reverse(edit.at.start));
        for edit in edits {
            changed.replace_range(edit.at.start..edit.at.end, &edit.insert);
        }
        let _ = throwbook::open(&changed);
    }
});
