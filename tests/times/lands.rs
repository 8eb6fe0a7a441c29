//! `Lands`: any throw or catch of the next section, or the last of a section's own, on any moment.

use throwbook::Opened;
use throwbook::diagnostic::{Place, Placed};
use throwbook::routine::Moment;
use throwbook::time::Seconds;

use super::written::{Written, codes, score};

fn placed<T>(value: T) -> Placed<T> {
    Placed { value, at: Place::default() }
}

fn throw(section: &str, number: u32) -> Moment {
    Moment::Throw(placed(section.to_owned()), placed(number))
}

fn catch(section: &str, number: u32) -> Moment {
    Moment::Catch(placed(section.to_owned()), placed(number))
}

fn at(opened: &Opened, moment: &Moment) -> Seconds {
    let act = opened.finished().unwrap();
    let time = act.timeline.moment(&act.routine, moment).unwrap();
    time.certain().unwrap().clone()
}

fn beats(opened: &Opened, name: &str) -> u32 {
    let act = opened.finished().unwrap();
    act.timeline.sections[act.routine.section(name).unwrap()].juggle.as_ref().unwrap().beats
}

/// The number of the last throw of that value that a section makes.
fn last(opened: &Opened, name: &str, value: u8) -> u32 {
    let act = opened.finished().unwrap();
    let juggle = act.timeline.sections[act.routine.section(name).unwrap()].juggle.clone().unwrap();
    let actions = &act.timeline.runs[juggle.run].actions[juggle.actions];
    let last = actions.iter().rev().find(|one| one.throw.value == value && one.number.is_some());
    last.unwrap().number.unwrap().get()
}

#[test]
fn a_throw_and_a_catch_of_the_next_section_land_on_a_moment() {
    // At 200 a minute a beat is 0.3 s: throw 3 of "box" comes 0.6 s after its first. 7.8 s are 26
    // beats, so "tide" has 24. A 1 is caught half a beat later; with the usual dwell of two thirds a
    // 5 is caught 5 − 4/3 beats later, after 1.1 s: 8.9 s less 1.1 s are 26 beats.
    for (lands, on, moment, tide) in [
        ("Throw(\"box\", 3)", "0:07.8", throw("box", 3), 24),
        ("Catch(\"box\", 3)", "0:07.95", catch("box", 3), 24),
        ("Catch(\"box\", 1)", "0:08.9", catch("box", 1), 26),
        // The fourth throw is the first of the second cycle.
        ("Throw(\"box\", 4)", "0:08.1", throw("box", 4), 24),
    ] {
        let opened = score(&format!(
            "Juggle(name: \"tide\", set: \"3\", pattern: \"3\", lasts: Lands({lands}, At(\"{on}\"))),\n\
             Juggle(name: \"box\", pattern: \"531\", lasts: Cycles(4)),"
        ))
        .open();
        assert_eq!(codes(&opened), [""; 0], "{lands}");
        assert_eq!(beats(&opened, "tide"), tide, "{lands}");
        let on: f64 = on[2..].parse().unwrap();
        assert!((at(&opened, &moment).to_f64() - on).abs() < 1e-9, "{lands}");
    }
}

#[test]
fn a_pause_ends_so_that_a_throw_after_it_lands() {
    let opened = score(
        "Pause(name: \"walk\", lasts: Lands(Throw(\"box\", 3), At(\"0:05\"))),\n\
         Juggle(name: \"box\", set: \"3\", pattern: \"531\", lasts: Cycles(4)),",
    );
    let opened = Written { zero: "Start(\"walk\")".to_owned(), ..opened }.open();
    assert_eq!(codes(&opened), [""; 0]);
    assert_eq!(at(&opened, &throw("box", 3)), Seconds::fraction(5, 1));
    assert_eq!(at(&opened, &Moment::FirstThrow), Seconds::fraction(44, 10));
}

#[test]
fn the_last_throw_of_a_value_or_its_catch_lands_with_a_bent_tempo() {
    // Two patterns, two tempos, before a pause and before a section at another tempo.
    let mut bends = 0;
    for (pattern, props, value) in
        [("531", 3, 5), ("441", 3, 1), ("71", 4, 7), ("(6x,2x)*", 4, 6), ("[43]23", 4, 4)]
    {
        for next in [
            "Pause(name: \"rest\", lasts: For(\"0:03\")),".to_owned(),
            format!(
                "Juggle(name: \"next\", pattern: \"{pattern}\", lasts: Cycles(5), \
                 tempo: PerMinute(260)),"
            ),
        ] {
            for tenths in [83_i16, 101, 117] {
                for (lands, is_catch) in [("LastThrow", false), ("LastCatch", true)] {
                    let written = score(&format!(
                        "Juggle(name: \"a\", set: \"{props}\", pattern: \"{pattern}\", \
                         lasts: Lands({lands}({value}), At(\"0:{:04.1}\")), may_bend: 0.2),\n{next}",
                        f64::from(tenths) / 10.0
                    ));
                    let opened = written.open();
                    let Some(act) = opened.finished() else {
                        panic!("{:?}\n{}", opened.diagnostics, written.score)
                    };
                    let bend = act.timeline.sections[0].juggle.as_ref().unwrap().bend.as_ref();
                    bends += usize::from(bend.is_some_and(|bend| bend.per_minute != bend.written));
                    let number = last(&opened, "a", value);
                    let moment = if is_catch { catch("a", number) } else { throw("a", number) };
                    let on = Seconds::fraction(tenths.into(), 10);
                    assert_eq!(at(&opened, &moment), on, "{}", written.score);
                }
            }
        }
    }
    assert!(bends > 40, "{bends}");
}

#[test]
fn the_last_catch_before_a_pause_lands_whatever_is_in_the_air() {
    for pattern in ["3", "531", "51", "423", "7131"] {
        let written = score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"{pattern}\", lasts: Lands(LastCatch, \
             At(\"0:09\")), may_bend: 0.2),\nPause(name: \"rest\", lasts: For(\"0:03\")),"
        ));
        let opened = written.open();
        assert_eq!(codes(&opened), [""; 0], "{pattern}");
        assert_eq!(at(&opened, &Moment::LastCatch(None)), Seconds::fraction(9, 1), "{pattern}");
    }
}

#[test]
fn what_cannot_land_says_why() {
    for (lands, more, why) in [
        ("Throw(\"tide\", 3)", "", "is not the section that comes next"),
        ("Throw(\"box\", 4)", "pattern: \"4530\"", "is a 0, an empty hand"),
        ("Throw(\"box\", 13)", "", "has 12 throws"),
        ("Throw(\"box\", 13)", "lasts: For(\"0:02.7\")", "has 9 throws"),
        ("LastThrow(7)", "", "it never throws a 7"),
        ("LastCatch", "", "stay in the air"),
        ("Throw(\"box\", 3)", "may_bend: 0.1, lasts: For(\"0:04\")", "may bend"),
    ] {
        let (pattern, lasts) = ("pattern: \"531\"", "lasts: Cycles(4)");
        let mut fields = vec![more];
        fields.extend((!more.contains("pattern")).then_some(pattern));
        fields.extend((!more.contains("lasts")).then_some(lasts));
        fields.retain(|field| !field.is_empty());
        let opened = score(&format!(
            "Juggle(name: \"tide\", set: \"3\", pattern: \"3\", \
             lasts: Lands({lands}, At(\"0:09\"))),\nJuggle(name: \"box\", {}),",
            fields.join(", ")
        ))
        .open();
        let said: Vec<_> = opened.diagnostics.iter().map(|one| one.message.clone()).collect();
        assert!(said.iter().any(|message| message.contains(why)), "{lands}: {said:?}");
    }
}

#[test]
fn a_pause_has_no_last_throw() {
    let opened = score(
        "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(6)),\n\
         Pause(name: \"rest\", lasts: Lands(LastThrow(3), At(\"0:09\"))),",
    )
    .open();
    assert_eq!(codes(&opened), ["wrong-shape"]);
    assert!(opened.diagnostics[0].message.contains("Nothing is thrown in a pause"));
}

#[test]
fn what_is_left_over_is_offered_a_filler() {
    // 8.1 s are 27 beats, six cycles of four and three beats.
    let opened = score(
        "Juggle(name: \"tide\", set: \"3\", pattern: \"3\", lasts: Beats(9)),\n\
         Juggle(name: \"box\", pattern: \"4413\", lasts: Until(At(\"0:10.8\")), may_bend: 0.01),\n\
         Juggle(name: \"ebb\", pattern: \"3\", lasts: Beats(9)),",
    )
    .open();
    assert_eq!(codes(&opened), ["bend-too-small"]);
    let helps: Vec<&str> = opened.diagnostics[0].helps.iter().map(|help| &*help.text).collect();
    assert!(helps.iter().any(|help| help.starts_with("Put 3 beats of `3` before it")), "{helps:?}");
}

#[test]
fn a_section_follows_music_that_an_earlier_section_of_its_run_started() {
    let music = "music: Track(file: \"x.ogg\", length: \"1:00\", starts: FirstThrow,\n    bars: \
                 [Bars(from: \"0:00\", bpm: 120, music_beats: 4, number: 1)]),\n";
    let written = score(
        "Juggle(name: \"tide\", set: \"3\", pattern: \"3\", lasts: Lands(Throw(\"box\", 3), \
         Bar(5)), may_bend: 0.1),\nJuggle(name: \"box\", pattern: \"531\", \
         tempo: PerMusicBeat(throws: 2, accent: Throw), lasts: Bars(3)),",
    );
    let written = Written { before: music.to_owned(), ..written };
    let opened = written.open();
    assert!(opened.finished().is_some(), "{:?}", opened.diagnostics);
    assert_eq!(at(&opened, &throw("box", 3)), Seconds::fraction(8, 1));
}

#[test]
fn a_catch_that_falls_into_a_section_at_another_tempo_is_refused() {
    // The 9 is caught 9 − 4/3 beats later, and "b" lasts three.
    let written = |tempo: &str| {
        score(&format!(
            "Juggle(name: \"a\", set: \"9\", pattern: \"9\", lasts: Lands(LastCatch(9), \
             At(\"0:12\")), may_bend: 0.2),\n\
             Juggle(name: \"b\", pattern: \"9\", lasts: Beats(3)),\n\
             Juggle(name: \"c\", pattern: \"9\", lasts: Beats(30), tempo: PerMinute({tempo})),"
        ))
        .open()
    };
    let same = written("200");
    assert_eq!(at(&same, &catch("a", last(&same, "a", 9))), Seconds::fraction(12, 1));
    let other = written("100");
    assert!(codes(&other).contains(&"times-contradict"), "{:?}", other.diagnostics);
    assert!(other.diagnostics[0].message.contains("at another tempo"));
}
