//! Moments: each comes when the model says, or says why it never does.

use throwbook::read::read;
use throwbook::routine::Moment;
use throwbook::time::Seconds;

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

fn comes(cue: &str) -> Seconds {
    let written = act(cue);
    let routine = read(&written.text()).routine.unwrap();
    let timeline = super::timeline(&written);
    timeline.when(&routine, routine.cues[0].when.as_ref().unwrap()).unwrap()
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
        ("LastCatch, shift: -0.6", 5, 1),
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
        assert!(opened.timeline.is_none());
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
    let routine = read(&act("Start(\"b\"), shift: 0.25").text()).routine.unwrap();
    let when = routine.cues[0].when.as_ref().unwrap();
    assert!(matches!(when.moment.value, Moment::Start(_)));
    assert_eq!(when.shift, Seconds::fraction(1, 4));
}
