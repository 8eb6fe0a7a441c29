//! How long the line-up takes: 3 to 9 props, 1 to 6 `Auto` junctions whose ways are free.
//!
//! `cargo bench --bench lineup`. Each section has a pattern of as many throws as props in which all
//! throws but two can be kept by one prop, and asks for the colours of two of them; a found loading
//! and up to four throws before each section must bring them about. `possible` asks what was made
//! so that it can be; `impossible` asks, last, for one colour on two throws at once, so that all
//! is gone through. The same acts are put to a general constraint solver by
//! `.ci/outside/lineup.py`.

use divan::{Bencher, black_box};
use throwbook::lineup::line_up;
use throwbook::read::read;
use throwbook::routine::Routine;

#[global_allocator]
static ALLOCATIONS: divan::AllocProfiler = divan::AllocProfiler::system();

fn main() {
    divan::main();
}

const DIGITS: &[u8] = b"0123456789abcdefghijkl";

/// Props and junctions.
const ACTS: [(usize, usize); 12] = [
    (3, 1),
    (3, 3),
    (3, 6),
    (5, 1),
    (5, 3),
    (5, 6),
    (7, 1),
    (7, 3),
    (7, 6),
    (9, 1),
    (9, 3),
    (9, 6),
];

/// An act of so many props and junctions.
fn act(props: usize, junctions: usize, possible: bool) -> Routine {
    let digit = |value: usize| char::from(DIGITS[value]);
    let colours: Vec<String> = (0..props).map(|c| format!("\"c{c}\": \"#{c}{c}7799\"")).collect();
    let names: Vec<String> = (0..props).map(|c| format!("\"c{c}\"")).collect();
    let mut pattern = format!("{}{}{}", digit(props + 2), digit(props), digit(props - 2));
    pattern.extend((3..props).map(|_| digit(props)));
    let mut score = format!(
        "Juggle(name: \"s\", set: \"s\", pattern: \"{}\", lasts: Beats({}), loading: Found),\n",
        digit(props),
        6 * props
    );
    for section in 0..junctions {
        // One colour moves on from section to section.
        let colour = section % props;
        let mut shows = format!("2: [\"c{colour}\"]");
        if !possible && section + 1 == junctions {
            let last = if props > 3 { props } else { 1 };
            shows += &format!(", {last}: [\"c{colour}\"]");
        }
        score += &format!(
            "Juggle(name: \"j{section}\", pattern: \"{pattern}\", lasts: Cycles(4), \
             transition: Auto, free: [Transition], shows: {{ {shows} }}),\n"
        );
    }
    let text = format!(
        "Routine(title: \"L\", tempo: PerMinute(200), zero: FirstThrow, \
         transitions: Within(highest: {}, at_once: 1, beats: 4), colours: {{ {} }}, \
         sets: {{ \"s\": Set(kind: Ball, length: 0.07, colours: [{}]) }}, score: [{score}])",
        props + 4,
        colours.join(", "),
        names.join(", ")
    );
    let reading = read(&text);
    assert!(reading.diagnostics.is_empty(), "{:?}", reading.diagnostics);
    reading.routine.unwrap_or_else(|| unreachable!("it was read without a fault"))
}

#[divan::bench(args = ACTS)]
fn possible(bencher: Bencher<'_, '_>, (props, junctions): (usize, usize)) {
    let routine = act(props, junctions, true);
    bencher.bench(|| line_up(black_box(&routine)));
}

#[divan::bench(args = ACTS)]
fn impossible(bencher: Bencher<'_, '_>, (props, junctions): (usize, usize)) {
    let routine = act(props, junctions, false);
    bencher.bench(|| line_up(black_box(&routine)));
}
