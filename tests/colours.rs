//! Whether the colours read: to whom, against what and under which light, said once for each pair
//! and set, with a colour that mends it.
#![allow(missing_docs)]

use throwbook::diagnostic::{Diagnostic, Severity};
use throwbook::routine::Rgb;
use throwbook::{Opened, open};

const LOOK_ALIKE: &str = "colours-look-alike";
const UNDER_LIGHT: &str = "colours-alike-under-light";
const BACKDROP: &str = "colour-against-backdrop";

/// Three balls in `531`, the middle throw in the first colour; colours and what else is written.
fn beam(kind: &str, colours: &[(&str, &str)], rest: &str) -> String {
    let palette: Vec<String> =
        colours.iter().map(|(name, look)| format!("{name:?}: {look:?}")).collect();
    let [first, second, third] = [0, 1, 2].map(|index| colours[index].0);
    format!(
        "Routine(title: \"Beam\", lead: Right, tempo: PerMinute(200), zero: FirstThrow,\n\
         colours: {{ {} }},\n\
         sets: {{ \"three\": Set(kind: {kind}, length: 0.07, \
         colours: [\"{first}\", \"{second}\", \"{third}\"]) }},\n\
         score: [\n\
         Juggle(name: \"beam\", set: \"three\", pattern: \"531\", lasts: Cycles(4),\n\
         loading: Hands(right: [\"{second}\", \"{third}\"], left: [\"{first}\"]),\n\
         shows: {{ 2: [\"{first}\"] }}),\n\
         Pause(name: \"bow\", lasts: For(\"0:05\")),\n\
         ],\n{rest})\n",
        palette.join(", ")
    )
}

const READING: [(&str, &str); 3] = [("coral", "#ec6a5c"), ("ink", "#1d2a5a"), ("chalk", "#f4f1e6")];

fn found<'a>(opened: &'a Opened, code: &str) -> Vec<&'a Diagnostic> {
    opened.diagnostics.iter().filter(|diagnostic| diagnostic.code == code).collect()
}

fn codes(text: &str) -> Vec<&'static str> {
    open(text).diagnostics.iter().map(|diagnostic| diagnostic.code).collect()
}

/// The text with the first way out taken that changes it.
fn mended(text: &str, diagnostic: &Diagnostic) -> String {
    let help = diagnostic.helps.iter().find(|help| !help.edits.is_empty()).expect("a way out");
    let mut text = text.to_owned();
    for edit in help.edits.iter().rev() {
        text.replace_range(edit.at.start..edit.at.end, &edit.insert);
    }
    text
}

#[test]
fn colours_that_read_say_nothing() {
    assert_eq!(codes(&beam("Ball", &READING, "")), [""; 0]);
    assert_eq!(codes(&beam("Ball", &READING, "backdrop: \"black\",\n")), [""; 0]);
}

#[test]
fn a_pair_is_named_once_with_all_who_confuse_it_and_the_figures() {
    let colours = [("brick", "#c05020"), ("grass", "#7a7d22"), ("chalk", "#f4f1e6")];
    let text = beam("Ball", &colours, "");
    let opened = open(&text);
    let [one] = found(&opened, LOOK_ALIKE)[..] else { panic!("{:?}", opened.diagnostics) };
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!(
        one.message,
        "\"brick\" and \"grass\" of \"three\" look alike to people with protan (8.5) and deutan \
         (2.3) vision."
    );
    assert_eq!(&text[one.at.start..one.at.end], "\"grass\"");
    assert!(one.notes.iter().any(|note| note.text.contains("An estimate")), "{:?}", one.notes);
    assert!(opened.finished().is_some(), "a warning stays a warning");
    assert_eq!(codes(&mended(&text, one)), [""; 0]);
}

#[test]
fn a_colour_of_the_routine_that_reads_is_offered_first() {
    let colours =
        [("brick", "#c05020"), ("grass", "#7a7d22"), ("chalk", "#f4f1e6"), ("ink", "#1d2a5a")];
    let text = beam("Ball", &colours, "");
    let opened = open(&text);
    let one = found(&opened, LOOK_ALIKE)[0];
    assert!(
        one.helps[0].text.starts_with("Juggle \"three\" with \"ink\" for \"grass\""),
        "{one:?}"
    );
    let text = mended(&text, one);
    // In the set and in the loading.
    assert_eq!(text.matches("\"grass\"").count(), 1, "{text}");
    assert_eq!(codes(&text), [""; 0]);
}

#[test]
fn one_colour_under_two_names_is_no_two_colours() {
    let colours = [("chalk", "#f4f1e6"), ("bone", "#f4f1e6"), ("ink", "#1d2a5a")];
    let text = beam("Ball", &colours, "");
    let opened = open(&text);
    let one = found(&opened, LOOK_ALIKE)[0];
    assert_eq!(one.message, "\"chalk\" and \"bone\" of \"three\" are one colour, #f4f1e6.");
    assert_eq!(codes(&mended(&text, one)), [""; 0]);
}

#[test]
fn a_set_of_one_colour_has_nothing_to_tell_apart() {
    let text = beam("Ball", &[("brick", "#c05020"); 1].repeat(3), "");
    // Written three times, the palette itself is at fault; the set is not.
    let text = text.replacen("\"brick\": \"#c05020\", \"brick\": \"#c05020\", ", "", 1);
    assert_eq!(codes(&text), [""; 0]);
}

#[test]
fn what_nobody_shows_is_not_told_apart() {
    let colours = [("brick", "#c05020"), ("grass", "#7a7d22"), ("chalk", "#f4f1e6")];
    let text = beam("Ball", &colours, "").replace("shows: { 2: [\"brick\"] }", "");
    assert_eq!(codes(&text), [""; 0]);
}

#[test]
fn a_prop_is_judged_against_the_backdrop_only_where_one_is_written() {
    let colours = [("chalk", "#f4f1e6"), ("soot", "#1b1b22"), ("coral", "#ec6a5c")];
    assert_eq!(codes(&beam("Ball", &colours, "")), [""; 0]);
    for backdrop in ["#101018", "black", "BLACK"] {
        let text = beam("Ball", &colours, &format!("backdrop: {backdrop:?},\n"));
        let opened = open(&text);
        let [one] = found(&opened, BACKDROP)[..] else { panic!("{:?}", opened.diagnostics) };
        assert!(one.message.contains("\"soot\" is lost against the backdrop to"), "{one:?}");
        assert_eq!(codes(&mended(&text, one)), [""; 0]);
    }
}

#[test]
fn a_backdrop_may_be_one_of_the_routines_colours_and_then_is_not_repainted_with_the_prop() {
    let text = beam("Ball", &READING, "backdrop: \"ink\",\n");
    let opened = open(&text);
    let backdrop = opened.act.as_ref().and_then(|act| act.routine.backdrop.as_ref());
    assert_eq!(backdrop.map(|it| it.rgb), Some(Rgb { red: 0x1d, green: 0x2a, blue: 0x5a }));
    let [one] = found(&opened, BACKDROP)[..] else { panic!("{:?}", opened.diagnostics) };
    assert_eq!(one.message, "\"ink\" is the colour of the backdrop, #1d2a5a.");
    assert!(one.helps.iter().all(|help| help.edits.is_empty()), "{:?}", one.helps);
}

#[test]
fn a_backdrop_that_is_no_colour_is_told_at_its_place_with_the_nearest_name() {
    for (written, nearest) in [("inc", "\"ink\""), ("blakc", "\"black\"")] {
        let text = beam("Ball", &READING, &format!("backdrop: {written:?},\n"));
        let opened = open(&text);
        let [one] = found(&opened, "unknown-colour")[..] else {
            panic!("{:?}", opened.diagnostics)
        };
        assert_eq!(&text[one.at.start..one.at.end], format!("{written:?}"));
        assert_eq!(one.helps[0].edits[0].insert, nearest);
    }
}

/// Coral, ink and chalk with these cues.
fn lit(kind: &str, cues: &str) -> String {
    beam(kind, &READING, &format!("cues: [\n{cues}],\n"))
}

fn light(number: u32, at: &str, light: &str) -> String {
    format!(
        "Cue(crew: Light, number: {number}, at: {at}, trigger: Hear(\"bell\"), does: \"wash\", \
         count: 1, {light}),\n"
    )
}

#[test]
fn a_light_that_makes_two_colours_alike_is_named_by_its_cue() {
    let text = lit("Ball", &light(30, "FirstThrow", "light: \"#ff0000\""));
    let opened = open(&text);
    let all = found(&opened, UNDER_LIGHT);
    let [one] = all[..] else { panic!("{:?}", opened.diagnostics) };
    let begins = "Under the light of LX 30 \"coral\" and \"chalk\" of \"three\" look alike to";
    assert!(one.message.starts_with(begins), "{}", one.message);
    assert_eq!(&text[one.at.start..one.at.end], "\"#ff0000\"");
    assert_eq!(codes(&mended(&text, one)), [""; 0]);
}

#[test]
fn a_light_counts_only_while_props_fly_in_it() {
    let red = "light: \"#ff0000\"";
    for cues in [
        // Replaced before the first throw, by a colour or by the dark.
        light(5, "At(\"-0:02\")", red) + &light(10, "FirstThrow", "light: \"white\""),
        light(5, "At(\"-0:04\")", red)
            + &light(10, "At(\"-0:02\")", "dark: true")
            + &light(15, "At(\"-0:01\")", "dark: false"),
        // After the last catch.
        light(5, "LastCatch", red),
    ] {
        assert_eq!(codes(&lit("Ball", &cues)), [""; 0], "{cues}");
    }
    // A cue without a colour leaves the light as it is.
    let holds = light(5, "At(\"-0:02\")", red) + &light(10, "At(\"-0:01\")", "flashes: 1.0");
    assert_eq!(codes(&lit("Ball", &holds)), [UNDER_LIGHT]);
}

#[test]
fn one_pair_under_several_lights_is_one_warning() {
    let cues = light(5, "FirstThrow", "light: \"#ff0000\"")
        + &light(10, "Cycle(\"beam\", 2)", "light: \"white\"")
        + &light(15, "Cycle(\"beam\", 3)", "light: \"#ff0808\"");
    let text = lit("Ball", &cues);
    let opened = open(&text);
    let [one] = found(&opened, UNDER_LIGHT)[..] else { panic!("{:?}", opened.diagnostics) };
    let notes: Vec<&str> = one.notes.iter().map(|note| note.text.as_str()).collect();
    assert!(notes[0].starts_with("Under the light of LX 15 too, to "), "{notes:?}");
    assert_eq!(codes(&mended(&text, one)), [""; 0]);
}

#[test]
fn burning_props_are_seen_by_their_own_flame() {
    let text = lit("Torch", &light(30, "FirstThrow", "light: \"#ff0000\""));
    assert_eq!(codes(&text), [""; 0]);
}

#[test]
fn a_prop_may_vanish_before_the_backdrop_under_a_coloured_light_only() {
    let cues = light(30, "FirstThrow", "light: \"#1020ff\"");
    let colours = [("brick", "#c83010"), ("chalk", "#f4f1e6"), ("sky", "#3f9fd3")];
    let rest = format!("backdrop: \"#101018\",\ncues: [\n{cues}],\n");
    let opened = open(&beam("Ball", &colours, &rest));
    let [one] = found(&opened, BACKDROP)[..] else { panic!("{:?}", opened.diagnostics) };
    let begins = "Under the light of LX 30 \"brick\" is lost against the backdrop to everyone";
    assert!(one.message.starts_with(begins), "{}", one.message);
}

#[test]
fn a_light_that_is_black_is_refused_because_the_checks_of_the_dark_would_not_see_it() {
    for black in ["#000000", "black"] {
        let text = lit("Ball", &light(30, "FirstThrow", &format!("light: {black:?}")));
        let opened = open(&text);
        let [one] = found(&opened, "light-is-black")[..] else {
            panic!("{:?}", opened.diagnostics)
        };
        assert_eq!(&text[one.at.start..one.at.end], format!("{black:?}"));
        assert!(one.helps[0].text.contains("`dark: true`"), "{:?}", one.helps);
        assert!(opened.finished().is_none());
    }
    // All but black: everything looks alike.
    let text = lit("Ball", &light(30, "FirstThrow", "light: \"#010101\""));
    assert_eq!(codes(&text), [UNDER_LIGHT, UNDER_LIGHT]);
}

#[test]
fn many_lights_are_counted_and_not_listed() {
    let cues: String = (0..9)
        .map(|cue| {
            light(cue + 1, "FirstThrow", &format!("light: \"#ff0{cue}00\""))
                .replace("FirstThrow", &format!("Shift(FirstThrow, 0.{cue})"))
        })
        .collect();
    let text = lit("Ball", &cues);
    let opened = open(&text);
    let [one] = found(&opened, UNDER_LIGHT)[..] else { panic!("{:?}", opened.diagnostics) };
    let notes: Vec<&str> = one.notes.iter().map(|note| note.text.as_str()).collect();
    assert_eq!(notes.iter().filter(|note| note.contains(" too, to ")).count(), 3, "{notes:?}");
    assert!(notes.contains(&"And under the light of 5 more cues."), "{notes:?}");
    assert_eq!(codes(&mended(&text, one)), [""; 0]);
}
