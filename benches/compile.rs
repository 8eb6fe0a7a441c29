//! How long compiling takes for each throw, and a whole routine from text to documents.
//!
//! `cargo bench --bench compile`. The routines repeat one score of three patterns with found
//! transitions between them until they have about so many throws; divan's `ItemsCount` gives the
//! throws a second.

use std::fmt::Write;

use divan::Bencher;
use divan::counter::ItemsCount;
use throwbook::export::{cues_csv, cues_page, timing_json, timing_text};
use throwbook::read::read;
use throwbook::routine::Routine;
use throwbook::strip;
use throwbook::timeline::compile;

#[global_allocator]
static ALLOCATIONS: divan::AllocProfiler = divan::AllocProfiler::system();

const ACT: &str = include_str!("../routines/night-ferry.ron");

fn main() {
    divan::main();
}

/// A routine of about so many throws.
fn routine(throws: u32) -> Routine {
    let mut score = String::new();
    for part in 0..throws.div_ceil(1000) {
        let set = if part == 0 { "set: \"three\", " } else { "" };
        let _ = write!(
            score,
            "Juggle(name: \"a{part}\", {set}pattern: \"3\", lasts: Beats(500), transition: Auto),\n\
             Juggle(name: \"b{part}\", pattern: \"531\", lasts: Beats(300)),\n\
             Juggle(name: \"c{part}\", pattern: \"51\", lasts: Beats(198), transition: Auto),\n"
        );
    }
    let text = format!(
        "Routine(title: \"Long\", tempo: PerMinute(200), zero: FirstThrow, colours: {{ \"a\": \
         \"#ec6a5c\" }}, sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"a\", \
         \"a\", \"a\"]) }}, score: [{score}])"
    );
    let reading = read(&text);
    assert!(reading.diagnostics.is_empty(), "{:?}", reading.diagnostics);
    reading.routine.expect("it was read without a fault")
}

#[divan::bench(args = [1_000, 10_000, 100_000])]
fn compile_throws(bencher: Bencher<'_, '_>, throws: u32) {
    let routine = routine(throws);
    let made: usize = compile(&routine).timeline.runs.iter().map(|run| run.actions.len()).sum();
    bencher.counter(ItemsCount::new(made)).bench_local(|| compile(&routine));
}

#[divan::bench]
fn act_from_text_to_checked_timeline(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| throwbook::open(ACT));
}

#[divan::bench]
fn act_to_all_documents(bencher: Bencher<'_, '_>) {
    let opened = throwbook::open(ACT);
    let Some(act) = opened.finished() else {
        unreachable!("the act that ships has no error; a test proves it")
    };
    bencher.bench_local(|| {
        (
            strip::strip(act),
            strip::overview(act),
            timing_text::text(act, 96),
            timing_json::json(act),
            cues_page::page(act, None),
            cues_csv::csv(act, None),
        )
    });
}
