//! `Until`: what stands between a section and the next is counted in, at the tempo it has there.

use throwbook::Opened;
use throwbook::time::Seconds;
use throwbook::timeline::Trouble;

use super::written::{Written, codes, score};
use super::{certain, clean, is_exactly, span};

fn beats(opened: &Opened, name: &str) -> u32 {
    span(opened, name).juggle.unwrap().beats
}

/// When a section's own first throw comes.
fn own_start(opened: &Opened, name: &str) -> Seconds {
    let juggle = span(opened, name).juggle.unwrap();
    let run = &opened.finished().unwrap().timeline.runs[juggle.run];
    certain(&run.tempo.at_beat(juggle.own_first_beat))
}

#[test]
fn until_counts_the_next_sections_transition_at_the_next_sections_tempo() {
    // A `4` of half a second: 7.5 is 23⅓ beats and that. 7.4 is 23 beats and that.
    let with = |moment: &str| {
        score(&format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(At(\"{moment}\"))),\n\
             Juggle(name: \"b\", pattern: \"51\", transition: Auto, lasts: Cycles(4), \
             tempo: PerMinute(120)),"
        ))
    };
    let opened = clean(&with("0:07.4"));
    assert_eq!(beats(&opened, "a"), 23);
    assert_eq!(own_start(&opened, "b"), Seconds::fraction(74, 10));
    let off = with("0:07.5").open();
    let troubles = &off.act.as_ref().unwrap().troubles;
    let [Trouble::NotWhole { section: 0, below: Some((below, short)), above: (above, long) }] =
        &troubles[..]
    else {
        panic!("{troubles:?}")
    };
    assert_eq!((*below, short), (23, &Seconds::fraction(-1, 10)));
    assert_eq!((*above, long), (24, &Seconds::fraction(2, 10)));
    assert_eq!(codes(&off), ["length-not-whole"]);
}

#[test]
fn until_before_a_joined_section_puts_its_own_first_throw_on_the_moment() {
    for (next, own) in [
        // Joined directly: all the beats to 7.5.
        (r#"pattern: "531", transition: Direct"#, 25),
        // A `4` stands between.
        (r#"pattern: "51", transition: Auto"#, 24),
        (r#"pattern: "51", transition: Throws("4")"#, 24),
        (r#"pattern: "51", transition: Throws("3334")"#, 21),
        // The hand due next waits a beat, then the pair falls on the moment.
        (r#"pattern: "(4x,2x)", transition: Auto"#, 0),
    ] {
        let text = format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Until(At(\"0:07.5\"))),\n\
             Juggle(name: \"b\", {next}, lasts: Cycles(4)),"
        );
        let opened = clean(&score(&text));
        if own > 0 {
            assert_eq!(beats(&opened, "a"), own, "{next}");
        } else {
            let taken = span(&opened, "b").juggle.unwrap().transition.unwrap();
            assert!(taken.waits.is_some(), "{next}");
            assert_eq!(beats(&opened, "a") + taken.beats, 25, "{next}");
        }
        assert_eq!(own_start(&opened, "b"), Seconds::fraction(75, 10), "{next}");
    }
}

#[test]
fn a_pause_leaves_room_for_a_transition_on_a_ramp() {
    let with = |lasts: &str, to: u32| {
        score(&format!(
            "Juggle(name: \"a\", set: \"4\", pattern: \"4\", lasts: Beats(8)),\n\
             Pause(name: \"p\", lasts: Until(At(\"0:09\"))),\n\
             Juggle(name: \"b\", pattern: \"[43]23\", transition: Throws(\"3\"), lasts: {lasts}, \
             tempo: Ramp(from: 120, to: {to})),"
        ))
    };
    // The ramp begins with the `3`: half a second, where it is none.
    let opened = clean(&with("For(\"0:06.5\")", 120));
    assert_eq!(beats(&opened, "b"), 12);
    assert_eq!(own_start(&opened, "b"), Seconds::fraction(9, 1));
    assert!(is_exactly(&span(&opened, "b").starts, 85, 10));
    let opened = clean(&with("Cycles(4)", 150));
    let late = own_start(&opened, "b").to_f64() - 9.0;
    assert!(late.abs() < 1e-9, "{late}");
    // How steep the ramp is, and so how long the `3` takes, would hang on the pause's end.
    let circle = with("Until(At(\"0:20\"))", 150).open();
    assert!(codes(&circle).contains(&"times-contradict"), "{:?}", codes(&circle));
}

#[test]
fn a_section_may_end_with_a_catch_of_the_one_before() {
    // Held for half the time, the last throw of six is caught two beats later, on beat 7; after a
    // ramp that is known to a microsecond only.
    for tempo in ["PerMinute(200)", "Ramp(from: 61, to: 187)"] {
        let text = format!(
            "Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(6), tempo: {tempo}),\n\
             Juggle(name: \"b\", pattern: \"3\", lasts: Until(Catch(\"a\", 6))),"
        );
        let opened = clean(&Written { dwell: Some("0.5".to_owned()), ..score(&text) });
        assert_eq!(beats(&opened, "b"), 1, "{tempo}");
    }
}

#[test]
fn after_a_length_that_is_not_known_no_other_is_said_to_be_wrong() {
    // How long the first lasts cannot be worked out, so nobody knows what is too early after it.
    let text = r#"Juggle(name: "a", set: "3", pattern: "3", lasts: Until(Start("b"))),
        Pause(name: "p", lasts: Until(At("-1:00"))),
        Juggle(name: "b", pattern: "3", lasts: Until(At("-0:50"))),
        Juggle(name: "c", pattern: "3", lasts: Until(At("0:02.02"))),
        Juggle(name: "d", pattern: "3", lasts: For("0:02.02")),"#;
    let opened = score(text).open();
    // From one time of the clock to another lasts what it lasts, and the last one is wrong wherever
    // it starts.
    assert_eq!(codes(&opened), ["times-contradict", "length-not-whole", "length-not-whole"]);
}
