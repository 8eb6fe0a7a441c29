//! Lengths that are left open: worked by hand, and held against the same routine with lengths
//! chosen from within.
#![allow(missing_docs)]

#[path = "written/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod written;

use proptest::prelude::*;
use throwbook::Opened;
use throwbook::act::Act;
use throwbook::measure::limit_range::judged_range;
use throwbook::measure::limits::Verdict;
use throwbook::time::{Time, TimeRange};
use written::{Written, codes, score};

fn ranges(opened: &Opened) -> Vec<String> {
    let act = opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
    act.timeline.sections.iter().map(|span| span.starts.range().clock()).collect()
}

/// 20 throws at 200 a minute are 6 s; with 3s their last one is caught 0.2 s after the last beat.
const TALK: &str = "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
    Pause(name: \"applause\", lasts: Between(\"0:04\", \"0:12\")),
    Juggle(name: \"b\", pattern: \"3\", lasts: Beats(20)),
    Pause(name: \"talk\", lasts: Between(\"0:10\", \"0:11\")),
    Juggle(name: \"c\", pattern: \"3\", lasts: Beats(20)),";

#[test]
fn every_time_after_an_open_pause_is_a_range() {
    let opened = score(TALK).open();
    assert_eq!(codes(&opened), [""; 0]);
    // 6.2 + 4, + 12; 16.4, 24.4; 26.4 to 35.4.
    assert_eq!(
        ranges(&opened),
        ["0:00.0", "0:06.2", "0:10.2–0:18.2", "0:16.4–0:24.4", "0:26.4–0:35.4"]
    );
    // With the clock's zero behind the pauses, what is before them comes in a range.
    let written = Written { zero: "Start(\"c\")".to_owned(), ..score(TALK) };
    assert_eq!(
        ranges(&written.open()),
        ["-0:35.4–-0:26.4", "-0:29.2–-0:20.2", "-0:17.2–-0:16.2", "-0:11.0–-0:10.0", "0:00.0"]
    );
}

#[test]
fn a_pause_until_a_moment_takes_up_what_is_uncertain() {
    let opened = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
         Pause(name: \"applause\", lasts: Between(\"0:04\", \"0:12\")),
         Pause(name: \"pose\", lasts: Until(At(\"0:20\"))),
         Juggle(name: \"b\", pattern: \"3\", lasts: Until(At(\"0:26\"))),",
    )
    .open();
    assert_eq!(codes(&opened), [""; 0]);
    assert_eq!(ranges(&opened), ["0:00.0", "0:06.2", "0:10.2–0:18.2", "0:20.0"]);
}

#[test]
fn two_pauses_that_work_against_each_other_are_not_taken_together() {
    // Between the end of the first pause and the start of the last section lie what the second
    // takes from "pose" and nothing of it: 20 − 4 − 4.2, and so on.
    let written = Written {
        after: "limits: [Limit(rule: \"r\", starts: Start(\"pose\"), stops: End(\"talk\"), \
                at_most: \"0:15\", on_the_line: Inside)],\n"
            .to_owned(),
        ..score(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
             Pause(name: \"applause\", lasts: Between(\"0:04\", \"0:12\")),
             Pause(name: \"pose\", lasts: Until(At(\"0:20\"))),
             Pause(name: \"talk\", lasts: Between(\"0:01\", \"0:05\")),",
        )
    };
    let opened = written.open();
    let act = opened.finished().unwrap();
    let judged = judged_range(act, &act.routine.limits[0]).unwrap();
    // The shortest: pose 1.8 and talk 1; the longest: pose 9.8 and talk 5.
    assert_eq!(judged.counted.clock(), "0:02.8–0:14.8");
}

fn held(score_of: &str) -> Written {
    Written {
        zero: "TrackStart".to_owned(),
        before: "    music: Track(file: \"a.wav\", length: \"0:40\", starts: Start(\"a\"), \
                 marks: { \"stop\": \"0:10\", \"drum\": \"0:12\" },\n    \
                 holds: { \"freeze\": Hold(at: Mark(\"stop\"), lasts: Between(\"0:03\", \"0:08\"), \
                 resumes: See(\"arms down\")) }),\n"
            .to_owned(),
        ..score(score_of)
    }
}

#[test]
fn a_hold_parts_the_clock_of_the_track_from_that_of_the_show() {
    let opened = held(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
         Pause(name: \"freeze\", lasts: Until(HoldEnd(\"freeze\"))),
         Juggle(name: \"b\", pattern: \"3\", lasts: Beats(80)),
         Pause(name: \"bow\", lasts: Until(TrackEnd)),",
    )
    .open();
    assert_eq!(codes(&opened), [""; 0]);
    // The track stands at 0:10 from 10 to 13 or 18; b lasts 24.2 s.
    assert_eq!(ranges(&opened), ["0:00.0", "0:06.2", "0:13.0–0:18.0", "0:37.2–0:42.2"]);
    let timeline = &opened.finished().unwrap().timeline;
    let moment = |name: &str| {
        let text = format!(
            "Cue(crew: Light, number: 1, at: {name}, trigger: Called, does: \"x\", count: 1)"
        );
        let written = Written {
            after: format!("    cues: [{text}],\n"),
            ..held("Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(200)),")
        };
        let opened = written.open();
        let act = opened.finished().unwrap();
        act.calls.of_cue(0).unwrap().go.range().clock()
    };
    assert_eq!(moment("Mark(\"stop\")"), "0:10.0");
    assert_eq!(moment("HoldStart(\"freeze\")"), "0:10.0");
    assert_eq!(moment("HoldEnd(\"freeze\")"), "0:13.0–0:18.0");
    assert_eq!(moment("Mark(\"drum\")"), "0:15.0–0:20.0");
    assert_eq!(moment("TrackEnd"), "0:43.0–0:48.0");
    // On its own clock "b" starts where it stood still, and the act ends with it.
    let reads = |index: usize| timeline.tracks[0].reads(&timeline.sections[index].starts).unwrap();
    assert_eq!((reads(1).clock(), reads(2).clock()), ("0:06.2".to_owned(), "0:10.0".to_owned()));
    assert_eq!(reads(3).clock(), "0:34.2");
}

#[test]
fn what_would_change_more_than_times_is_refused_at_its_place() {
    let opened = held(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
         Pause(name: \"pose\", lasts: For(\"0:01.8\")),
         Juggle(name: \"b\", pattern: \"3\", lasts: Until(Mark(\"drum\"))),",
    )
    .open();
    // No whole number at the shortest either: 15 − 8 s are 23 beats and a third.
    assert_eq!(codes(&opened), ["range-moves-beats"]);
    let opened = held(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
         Pause(name: \"pose\", lasts: For(\"0:02.8\")),
         Juggle(name: \"b\", pattern: \"3\", lasts: Until(Mark(\"drum\"))),",
    )
    .open();
    assert_eq!(codes(&opened), ["range-moves-beats"]);
    assert!(opened.diagnostics[0].message.contains("the hold \"freeze\""));
    // Each alone would leave a pause, both together do not: 6.2 + 3 + 3 are 12.2.
    let two = |until: &str| {
        score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(20)),
             Pause(name: \"x\", lasts: Between(\"0:01\", \"0:03\")),
             Pause(name: \"y\", lasts: Between(\"0:01\", \"0:03\")),
             Pause(name: \"z\", lasts: Until(At(\"{until}\"))),"
        ))
        .open()
    };
    // None is left of the pause on that night, which is no error.
    assert_eq!(codes(&two("0:12.2")), ["pause-swallowed"]);
    assert_eq!(codes(&two("0:12.7")), [""; 0]);
    assert_eq!(codes(&two("0:12.1")), ["range-too-long"]);
    let short = &two("0:12.1").diagnostics[0];
    assert!(short.message.contains("0.1 s before it starts"), "{}", short.message);
}

#[test]
fn what_is_wrong_only_at_the_longest_is_said_too() {
    // The last catch comes at 32.6 to 41.6.
    for (length, expected) in [("0:42", vec![]), ("0:35", vec!["music-ends-early"])] {
        let before = format!(
            "    music: Track(file: \"a.wav\", length: \"{length}\", starts: Start(\"a\")),\n"
        );
        let opened = Written { before, ..score(TALK) }.open();
        assert_eq!(codes(&opened), expected, "{length}");
        let notes = opened.diagnostics.iter().flat_map(|one| &one.notes);
        // The worst night is named.
        let with = "It happens with \"applause\" at 12.0 s and \"talk\" at 11.0 s.";
        assert_eq!(notes.filter(|note| note.text == with).count(), expected.len());
    }
}

#[test]
fn a_timed_cue_after_a_hold_is_a_warning_unless_it_is_seen_or_hangs_on_the_track() {
    let cue = |at: &str, trigger: &str| {
        let after = format!(
            "    cues: [Cue(crew: Light, number: 1, at: {at}, trigger: {trigger}, does: \"x\", count: 1)],\n"
        );
        // The sections are certain; only what is heard is not.
        let score = "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(100)),";
        codes(&Written { after, ..held(score) }.open())
    };
    assert_eq!(cue("At(\"0:12\")", "Called"), ["timed-cue-after-range"]);
    for (at, trigger) in [
        ("At(\"0:09\")", "Called"),
        ("At(\"0:12\")", "See(\"arms up\")"),
        ("Mark(\"drum\")", "Called"),
        ("Throw(\"a\", 50)", "Called"),
    ] {
        assert_eq!(cue(at, trigger), [""; 0], "{at} {trigger}");
    }
}

#[test]
fn several_tracks_each_have_a_clock() {
    let written = Written {
        zero: "TrackStart(\"main\")".to_owned(),
        before: "    tracks: { \"main\": Track(file: \"a.wav\", length: \"0:06.2\", starts: \
                 Start(\"a\"), marks: { \"end\": \"0:06\" }),\n    \"last\": Track(file: \
                 \"b.wav\", length: \"0:20\", starts: Start(\"c\"), marks: { \"end\": \"0:07\" }) },\n"
            .to_owned(),
        after: "    cues: [Cue(crew: Light, number: 1, at: Mark(\"main\", \"end\"), trigger: Called, \
                does: \"x\", count: 1), Cue(crew: Light, number: 2, at: Mark(\"last\", \"end\"), \
                trigger: Called, does: \"x\", count: 1)],\n"
            .to_owned(),
        ..score(&format!("{TALK} Pause(name: \"bow\", lasts: Until(TrackEnd(\"last\"))),"))
    };
    let opened = written.open();
    assert_eq!(codes(&opened), [""; 0]);
    let act = opened.finished().unwrap();
    let go = |cue| act.calls.of_cue(cue).unwrap().go.range().clock();
    assert_eq!(go(0), "0:06.0");
    assert_eq!(go(1), "0:33.4–0:42.4");
    let sheet = throwbook::sheet::timing::compose(act);
    let clocks: Vec<_> = sheet
        .clocks
        .iter()
        .map(|line| (line.clock.as_str(), line.ends.as_ref().map(TimeRange::clock)))
        .collect();
    assert_eq!(
        clocks,
        [
            ("show", Some("0:46.4–0:55.4".to_owned())),
            // It is over by then.
            ("track: main", None),
            ("track: last", Some("0:20.0".to_owned())),
            ("first throw", Some("0:46.4–0:55.4".to_owned())),
        ]
    );
}

#[test]
fn documents_for_programs_have_the_latest_beside_the_earliest() {
    let written = Written {
        after: "    limits: [Limit(rule: \"slot\", starts: FirstThrow, stops: LastCatch, \
                at_most: \"0:35\", on_the_line: Inside, penalty: Flat(2.0))],\n    cues: \
                [Cue(crew: Light, number: 1, at: Start(\"b\"), trigger: See(\"hat on\"), does: \
                \"up\", count: 1)],\n"
            .to_owned(),
        ..score(TALK)
    };
    let opened = written.open();
    assert_eq!(codes(&opened), ["limit-over"]);
    let act = opened.finished().unwrap();
    let read = |text: String| serde_json::from_str::<serde_json::Value>(&text).unwrap();
    let time = read(throwbook::export::timing_json::json(act));
    let b = &time["sections"][2];
    assert_eq!((&b["starts_s"], &b["starts_latest_s"]), (&10.2.into(), &18.2.into()));
    assert_eq!(time["sections"][0]["starts_latest_s"], serde_json::Value::Null);
    assert_eq!(time["act"]["last_catch_s"], 32.6);
    assert_eq!(time["act"]["last_catch_latest_s"], 41.6);
    assert_eq!(time["act"]["juggled_latest_s"], serde_json::Value::Null);
    let show = &time["clocks"][0];
    assert_eq!((&show["clock"], &show["begins_s"]), (&"show".into(), &0.0.into()));
    assert_eq!((&show["ends_s"], &show["ends_latest_s"]), (&32.6.into(), &41.6.into()));
    let limit = &time["limits"][0];
    assert_eq!((&limit["counted_s"], &limit["counted_latest_s"]), (&32.6.into(), &41.6.into()));
    assert_eq!((&limit["verdict"], &limit["best_verdict"]), (&"over".into(), &"inside".into()));
    assert_eq!((&limit["by_s"], &limit["best_by_s"]), (&6.6.into(), &2.4.into()));
    assert_eq!(limit["penalty_points"], 2.0);
    assert_eq!(limit["best_penalty_points"], 0.0);
    let cues = read(throwbook::export::cues_json::json(act, None));
    let cue = &cues["cues"][0];
    assert_eq!((&cue["go_s"], &cue["go_latest_s"]), (&10.2.into(), &18.2.into()));
    assert_eq!((&cue["standby_s"], &cue["standby_latest_s"]), (&5.2.into(), &13.2.into()));
    let csv = throwbook::export::cues_csv::csv(act, None);
    assert!(csv.lines().nth(1).unwrap().ends_with(",0:18.2,18.2,0:13.2"), "{csv}");
    let text = throwbook::export::timing_text::text(act, 80);
    assert!(text.contains("at worst OVER by 6.6 s, 2 points; at best INSIDE by 2.4 s"), "{text}");
}

/// A section of a random score: its text with an open length, as a share of it in thousandths.
#[derive(Clone, Debug)]
enum Piece {
    Open(u32, u32),
    Juggle(u32),
    UntilMark,
    UntilTrackEnd,
    UntilFixed(u32),
}

fn piece() -> impl Strategy<Value = Piece> {
    prop_oneof![
        4 => (0_u32..4000, 0_u32..4000).prop_map(|(least, more)| Piece::Open(least, least + more)),
        4 => (1_u32..30).prop_map(Piece::Juggle),
        1 => Just(Piece::UntilMark),
        1 => Just(Piece::UntilTrackEnd),
        1 => (10_000_u32..60_000).prop_map(Piece::UntilFixed),
    ]
}

fn ms(thousandths: u32) -> String {
    let (minutes, rest) = (thousandths / 60_000, thousandths % 60_000);
    format!("\"{minutes}:{:02}.{:03}\"", rest / 1000, rest % 1000)
}

/// The routine; with `chosen`, each open length is fixed at that share of what it may be longer,
/// in thousandths.
fn routine(pieces: &[Piece], zero: &str, track_at: usize, chosen: Option<&[u32]>) -> String {
    let mut shares = chosen.map(|chosen| chosen.iter().cycle().copied());
    let mut share = |least: u32, most: u32| {
        shares.as_mut().and_then(Iterator::next).map(|share| least + (most - least) * share / 1000)
    };
    let mut score = String::from("Pause(name: \"s0\", lasts: For(\"0:02\")),\n");
    for (index, piece) in pieces.iter().enumerate() {
        let name = format!("s{}", index + 1);
        let pause = |lasts: String| format!("Pause(name: \"{name}\", lasts: {lasts}),\n");
        score += &match piece {
            Piece::Open(least, most) => match share(*least, *most) {
                Some(lasts) => pause(format!("For({})", ms(lasts))),
                None => pause(format!("Between({}, {})", ms(*least), ms(*most))),
            },
            Piece::Juggle(beats) => format!(
                "Juggle(name: \"{name}\", set: \"3\", pattern: \"3\", lasts: Beats({beats})),\n"
            ),
            Piece::UntilMark => pause("Until(Mark(\"late\"))".to_owned()),
            Piece::UntilTrackEnd => pause("Until(TrackEnd)".to_owned()),
            Piece::UntilFixed(at) => pause(format!("Until(At({}))", ms(*at))),
        };
    }
    let (least, most) = (1000, 5000);
    let hold = match share(least, most) {
        Some(lasts) => (lasts, lasts),
        None => (least, most),
    };
    let before = format!(
        "    music: Track(file: \"a.wav\", length: \"0:50\", starts: Start(\"s{track_at}\"), marks: {{ \
         \"early\": \"0:03\", \"late\": \"0:25\" }},\n    holds: {{ \"h\": Hold(at: \"0:10\", \
         lasts: Between({}, {}), resumes: See(\"go\")) }}),\n",
        ms(hold.0),
        ms(hold.1)
    );
    let last = pieces.len();
    let limit = |starts: &str, stops: &str| {
        format!(
            "Limit(rule: \"r\", starts: {starts}, stops: {stops}, at_least: \"0:10\", at_most: \
             \"0:20\", grace: 3.0, on_the_line: Inside, penalty: Steps(every: 2.0, or_part: true, \
             from: Limit, points: 1.0)),"
        )
    };
    let after = format!(
        "    limits: [{} {} {}],\n    cues: [Cue(crew: Light, number: 1, at: End(\"s{last}\"), trigger: \
         See(\"x\"), does: \"x\", count: 1), Cue(crew: Light, number: 2, trigger: Follow(1, Complete, \
         2.0), does: \"y\", count: 1)],\n",
        limit("Start(\"s0\")", &format!("End(\"s{last}\")")),
        limit(&format!("Start(\"s{}\")", last / 2), &format!("Start(\"s{last}\")")),
        limit("Mark(\"early\")", &format!("End(\"s{last}\")")),
    );
    Written { zero: zero.to_owned(), before, after, ..written::score(&score) }.text()
}

fn within(range: &TimeRange, time: &Time) -> bool {
    let time = time.certain().unwrap();
    range.earliest().unwrap() <= time && time <= range.latest().unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, max_global_rejects: 600, ..ProptestConfig::default() })]
    #[test]
    fn whatever_the_open_lengths_come_to_lies_within_what_is_printed(
        pieces in prop::collection::vec(piece(), 2..8),
        zero in 0_usize..3,
        track_at in 0_usize..3,
        shares in prop::collection::vec(prop::collection::vec(0_u32..=1000, 9), 4),
    ) {
        let zero = ["TrackStart", "FirstThrow", "Start(\"s2\")"][zero];
        let opened = throwbook::open(&routine(&pieces, zero, track_at, None));
        let Some(open) = opened.finished() else {
            // A pause until what is past already: another score says more.
            return Err(TestCaseError::reject("errors"));
        };
        let ends = [vec![0; 9], vec![1000; 9]];
        for share in shares.iter().chain(&ends) {
            let chosen = throwbook::open(&routine(&pieces, zero, track_at, Some(share)));
            let errors = || format!("{:?}", chosen.diagnostics);
            let Some(fixed) = chosen.finished() else { return Err(TestCaseError::fail(errors())) };
            let times = |act: &Act| -> Vec<Option<Time>> {
                let timeline = &act.timeline;
                let sections = timeline.sections.iter();
                let edges = sections.flat_map(|span| [Some(span.starts.clone()), Some(span.ends.clone())]);
                let lasts = timeline.sections.iter().map(|span| Some(&span.ends - &span.starts));
                let catches = timeline.runs.iter().map(|run| run.gather.last_catch.clone());
                let track = [timeline.tracks[0].starts.clone(), timeline.tracks[0].ends()];
                edges.chain(lasts).chain(catches).chain(track).collect()
            };
            for (index, (range, time)) in times(open).iter().zip(times(fixed)).enumerate() {
                prop_assert_eq!(range.is_some(), time.is_some());
                if let (Some(range), Some(time)) = (range.as_ref().map(Time::range), time) {
                    prop_assert!(range.earliest() <= range.latest());
                    prop_assert!(within(&range, &time), "{index}: {range:?} {time:?}");
                }
            }
            for call in &fixed.calls.calls {
                prop_assert!(within(&open.calls.of_cue(call.cue).unwrap().go.range(), &call.go));
            }
            for (limit, chosen) in open.routine.limits.iter().zip(&fixed.routine.limits) {
                let range = judged_range(open, limit).unwrap();
                let judged = judged_range(fixed, chosen).unwrap();
                let counted = Time::from(judged.counted.earliest().unwrap().clone());
                prop_assert!(within(&range.counted, &counted));
                let rank = |verdict: Verdict| match verdict {
                    Verdict::Inside => 0,
                    Verdict::Grace => 1,
                    Verdict::Over | Verdict::Under => 2,
                };
                let [worst, one, best] =
                    [&range.worst, &judged.worst, &range.best].map(|one| rank(one.verdict));
                prop_assert!(best <= one && one <= worst, "{range:?} {judged:?}");
                prop_assert!(judged.worst.price.points <= range.worst.price.points);
                prop_assert!(judged.worst.price.points >= range.best.price.points);
            }
        }
    }
}
