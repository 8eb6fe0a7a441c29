//! Lengths in time: whole numbers of beats, or the nearest two.

use super::written::{Written, codes, score};
use super::{is_exactly, spans};

fn with_music(text: &str) -> Written {
    let music = "music: Track(file: \"a.wav\", length: \"2:00\", starts: Start(\"a\"), marks: { \
                 \"bell\": \"0:06.3\" }),\n";
    Written { zero: "TrackStart".to_owned(), before: music.to_owned(), ..score(text) }
}

#[test]
fn a_time_runs_from_the_sections_start_with_its_transition_to_the_end_of_its_last_beat() {
    let act = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: For(\"0:06\")), \
         Juggle(name: \"b\", pattern: \"51\", lasts: For(\"0:06.3\"), transition: Auto), \
         Juggle(name: \"c\", pattern: \"3\", lasts: Beats(3), transition: Auto)",
    );
    let spans = spans(&act);
    let beats = |index: usize| spans[index].juggle.as_ref().unwrap().beats;
    assert_eq!((beats(0), beats(1)), (20, 20));
    assert!(is_exactly(&spans[1].ends, 123, 10));
}

#[test]
fn until_a_moment_the_next_sections_own_first_throw_falls_on_it() {
    for (next, transition, own_beats) in [
        ("pattern: \"531\"", "", 21),
        ("pattern: \"51\"", ", transition: Auto", 20),
        ("pattern: \"51\"", ", transition: Throws(\"4\")", 20),
        // From alternating hands to pairs a hand waits one beat.
        ("pattern: \"(4,2x)*\"", ", transition: Auto", 20),
    ] {
        let act = with_music(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(Mark(\"bell\"))), \
             Juggle(name: \"b\", {next}, lasts: Cycles(4){transition})"
        ));
        let timeline = super::timeline(&act);
        let juggle = timeline.sections[1].juggle.clone().unwrap();
        let own = timeline.runs[0].tempo.at_beat(juggle.own_first_beat);
        assert!(is_exactly(&own, 63, 10), "{next}: {own:?}");
        let first = timeline.sections[0].juggle.as_ref().unwrap();
        assert_eq!(first.beats, own_beats, "{next}");
    }
}

#[test]
fn before_a_pause_the_end_of_the_last_beat_falls_on_the_moment_and_the_catches_come_after() {
    let act = with_music(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(Mark(\"bell\"))), \
         Pause(name: \"p\", lasts: For(\"0:01\"))",
    );
    let timeline = super::timeline(&act);
    assert_eq!(timeline.sections[0].juggle.as_ref().unwrap().beats, 21);
    // The last 3, on beat 20, is caught 5/3 beats later: at 6.5, and there the pause starts.
    assert!(is_exactly(&timeline.sections[0].ends, 13, 2));
}

#[test]
fn a_pause_until_a_moment_leaves_room_for_the_transition_out_of_it() {
    let act = with_music(
        "Pause(name: \"a\", lasts: Until(Mark(\"bell\"))), \
         Juggle(name: \"b\", set: \"3\", pattern: \"51\", lasts: Cycles(4), transition: \
         Throws(\"4\"))",
    );
    let timeline = super::timeline(&act);
    assert!(is_exactly(&timeline.sections[0].ends, 6, 1));
    assert!(is_exactly(&timeline.runs[0].tempo.at_beat(1), 63, 10));
}

#[test]
fn a_section_may_end_by_the_clock_of_its_own_first_throw() {
    let act = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(At(\"0:09\"))), \
                     Pause(name: \"p\", lasts: For(\"0:01\"))",
    );
    assert_eq!(spans(&act)[0].juggle.as_ref().unwrap().beats, 30);
}

#[test]
fn a_length_between_two_beats_is_an_error_whose_changes_mend_it() {
    let act = score("Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: For(\"0:10\"))");
    let opened = act.open();
    assert_eq!(codes(&opened), ["length-not-whole"]);
    let texts: Vec<_> = opened.diagnostics[0]
        .helps
        .iter()
        .map(|help| {
            let mut text = act.text();
            let edit = &help.edits[0];
            text.replace_range(edit.at.start..edit.at.end, &edit.insert);
            text
        })
        .collect();
    assert_eq!(texts.len(), 2);
    for (text, beats) in texts.iter().zip([33, 34]) {
        let opened = throwbook::open(text);
        let section = &opened.finished().unwrap().timeline.sections[0];
        assert_eq!(section.juggle.as_ref().unwrap().beats, beats);
    }
}

#[test]
fn under_a_ramp_a_moment_is_met_to_a_microsecond() {
    // 16 beats from 60 to 120 take 16·ln 2 = 11.0903549 s.
    for (time, codes_expected) in
        [("0:11.090", vec!["length-not-whole"]), ("0:11.091", vec!["length-not-whole"])]
    {
        let act = score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: For(\"{time}\"), tempo: \
             Ramp(from: 60, to: 120))"
        ));
        assert_eq!(codes(&act.open()), codes_expected, "{time}");
    }
    // As many beats as a moment that follows the same ramp: met, though only floats know when.
    let act = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(16), tempo: Ramp(from: 60, \
         to: 120)), \
         Juggle(name: \"b\", pattern: \"3\", lasts: Beats(4)), \
         Juggle(name: \"c\", pattern: \"3\", lasts: For(\"0:05\"))",
    );
    assert_eq!(spans(&act)[2].juggle.as_ref().unwrap().beats, 10);
}

#[test]
fn pairs_last_an_even_number_of_beats() {
    let act = score("Juggle(name: \"a\", set: \"4\", pattern: \"(4,4)\", lasts: For(\"0:02.1\"))");
    let opened = act.open();
    assert_eq!(codes(&opened), ["length-not-whole"]);
    let edits: Vec<_> =
        opened.diagnostics[0].helps.iter().map(|help| help.edits[0].insert.clone()).collect();
    assert_eq!(edits, ["Beats(6)", "Beats(8)"]);
}

#[test]
fn more_than_a_million_beats_are_refused() {
    let act = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(900000)), \
         Juggle(name: \"b\", pattern: \"3\", lasts: Beats(900000))",
    );
    assert_eq!(codes(&act.open()), ["too-long"]);
}
