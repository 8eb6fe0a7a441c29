//! Offers worked by hand: what was once said with them wrongly.

use serde_json::{Value, json};

use crate::difference;
use crate::offers::changed;
use crate::said::{Said, Wanted, diagnostics, errors, said};

/// An act of balls, juggled at 240 a minute so that a beat lasts 0.25 s and a bar eight beats.
fn act(score: &str) -> String {
    format!(
        "Routine(
    title: \"Act\", lead: Right, tempo: PerMinute(240), zero: FirstThrow,
    transitions: Within(highest: 9, at_once: 2, beats: 6),
    colours: {{ \"coral\": \"#ec6a5c\", \"teal\": \"#0f5b6d\", \"pearl\": \"#f4f1e6\" }},
    sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \"pearl\"]) }},
    music: Track(file: \"a.wav\", length: \"2:00\", starts: Start(\"tide\"), bars: [Bars(from: \
         \"0:00\", bpm: 120, music_beats: 4, number: 1)]),
    score: [
        Pause(name: \"walk\", lasts: For(\"0:04\")),
{score}
        Pause(name: \"bow\", lasts: For(\"0:04\")),
    ],
)
"
    )
}

fn of<'s>(said: &'s Said, code: &str) -> &'s Value {
    let found = diagnostics(&said.check).iter().find(|one| one["code"] == code);
    found.unwrap_or_else(|| panic!("no {code}: {:#}", said.check))
}

fn offers(diagnostic: &Value) -> impl Iterator<Item = (&Value, &[Value])> {
    let helps = diagnostic["helps"].as_array().unwrap().iter();
    helps.filter_map(|help| {
        let edits = help["edits"].as_array()?;
        (!edits.is_empty()).then_some((help, edits.as_slice()))
    })
}

fn section<'t>(said: &'t Said, name: &str) -> &'t Value {
    let time = said.time.as_ref().unwrap_or_else(|| panic!("{:#}", said.check));
    time["sections"].as_array().unwrap().iter().find(|one| one["name"] == name).unwrap()
}

#[test]
fn a_transition_in_a_section_whose_end_is_fixed_adds_what_its_last_catch_does() {
    for lasts in ["Bars(2)", "For(\"0:04\")", "Until(Bar(5))"] {
        let text = act(&format!(
            "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Bars(2)),
             Juggle(name: \"wheel\", pattern: \"51\", lasts: {lasts}),
             Pause(name: \"rest\", lasts: For(\"0:05\")),"
        ));
        let spoilt = said(&text, Wanted::All);
        let clash = of(&spoilt, "junction-clash");
        let put: Vec<_> = offers(clash)
            .filter(|(help, _)| help["text"].as_str().unwrap().contains("`4`"))
            .collect();
        assert!(!put.is_empty(), "{clash:#}");
        for (help, edits) in put {
            let mended = said(&changed(&text, edits), Wanted::All);
            // The wheel still has the sixteen beats of two bars, the transition's among them.
            let wheel = section(&mended, "wheel");
            assert_eq!((&wheel["beats"], &wheel["transition"]["beats"]), (&json!(15), &json!(1)));
            // No beat more, but the last throw is another one, which is caught later.
            let ends = |of: &Said| section(of, "rest")["starts_s"].as_f64().unwrap();
            let later = ends(&mended) - ends(&spoilt);
            assert_eq!(help["adds_s"], json!(later), "{lasts}: {help:#}");
            assert_eq!(help["flips_lead"], json!(true), "{lasts}: {help:#}");
        }
    }
}

#[test]
fn an_offer_that_cuts_a_cycle_says_so_and_stands_last() {
    let text = act("Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Bars(2)),
         Juggle(name: \"wheel\", pattern: \"51\", lasts: Bars(2)),");
    let spoilt = said(&text, Wanted::Check);
    let clash = of(&spoilt, "junction-clash");
    let mut brings_before = false;
    for (help, edits) in offers(clash) {
        let mended = said(&changed(&text, edits), Wanted::Check);
        assert_eq!(errors(&mended.check), [""; 0], "{help:#}");
        let cuts = diagnostics(&mended.check).iter().any(|one| one["code"] == "cut-cycle");
        let says = help["text"].as_str().unwrap().contains("brings `cut-cycle`");
        assert_eq!(cuts, says, "{help:#}");
        assert!(cuts || !brings_before, "{clash:#}");
        brings_before |= cuts;
    }
}

#[test]
fn a_pattern_mistyped_in_one_section_raises_no_colours_of_another() {
    // The loading that brings the colour about is found: the natural one does not.
    let with = |pattern: &str| {
        act(&format!(
            "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(21), loading: Found),
             Juggle(name: \"beam\", pattern: \"531\", lasts: Cycles(6), shows: {{ 2: [\"coral\"] }}),
             Pause(name: \"rest\", lasts: For(\"0:05\")),
             Juggle(name: \"ebb\", pattern: \"{pattern}\", lasts: Beats(12)),"
        ))
    };
    let right = said(&with("3"), Wanted::All);
    assert_eq!(diagnostics(&right.check).len(), 0, "{:#}", right.check);
    for pattern in ["4", "34", "3x", "32"] {
        let spoilt = said(&with(pattern), Wanted::All);
        assert!(!errors(&spoilt.check).is_empty(), "{pattern}");
        let of_colours =
            diagnostics(&spoilt.check).iter().find(|one| one["code"] == "colour-not-shown");
        assert_eq!(of_colours, None, "{pattern}");
        let repairs = spoilt.colours.as_ref().map_or(&Value::Null, |colours| &colours["repairs"]);
        assert!(repairs.as_array().is_none_or(Vec::is_empty), "{pattern}: {repairs:#}");
    }
}

#[test]
fn an_offer_about_arms_adds_what_it_says() {
    let text = act("Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(20)),
         Juggle(name: \"mill\", pattern: \"3\", lasts: Beats(20), arms: [RightOver]),
         Juggle(name: \"turn\", pattern: \"3\", lasts: Beats(20), arms: [LeftOver]),");
    let spoilt = said(&text, Wanted::All);
    let mut made = 0;
    let of_arms = diagnostics(&spoilt.check).iter().filter(|one| one["code"] == "arms-do-not-meet");
    for (help, edits) in of_arms.flat_map(offers) {
        let mended = said(&changed(&text, edits), Wanted::All);
        let difference = difference::of(&spoilt, &mended).unwrap();
        let adds = help["adds_s"].as_f64().map(|adds| (adds - difference.adds_s).abs());
        assert!(adds.is_some_and(|off| off < 1e-6), "{difference:?}: {help:#}");
        assert_eq!(help["flips_lead"], json!(difference.flips_lead), "{help:#}");
        assert_eq!(help["moves_colours"], json!(difference.moves_colours), "{help:#}");
        made += 1;
    }
    assert!(made >= 2, "{:#}", spoilt.check);
}

#[test]
fn a_length_off_the_beat_is_offered_with_what_it_adds() {
    let text =
        act("Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: For(\"0:05.1\")),");
    let spoilt = said(&text, Wanted::Check);
    let offered: Vec<_> = offers(of(&spoilt, "length-not-whole")).collect();
    assert!(offered.len() >= 2, "{:#}", spoilt.check);
    for (help, edits) in offered {
        let mended = said(&changed(&text, edits), Wanted::All);
        assert_eq!(errors(&mended.check), [""; 0], "{help:#}");
        // Written, it would end 5.1 s after the first throw.
        let adds = section(&mended, "tide")["ends_s"].as_f64().unwrap();
        let adds = adds - 5.1;
        let told = help["adds_s"].as_f64();
        assert!(told.is_none_or(|told| (told - adds).abs() < 0.5), "{adds}: {help:#}");
        assert!(adds.abs() < 0.5, "{help:#}");
    }
}
