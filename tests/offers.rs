//! Every offer is tried before it is made: what it says is so, worked by hand.
#![allow(missing_docs)]

use throwbook::Opened;
use throwbook::act::Act;
use throwbook::diagnostic::{Diagnostic, Effects, Help};
use throwbook::open;

/// An act of balls at 240 a minute: a beat lasts 0.25 s and a bar eight beats.
fn act(score: &str, rest: &str) -> String {
    format!(
        "Routine(
    title: \"Act\", lead: Right, tempo: PerMinute(240), zero: FirstThrow,
    colours: {{ \"coral\": \"#ec6a5c\", \"teal\": \"#0f5b6d\", \"pearl\": \"#f4f1e6\" }},
    sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \"pearl\"]) }},
    music: Track(file: \"a.wav\", length: \"2:00\", starts: Start(\"tide\"), bars: [Bars(from: \
         \"0:00\", bpm: 120, music_beats: 4, number: 1)]),
    score: [
        Pause(name: \"walk\", lasts: For(\"0:04\")),
{score}
        Pause(name: \"bow\", lasts: For(\"0:04\")),
    ],
{rest}
)
"
    )
}

fn of<'o>(opened: &'o Opened, code: &str) -> &'o Diagnostic {
    let found = opened.diagnostics.iter().find(|one| one.code == code);
    found.unwrap_or_else(|| panic!("no {code}: {:#?}", opened.diagnostics))
}

fn codes(opened: &Opened) -> Vec<&'static str> {
    opened.diagnostics.iter().map(|one| one.code).collect()
}

fn made(text: &str, help: &Help) -> Opened {
    let mut edits = help.edits.clone();
    edits.sort_by_key(|edit| std::cmp::Reverse(edit.at.start));
    let mut changed = text.to_owned();
    for edit in edits {
        changed.replace_range(edit.at.start..edit.at.end, &edit.insert);
    }
    open(&changed)
}

fn offers(diagnostic: &Diagnostic) -> Vec<&Help> {
    diagnostic.helps.iter().filter(|help| !help.edits.is_empty()).collect()
}

fn effects(help: &Help) -> &Effects {
    help.effects.as_ref().unwrap_or_else(|| panic!("{help:?}"))
}

fn lasts(opened: &Opened) -> f64 {
    let act: &Act = opened.finished().unwrap();
    act.timeline.lasts().certain().unwrap().to_f64()
}

#[test]
fn a_transition_in_bars_or_in_a_time_adds_nothing_and_says_so() {
    for length in ["Bars(6)", "For(\"0:12\")"] {
        // The way in takes a beat of the wheel's, so the ebb comes as early as before.
        let text = act(
            &format!(
                "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Bars(2)),
                 Juggle(name: \"wheel\", pattern: \"51\", lasts: {length}),
                 Juggle(name: \"ebb\", pattern: \"3\", lasts: Bars(2), transition: Auto),"
            ),
            "",
        );
        let opened = open(&text);
        let clash = of(&opened, "junction-clash");
        let offers = offers(clash);
        let put = offers.iter().find(|help| help.text.contains("`4`")).unwrap();
        let without = text.replace("\"51\"", "\"3\"");
        assert_eq!(lasts(&made(&text, put)), lasts(&open(&without)), "{length}");
        assert_eq!(effects(put).adds_s, Some(0.0), "{length}: {put:?}");
        assert_eq!(effects(put).flips_lead, Some(true), "{length}: {put:?}");
        let drawn = throwbook::diagnostic::render(&opened.diagnostics, "a.ron", &text, 200, false);
        assert!(drawn.contains("(adds no time, flips the lead hand)"), "{drawn}");
        // Fifteen beats of 51 are no whole cycles.
        assert!(put.text.contains("brings `cut-cycle`"), "{put:?}");
    }
    // Where the section has its own beats, the transition comes on top.
    let text = act(
        "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Bars(2)),
         Juggle(name: \"wheel\", pattern: \"51\", lasts: Beats(48)),
         Juggle(name: \"ebb\", pattern: \"3\", lasts: Beats(16), transition: Auto),",
        "",
    );
    let opened = open(&text);
    let offers = offers(of(&opened, "junction-clash"));
    let put = offers.iter().find(|help| help.text.contains("`4`")).unwrap();
    assert_eq!(effects(put).adds_s, Some(0.25), "{put:?}");
    assert!(!put.text.contains("brings"), "{put:?}");
}

#[test]
fn what_is_offered_about_arms_adds_what_it_says() {
    for (left, length) in
        [("Beats(16)", "Beats(16)"), ("Beats(17)", "Bars(2)"), ("Bars(2)", "Beats(9)")]
    {
        let text = act(
            &format!(
                "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: {left},
                     arms: [Open, RightOver]),
                 Juggle(name: \"weave\", pattern: \"441\", lasts: {length}, arms: [LeftOver, Open, Open]),"
            ),
            "",
        );
        let opened = open(&text);
        let arms = of(&opened, "arms-do-not-meet");
        assert!(!offers(arms).is_empty(), "{arms:?}");
        for help in offers(arms) {
            let mended = made(&text, help);
            let adds = lasts(&mended) - lasts(&opened);
            assert!((effects(help).adds_s.unwrap() - adds).abs() < 1e-9, "{help:?}");
            assert!(!codes(&mended).contains(&"arms-do-not-meet"), "{help:?}");
            for code in codes(&mended) {
                let is_new = !codes(&opened).contains(&code);
                assert_eq!(is_new, help.text.contains(&format!("`{code}`")), "{code}: {help:?}");
            }
        }
    }
}

#[test]
fn an_offer_that_brings_a_new_clash_stands_last_and_says_so() {
    // The pairs join the ebb only while the right hand leads it; the message thinks of the ebb.
    let text = act(
        "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(16)),
         Juggle(name: \"ebb\", pattern: \"3\", lasts: Beats(16), lead: Left),
         Juggle(name: \"fleet\", pattern: \"(4,2x)(2x,4)\", lasts: Cycles(4)),",
        "",
    );
    let opened = open(&text);
    let offers = offers(of(&opened, "lead-not-met"));
    let [right, put] = offers[..] else { panic!("{offers:?}") };
    assert_eq!(made(&text, right).errors(), 0, "{right:?}");
    assert!(!right.text.contains("brings"), "{right:?}");
    assert_eq!(made(&text, put).errors(), 1, "{put:?}");
    assert!(codes(&made(&text, put)).contains(&"junction-clash"), "{put:?}");
    assert!(put.text.ends_with("; it brings `junction-clash`."), "{put:?}");
    let last = of(&opened, "lead-not-met").helps.last();
    assert_eq!(last, Some(put));
}

#[test]
fn what_only_warns_is_not_mended_by_an_error() {
    // Seven beats of 423 are two cycles and a beat, and the lead that is written for the ebb is that
    // of an odd number of beats: two cycles would break it, three do not.
    let text = act(
        "Juggle(name: \"tide\", set: \"three\", pattern: \"423\", lasts: Beats(7)),
         Juggle(name: \"ebb\", pattern: \"3\", lasts: Beats(9), lead: Left, transition: Auto),",
        "",
    );
    let with_two = text.replace("Beats(7)", "Cycles(2)").replace(", transition: Auto", "");
    assert!(codes(&open(&with_two)).contains(&"lead-not-met"));
    let text = text.replace(", transition: Auto", "");
    let opened = open(&text);
    for help in opened.diagnostics.iter().flat_map(offers) {
        assert_eq!(made(&text, help).errors(), 0, "{help:?}");
    }
    let cut: Vec<_> = offers(of(&opened, "cut-cycle")).iter().map(|help| &help.text).collect();
    assert_eq!(cut, ["3 cycles are 9 beats."]);
}

#[test]
fn an_offer_that_mends_nothing_is_not_made() {
    // Another set would have the props for 51515, and its colours are not those that are asked for.
    let text = act(
        "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(15)),
         Juggle(name: \"beam\", pattern: \"531\", lasts: Cycles(4), shows: { 2: [\"pearl\"] }),",
        "",
    );
    let opened = open(&text);
    let unmet = of(&opened, "colour-not-shown");
    for help in offers(unmet) {
        assert!(!codes(&made(&text, help)).contains(&"colour-not-shown"), "{help:?}");
    }
    let repairs = &opened.colours.as_ref().unwrap().verdict.repairs;
    assert!(!repairs.is_empty());
    for repair in repairs {
        let help = Help::new(repair.what.clone(), repair.edits.clone());
        let mended = made(&text, &help);
        assert!(
            (lasts(&mended) - lasts(&opened) - repair.adds.to_f64()).abs() < 1e-9,
            "{repair:?}"
        );
        assert!(mended.colours.as_ref().unwrap().are_possible(), "{repair:?}");
    }
}

#[test]
fn beyond_the_bound_offers_are_told_in_words() {
    let cues: String = (0..60)
        .map(|n| {
            format!(
                "Cue(crew: Light, number: {n}, att: Start(\"tide\"), trigger: Called, does: \"x\"),"
            )
        })
        .collect();
    let text = act(
        "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(16)),",
        &format!("cues: [{cues}],"),
    );
    let opened = open(&text);
    let helps: Vec<_> = opened.diagnostics.iter().flat_map(|one| &one.helps).collect();
    let made = helps.iter().filter(|help| !help.edits.is_empty()).count();
    let in_words = helps.iter().filter(|help| help.edits.is_empty()).count();
    assert_eq!(made, 40, "{in_words} in words");
    assert!(in_words >= 20, "{in_words} in words");
    let without = helps.iter().filter(|help| help.edits.is_empty());
    assert!(without.into_iter().all(|help| help.effects.is_none()));
}

#[test]
fn an_error_elsewhere_raises_no_colours_and_says_once_why() {
    let with = |pattern: &str| {
        act(
            &format!(
                "Juggle(name: \"tide\", set: \"three\", pattern: \"3\", lasts: Beats(21), loading: Found),
                 Juggle(name: \"beam\", pattern: \"531\", lasts: Cycles(6), shows: {{ 2: [\"coral\"] }}),
                 Pause(name: \"rest\", lasts: For(\"0:05\")),
                 Juggle(name: \"ebb\", pattern: \"{pattern}\", lasts: Beats(12)),"
            ),
            "",
        )
    };
    assert!(open(&with("3")).colours.unwrap().are_possible());
    for pattern in ["3x", "34", "4"] {
        let opened = open(&with(pattern));
        assert!(opened.errors() > 0);
        assert!(!codes(&opened).contains(&"colour-not-shown"), "{pattern}");
        let colours = opened.colours.as_ref().unwrap();
        assert!(!colours.verdict.judged && colours.verdict.repairs.is_empty(), "{pattern}");
        let notes = opened.diagnostics.iter().flat_map(|one| &one.notes);
        let told =
            notes.filter(|note| note.text.contains("are not checked until the errors are mended"));
        assert_eq!(told.count(), 1, "{pattern}: {:#?}", opened.diagnostics);
    }
}

#[test]
fn a_start_from_other_hands_is_offered_a_prop_handed_over() {
    // Six beats of the cascade leave the right hand two balls, and "beam" led by the left wants two
    // left: the one on top, which was caught last, goes over.
    let text = act(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "pose", lasts: For("0:02")),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2), lead: Left),"#,
        "",
    );
    let opened = open(&text);
    let offers = offers(of(&opened, "hand-count"));
    let over = offers.iter().find(|help| help.text.contains("over to the left hand")).unwrap();
    assert!(over.text.contains("in the pause \"pose\""), "{}", over.text);
    let mended = made(&text, over);
    assert!(!codes(&mended).contains(&"hand-count"), "{:?}", mended.diagnostics);
    assert!(mended.finished().is_some());
}

#[test]
fn a_limit_says_where_its_seconds_are() {
    let text = act(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(160)),
        Pause(name: "pose", lasts: For("0:12")),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(4)),"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:50", on_the_line: Inside)],"#,
    );
    let opened = open(&text);
    let helps: Vec<&str> = of(&opened, "limit-over").helps.iter().map(|help| &*help.text).collect();
    // 160 beats of a quarter second, and until the last 3 is caught a little more; 43.4 s of counted
    // throws by 1.03 are 42.1 s.
    let told = helps.iter().find(|help| help.starts_with("Most of the time")).unwrap();
    assert!(told.contains("\"tide\" 40.2 s, \"pose\" 12.0 s and \"beam\""), "{told}");
    assert!(told.contains("\"tide\" and \"beam\" thrown 3 % faster take off 1.3"), "{told}");
}
