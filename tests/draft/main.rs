//! Acts with errors: what is known of them is shown, marked as a draft, and nothing else is.
#![allow(missing_docs)]

mod drawings;
mod faults;
#[path = "../folder/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;
mod known;
mod program;
mod sheets;
mod venue;

use throwbook::Opened;
use throwbook::act::Act;

const LANTERN: &str = include_str!("../routines/lantern.ron");

/// A text with something in it put in place of something else that is there once.
fn spoilt(text: &str, from: &str, to: &str) -> String {
    assert_eq!(text.matches(from).count(), 1, "{from}");
    text.replace(from, to)
}

/// The draft of a text with that many errors.
fn draft(text: &str, errors: usize) -> (Opened, Act) {
    let opened = throwbook::open(text);
    assert_eq!(opened.errors(), errors, "{:?}", opened.diagnostics);
    let act = opened.act.clone().expect("a score");
    assert_eq!(act.errors, errors);
    (opened, act)
}
