//! The example of a routine file, read clean, broken in one place each, and broken at random.

use proptest::prelude::*;

use super::*;
use crate::diagnostic::Severity;
use crate::routine::{Length, Part, Transition, Trigger};
use crate::time::Seconds;

const LANTERN: &str = include_str!("../../tests/routines/lantern.ron");

/// The code of every diagnostic, with the text that it marks.
fn faults(text: &str) -> Vec<(&'static str, String)> {
    let reading = read(text);
    let marked = |fault: &Diagnostic| text[fault.at.start..fault.at.end].to_owned();
    reading.diagnostics.iter().map(|fault| (fault.code, marked(fault))).collect()
}

/// The example with one text replaced, which must be there once.
fn with(from: &str, to: &str) -> String {
    assert_eq!(LANTERN.matches(from).count(), 1, "`{from}` must stand in the example once");
    LANTERN.replace(from, to)
}

#[test]
fn the_example_reads_clean_and_keeps_its_values() {
    let reading = read(LANTERN);
    assert_eq!(reading.diagnostics, []);
    let routine = reading.routine.unwrap();
    assert_eq!(routine.title.value, "Lantern Quay");
    assert_eq!((routine.issue, routine.lead), (3, Hand::Right));
    assert_eq!(routine.transitions, Bounds { highest: 7, at_once: 2, beats: 6 });
    assert_eq!(routine.dwell, Ratio::new(2, 3));
    let sets: Vec<&str> = routine.sets.iter().map(|set| set.name.value.as_str()).collect();
    assert_eq!(sets, ["three", "five"]);
    assert_eq!(routine.score.len(), 9);
    let Part::Juggle(ebb) = &routine.score[5].part else { panic!("ebb is juggled") };
    assert_eq!(ebb.lasts.value, Length::Beats(6));
    assert!(matches!(&ebb.transition.value, Transition::Throws(two) if two.throws.beats() == 1));
    let Part::Pause(pick_up) = &routine.score[6].part else { panic!("props are picked up") };
    assert_eq!(pick_up.pick_up[1].value, Seconds::fraction(17, 5));
    let track = routine.music.unwrap();
    assert_eq!(track.bars[0].from.value, Seconds::fraction(17, 20));
    assert_eq!(track.marks[0].1.value, Seconds::fraction(15, 2));
    let early = Moment::Shift(Box::new(Moment::TrackStart), Seconds::fraction(-20, 1));
    assert_eq!(routine.cues[0].when.as_ref().unwrap().value, early);
    assert_eq!(routine.cues[2].count.as_ref().unwrap().value, Seconds::zero());
    assert!(matches!(&routine.cues[3].trigger.value,
        Trigger::Follow { crew: None, number, .. } if number.value.tenths == 200));
    let moment = routine.cues[2].when.as_ref().unwrap();
    assert_eq!(&LANTERN[moment.at.start..moment.at.end], "LastCatch(\"ebb\")");
}

#[test]
fn every_slip_has_its_code_and_its_place() {
    let slip = |from: &str, to: &str, code: &str, marked: &str| {
        let text = with(from, to);
        assert_eq!(faults(&text), [(code, marked.to_owned())], "{from} → {to}");
    };
    // Fields, words and shapes.
    slip("clear_height: 4.5", "clear_hight: 4.5, clear_height: 4", "unknown-field", "clear_hight");
    slip("issue: 3,", "issue: 3, issue: 4,", "duplicate-field", "issue");
    slip("title: \"Lantern Quay\",", "", "missing-field", "Routine");
    slip("title: \"Lantern Quay\",", "title: \"\",", "empty-text", "\"\"");
    slip("title: \"Lantern Quay\",", "title: 7,", "wrong-shape", "7");
    slip("lead: Right", "lead: Rigth", "unknown-word", "Rigth");
    slip("lead: Right", "lead: Right(1)", "wrong-shape", "(1)");
    slip("Room(clear", "Rome(clear", "unknown-word", "Rome");
    slip("Room(clear_height: 4.5, hands_at: 1.0)", "Room", "wrong-shape", "Room");
    slip("tempo: PerMinute(200),", "tempo: 200,", "wrong-shape", "200");
    slip("lasts: Beats(26)", "lasts: Beats(26, 2)", "wrong-shape", "Beats(26, 2)");
    slip("lasts: Beats(26)", "lasts: Beats", "wrong-shape", "Beats");
    slip("lasts: Beats(26)", "lasts: Beat(26)", "unknown-word", "Beat");
    slip("Pause(name: \"bow\"", "Bow(name: \"bow\"", "unknown-word", "Bow");
    slip("zero: TrackStart", "zero: FirstThrow(2)", "wrong-shape", "(2)");
    // Numbers and times.
    slip("lasts: Beats(26)", "lasts: Beats(0)", "out-of-range", "0");
    slip("lasts: Beats(26)", "lasts: Beats(2.5)", "wrong-shape", "2.5");
    slip(
        "lasts: Beats(26)",
        "lasts: Beats(9999999999999999999999)",
        "out-of-range",
        "9999999999999999999999",
    );
    slip("tempo: PerMinute(200),", "tempo: PerMinute(0),", "out-of-range", "0");
    slip("tempo: PerMinute(200),", "tempo: PerMinute(NaN),", "out-of-range", "NaN");
    slip("tempo: PerMinute(200),", "tempo: PerMinute(inf),", "out-of-range", "inf");
    slip("issue: 3,", "issue: 3, dwell: 1,", "out-of-range", "1");
    slip("issue: 3,", "issue: 3, dwell: 0.12345678,", "out-of-range", "0.12345678");
    slip("highest: 7", "highest: 36", "out-of-range", "36");
    slip("\"1:05.0\"", "\"1:65.0\"", "bad-time", "\"1:65.0\"");
    slip("\"1:05.0\"", "65.0", "wrong-shape", "65.0");
    slip("\"0:07.5\"", "\"2:07.5\"", "out-of-range", "\"2:07.5\"");
    slip("lasts: For(\"0:05\")", "lasts: For(\"-0:05\")", "out-of-range", "\"-0:05\"");
    slip("bpm: 120", "bpm: 0.0", "out-of-range", "0.0");
    slip("number: 15", "number: 15.05", "cue-number", "15.05");
    slip("number: 15", "number: -15", "cue-number", "-15");
    slip("number: 15", "number: \"15\"", "cue-number", "\"15\"");
    // Colours and names.
    slip("\"#ec6a5c\"", "\"#ec6a5\"", "unknown-colour", "\"#ec6a5\"");
    slip("\"#ec6a5c\"", "\"corall\"", "unknown-colour", "\"corall\"");
    slip("shows: { 2: [\"coral\"] }", "shows: { 2: [\"corl\"] }", "unknown-colour", "\"corl\"");
    slip("set: \"three\"", "set: \"tree\"", "unknown-set", "\"tree\"");
    slip("Start(\"tide\")", "Start(\"tied\")", "unknown-section", "\"tied\"");
    slip("Mark(\"drum\")", "Mark(\"dram\")", "unknown-mark", "\"dram\"");
    slip("Follow(20,", "Follow(21,", "follow-of-nothing", "21");
    slip("\"walk on\"", "\"wake\"", "duplicate-name", "\"wake\"");
    slip(
        "{ \"drum\": \"0:07.5\" }",
        "{ \"drum\": \"0:07.5\", \"drum\": \"0:08\" }",
        "duplicate-name",
        "\"drum\"",
    );
    // The score.
    slip("shows: { 2: [\"coral\"] }", "shows: { 4: [\"coral\"] }", "unknown-throw", "4");
    slip("shows: { 2: [\"coral\"] }", "shows: { 2: [] }", "empty-list", "[]");
    slip(
        "shows: { 2: [\"coral\"] }",
        "shows: { 2: [\"coral\"], 2: [\"teal\"] }",
        "duplicate-key",
        "2",
    );
    slip("Throws(\"2\")", "Throws(\"\")", "empty-text", "\"\"");
    slip("lasts: For(\"0:05\")", "lasts: Beats(5)", "beats-of-pause", "Beats(5)");
    slip(
        "pattern: \"531\", lasts: Cycles(8), shows: { 2: [\"coral\"] }",
        "pattern: \"(4,2x)*\", lasts: Beats(7)",
        "odd-beats-of-pairs",
        "Beats(7)",
    );
    slip(
        "pattern: \"531\", lasts: Cycles(8)",
        "pattern: \"(4,2x)*\", lead: Right, lasts: Cycles(8)",
        "lead-of-pairs",
        "lead",
    );
    slip(
        "tempo: PerMinute(200),",
        "tempo: Ramp(to: 220),",
        "ramp-without-section",
        "Ramp(to: 220)",
    );
    // Limits and cues.
    slip("on_the_line: Inside,", "", "missing-field", "Limit");
    slip("at_least: \"0:40\", at_most: \"1:00\",", "", "missing-field", "Limit");
    slip("at_least: \"0:40\"", "at_least: \"1:40\"", "limit-crossed", "\"1:40\"");
    slip(", from: Limit", "", "missing-field", "Steps");
    slip(
        "Steps(every: 8.0, or_part: true, from: Limit, points: 1.0)",
        "Graded([(over: 5.0, points: 4.0), (over: 5, points: 6)])",
        "grades-out-of-order",
        "5",
    );
    slip("does: \"sides up, front low\", count: 1", "does: \"up\"", "missing-field", "Cue");
    slip(
        "trigger: Follow(20, Complete, 3.5)",
        "trigger: Follow(20, Complete, 3.5), at: TrackStart",
        "misplaced-field",
        "at",
    );
    slip("at: LastCatch(\"ebb\"),", "", "missing-field", "Cue");
    slip("Complete", "Completed", "unknown-word", "Completed");
    slip("trigger: Called", "trigger: Called, spot: Up", "misplaced-field", "spot");
    // What follows the bars of the music.
    slip("lasts: Cycles(10)", "lasts: Bars(0)", "out-of-range", "0");
    slip("Start(\"tide\")", "Bar(9, 0)", "out-of-range", "0");
    slip("PerMinute(240)", "PerMusicBeat(2)", "wrong-shape", "PerMusicBeat(2)");
    slip("PerMinute(240)", "PerMusicBeat(throws: 2)", "missing-field", "PerMusicBeat");
    slip(
        "PerMinute(240)",
        "PerMusicBeat(throws: \"3:2\", accent: Throw)",
        "out-of-range",
        "\"3:2\"",
    );
    slip("bpm: 120", "bpm: 0", "out-of-range", "0");
    slip("number: 1)", "number: 1, upbeat: 4)", "out-of-range", "4");
    slip("number: 1)", "number: 1, to: 140)", "bars-ramp", "140");
    slip("number: 1)", "number: 1, over: 16)", "bars-ramp", "16");
}

#[test]
fn a_length_that_is_left_open_is_read_or_refused() {
    let bow = "lasts: For(\"0:05\")";
    assert_eq!(faults(&with(bow, "lasts: Between(\"0:04\", \"0:12\")")), []);
    assert_eq!(faults(&with(bow, "lasts: Between(\"0:04\", \"0:04\")")), []);
    for (from, to, code, marked) in [
        (bow, "lasts: Between(\"0:12\", \"0:04\")", "range-reversed", "(\"0:12\", \"0:04\")"),
        (bow, "lasts: Between(\"0:12\")", "wrong-shape", "Between(\"0:12\")"),
        (bow, "lasts: Between(\"0:04\", 12)", "wrong-shape", "12"),
        (bow, "lasts: Between(\"-0:04\", \"0:12\")", "out-of-range", "\"-0:04\""),
        (
            "lasts: Cycles(10)",
            "lasts: Between(\"0:04\", \"0:12\")",
            "range-of-juggle",
            "Between(\"0:04\", \"0:12\")",
        ),
    ] {
        assert_eq!(faults(&with(from, to)), [(code, marked.to_owned())], "{to}");
    }
    let reversed = read(&with(bow, "lasts: Between(\"0:12\", \"0:04\")"));
    let edit = &reversed.diagnostics[0].helps[0].edits[0];
    assert_eq!(edit.insert, "(\"0:04\", \"0:12\")");
}

const MARKS: &str = "marks: { \"drum\": \"0:07.5\" },";

#[test]
fn a_hold_is_read_with_its_two_cues_or_refused() {
    let hold = |hold: &str| with(MARKS, &format!("{MARKS} holds: {{ {hold} }},"));
    let good = "\"freeze\": Hold(at: Mark(\"drum\"), lasts: Between(\"0:03\", \"0:08\"), \
                resumes: See(\"arms down\"), numbers: [10, 15])";
    let reading = read(&hold(good));
    assert_eq!(reading.diagnostics, []);
    let routine = reading.routine.unwrap();
    let [held, goes_on] = &routine.cues[5..] else { panic!("two cues more") };
    assert_eq!(held.does.value.words(), "hold the track");
    assert_eq!(goes_on.does.value.words(), "resume the track");
    assert_eq!(goes_on.number.as_ref().unwrap().value.tenths, 150);
    assert_eq!(goes_on.trigger.value, Trigger::See(Some("arms down".to_owned())));
    assert_eq!(routine.music.unwrap().holds[0].from.value, Seconds::fraction(15, 2));
    for (from, to, code, marked) in [
        ("Mark(\"drum\")", "\"1:05\"", "out-of-range", "\"1:05\""),
        ("Mark(\"drum\")", "\"9:99\"", "bad-time", "\"9:99\""),
        ("Mark(\"drum\")", "Mark(\"drums\")", "unknown-mark", "\"drums\""),
        ("Mark(\"drum\")", "Start(\"tide\")", "unknown-word", "Start"),
        (
            "Mark(\"drum\")",
            "Shift(Mark(\"drum\"), -9)",
            "out-of-range",
            "Shift(Mark(\"drum\"), -9)",
        ),
        ("Mark(\"drum\")", "Shift(Mark(\"drum\"))", "wrong-shape", "Shift(Mark(\"drum\"))"),
        ("See(\"arms down\")", "Called", "wrong-shape", "Called"),
        ("See(\"arms down\")", "See", "wrong-shape", "See"),
        ("\"0:03\", \"0:08\"", "\"0:08\", \"0:03\"", "range-reversed", "(\"0:08\", \"0:03\")"),
        ("[10, 15]", "[10]", "wrong-shape", "[10]"),
        ("resumes", "resume", "missing-field", "Hold"),
    ] {
        let text = hold(&good.replace(from, to));
        assert!(faults(&text).contains(&(code, marked.to_owned())), "{to}: {:?}", faults(&text));
    }
    let two = format!("{good}, {}", good.replace("freeze", "pose").replace("[10, 15]", "[20, 25]"));
    assert_eq!(faults(&hold(&two)), [("holds-overlap", "Mark(\"drum\")".to_owned())]);
    let same = format!("{good}, {}", good.replace("Mark(\"drum\")", "\"0:20\""));
    assert_eq!(faults(&hold(&same)), [("duplicate-name", "\"freeze\"".to_owned())]);
}

#[test]
fn a_moment_of_several_tracks_says_of_which() {
    let written = &LANTERN[LANTERN.find("Track(").unwrap()..LANTERN.find("    zero:").unwrap()];
    let track = written.trim_end().trim_end_matches(',');
    let one =
        LANTERN.replace(&format!("music: {track}"), &format!("tracks: {{ \"main\": {track} }}"));
    // With one track the short forms still do.
    assert_eq!(faults(&one), []);
    assert_eq!(faults(&one.replace("Mark(\"drum\")", "Mark(\"main\", \"drum\")")), []);
    assert_eq!(
        faults(&one.replace("Mark(\"drum\")", "Mark(\"mane\", \"drum\")")),
        [("unknown-track", "\"mane\"".to_owned())]
    );
    let bow = ", \"bow\": Track(file: \"b.wav\", length: \"0:05\", starts: Start(\"bow\"), \
               marks: { \"end\": \"0:04\" })";
    let two = one.replace(&format!("{track} }}"), &format!("{track}{bow} }}"));
    let bare: Vec<_> = faults(&two);
    assert!(!bare.is_empty() && bare.iter().all(|(code, _)| *code == "which-track"), "{bare:?}");
    assert!(bare.contains(&("which-track", "\"drum\"".to_owned())), "{bare:?}");
    // Every way out that is offered first mends it.
    let mut mended = two.clone();
    let mut found = read(&two).diagnostics;
    found.sort_by_key(|fault| std::cmp::Reverse(fault.helps[0].edits[0].at.start));
    for fault in found {
        let edit = &fault.helps[0].edits[0];
        mended.replace_range(edit.at.start..edit.at.end, &edit.insert);
    }
    assert_eq!(faults(&mended), [], "{mended}");
    assert_eq!(
        faults(&mended.replace("Mark(\"main\", \"drum\")", "Mark(\"bow\", \"drum\")")),
        [("unknown-mark", "\"drum\"".to_owned())]
    );
    let both = LANTERN.replace("    zero:", "    tracks: {},\n    zero:");
    let codes: Vec<_> = faults(&both).into_iter().map(|(code, _)| code).collect();
    assert_eq!(codes, ["misplaced-field", "empty-list"]);
    assert_eq!(
        faults(&with("zero: TrackStart", "zero: TrackStart(\"main\")")),
        [("unknown-track", "\"main\"".to_owned())]
    );
}

#[test]
fn a_fault_in_a_pattern_is_placed_to_the_throw_through_any_way_to_write_it() {
    for (written, marked) in [
        ("\"5B1\"", "B"),
        ("\"5\\u{42}1\"", "\\u{42}"),
        ("\"\\n5 \\x42 1\"", "\\x42"),
        ("r#\"5B1\"#", "B"),
        ("/* é */ \"5B1\" // B\n", "B"),
    ] {
        let text = with("pattern: \"531\"", &format!("pattern: {written}"));
        let found = faults(&text);
        let (_, place) = &found[0];
        assert_eq!(place, marked, "{written}: {found:?}");
        let help = read(&text).diagnostics[0].helps[0].clone();
        assert_eq!(help.edits[0].insert, "b", "{written}");
    }
}

#[test]
fn a_nearest_name_is_offered_as_an_edit_that_mends_the_file() {
    for (from, to) in [
        ("clear_height", "clear_hight"),
        ("lead: Right", "lead: right"),
        ("set: \"three\"", "set: \"thre\""),
        ("Start(\"tide\")", "Start(\"tid\")"),
        ("Mark(\"drum\")", "Mark(\"drums\")"),
        ("lasts: Beats(26)", "lasts: beats(26)"),
        ("at: LastCatch(\"ebb\")", "at: LastCach(\"ebb\")"),
        ("crew: House", "crew: Hose"),
    ] {
        let mut text = with(from, to);
        let reading = read(&text);
        let edit = reading
            .diagnostics
            .iter()
            .flat_map(|fault| &fault.helps)
            .flat_map(|help| &help.edits)
            .next()
            .unwrap_or_else(|| panic!("{to}: {:?}", reading.diagnostics));
        text.replace_range(edit.at.start..edit.at.end, &edit.insert);
        assert_eq!(text, LANTERN, "{to}");
    }
}

#[test]
fn all_faults_of_a_file_are_found_in_one_run_and_a_faulty_section_keeps_its_name() {
    let text = LANTERN
        .replace("lasts: Beats(26)", "last: Beats(26)")
        .replace("pattern: \"51\"", "pattern: \"5B\"")
        .replace("set: \"five\"", "set: \"fife\"")
        .replace(
            "kind: Ball, length: 0.072, colours: [\"coral\"",
            "kind: Bal, length: -1, colours: [\"koral\"",
        )
        .replace("points: 1.0", "points: \"one\"")
        .replace("trigger: Called", "trigger: Caled")
        .replace("Start(\"tide\")", "Start(\"tide\", 3)");
    let codes: Vec<&str> = faults(&text).into_iter().map(|(code, _)| code).collect();
    for (code, count) in [
        ("capital-letter", 1),
        ("missing-field", 1),
        ("unknown-field", 1),
        ("unknown-set", 1),
        ("unknown-word", 2),
        ("out-of-range", 1),
        ("unknown-colour", 1),
        ("wrong-shape", 2),
    ] {
        let found = codes.iter().filter(|found| **found == code).count();
        assert_eq!(found, count, "{code} in {codes:?}");
    }
    let routine = read(&text).routine.unwrap();
    assert_eq!(routine.score[2].name.value, "tide");
    let unread = routine.score[2].unread().unwrap();
    assert_eq!(unread.is_juggled, Some(true));
    // The faulty set "three" is no unknown set, and its neighbours are read.
    assert_eq!(routine.sets.len(), 1);
    assert_eq!((routine.limits.len(), routine.cues.len()), (0, 3));
}

#[test]
fn one_slip_raises_one_fault_through_the_whole_pipeline() {
    for (from, to, code) in [
        (
            "kind: Ball, length: 0.072, colours: [\"coral\"",
            "kind: Bal, length: 0.072, colours: [\"coral\"",
            "unknown-word",
        ),
        ("set: \"three\"", "set: \"tree\"", "unknown-set"),
        ("at: LastCatch(\"ebb\")", "at: LastCatch(7)", "wrong-shape"),
        ("{ \"drum\": \"0:07.5\" }", "{ \"drum\": \"7.5\" }", "bad-time"),
        ("on_the_line: Inside,", "", "missing-field"),
        ("tempo: PerMinute(200),", "tempo: PerMinut(200),", "unknown-word"),
        ("Mark(\"drum\")", "Mark(\"dram\")", "unknown-mark"),
        ("Start(\"stillness\")", "Start(\"stilness\")", "unknown-section"),
        ("zero: TrackStart", "zero: TrackStrat", "unknown-word"),
        ("lasts: Beats(26)", "lasts: Beats(twenty)", "wrong-shape"),
        ("\"#0f8b8d\"", "\"#0f8b8\"", "unknown-colour"),
        ("pattern: \"531\", lasts", "pattern: \"532\", lasts", "average-not-whole"),
    ] {
        let opened = crate::open(&with(from, to));
        let codes: Vec<&str> = opened.diagnostics.iter().map(|fault| fault.code).collect();
        assert_eq!(codes, [code], "{to}");
        assert!(opened.finished().is_none(), "{to}");
    }
}

#[test]
fn line_ends_marks_extensions_and_comments_change_nothing() {
    let plain = read(LANTERN).routine.unwrap();
    for text in [
        LANTERN.replace('\n', "\r\n"),
        format!("\u{feff}{LANTERN}"),
        format!("#![enable(implicit_some)]\n{LANTERN}"),
        format!("// first\n/* then /* nested */ */\n{LANTERN}// last, without a line end"),
        LANTERN.replace(": ", " /* a */ : /* b */ ").replace("Right,", "Right // c\n,"),
        LANTERN.replacen("Routine(", "(", 1),
    ] {
        let reading = read(&text);
        assert_eq!(reading.diagnostics, [], "{text:.60}");
        let routine = reading.routine.unwrap();
        assert_eq!(routine.title.value, plain.title.value);
        assert_eq!(routine.score.len(), plain.score.len());
        let name = &routine.score[3].name;
        assert_eq!(&text[name.at.start..name.at.end], "\"beam\"");
    }
}

#[test]
fn what_cannot_be_read_at_all_is_one_error_with_its_place() {
    let deep = format!("Routine(title: {}", "[".repeat(200_000));
    for (text, code) in [
        ("", "syntax"),
        ("Routine(title: \"a\", score: [", "syntax"),
        ("Routine(title: \"a)", "syntax"),
        ("Routine(title: \"a\") Routine()", "syntax"),
        ("Routine(title: \"\\q\", score: [])", "syntax"),
        ("Routine(title \"a\")", "syntax"),
        (deep.as_str(), "syntax"),
        ("/* never closed", "syntax"),
        ("#![enable(unwrap_variant_newtypes)] Routine()", "extension"),
        ("#![enable(everything)] Routine()", "syntax"),
        ("7", "wrong-shape"),
        ("[]", "wrong-shape"),
    ] {
        let found = faults(text);
        assert_eq!(found.len(), 1, "{text:.40}: {found:?}");
        assert_eq!(found[0].0, code, "{text:.40}");
    }
    let large = " ".repeat(LARGEST_FILE + 1);
    assert_eq!(faults(&large)[0].0, "too-large");
}

#[test]
fn a_syntax_error_is_placed_where_the_text_breaks() {
    let text = LANTERN.replacen("issue: 3,", "issue: 3", 1);
    let fault = &read(&text).diagnostics[0];
    assert!(text[fault.at.start..].starts_with("lead: Right"), "{fault:?}");
    let text = "\u{feff}Routine(\r\n  title: \"é\",\r\n  score [])";
    let fault = &read(text).diagnostics[0];
    assert_eq!(&text[fault.at.start..fault.at.end], "[", "{fault:?}");
}

/// A change of the example's bytes.
#[derive(Clone, Debug)]
enum Mangling {
    Delete(usize, usize),
    Double(usize, usize),
    Flip(usize, u8),
    Write(usize, String),
}

/// What can stand in a file, some of it nearly everywhere.
const TOKENS: [&str; 16] = [
    " /* \" */ ",
    " // '(\n",
    "\r\n",
    "'\"'",
    "'\\''",
    "'''",
    "r#\"(\"\")\"#",
    "\"\\\"\\\\\"",
    "b\"]\\\"\"",
    "7, ",
    "(1, 2), ",
    "{ 'a': [r\"\"] }, ",
    "r#if: 1, ",
    "A(b: C(3)), ",
    "[], ",
    "1_0.5e-3, ",
];

/// A token written before one of the example's tokens, where it may fit.
fn token_written() -> impl Strategy<Value = Mangling> {
    let starts: Vec<usize> = token::Tokens::new(LANTERN).map(|(_, at)| at.start).collect();
    (prop::sample::select(starts), prop::sample::select(&TOKENS[..]))
        .prop_map(|(at, token)| Mangling::Write(at, token.to_owned()))
}

fn mangling() -> impl Strategy<Value = Mangling> {
    let at = 0..LANTERN.len();
    prop_oneof![
        (at.clone(), 1..40usize).prop_map(|(at, length)| Mangling::Delete(at, length)),
        (at.clone(), 1..200usize).prop_map(|(at, length)| Mangling::Double(at, length)),
        (at.clone(), any::<u8>()).prop_map(|(at, bits)| Mangling::Flip(at, bits)),
        (at, "[\\\\\"()\\[\\]{},:#/*-9a-cé☂\u{feff}\r\n]{1,4}")
            .prop_map(|(at, text)| Mangling::Write(at, text)),
        token_written(),
    ]
}

fn mangled(manglings: Vec<Mangling>) -> String {
    let mut bytes = LANTERN.as_bytes().to_vec();
    for mangling in manglings {
        let end = |at: usize, length: usize| (at + length).min(bytes.len());
        match mangling {
            Mangling::Delete(at, length) if at < bytes.len() => {
                bytes.drain(at..end(at, length));
            }
            Mangling::Double(at, length) if at < bytes.len() => {
                let copy = bytes[at..end(at, length)].to_vec();
                bytes.splice(at..at, copy);
            }
            Mangling::Flip(at, bits) if at < bytes.len() => bytes[at] ^= bits,
            Mangling::Write(at, text) if at < bytes.len() => {
                bytes.splice(at..at, text.into_bytes());
            }
            _ => {}
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_value_is_cut_apart_where_ron_cuts_it(
        manglings in prop::collection::vec(token_written(), 0..3)
    ) {
        let text = mangled(manglings);
        if let Ok(root) = Raw::root(&text) {
            cut_by_ron::compare(root.value);
        }
    }

    #[test]
    fn no_file_however_mangled_panics_and_every_place_lies_in_it(
        manglings in prop::collection::vec(mangling(), 1..4)
    ) {
        let text = mangled(manglings);
        if let Ok(root) = Raw::root(&text) {
            cut_by_ron::compare(root.value);
        }
        let reading = read(&text);
        for fault in &reading.diagnostics {
            let notes = fault.notes.iter().filter_map(|note| note.at.as_ref());
            let edits = fault.helps.iter().flat_map(|help| &help.edits).map(|edit| &edit.at);
            for place in [&fault.at].into_iter().chain(notes).chain(edits) {
                prop_assert!(text.get(place.start..place.end).is_some(), "{place:?} {fault:?}");
            }
        }
        let error = reading.diagnostics.iter().any(|fault| fault.severity == Severity::Error);
        prop_assert!(reading.routine.is_some() || error);
    }
}
