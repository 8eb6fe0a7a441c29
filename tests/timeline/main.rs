//! The compiled timeline, seen from outside the library.
#![allow(missing_docs)]

mod acts;
mod cold_starts;
#[path = "../documents/mod.rs"]
mod documents;
mod followed;
mod junctions;
mod leads;
mod properties;
mod props_by_hand;
mod random_score;
mod regrips;
mod replay;
mod replayed;
mod ways_out;
mod worked_example;
#[path = "../written/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod written;

use throwbook::routine::Routine;
use throwbook::timeline::{JuggleSpan, Timeline};
use written::Written;

/// A routine without errors, and its timeline.
fn compiled(written: &Written) -> (Routine, Timeline) {
    let opened = written.open();
    let said: Vec<_> = opened.diagnostics.iter().map(|one| (one.code, &one.message)).collect();
    let act = opened.finished().unwrap_or_else(|| panic!("{said:?}\n{}", written.text()));
    (act.routine.clone(), act.timeline.clone())
}

/// A juggled section of a timeline.
fn juggle(timeline: &Timeline, section: usize) -> &JuggleSpan {
    timeline.sections[section].juggle.as_ref().unwrap()
}

/// The throws of a section's transition, the hand that waits, and the hand that leads afterwards:
/// `-` for none.
fn joined(timeline: &Timeline, section: usize) -> (String, &'static str, &'static str) {
    let span = juggle(timeline, section);
    let word = |hand: Option<throwbook::hand::Hand>| hand.map_or("-", throwbook::hand::Hand::word);
    let taken = span.transition.as_ref();
    (
        taken.map_or_else(|| "-".to_owned(), |taken| taken.throws.to_string()),
        word(taken.and_then(|taken| taken.waits)),
        word(span.lead),
    )
}

/// The routines that come with the program, and the worked example.
const SHIPPED: [&str; 6] = [
    include_str!("../../routines/bowline.ron"),
    include_str!("../../routines/four-lamps.ron"),
    include_str!("../../routines/night-ferry.ron"),
    include_str!("../../routines/paper-boats.ron"),
    include_str!("../../routines/salt-flat.ron"),
    include_str!("../routines/lantern.ron"),
];

/// So many random cases; failures are printed, not kept in a file.
fn few(cases: u32) -> proptest::test_runner::Config {
    proptest::test_runner::Config { cases, failure_persistence: None, ..Default::default() }
}
