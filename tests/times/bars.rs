//! The music's bars: times of bars and back, steps, ramps, upbeats, and sections that go by them.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;
use proptest::prelude::{ProptestConfig, any, prop, prop_assert, prop_assert_eq, proptest};
use throwbook::time::{MusicMap, MusicStretch, Seconds};

use super::written::{Written, codes, score};
use super::{certain, is_exactly, timeline};

fn whole(number: i64) -> BigRational {
    BigRational::from_integer(BigInt::from(number))
}

fn stretch(from_ms: i64, bpm: i64, number: i32) -> MusicStretch {
    MusicStretch {
        from: Seconds::fraction(from_ms, 1000),
        bpm: whole(bpm),
        ramp: None,
        music_beats: 4,
        number,
        upbeat: 0,
    }
}

fn map(stretches: &[MusicStretch]) -> MusicMap {
    MusicMap::new(stretches, Seconds::fraction(180, 1)).unwrap()
}

fn act(bars: &str, text: &str) -> Written {
    let music = format!(
        "music: Track(file: \"a.wav\", length: \"3:00\", starts: Start(\"wait\"), bars: [{bars}]),\n"
    );
    Written { zero: "TrackStart".to_owned(), before: music, ..score(text) }
}

const STEADY: &str = "Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)";
/// 32 music beats at 90, then 150.
const STEP: &str = "Bars(from: \"0:00\", bpm: 90, music_beats: 4, number: 1), \
                    Bars(from: \"0:21.333\", bpm: 150, music_beats: 4, number: 9)";

#[test]
fn a_upbeat_counts_as_the_bar_before_the_first() {
    // 120 bpm from 0.35 s with one music beat before bar 1: bar 9 is 32 music beats later.
    let map = map(&[MusicStretch { upbeat: 1, ..stretch(350, 120, 1) }]);
    assert!(is_exactly(&map.time_of(1, 1).unwrap().into(), 85, 100));
    assert!(is_exactly(&map.time_of(9, 1).unwrap().into(), 1685, 100));
    assert!(is_exactly(&map.time_of(0, 4).unwrap().into(), 35, 100));
    assert_eq!((map.time_of(0, 3), map.time_of(1, 5)), (None, None));
    let before = map.bar_beat(&Seconds::fraction(6, 10)).unwrap();
    assert_eq!((before.bar, before.music_beat.to_f64()), (0, Some(4.5)));
    assert_eq!(map.bar_beat(&Seconds::fraction(3, 10)), None, "silence");
    assert!(is_exactly(&map.after_bars(&Seconds::fraction(85, 100), 8).unwrap().into(), 1685, 100));
}

#[test]
fn a_ramp_of_the_music_is_the_published_one_and_is_held_after_it() {
    let ramp = Some((whole(120), Some(16)));
    let map = map(&[MusicStretch { ramp, ..stretch(1_000, 60, 1) }]);
    let ramped = 16.0 * std::f64::consts::LN_2;
    assert!((map.time(&whole(16)).to_f64() - 1.0 - ramped).abs() < 1e-9);
    assert!((map.time(&whole(20)).to_f64() - 1.0 - ramped - 2.0).abs() < 1e-9);
}

/// Seconds after `beats` music beats by adding up small steps of 60/v: Simpson's rule.
fn added_up(from: f64, to: f64, over: f64, beats: f64) -> f64 {
    let speed = |beat: f64| from + (to - from) * (beat / over).min(1.0);
    let steps = 20_000;
    let width = beats / f64::from(steps);
    let sum: f64 = (0..=steps)
        .map(|step| {
            let weight = match step {
                0 => 1.0,
                last if last == steps => 1.0,
                odd if odd % 2 == 1 => 4.0,
                _ => 2.0,
            };
            weight * 60.0 / speed(f64::from(step) * width)
        })
        .sum();
    sum * width / 3.0
}

#[test]
fn a_ramp_to_the_next_stretch_is_as_written_and_its_last_music_beat_takes_what_is_left() {
    // From, to, music beats, and how much of itself the last is longer, in hundredths.
    for (from, to, beats, late) in [
        (90, 140, 16, 0),
        (90, 140, 16, 20),
        (140, 90, 16, -20),
        (60, 240, 4, 22),
        (60, 120, 1, -24),
    ] {
        let written = |beat: i64| added_up(from as f64, to as f64, beats as f64, beat as f64);
        let last = written(beats) - written(beats - 1);
        let lasts_ms = ((written(beats) + last * f64::from(late) / 100.0) * 1000.0).round() as i64;
        let bars = format!(
            "Bars(from: \"0:01\", bpm: {from}, music_beats: 4, number: 1, to: {to}), \
             Bars(from: \"0:{:06.3}\", bpm: 100, music_beats: 4, number: 20)",
            (1000 + lasts_ms) as f64 / 1000.0
        );
        let opened = act(&bars, "Pause(name: \"wait\", lasts: For(\"1:00\"))").open();
        let said = format!("{bars}: {:?}", opened.diagnostics);
        let map = opened.finished().expect(&said).routine.first_track().unwrap().music_map();
        let map = map.unwrap();
        for beat in 0..beats {
            let off = map.time(&whole(beat)).to_f64() - 1.0 - written(beat);
            assert!(off.abs() < 1e-9, "{said}: beat {beat} is off by {off}");
        }
        assert_eq!(map.time_of(20, 1), Some(Seconds::fraction(1000 + lasts_ms, 1000)), "{said}");
        assert_eq!(map.count(&Seconds::fraction(1000 + lasts_ms, 1000)), Some(whole(beats)));
        // It is steady in what it takes.
        let middle = map.time(&(whole(beats) - BigRational::new(1.into(), 2.into()))).to_f64();
        let expected = (written(beats - 1) + lasts_ms as f64 / 1000.0) / 2.0 + 1.0;
        assert!((middle - expected).abs() < 1e-4, "{said}: {middle}, {expected}");
    }
    // Sixteen music beats come to 9.483 s, the last of them lasts 0.433 s: up to a quarter of that.
    for (next, expected) in [
        ("0:09.585", &[][..]),
        ("0:09.38", &[]),
        ("0:09.6", &["bars-ramp"]),
        ("0:09.37", &["bars-ramp"]),
    ] {
        let bars = format!(
            "Bars(from: \"0:01\", bpm: 90, music_beats: 4, number: 1, to: 140), \
             Bars(from: \"{next}\", bpm: 100, music_beats: 4, number: 20)"
        );
        let opened = act(&bars, "Pause(name: \"wait\", lasts: For(\"1:00\"))").open();
        assert_eq!(codes(&opened), expected, "{next}: {:?}", opened.diagnostics);
    }
}

#[test]
fn a_later_stretch_begins_with_an_upbeat_where_its_bar_has_room() {
    let opened = |number: i32, upbeat: u32, from: &str| {
        let bars = format!(
            "{STEADY}, Bars(from: \"{from}\", bpm: 60, music_beats: 4, number: {number}, upbeat: {upbeat})"
        );
        act(&bars, "Pause(name: \"wait\", lasts: For(\"1:00\"))").open()
    };
    // Seven bars and three music beats of bar 8 at 120; the fourth is the upbeat to bar 9.
    let after = opened(9, 1, "0:15.5");
    let map = after.finished().unwrap_or_else(|| panic!("{:?}", after.diagnostics));
    let map = map.routine.first_track().unwrap().music_map().unwrap();
    let at = |bar, beat| map.time_of(bar, beat).map(|time| time.to_f64());
    assert_eq!([at(8, 1), at(8, 3), at(8, 4)], [Some(14.0), Some(15.0), Some(15.5)]);
    assert_eq!([at(9, 1), at(9, 2), at(8, 5)], [Some(16.5), Some(17.5), None]);
    assert_eq!(map.beats_of(8), Some((1, 4)));
    let named = |ms| {
        let place = map.bar_beat(&Seconds::fraction(ms, 1000)).unwrap();
        (place.bar, place.music_beat.to_f64().unwrap())
    };
    assert_eq!([named(15_250), named(15_500), named(16_500)], [(8, 3.5), (8, 4.0), (9, 1.0)]);
    // Bar 8 is one bar, in whichever stretch its music beats lie.
    let later = |ms, bars| map.after_bars(&Seconds::fraction(ms, 1000), bars).unwrap().to_f64();
    assert_eq!([later(12_000, 1), later(12_000, 2)], [14.0, 16.5]);
    assert_eq!([later(13_500, 1), later(13_500, 2)], [15.5, 19.5]);
    assert_eq!([later(13_250, 1), later(14_000, 1), later(15_500, 1)], [15.25, 16.5, 19.5]);
    // Two music beats of bar 8 before it and one missing: what was not played is not there.
    assert_eq!(codes(&opened(9, 1, "0:15")), [""; 0]);
    // In another metre the upbeat is the last of its own: a bar of 4 has three, one of 3 has two.
    for (metre, expected) in [(3, &["bars-overlap"][..]), (5, &[])] {
        let bars = format!(
            "{STEADY}, Bars(from: \"0:15.5\", bpm: 60, music_beats: {metre}, number: 9, upbeat: 1)"
        );
        let opened = act(&bars, "Pause(name: \"wait\", lasts: For(\"1:00\"))").open();
        assert_eq!(codes(&opened), expected, "{metre}");
    }
    // No room in bar 8: it has three, or all four, before the upbeat.
    assert_eq!(codes(&opened(9, 2, "0:15.5")), ["bars-overlap"]);
    let full = opened(9, 1, "0:16");
    assert_eq!(codes(&full), ["bars-overlap"]);
    assert!(full.diagnostics[0].helps[0].text.contains("the number 10"), "{:?}", full.diagnostics);
    assert_eq!(codes(&opened(10, 1, "0:16")), [""; 0]);
    assert_eq!(codes(&opened(8, 1, "0:15.5")), ["bars-overlap"]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn a_ramp_takes_as_long_as_its_music_beats_added_up(
        from in 40_i64..200, to in 40_i64..200, over in 1_u32..60, beats in 1_i64..100,
    ) {
        let map = map(&[MusicStretch { ramp: Some((whole(to), Some(over))), ..stretch(0, from, 1) }]);
        let expected = added_up(from as f64, to as f64, f64::from(over), beats as f64);
        // The kink where the ramp ends costs Simpson's rule a little.
        prop_assert!((map.time(&whole(beats)).to_f64() - expected).abs() < 1e-4);
    }

    #[test]
    fn a_time_is_at_the_bar_that_is_at_that_time(
        bpms in prop::collection::vec((30_i64..240, 1_i64..40, any::<bool>(), -200_i64..200), 1..5),
        music_beats in 1_u32..8, upbeat in 0_u32..3, at_ms in 0_i64..180_000,
    ) {
        let mut from_ms = 500;
        let mut number = 1;
        let mut stretches: Vec<MusicStretch> = Vec::new();
        for (index, (bpm, bars, ramps, uneven)) in bpms.into_iter().enumerate() {
            let beats = bars * i64::from(music_beats);
            let upbeat = if index == 0 && upbeat < music_beats { upbeat } else { 0 };
            stretches.push(MusicStretch {
                music_beats,
                upbeat,
                ramp: ramps.then(|| (whole(bpm + 7), Some(2))),
                ..stretch(from_ms, bpm, number)
            });
            // The next stretch comes a little early or late, and its bars are free.
            let lasts_ms = (beats + i64::from(upbeat)) * 60_000 / bpm + 250 + uneven;
            from_ms += lasts_ms;
            let last = stretches.last().unwrap();
            number = i32::try_from(last.next_bar(&stretch(from_ms, 60, 0))).unwrap() + 1;
        }
        let map = MusicMap::new(&stretches, Seconds::fraction(100_000, 1)).unwrap();
        let time = Seconds::fraction(at_ms, 1000);
        let Some(count) = map.count(&time) else {
            prop_assert!(at_ms < 500);
            return Ok(());
        };
        prop_assert!((map.time(&count).to_f64() - time.to_f64()).abs() < 1e-6);
        // The music beat that has begun is found by its name, at its own time.
        let begun = map.bar_beat(&map.time(&count.floor())).unwrap();
        let named = map.time_of(begun.bar, u32::try_from(begun.whole_beat()).unwrap());
        prop_assert_eq!(named, Some(map.time(&count.floor())));
        prop_assert!(map.time(&count.floor()) <= time || (map.time(&count.floor()).to_f64() - time.to_f64()).abs() < 1e-6);
        prop_assert!(map.time(&(count.floor() + whole(1))) >= time);
    }
}

#[test]
fn two_throws_a_music_beat_follow_the_music_through_a_step() {
    // 64 throws, one a music beat: 32 at 90 and 32 at 150 take 32·60/90 + 32·60/150 = 34.1333 s,
    // not 64·60/120 = 32; the second stretch is written to the millisecond.
    let act = act(
        STEP,
        "Pause(name: \"wait\", lasts: For(\"0:00\")), \
         Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(64), \
         tempo: PerMusicBeat(throws: 1, accent: Throw)), \
         Juggle(name: \"b\", pattern: \"3\", lasts: Beats(5))",
    );
    let timeline = timeline(&act);
    let ends = &timeline.sections[1].ends;
    assert!(is_exactly(ends, 34_133, 1000), "{ends:?}");
    // It holds until the next tempo.
    assert!(is_exactly(&timeline.runs[0].tempo.at_beat(69), 36_133, 1000));
    assert!(act.open().diagnostics.is_empty(), "{:?}", act.open().diagnostics);
}

#[test]
fn three_throws_to_two_music_beats_are_written_either_way() {
    for throws in ["1.5", "\"3/2\""] {
        let act = act(
            STEADY,
            &format!(
                "Pause(name: \"wait\", lasts: Until(Bar(2))), \
                 Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Bars(4), \
                 tempo: PerMusicBeat(throws: {throws}, accent: Throw))"
            ),
        );
        let timeline = timeline(&act);
        assert_eq!(timeline.sections[1].juggle.as_ref().unwrap().beats, 24, "{throws}");
        assert!(is_exactly(&timeline.runs[0].tempo.at_beat(24), 10, 1), "{throws}");
    }
}

#[test]
fn a_section_follows_a_ramp_of_the_music() {
    let act = act(
        "Bars(from: \"0:00\", bpm: 60, music_beats: 4, number: 1, to: 120, over: 16)",
        "Pause(name: \"wait\", lasts: For(\"0:00\")), \
         Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(40), \
         tempo: PerMusicBeat(throws: 2, accent: Throw))",
    );
    let tempo = &timeline(&act).runs[0].tempo;
    let ramped = 16.0 * std::f64::consts::LN_2;
    assert!((certain(&tempo.at_beat(32)).to_f64() - ramped).abs() < 1e-9);
    assert!((certain(&tempo.at_beat(40)).to_f64() - ramped - 2.0).abs() < 1e-9);
}

#[test]
fn catches_that_are_accented_fall_on_the_music() {
    let act = act(
        STEADY,
        "Pause(name: \"wait\", lasts: Until(Bar(3))), \
         Juggle(name: \"a\", set: \"4\", pattern: \"534\", lasts: Until(Bar(9)), \
         tempo: PerMusicBeat(throws: 2, accent: Catch)), \
         Pause(name: \"bow\", lasts: For(\"0:02\"))",
    );
    let timeline = timeline(&act);
    let run = &timeline.runs[0];
    let caught: Vec<_> =
        run.actions.iter().filter_map(|action| run.catch_of(action, timeline.dwell)).collect();
    assert_eq!(caught.len(), 48);
    for time in caught {
        // Two throws a music beat of half a second: a catch every quarter of a second.
        let quarters = certain(&time).divided_by(&Seconds::fraction(1, 4)).unwrap();
        assert!(matches!(&quarters, Seconds::Exact(count) if count.is_integer()), "{time:?}");
    }
    assert!(act.open().diagnostics.is_empty());
}

#[test]
fn bars_are_a_length_and_a_moment() {
    let act = act(
        STEADY,
        "Pause(name: \"wait\", lasts: Bars(2)), \
         Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Bars(2), tempo: PerMinute(120)), \
         Juggle(name: \"b\", pattern: \"3\", lasts: Until(Bar(7, 3))), \
         Juggle(name: \"c\", pattern: \"3\", lasts: Beats(5))",
    );
    let sections = timeline(&act).sections;
    assert!(is_exactly(&sections[1].starts, 4, 1));
    assert_eq!(sections[1].juggle.as_ref().unwrap().beats, 8);
    assert!(is_exactly(&sections[3].starts, 13, 1), "{:?}", sections[3].starts);
}

#[test]
fn bars_are_a_length_where_the_track_starts_with_the_first_throw() {
    let music = format!(
        "music: Track(file: \"a.wav\", length: \"3:00\", starts: FirstThrow, bars: [{STEADY}]),\n"
    );
    let act = |first: &str| Written {
        zero: "TrackStart".to_owned(),
        before: music.clone(),
        ..score(&format!(
            "Pause(name: \"wait\", lasts: For(\"0:05\")), {first}, Pause(name: \"p\", lasts: Bars(2))"
        ))
    };
    let tempo = "tempo: PerMinute(120)";
    for (pattern, lasts, more, starts_ms, ends_ms) in [
        ("3", "Bars(4)", "", 0, 8_000),
        // A transition's throw is the first one.
        ("51", "Bars(4)", ", transition: Throws(\"4\")", 0, 8_000),
        ("3", "Until(Bar(5))", "", 0, 8_000),
        ("3", "Bars(4)", ", may_bend: 0.03", 0, 8_000),
    ] {
        let first = format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"{pattern}\", lasts: {lasts}, {tempo}{more})"
        );
        let timeline = timeline(&act(&first));
        let [starts, ends] = [&timeline.sections[1].starts, &timeline.sections[1].ends]
            .map(|time| (certain(time).to_f64() * 1000.0).round() as i64);
        assert_eq!(starts, starts_ms, "{first}");
        // The last catch may come after the last bar.
        assert!((ends_ms..ends_ms + 2_000).contains(&ends), "{first}: {ends}");
        let run = &timeline.runs[0];
        assert!(is_exactly(&run.tempo.at_beat(run.beats), ends_ms, 1000), "{first}");
    }
    // At the music's own tempo the first throw would hang on itself: said once.
    let follows = "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Bars(4), \
                   tempo: PerMusicBeat(throws: 2, accent: Throw))";
    assert_eq!(codes(&act(follows).open()), ["tempo-without-bars"]);
    // A pause before it would have to know when the first throw comes.
    let early = Written {
        score: "Pause(name: \"w\", lasts: Bars(2)), Juggle(name: \"a\", set: \"3\", \
        pattern: \"3\", lasts: Beats(6))"
            .to_owned(),
        ..act("")
    };
    assert_eq!(codes(&early.open()), ["times-contradict"]);
}

#[test]
fn what_the_music_does_not_have_is_said_at_its_place() {
    let juggle = |lasts: &str, tempo: &str| {
        format!(
            "Pause(name: \"wait\", lasts: For(\"0:00\")), \
             Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: {lasts}{tempo})"
        )
    };
    let two = ", tempo: PerMusicBeat(throws: 2, accent: Throw)";
    let late = "Bars(from: \"0:04\", bpm: 120, music_beats: 4, number: 1)";
    for (bars, lasts, tempo, code, why) in [
        (STEADY, "Until(Bar(400))", "", "times-contradict", "bar 1, music beat 1 to bar 90, music"),
        (STEADY, "Until(Bar(4, 5))", "", "times-contradict", "has the music beats 1 to 4, no 5"),
        (STEADY, "Bars(400)", "", "times-contradict", "not so many bars"),
        ("", "Bars(4)", "", "times-contradict", "has no `bars`"),
        ("", "Beats(6)", two, "tempo-without-bars", "has no `bars`"),
        (late, "Beats(6)", two, "tempo-without-bars", "4.0 s before the first bar"),
        (STEADY, "Beats(1000)", two, "tempo-without-bars", "after the end of the track"),
        // 200 a minute: a bar of 2 s is 6.67 throws.
        (STEADY, "Bars(1)", "", "length-not-whole", "end of its last bar"),
    ] {
        let opened = act(bars, &juggle(lasts, tempo)).open();
        let said = opened.diagnostics.iter().find(|one| one.code == code);
        let said = said.unwrap_or_else(|| panic!("{lasts}{tempo}: {:?}", opened.diagnostics));
        assert!(said.message.contains(why), "{}", said.message);
        assert!(!said.helps.is_empty(), "{}", said.message);
        assert_eq!(codes(&opened), [code], "one fault, said once");
    }
}

#[test]
fn what_begins_beside_the_music_is_a_warning() {
    let act = act(
        STEADY,
        "Pause(name: \"wait\", lasts: For(\"0:02.1\")), \
         Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(6), \
         tempo: PerMusicBeat(throws: 2, accent: Throw))",
    );
    let opened = act.open();
    assert_eq!(codes(&opened), ["off-the-music"]);
    let message = &opened.diagnostics[0].message;
    assert!(message.contains("0.100 s after") && message.contains("0.150 s before"), "{message}");
}

#[test]
fn stretches_that_do_not_follow_each_other_are_refused() {
    for (second, code) in [
        ("Bars(from: \"0:16\", bpm: 100, music_beats: 4, number: 4)", "bars-overlap"),
        ("Bars(from: \"0:00\", bpm: 100, music_beats: 4, number: 40)", "bars-overlap"),
        ("Bars(from: \"0:16\", bpm: 100, music_beats: 4, number: 9, upbeat: 1)", "bars-overlap"),
        ("Bars(from: \"9:16\", bpm: 100, music_beats: 4, number: 9)", "out-of-range"),
        ("Bars(from: \"0:16\", bpm: 100, music_beats: 4, number: 9, to: 90)", "bars-ramp"),
    ] {
        let opened = act(
            &format!("{STEADY}, {second}"),
            "Pause(name: \"wait\", lasts: For(\"0:02\")), \
             Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(Bar(9)))",
        )
        .open();
        assert_eq!(codes(&opened), [code], "{second}: {:?}", opened.diagnostics);
    }
}
