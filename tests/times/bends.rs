//! `may_bend`: whole cycles land exactly on a section's end, at the tempo with the least bend.

use num_bigint::BigInt;
use num_rational::BigRational;
use proptest::prelude::*;

use throwbook::Opened;
use throwbook::time::{BeatPosition, Pace, Seconds};
use throwbook::timeline::Bend;

use super::written::{Written, codes, score};
use super::{certain, clean, span};

fn bend(opened: &Opened, name: &str) -> Bend {
    span(opened, name).juggle.unwrap().bend.unwrap()
}

/// When a section's own first throw comes, and when its last beat ends.
fn own(opened: &Opened, name: &str) -> (Seconds, Seconds) {
    let juggle = span(opened, name).juggle.unwrap();
    let tempo = &opened.finished().unwrap().timeline.runs[juggle.run].tempo;
    let end = BeatPosition::from_integer(i64::from(juggle.own_first_beat + juggle.beats));
    (certain(&tempo.at_beat(juggle.own_first_beat)), certain(&tempo.at(end)))
}

fn is_exactly(time: &Seconds, numerator: i64, denominator: i64) {
    let Seconds::Exact(exact) = time else { panic!("{time:?} is no fraction") };
    assert_eq!(exact, &fraction(numerator, denominator));
}

fn fraction(numerator: i64, denominator: i64) -> BigRational {
    BigRational::new(BigInt::from(numerator), BigInt::from(denominator))
}

#[test]
fn a_pause_begins_its_wait_where_the_last_cycle_ends() {
    // 8 s at 200 a minute are 26⅔ beats: nine cycles of 531 need 202.5.
    for lasts in ["For(\"0:08\")", "Until(At(\"0:08\"))"] {
        let opened = clean(&score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"531\", lasts: {lasts}, may_bend: 0.03),\n\
             Pause(name: \"p\", lasts: For(\"0:04\")),"
        )));
        let bent = bend(&opened, "a");
        assert_eq!((bent.cycles, &bent.per_minute), (9, &fraction(405, 2)));
        assert_eq!((bent.bend(), &bent.written), (fraction(1, 80), &fraction(200, 1)));
        assert_eq!(span(&opened, "a").juggle.unwrap().cycles, (9, 0));
        is_exactly(&own(&opened, "a").1, 8, 1);
    }
}

#[test]
fn the_next_sections_own_first_throw_is_exactly_on_the_moment() {
    for (set, pattern, next, taken) in [
        ("3", "3", r#"pattern: "531""#, 0),
        ("3", "3", r#"pattern: "51", transition: Auto"#, 1),
        ("3", "441", r#"pattern: "51", transition: Throws("4")"#, 1),
        ("3", "51", r#"pattern: "3", transition: Auto"#, 1),
        ("3", "3", r#"pattern: "(4,2x)(2x,4)", transition: Auto"#, 1),
        ("4", "(4,4)", r#"pattern: "(4x,4x)""#, 0),
        ("3", "(4,2x)*", r#"pattern: "3", transition: Auto"#, 0),
        ("5", "[54]24", r#"pattern: "5", transition: Auto"#, 1),
    ] {
        for tempo in ["", ", tempo: PerMinute(233)"] {
            let opened = clean(&score(&format!(
                "Juggle(name: \"a\", set: \"{set}\", pattern: \"{pattern}\", \
                 lasts: Until(At(\"0:17.031\")), may_bend: 0.08),\n\
                 Juggle(name: \"b\", {next}{tempo}, lasts: Cycles(4)),"
            )));
            let what = format!("{pattern} to {next}{tempo}");
            let b = span(&opened, "b").juggle.unwrap();
            if taken > 0 {
                assert!(b.transition.is_some(), "{what}");
            }
            is_exactly(&own(&opened, "b").0, 17_031, 1000);
            let a = span(&opened, "a").juggle.unwrap();
            assert_eq!(a.cycles.1, 0, "{what}");
            assert_ne!(bend(&opened, "a").bend(), fraction(0, 1), "{what}");
        }
    }
}

#[test]
fn a_transition_bends_with_its_section_and_what_follows_keeps_the_written_tempo() {
    let opened = clean(&score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(8)),\n\
         Juggle(name: \"b\", pattern: \"51\", transition: Auto, lasts: For(\"0:08\"), may_bend: 0.03),\n\
         Juggle(name: \"c\", pattern: \"3\", transition: Auto, lasts: Beats(8)),",
    ));
    // A `4` and 26 beats in 8 s.
    let bent = bend(&opened, "b");
    assert_eq!((bent.cycles, &bent.per_minute), (13, &fraction(405, 2)));
    let b = span(&opened, "b");
    is_exactly(&certain(&(&b.ends - &b.starts)), 8, 1);
    is_exactly(&(&own(&opened, "b").0 - &certain(&b.starts)), 60 * 2, 405);
    let c = span(&opened, "c");
    assert_eq!(c.juggle.as_ref().unwrap().bend, None);
    let (begins, ends) = own(&opened, "c");
    is_exactly(&(&ends - &begins), 8 * 60, 200);
}

#[test]
fn two_sections_in_a_row_land_each_on_its_own_moment() {
    let opened = clean(&score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(At(\"0:10\")), may_bend: 0.03),\n\
         Juggle(name: \"b\", pattern: \"51\", transition: Auto, lasts: Until(At(\"0:30\")), \
         may_bend: 0.03),\n\
         Juggle(name: \"c\", pattern: \"531\", transition: Auto, lasts: For(\"0:08\"), may_bend: 0.06),\n\
         Pause(name: \"p\", lasts: For(\"0:04\")),",
    ));
    is_exactly(&own(&opened, "b").0, 10, 1);
    is_exactly(&own(&opened, "c").0, 30, 1);
    let c = span(&opened, "c");
    is_exactly(&(&own(&opened, "c").1 - &certain(&c.starts)), 8, 1);
    // The first throw of `b` and of `c` is awaited: what stands before it keeps the written tempo.
    let timeline = &opened.finished().unwrap().timeline;
    let b = span(&opened, "b").juggle.unwrap();
    let at = |beat: u32| {
        timeline.runs[0].tempo.piece_at(BeatPosition::from_integer(i64::from(beat))).unwrap()
    };
    assert_eq!(at(b.first_beat).pace, Pace::Steady(fraction(200, 1)));
    assert_eq!(at(b.own_first_beat).pace, Pace::Steady(bend(&opened, "b").per_minute));
}

#[test]
fn a_section_after_a_pause_until_a_moment_lands_too() {
    let opened = clean(&score(
        "Juggle(name: \"a\", set: \"4\", pattern: \"4\", lasts: Beats(8)),\n\
         Pause(name: \"p\", lasts: Until(At(\"0:09\"))),\n\
         Juggle(name: \"b\", pattern: \"[43]23\", transition: Throws(\"3\"), \
         lasts: Until(At(\"0:21.05\")), may_bend: 0.03),\n\
         Pause(name: \"q\", lasts: For(\"0:02\")),",
    ));
    is_exactly(&own(&opened, "b").0, 9, 1);
    is_exactly(&own(&opened, "b").1, 2105, 100);
}

#[test]
fn after_a_ramp_it_lands_to_a_microsecond() {
    let opened = clean(&score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(30), \
         tempo: Ramp(from: 150, to: 210)),\n\
         Juggle(name: \"b\", pattern: \"531\", lasts: Until(At(\"0:20\")), may_bend: 0.05),\n\
         Juggle(name: \"c\", pattern: \"3\", lasts: Beats(6)),",
    ));
    assert_eq!(bend(&opened, "b").written, fraction(210, 1));
    assert_eq!(own(&opened, "c").0, Seconds::fraction(20, 1));
}

#[test]
fn without_give_a_cycle_may_be_cut_and_with_none_it_may_not() {
    let with = |may_bend: &str| {
        score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"441\", lasts: For(\"0:03\"){may_bend}),\n\
             Pause(name: \"p\", lasts: For(\"0:04\")),"
        ))
    };
    let opened = with("").open();
    assert!(opened.finished().is_some(), "{:?}", opened.diagnostics);
    assert_eq!(span(&opened, "a").juggle.unwrap().cycles, (3, 1));
    assert_eq!(codes(&with(", may_bend: 0").open()), ["bend-too-small"]);
    // Nine beats in 3 s are a tenth slower.
    assert_eq!(codes(&with(", may_bend: 0.09").open()), ["bend-too-small"]);
    assert_eq!(bend(&clean(&with(", may_bend: 0.1")), "a").bend(), fraction(-1, 10));
    // What fits as it is is not bent.
    let nine = with(", may_bend: 0").text().replace("0:03", "0:02.7");
    let opened = throwbook::open(&nine);
    assert_eq!(bend(&opened, "a").bend(), fraction(0, 1));
}

#[test]
fn a_length_without_room_for_a_cycle_is_no_section() {
    let early = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(20)),\n\
         Juggle(name: \"b\", pattern: \"531\", lasts: Until(At(\"0:05\")), may_bend: 0.5),",
    );
    assert_eq!(codes(&early.open()), ["times-contradict"]);
    let short = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"531\", lasts: For(\"0:00.1\"), may_bend: 0.5),",
    );
    assert_eq!(codes(&short.open()), ["bend-too-small"]);
}

#[test]
fn what_hangs_on_the_bend_itself_cannot_end_the_section() {
    for moment in ["Throw(\"a\", 2)", "Cycle(\"a\", 2)", "End(\"a\")", "Start(\"b\")"] {
        let circle = score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until({moment}), may_bend: 0.03),\n\
             Juggle(name: \"b\", pattern: \"3\", lasts: Beats(6)),"
        ));
        assert!(codes(&circle.open()).contains(&"times-contradict"), "{moment}");
    }
}

#[test]
fn give_stands_only_where_a_steady_tempo_has_something_to_land_on() {
    for (lasts, tempo) in [
        ("Beats(6)", ""),
        ("Cycles(6)", ""),
        ("For(\"0:03\")", ", tempo: Ramp(from: 200, to: 200)"),
        ("For(\"0:03\")", ", tempo: Ramp(to: 210)"),
    ] {
        let wrong = score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: {lasts}{tempo}, may_bend: 0.03),"
        ));
        assert!(codes(&wrong.open()).contains(&"nothing-to-land-on"), "{lasts}{tempo}");
    }
    for (may_bend, code) in [
        ("-0.01", "out-of-range"),
        ("0.51", "out-of-range"),
        ("3", "out-of-range"),
        ("\"3 %\"", "wrong-shape"),
        ("Some(0.03)", "wrong-shape"),
        ("inf", "wrong-shape"),
    ] {
        let wrong = score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: For(\"0:03\"), may_bend: {may_bend}),"
        ));
        let found = codes(&wrong.open());
        assert_eq!(found.len(), 1, "{may_bend}: {found:?}");
        assert!([code, "out-of-range"].contains(&found[0]), "{may_bend}: {found:?}");
    }
}

/// A routine whose colours come about; the test's own look alike.
fn lined_up(written: &Written) -> Opened {
    let opened = written.open();
    let mut found = codes(&opened);
    found.retain(|code| *code != "colours-look-alike");
    assert_eq!(found, [""; 0], "{}", written.score);
    assert!(opened.colours.as_ref().unwrap().are_possible());
    opened
}

#[test]
fn the_line_up_lands_a_section_where_the_compiler_does() {
    let opened = lined_up(&score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(At(\"0:10\")), may_bend: 0.03, \
         loading: Found),\n\
         Juggle(name: \"b\", pattern: \"531\", transition: Auto, free: [Transition], \
         lasts: Until(At(\"0:20\")), may_bend: 0.05, shows: { 2: [\"c2\"] }),\n\
         Juggle(name: \"c\", pattern: \"51\", transition: Auto, lasts: Cycles(6)),",
    ));
    is_exactly(&own(&opened, "b").0, 10, 1);
    is_exactly(&own(&opened, "c").0, 20, 1);
    let opened = lined_up(&score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"531\", lasts: For(\"0:10.1\"), may_bend: 0.05, \
         loading: Found, shows: { 2: [\"c3\"] }),\n\
         Juggle(name: \"b\", pattern: \"3\", lasts: Cycles(6)),",
    ));
    is_exactly(&own(&opened, "b").0, 101, 10);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Every number of cycles is compiled at the written tempo; what that takes, by what there is
    /// for it, is the bend that it would need.
    #[test]
    fn the_chosen_bend_is_the_least_of_all_numbers_of_cycles(
        pattern in prop::sample::select(vec!["3", "531", "51", "(4,2x)*", "423", "(4,2x)(2x,4)"]),
        next in prop::sample::select(vec!["3", "51", "441", "(4,2x)*"]),
        tempo in 90_u32..280,
        next_tempo in 90_u32..280,
        millis in 4_000_i64..16_000,
        until in any::<bool>(),
    ) {
        let with = |lasts: &str, may_bend: &str| score(&format!(
            "Juggle(name: \"z\", set: \"3\", pattern: \"3\", lasts: Beats(7)),\n\
             Juggle(name: \"a\", pattern: \"{pattern}\", transition: Auto, \
             tempo: PerMinute({tempo}), lasts: {lasts}{may_bend}),\n\
             Juggle(name: \"b\", pattern: \"{next}\", transition: Auto, \
             tempo: PerMinute({next_tempo}), lasts: Cycles(2)),"
        )).open();
        let starts = Seconds::fraction(7 * 60, 200);
        let end = &starts + &Seconds::fraction(millis, 1000);
        let lasts = if until {
            format!("Until(At(\"0:{:06.3}\"))", (2100 + millis) as f64 / 1000.0)
        } else {
            format!("For(\"0:{:06.3}\")", millis as f64 / 1000.0)
        };
        let bent = with(&lasts, ", may_bend: 0.5");
        let mut least: Option<(BigRational, u32)> = None;
        for cycles in 1..90 {
            let plain = with(&format!("Cycles({cycles})"), "");
            let lead_in = if until {
                &own(&plain, "b").0 - &certain(&span(&plain, "a").ends)
            } else {
                Seconds::zero()
            };
            let takes = &certain(&span(&plain, "a").ends) - &starts;
            let there_is = &(&end - &starts) - &lead_in;
            let (Seconds::Exact(takes), Seconds::Exact(there_is)) = (takes, there_is) else {
                unreachable!("nothing ramps")
            };
            if there_is <= fraction(0, 1) {
                continue;
            }
            let bend = takes / there_is - fraction(1, 1);
            let size = |bend: &BigRational| if *bend < fraction(0, 1) { -bend.clone() } else { bend.clone() };
            if least.as_ref().is_none_or(|(best, _)| {
                (size(&bend), bend < fraction(0, 1)) < (size(best), *best < fraction(0, 1))
            }) {
                least = Some((bend, cycles));
            }
        }
        let (least, cycles) = least.unwrap();
        if least <= fraction(1, 2) && least >= fraction(-1, 2) {
            let chosen = bend(&bent, "a");
            prop_assert_eq!(chosen.bend(), least);
            prop_assert_eq!(chosen.cycles, cycles);
            if until {
                prop_assert_eq!(own(&bent, "b").0, end);
            } else {
                prop_assert_eq!(certain(&span(&bent, "a").ends), end);
            }
        } else {
            prop_assert!(codes(&bent).contains(&"bend-too-small"));
        }
    }
}

#[test]
fn so_many_bars_are_filled_with_whole_cycles() {
    // Four bars of four at 120 are 8 s: nine cycles of 531 need 202.5 a minute.
    let music = "music: Track(file: \"a.wav\", length: \"3:00\", starts: Start(\"w\"), bars: \
                 [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)]),\n";
    let act = |tempo: &str| Written {
        zero: "TrackStart".to_owned(),
        before: music.to_owned(),
        ..score(&format!(
            "Pause(name: \"w\", lasts: For(\"0:04\")),\n\
             Juggle(name: \"a\", set: \"3\", pattern: \"531\", lasts: Bars(4), may_bend: 0.03{tempo}),\n\
             Pause(name: \"p\", lasts: Bars(2)),"
        ))
    };
    let opened = clean(&act(""));
    let bent = bend(&opened, "a");
    assert_eq!((bent.cycles, &bent.per_minute), (9, &fraction(405, 2)));
    is_exactly(&own(&opened, "a").1, 12, 1);
    // What goes as the music goes bends nothing.
    let music = act(", tempo: PerMusicBeat(throws: 2, accent: Throw)").open();
    assert_eq!(codes(&music), ["cut-cycle", "nothing-to-land-on"]);
}
