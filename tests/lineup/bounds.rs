//! What must not make a search larger, and what it says where it is too large.

use throwbook::lineup::{Bound, Choices, Outcome};
use throwbook::{open, open_for_sheet};

/// An act of nine props whose ways are free; `asked` are the colours that each section shows.
fn act(asked: &[&str], tempo: &str, then: &str) -> String {
    let names: Vec<String> = (0..9).map(|prop| format!("c{prop}")).collect();
    let looks: Vec<String> =
        names.iter().zip(1..).map(|(name, n)| format!("{name:?}: \"#{n}0{n}0{n}0\"")).collect();
    let sections: Vec<String> = asked
        .iter()
        .zip(0..)
        .map(|(asked, index)| {
            format!(
                "Juggle(name: \"j{index}\", pattern: \"b97999999\", lasts: Cycles(4), \
                 transition: Auto, free: [Transition], shows: {{ {asked} }}),"
            )
        })
        .collect();
    format!(
        "Routine(title: \"T\", lead: Right, tempo: {tempo}, transitions: Within(highest: 13, \
         at_once: 1, beats: 4), colours: {{ {} }}, tracks: {{ \"t\": Track(length: \"10:00\", \
         starts: Start(\"s\"), bars: [Bars(from: \"0:00.0\", bpm: 100, music_beats: 4, number: 1)], \
         marks: {{ \"m\": \"5:00.0\" }}) }}, sets: {{ \"s\": Set(kind: Ball, length: 0.07, colours: \
         {names:?}) }}, score: [Juggle(name: \"s\", set: \"s\", pattern: \"9\", lasts: Beats(54), \
         loading: Found), {} {then}])",
        looks.join(", "),
        sections.concat()
    )
}

fn chosen(text: &str) -> Choices {
    let opened = open_for_sheet(text, None, |_| throwbook::sound::Tracks::new());
    assert!(opened.finished().is_some(), "{text}\n{:?}", opened.diagnostics);
    opened.colours.unwrap().choices
}

#[test]
fn a_later_length_that_reads_a_clock_changes_no_choice_and_is_no_search_of_its_own() {
    let impossible = ["6: [\"c3\"], 8: [\"c1\"]", "2: [\"c7\"], 8: [\"c6\"]", "9: [\"c1\"]"];
    for (asked, outcome) in
        [(&impossible[..], Outcome::Impossible), (&impossible[..2], Outcome::Found)]
    {
        let steady = "PerMinute(200)";
        let alone = chosen(&act(asked, steady, ""));
        assert_eq!(alone.outcome, outcome);
        for (tempo, then) in [
            (steady, "Pause(name: \"bow\", lasts: Until(Mark(\"t\", \"m\"))),"),
            ("PerMusicBeat(throws: 2, accent: Throw)", ""),
        ] {
            assert_eq!(chosen(&act(asked, tempo, then)), alone, "{tempo} {then}");
        }
    }
}

#[test]
fn too_many_ways_are_no_proof_and_the_bound_to_narrow_is_named() {
    let text = "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), \
         transitions: Within(highest: 9, at_once: 2, beats: 8), \
         colours: { \"a\": \"red\", \"b\": \"navy\", \"c\": \"white\" }, \
         sets: { \"s\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"b\", \"c\", \"a\", \"b\"]) }, \
         score: [Juggle(name: \"x\", set: \"s\", pattern: \"5\", lasts: Beats(30)), \
         Juggle(name: \"y\", pattern: \"744\", lasts: Cycles(8), transition: Auto, \
         free: [Transition], shows: { 1: [\"c\"] })])";
    let opened = open_for_sheet(text, None, |_| throwbook::sound::Tracks::new());
    assert_eq!(opened.colours.unwrap().choices.outcome, Outcome::TooMany(Bound::Ways(1)));
    let said: Vec<String> = opened.diagnostics.iter().map(ToString::to_string).collect();
    assert!(!said.iter().any(|one| one.contains("cannot")), "{said:?}");
    let helps: Vec<&str> =
        opened.diagnostics.iter().flat_map(|one| &one.helps).map(|help| &*help.text).collect();
    assert!(helps.iter().any(|help| help.contains("arrow `transitions`")), "{helps:?}");
}

#[test]
fn only_who_asks_about_colours_is_told_what_would_help() {
    let text = "Routine(title: \"T\", lead: Right, tempo: PerMinute(200), \
         colours: { \"a\": \"red\", \"b\": \"navy\", \"c\": \"white\" }, \
         sets: { \"s\": Set(kind: Ball, length: 0.07, colours: [\"a\", \"b\", \"c\"]) }, \
         score: [Juggle(name: \"x\", set: \"s\", pattern: \"531\", lasts: Cycles(8), \
         shows: { 2: [\"c\"] })])";
    let brief = open_for_sheet(text, None, |_| throwbook::sound::Tracks::new());
    let whole = open(text);
    let [brief, whole] = [brief, whole].map(|opened| opened.colours.unwrap().verdict);
    assert_eq!(brief.unmet.len(), whole.unmet.len());
    assert_eq!(brief.unmet.len(), 1);
    assert!(brief.repairs.is_empty() && !whole.repairs.is_empty());
    assert!(!brief.explained && whole.explained);
}
