//! The record of what was handed out, beside an act that ships.
#![no_main]

#[path = "../../tests/mangling/mod.rs"]
#[allow(dead_code)]
mod mangling;

use libfuzzer_sys::fuzz_target;
use throwbook::issue::{Frozen, freeze, written};
use throwbook::sheet::cues::papers;

fuzz_target!(|bytes: &[u8]| {
    let text = mangling::FILES[1];
    let record = match bytes.split_first() {
        // A record that was written, changed.
        Some((0..128, rest)) => {
            let opened = throwbook::open(text);
            let act = opened.finished().expect("an act that ships has no errors");
            let Frozen::Added(issued) = freeze(&act.routine, &papers(act)) else {
                unreachable!("nothing was handed out before")
            };
            mangling::changed(&written(&issued), &mangling::changes_of(rest))
        }
        Some((_, rest)) => String::from_utf8_lossy(rest).into_owned(),
        None => String::new(),
    };
    let _ = throwbook::open_issued(text, Some(&record));
});
