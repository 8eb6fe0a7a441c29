//! Moments: each comes when the model says, or says why it never does.

use throwbook::read::read;
use throwbook::routine::Moment;
use throwbook::time::{Seconds, Time};

use super::written::{Written, codes, score};

/// A run of 3 and 531 that is gathered, then a second one; 0.3 s a beat.
const ACT: &str = "Pause(name: \"on\", lasts: For(\"0:02\")), \
     Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(6)), \
     Juggle(name: \"b\", pattern: \"531\", lasts: Cycles(2)), \
     Juggle(name: \"c\", pattern: \"423\", lasts: Cycles(2)), \
     Pause(name: \"off\", lasts: For(\"0:02\"))";

fn act(cue: &str) -> Written {
    let music = "music: Track(file: \"a.wav\", length: \"1:00\", starts: Start(\"a\"), marks: { \
                 \"bell\": \"0:04\" }),\n";
    let after = format!(
        "cues: [Cue(crew: Deck, number: 1, at: {cue}, trigger: Called, does: \"look\")],\n"
    );
    Written { before: music.to_owned(), after, ..score(ACT) }
}

fn comes(cue: &str) -> Time {
    let written = act(cue);
    let routine = read(&written.text()).routine.unwrap();
    let timeline = super::timeline(&written);
    timeline.moment(&routine, &routine.cues[0].when.as_ref().unwrap().value).unwrap()
}

#[test]
fn every_form_of_moment_comes_when_the_model_says() {
    for (moment, numerator, denominator) in [
        ("TrackStart", 0, 1),
        ("TrackEnd", 60, 1),
        ("FirstThrow", 0, 1),
        ("Start(\"on\")", -2, 1),
        ("End(\"on\")", 0, 1),
        ("Start(\"b\")", 18, 10),
        ("End(\"b\")", 36, 10),
        ("Throw(\"b\", 1)", 18, 10),
        ("Throw(\"b\", 5)", 30, 10),
        // A 5 on beat 6 is caught 5 − 4/3 beats later; a 1 half a beat.
        ("Catch(\"b\", 1)", 29, 10),
        ("Catch(\"b\", 3)", 255, 100),
        ("Cycle(\"b\", 2)", 27, 10),
        ("Cycle(\"c\", 1)", 36, 10),
        ("Mark(\"bell\")", 4, 1),
        ("At(\"0:01.5\")", 3, 2),
        ("At(\"-0:01.5\")", -3, 2),
        // The last throw of c, a 3 on beat 17, is caught 5/3 beats later.
        ("LastCatch", 56, 10),
        ("LastCatch(\"c\")", 56, 10),
        ("Shift(LastCatch, -0.6)", 5, 1),
        // Shifts of a shift add up.
        ("Shift(Shift(LastCatch, -0.7), 0.1)", 5, 1),
        ("Shift(TrackEnd, -60)", 0, 1),
    ] {
        let time = comes(moment);
        assert!(
            super::is_exactly(&time, numerator, denominator),
            "{moment} comes at {time:?}, not {numerator}/{denominator}"
        );
    }
}

#[test]
fn a_moment_that_never_comes_is_an_error_that_says_why() {
    for (moment, why) in [
        ("LastCatch(\"a\")", "joined to the next section"),
        ("LastCatch(\"on\")", "nothing is juggled"),
        ("Throw(\"on\", 1)", "nothing is juggled"),
        ("Throw(\"a\", 7)", "has 6 throws"),
        ("Catch(\"c\", 2)", "is a 2 that is held"),
        ("Cycle(\"b\", 3)", "has 2 cycles"),
    ] {
        let opened = act(moment).open();
        assert_eq!(codes(&opened), ["moment-never-comes"], "{moment}");
        assert!(opened.diagnostics[0].message.contains(why), "{}", opened.diagnostics[0].message);
        assert!(opened.finished().is_none());
    }
}

#[test]
fn the_zero_of_the_show_clock_may_be_any_moment_that_happens() {
    for (zero, start_of_a) in [
        ("TrackStart", 0),
        ("FirstThrow", 0),
        ("Start(\"on\")", 20),
        ("Mark(\"bell\")", -40),
        ("LastCatch", -56),
        ("Throw(\"b\", 5)", -30),
    ] {
        let written = Written { zero: zero.to_owned(), ..act("TrackStart") };
        let starts = super::spans(&written)[1].starts.clone();
        assert!(super::is_exactly(&starts, start_of_a, 10), "{zero}: {starts:?}");
    }
}

#[test]
fn moments_that_hang_on_each_other_are_an_error() {
    let circle = "music: Track(file: \"a.wav\", length: \"1:00\", starts: Mark(\"bell\"), marks: { \
                  \"bell\": \"0:04\" }),\n";
    let opened = Written { before: circle.to_owned(), ..act("FirstThrow") }.open();
    assert_eq!(codes(&opened), ["times-contradict"]);
    let opened = Written { zero: "At(\"0:01\")".to_owned(), ..act("FirstThrow") }.open();
    assert_eq!(codes(&opened), ["times-contradict"]);
    for lasts in
        ["Until(Start(\"b\"))", "Until(LastCatch)", "Until(End(\"a\"))", "Until(At(\"-0:30\"))"]
    {
        let text = ACT.replacen("Beats(6)", lasts, 1);
        let opened = score(&text).open();
        assert_eq!(codes(&opened), ["times-contradict"], "{lasts}");
    }
}

#[test]
fn a_pause_that_would_end_before_it_starts_is_an_error() {
    let text = ACT.replace(
        "Pause(name: \"off\", lasts: For(\"0:02\"))",
        "Pause(name: \"off\", lasts: Until(Start(\"b\")))",
    );
    assert_eq!(codes(&score(&text).open()), ["negative-pause"]);
}

#[test]
fn a_shifted_moment_keeps_what_it_hangs_on() {
    let routine = read(&act("Shift(Shift(Start(\"b\"), 0.5), -0.25)").text()).routine.unwrap();
    let (from, by) = routine.cues[0].when.as_ref().unwrap().value.unshifted();
    assert!(matches!(from, Moment::Start(_)));
    assert_eq!(by, Seconds::fraction(1, 4));
}

#[test]
fn a_shift_stands_wherever_a_moment_does() {
    // The zero, the track's start, the end of a pause and of a section, a limit and a hold.
    let text = |shifted: bool| {
        let at = |moment: &str, by: &str| match shifted {
            true => format!("Shift({moment}, {by})"),
            false => moment.to_owned(),
        };
        Written {
            zero: at("FirstThrow", "-1"),
            before: format!(
                "music: Track(file: \"a.wav\", length: \"1:00\", starts: {}, marks: {{ \"bell\": \
                 \"0:04\" }}, holds: {{ \"stop\": Hold(at: {}, lasts: Between(\"0:01\", \
                 \"0:01\"), resumes: See(\"a nod\")) }}),\n",
                at("Start(\"on\")", "0.5"),
                at("Mark(\"bell\")", "3")
            ),
            after: format!(
                "limits: [Limit(rule: \"long\", starts: {}, stops: {}, passes_over: [TrackStart, \
                 FirstThrow], at_most: \"1:00\", on_the_line: Inside)],\n",
                at("FirstThrow", "1.5"),
                at("LastCatch", "2.25")
            ),
            ..score(&format!(
                "Pause(name: \"on\", lasts: Until({})),\n\
                 Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until({})),\n\
                 Pause(name: \"off\", lasts: For(\"0:02\"))",
                at("Mark(\"bell\")", "2"),
                at("Start(\"a\")", "6"),
            ))
        }
    };
    let written = text(true);
    let opened = written.open();
    assert_eq!(opened.diagnostics, [], "{}", written.text());
    let act = opened.finished().unwrap();
    let at = |moment: &Moment| super::certain(&act.moment(moment).unwrap());
    // The first throw comes a second after the zero; the track starts half a second into a pause
    // that ends two after its bell.
    assert_eq!(at(&Moment::FirstThrow), Seconds::fraction(1, 1));
    assert!(super::is_exactly(&act.timeline.sections[0].starts, -11, 2));
    assert_eq!(at(&Moment::TrackStart), Seconds::fraction(-5, 1));
    // Six seconds at 200 throws a minute.
    assert_eq!(act.timeline.sections[1].juggle.as_ref().unwrap().beats, 20);
    let limit = &act.routine.limits[0];
    assert_eq!(at(&limit.starts.value), Seconds::fraction(5, 2));
    assert_eq!(at(&limit.stops.value), &at(&Moment::LastCatch(None)) + &Seconds::fraction(9, 4));
    let held = act.routine.music.as_ref().unwrap().holds[0].from.value.clone();
    assert_eq!(held, Seconds::fraction(7, 1));
    // Without shifts, a section that ends where it starts is refused.
    assert_eq!(codes(&text(false).open()), ["times-contradict"]);
}

#[test]
fn a_moment_in_ten_thousand_shifts_is_refused_and_one_in_thirty_is_not() {
    for depth in [1, 30, 10_000] {
        let moment = "Shift(".repeat(depth) + "FirstThrow" + &", 0.1)".repeat(depth);
        let opened = act(&moment).open();
        match codes(&opened).as_slice() {
            [] => {
                let act = opened.finished().unwrap();
                let when = &act.routine.cues[0].when.as_ref().unwrap().value;
                let tenths = i64::try_from(depth).unwrap();
                assert_eq!(act.moment(when).unwrap(), Seconds::fraction(tenths, 10).into());
            }
            said => assert_eq!((said, depth), (&["syntax"][..], 10_000)),
        }
    }
}
