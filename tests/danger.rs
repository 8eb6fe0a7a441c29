//! Fire, blades and the dark: what may hurt somebody is an error wherever it is not ruled out.
#![allow(missing_docs)]

/// The codes of an act with fire, knives and balls, in their order; that a dark lasts to the end of
/// the act is no danger.
fn codes(score: &str, rest: &str) -> Vec<&'static str> {
    let mut codes: Vec<_> = opened(score, rest).iter().map(|one| one.code).collect();
    codes.retain(|code| *code != "bow-in-dark");
    codes.sort_unstable();
    codes
}

fn opened(score: &str, rest: &str) -> Vec<throwbook::diagnostic::Diagnostic> {
    let set = |name: &str, says: &str| {
        format!("\"{name}\": Set({says}, length: 0.5, colours: [\"a\", \"a\", \"a\"]),")
    };
    let sets = set("fire", "kind: Torch, burn: [95, 30]")
        + &set("knives", "kind: Knife")
        + &set("burning knives", "kind: Knife, burn: [60]")
        + &set("poi", "kind: Other(\"poi\"), danger: Fire")
        + &set("balls", "kind: Ball");
    let text = format!(
        "Routine(title: \"T\", tempo: PerMinute(200), zero: Start(\"in\"), colours: {{ \"a\": \
         \"red\" }}, sets: {{ {sets} }}, score: [Pause(name: \"in\", lasts: For(\"0:04\")),{score}], \
         {rest})"
    );
    throwbook::open(&text).diagnostics
}

fn juggle(name: &str, set: &str) -> String {
    format!("Juggle(name: \"{name}\", set: \"{set}\", pattern: \"3\", lasts: Beats(20)),")
}

fn pause(name: &str, says: &str) -> String {
    format!("Pause(name: \"{name}\", lasts: For(\"0:04\"), {says}),")
}

/// A dark from one moment to another; `None`: to the end.
fn dark(from: &str, to: Option<&str>) -> String {
    let cue = |number: u32, at: &str, does: &str| {
        format!("Cue(crew: Light, number: {number}, at: {at}, trigger: Called, {does}),")
    };
    let back = to.map_or_else(String::new, |to| cue(2, to, "does: \"warm\", count: 0"));
    format!("cues: [{}{back}]", cue(1, from, "does: \"out\", dark: true"))
}

#[test]
fn fire_needs_light_from_lighting_to_putting_out() {
    let score = pause("light", "lit: \"fire\"")
        + &juggle("one", "fire")
        + &pause("stand", "")
        + &juggle("two", "balls")
        + &pause("out", "put_out: \"fire\"")
        + &pause("bow", "");
    for (from, to, expected) in [
        // Over before it is lit, to the moment; and again a thousandth into the lighting.
        ("Start(\"in\")", Some("End(\"in\")"), vec![]),
        ("Start(\"in\")", Some("Shift(End(\"in\"), 0.001)"), vec!["danger-in-dark"]),
        // While it is lit, between the runs, while it stands aside and while it is put out,
        // however short.
        (
            "Shift(Start(\"light\"), 1)",
            Some("Shift(Start(\"light\"), 2.1)"),
            vec!["danger-in-dark"],
        ),
        ("LastCatch(\"one\")", Some("Shift(LastCatch(\"one\"), 1)"), vec!["danger-in-dark"]),
        ("Shift(Start(\"out\"), 2.8)", Some("Shift(Start(\"out\"), 3.9)"), vec!["danger-in-dark"]),
        // In the air it is told once.
        (
            "Shift(Start(\"one\"), 1)",
            Some("Shift(Start(\"one\"), 2)"),
            vec!["dark-before-last-catch"],
        ),
        // Balls in the air and torches in a stand are two things.
        (
            "Shift(Start(\"two\"), 1)",
            Some("Shift(Start(\"two\"), 2)"),
            vec!["danger-in-dark", "dark-before-last-catch"],
        ),
        ("End(\"out\")", None, vec![]),
        ("Shift(End(\"out\"), -0.001)", None, vec!["danger-in-dark"]),
    ] {
        assert_eq!(codes(&score, &dark(from, to)), expected, "{from} {to:?}");
    }
}

#[test]
fn fire_that_nobody_puts_out_needs_light_to_the_end_and_after_it() {
    let score = pause("light", "") + &juggle("one", "fire") + &pause("bow", "");
    assert_eq!(codes(&score, &dark("LastCatch(\"one\")", None)), ["danger-in-dark"]);
    assert_eq!(codes(&score, &dark("End(\"bow\")", None)), ["danger-in-dark"]);
    // Nothing says where it is lit: the pause before it counts, and only that.
    assert_eq!(codes(&score, &dark("Start(\"in\")", Some("Start(\"light\")"))), [""; 0]);
    let early = dark("Start(\"in\")", Some("Shift(Start(\"light\"), 0.001)"));
    assert_eq!(codes(&score, &early), ["danger-in-dark"]);
}

#[test]
fn blades_need_light_until_they_are_put_down_or_others_are_juggled() {
    let swap = juggle("one", "knives") + &pause("swap", "") + &juggle("two", "balls");
    let mid_swap = dark("Shift(Start(\"swap\"), 1)", Some("Shift(Start(\"swap\"), 2)"));
    assert_eq!(codes(&swap, &mid_swap), ["danger-in-dark"]);
    let down = juggle("one", "knives")
        + &pause("down", "put_down: \"knives\"")
        + &pause("swap", "")
        + &juggle("two", "balls");
    assert_eq!(codes(&down, &mid_swap), [""; 0]);
    let picked_up = dark("Start(\"in\")", Some("Shift(Start(\"in\"), 1)"));
    assert_eq!(codes(&down, &picked_up), ["danger-in-dark"]);
}

#[test]
fn an_open_length_that_may_bring_the_dark_to_the_fire_is_an_error() {
    // The dark comes 12 s after the fire is lit; it may burn for 4 + 6.2 + 1 to 9 s and 4 s.
    let score = pause("light", "lit: \"fire\"")
        + &juggle("one", "fire")
        + "Pause(name: \"talk\", lasts: Between(\"0:01\", \"0:09\")),"
        + &pause("out", "put_out: \"fire\"")
        + "Pause(name: \"bow\", lasts: For(\"0:20\")),";
    let at = |s: &str| dark(&format!("Shift(Start(\"light\"), {s})"), None);
    assert_eq!(codes(&score, &at("23.3")), [""; 0]);
    assert_eq!(codes(&score, &at("23.1")), ["danger-in-dark"]);
    let told = opened(&score, &at("23.1"));
    assert!(told[0].notes.iter().any(|note| note.text.contains("\"talk\"")), "{told:?}");
}

#[test]
fn the_encore_begins_with_what_the_act_left_burning() {
    let act = pause("light", "") + &juggle("one", "fire") + &pause("bow", "");
    let encore = |says: &str, cues: &str| {
        format!(
            "encore: Encore(score: [{}{}], {cues})",
            pause("again", says),
            juggle("more", "balls")
        )
    };
    let before = dark("Shift(Start(\"again\"), 1)", Some("Shift(Start(\"again\"), 2)"));
    let told = codes(&act, &encore("", &before));
    assert_eq!(told, ["burns-into-encore", "danger-in-dark"]);
    let out = act + &pause("out", "put_out: \"fire\"");
    assert_eq!(codes(&out, &encore("", &before)), [""; 0]);
    // It is lit in the encore, while the act's dark is still on.
    let lit = format!(
        "{}, encore: Encore(score: [{}{}{}])",
        dark("End(\"out\")", None),
        pause("again", "lit: \"fire\""),
        juggle("more", "balls"),
        pause("over", "put_out: \"fire\""),
    );
    let told = codes(&out, &lit);
    assert_eq!(told, ["danger-in-dark", "dark-before-last-catch"]);
}

#[test]
fn the_burn_clock_runs_from_lighting_to_putting_out() {
    // 4 s of lighting, twice 6.2 s and 4 s, and a talk between: 30 s is the shorter test.
    let score = |talk: &str| {
        pause("light", "lit: \"fire\"")
            + &juggle("one", "fire")
            + &format!("Pause(name: \"talk\", lasts: {talk}),")
            + &juggle("two", "fire")
            + &pause("out", "put_out: \"fire\"")
    };
    for (talk, expected) in [
        ("For(\"0:09.6\")", vec![]),
        ("For(\"0:09.7\")", vec!["burn-too-short"]),
        ("Between(\"0:02\", \"0:09.6\")", vec![]),
        ("Between(\"0:02\", \"0:09.7\")", vec!["burn-too-short"]),
        // The slowest logged pick-up counts where the pause is shorter.
        ("For(\"0:05\"), pick_up: [4.0, 9.6]", vec!["pause-too-short"]),
        ("For(\"0:05\"), pick_up: [4.0, 9.7]", vec!["burn-too-short", "pause-too-short"]),
    ] {
        assert_eq!(codes(&score(talk), ""), expected, "{talk}");
    }
}

#[test]
fn what_is_lit_and_put_out_where_that_cannot_be_is_an_error() {
    let one = juggle("one", "fire");
    let out = pause("out", "put_out: \"fire\"");
    for (score, says) in [
        (pause("light", "lit: \"balls\"") + &one + &out, "does not burn"),
        (pause("light", "lit: \"fire\", put_out: \"fire\"") + &one, "lit and put out in one pause"),
        (one.clone() + &pause("stand", "lit: \"fire\"") + &out, "alight already"),
        (one.clone() + &out + &juggle("three", "fire"), "put out here and juggled right after it"),
        (one.clone() + &out + &pause("bow", "put_out: \"fire\""), "is not alight here"),
        (one.clone() + &pause("out", "put_down: \"fire\""), "has no blades"),
        (juggle("two", "knives") + &pause("down", "put_out: \"knives\""), "does not burn"),
        (juggle("two", "balls") + &pause("down", "put_down: \"balls\""), "has no blades"),
        (juggle("two", "balls") + &pause("down", "put_down: \"knives\""), "in somebody's hands"),
    ] {
        let told = opened(&score, "");
        let fault = told.iter().find(|one| one.code == "danger-out-of-order");
        let fault = fault.unwrap_or_else(|| panic!("{says}: {told:?}"));
        assert!(fault.message.contains(says), "{says}: {}", fault.message);
    }
    assert_eq!(codes(&(pause("light", "lit: \"fir\"") + &one), ""), ["unknown-set"]);
    assert_eq!(codes(&(pause("light", "lit: 3") + &one), ""), ["wrong-shape"]);
}

#[test]
fn blades_that_burn_are_put_out_and_put_down() {
    let score = juggle("one", "burning knives")
        + &pause("out", "put_out: \"burning knives\"")
        + &pause("down", "put_down: \"burning knives\"")
        + &pause("bow", "");
    assert_eq!(codes(&score, &dark("End(\"out\")", None)), ["danger-in-dark"]);
    assert_eq!(codes(&score, &dark("End(\"down\")", None)), [""; 0]);
    let only_down = juggle("one", "burning knives")
        + &pause("down", "put_down: \"burning knives\"")
        + &pause("bow", "");
    assert_eq!(codes(&only_down, &dark("End(\"down\")", None)), ["danger-in-dark"]);
}

#[test]
fn what_is_picked_up_before_the_last_pause_needs_light_from_there_on() {
    let score = |says: &str| {
        pause("take", says) + &pause("pose", "") + &juggle("one", "knives") + &pause("bow", "")
    };
    let in_take = dark("Start(\"take\")", Some("End(\"take\")"));
    assert_eq!(codes(&score("picked_up: \"knives\""), &in_take), ["danger-in-dark"]);
    assert_eq!(codes(&score(""), &in_take), [""; 0]);
}

#[test]
fn another_kind_says_whether_it_burns_or_cuts() {
    let poi = juggle("one", "poi") + &pause("bow", "");
    assert_eq!(codes(&poi, &dark("LastCatch(\"one\")", None)), ["danger-in-dark"]);
    let of = |set: &str| {
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, sets: {{ \
             \"3\": Set({set}, length: 0.5, colours: [\"a\", \"a\", \"a\"]) }}, score: [{}])",
            juggle("one", "3")
        );
        throwbook::open(&text).diagnostics.iter().map(|one| one.code).collect::<Vec<_>>()
    };
    for (set, expected) in [
        ("kind: Other(\"fire staff\")", vec!["danger-unsaid"]),
        ("kind: Other(\"Machete\")", vec!["danger-unsaid"]),
        ("kind: Other(\"fire staff\"), danger: Fire", vec![]),
        ("kind: Other(\"toy sword\"), danger: Nothing", vec![]),
        ("kind: Other(\"axe\"), danger: [Fire, Blades]", vec![]),
        ("kind: Other(\"firefly lamp\")", vec![]),
        ("kind: Torch, danger: Nothing", vec!["misplaced-field"]),
        ("kind: Ball, danger: Water", vec!["unknown-word"]),
    ] {
        assert_eq!(of(set), expected, "{set}");
    }
}

#[test]
fn fire_that_comes_from_nowhere_has_no_dark_before_it() {
    let text = |score: &str| {
        format!(
            "Routine(title: \"T\", tempo: PerMinute(200), zero: FirstThrow, colours: {{ \"a\": \
             \"red\" }}, sets: {{ \"fire\": Set(kind: Torch, length: 0.5, colours: [\"a\", \"a\", \
             \"a\"]) }}, score: [{score}{}{}], {})",
            juggle("one", "fire"),
            pause("out", "put_out: \"fire\""),
            dark("Shift(FirstThrow, -20)", Some("Shift(FirstThrow, -10)"))
        )
    };
    let of = |score: &str| {
        let told = throwbook::open(&text(score)).diagnostics;
        told.iter().map(|one| one.code).collect::<Vec<_>>()
    };
    assert_eq!(of(""), ["danger-in-dark"]);
    assert_eq!(of(&pause("light", "lit: \"fire\"")), [""; 0]);
}

#[test]
fn a_slow_pick_up_counts_on_the_nights_on_which_it_is_slow() {
    // The light-up takes what the pick-up leaves: 20 s together, and 10 s are logged.
    let score = |test: &str| {
        format!(
            "Pause(name: \"light\", lasts: Between(\"0:04\", \"0:12\"), lit: \"fire\"), Pause(name: \
             \"pick\", lasts: Until(At(\"0:24\")), pick_up: [10.0]), {}{}{test}",
            juggle("one", "fire"),
            pause("out", "put_out: \"fire\"")
        )
    };
    // 12 s, 10 s, 6.2 s and 4 s are 32.2 s, and 30 s were tested.
    let told = opened(&score(""), "");
    let burn = told.iter().find(|one| one.code == "burn-too-short");
    let burn = burn.unwrap_or_else(|| panic!("{told:?}"));
    assert!(burn.message.contains("32.2 s, 2.2 s longer"), "{}", burn.message);
    assert!(burn.notes.iter().any(|note| note.text.contains("\"light\" at 12.0 s")), "{burn:?}");
}

#[test]
fn a_draft_in_which_a_dark_cannot_be_placed_has_no_cue_sheet() {
    let cue = "cues: [Cue(crew: Light, number: 5, at: Throw(\"one\", 500), trigger: Called, does: \
               \"out\", dark: true)]";
    let text = |set: &str| {
        format!(
            "Routine(title: \"T\", tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, sets: {{ \
             \"3\": Set(kind: {set}, length: 0.5, colours: [\"a\", \"a\", \"a\"]) }}, score: [{}], \
             {cue})",
            juggle("one", "3")
        )
    };
    for (set, is_unsafe) in [("Torch", true), ("Ball", false)] {
        let opened = throwbook::open(&text(set));
        assert!(opened.errors() > 0);
        assert_eq!(opened.is_unsafe(), is_unsafe, "{set}");
    }
}

#[test]
fn no_help_says_to_light_or_to_pick_up_in_the_dark() {
    // A dark in which the torches are logged to be picked up is too short for it, but that is not
    // what is said.
    let score = juggle("two", "balls")
        + "Pause(name: \"swap\", lasts: For(\"0:04\"), pick_up: [3.0]),"
        + &juggle("one", "fire")
        + &pause("out", "put_out: \"fire\"");
    let told = opened(&score, &dark("LastCatch(\"two\")", Some("Shift(LastCatch(\"two\"), 2)")));
    assert_eq!(told.iter().map(|one| one.code).collect::<Vec<_>>(), ["danger-in-dark"]);
    for help in told.iter().flat_map(|one| &one.helps) {
        assert!(!help.text.contains("longer") && !help.text.contains("dark"), "{}", help.text);
    }
}

#[test]
fn a_cue_that_speaks_of_the_dark_is_asked_whether_it_is_dark() {
    let cue = |crew: &str, does: &str, says: &str| {
        format!(
            "cues: [Cue(crew: {crew}, number: 1, at: End(\"one\"), trigger: Called, does: \
             \"{does}\", count: 1, {says})]"
        )
    };
    let score = juggle("one", "balls") + &pause("bow", "");
    for (crew, does, says, expected) in [
        ("Light", "Blackout", "", vec!["dark-unsaid"]),
        ("Light", "slow fade to BLACK", "", vec!["dark-unsaid"]),
        ("Light", "DBO", "", vec!["dark-unsaid"]),
        ("Light", "dark!", "", vec!["dark-unsaid"]),
        ("Light", "all lights out", "", vec!["dark-unsaid"]),
        ("Light", "snap to zero", "", vec!["dark-unsaid"]),
        ("Light", "B/O", "", vec!["dark-unsaid"]),
        ("Light", "out", "", vec!["dark-unsaid"]),
        ("Light", "fade out", "", vec!["dark-unsaid"]),
        ("Fly", "fade out", "", vec![]),
        ("Sound", "all out", "", vec![]),
        ("Light", "sides out, front to half", "", vec![]),
        ("Light", "blackout", "dark: true", vec![]),
        ("Light", "black cloth in", "dark: false", vec![]),
        ("Fly", "black cloth in", "", vec!["dark-unsaid"]),
        ("Fly", "black cloth in", "dark: false", vec![]),
        ("Fly", "black cloth in", "dark: true", vec!["misplaced-field"]),
        ("Light", "blackberry wash, darker", "", vec![]),
    ] {
        assert_eq!(codes(&score, &cue(crew, does, says)), expected, "{crew} {does} {says}");
    }
}

#[test]
fn with_fire_a_cue_that_may_be_a_dark_stops_the_sheets_until_it_is_answered() {
    let cue = "cues: [Cue(crew: Light, number: 1, at: End(\"one\"), trigger: Called, does: \
               \"blackout\", count: 0)]";
    // Part of the light may be meant: with fire it is asked.
    let sides = cue.replace("blackout", "sides out");
    assert_eq!(codes(&juggle("one", "balls"), &sides), [""; 0]);
    assert_eq!(codes(&juggle("one", "fire"), &sides), ["dark-unsaid"]);
    for (set, is_error) in [("balls", false), ("fire", true), ("knives", true)] {
        let told = opened(&juggle("one", set), cue);
        assert_eq!(told.len(), 1, "{told:?}");
        let severity = told[0].severity == throwbook::diagnostic::Severity::Error;
        assert_eq!((told[0].code, severity), ("dark-unsaid", is_error), "{set}");
    }
}

#[test]
fn light_that_comes_up_slowly_is_light_when_it_is_up() {
    let score = pause("light", "lit: \"fire\"")
        + &juggle("one", "fire")
        + &pause("out", "put_out: \"fire\"");
    let cues = |count: &str| {
        format!(
            "cues: [Cue(crew: Light, number: 1, at: Start(\"in\"), trigger: Called, does: \
             \"out\", dark: true), Cue(crew: Light, number: 2, at: Shift(Start(\"in\"), 2), \
             trigger: Called, does: \"warm\", count: {count})]"
        )
    };
    assert_eq!(codes(&score, &cues("2")), [""; 0]);
    assert_eq!(codes(&score, &cues("2.1")), ["danger-in-dark"]);
}

#[test]
fn a_change_of_props_takes_two_seconds_or_what_was_logged() {
    let score = |lasts: &str| {
        juggle("one", "balls") + &format!("Pause(name: \"swap\", lasts: {lasts}),") + &two()
    };
    for (lasts, expected) in [
        ("For(\"0:02\")", vec![]),
        ("For(\"0:01.999\")", vec!["quick-set-change"]),
        ("For(\"0:01\"), pick_up: [0.9]", vec![]),
        ("Between(\"0:01\", \"0:05\")", vec!["quick-set-change"]),
        ("Between(\"0:02\", \"0:05\")", vec![]),
    ] {
        assert_eq!(codes(&score(lasts), ""), expected, "{lasts}");
    }
}

fn two() -> String {
    juggle("two", "knives")
}

/// The diagnostics of an act in a room, with the text of its edits made.
fn in_room(tempo: &str, room: &str, score: &str) -> Vec<throwbook::diagnostic::Diagnostic> {
    throwbook::open(&room_text(tempo, room, score)).diagnostics
}

fn room_text(tempo: &str, room: &str, score: &str) -> String {
    format!(
        "Routine(title: \"T\", tempo: {tempo}, room: Room({room}), transitions: Within(highest: 9, \
         at_once: 1, beats: 6), colours: {{ \"a\": \"red\" }}, sets: {{ \"3\": Set(kind: Ball, \
         length: 0.07, colours: [\"a\", \"a\", \"a\"]) }}, score: [{score}])"
    )
}

#[test]
fn a_throw_keeps_the_margin_below_what_is_overhead() {
    // A 5 at 150 a minute with a dwell of 2/3 flies (5 - 4/3) x 0.4 s = 1.466667 s and goes
    // 9.80665 x 1.466667² / 8 = 2.636900 m above the hand; with 1 m and half a ball 3.671900 m.
    let score = "Juggle(name: \"one\", set: \"3\", pattern: \"51\", lasts: Cycles(5))";
    for (room, expected) in [
        ("clear_height: 3.9720, hands_at: 1", vec![]),
        ("clear_height: 3.9718, hands_at: 1", vec!["close-overhead"]),
        ("clear_height: 3.6720, hands_at: 1", vec!["close-overhead"]),
        ("clear_height: 3.6718, hands_at: 1", vec!["too-high"]),
        ("clear_height: 3.6720, hands_at: 1, margin: 0", vec![]),
        ("clear_height: 3.9720, hands_at: 1, margin: 0.4", vec!["close-overhead"]),
        ("clear_height: 0.9, hands_at: 1", vec!["too-high"]),
    ] {
        let told = in_room("PerMinute(150)", room, score);
        assert_eq!(told.iter().map(|one| one.code).collect::<Vec<_>>(), expected, "{room}");
    }
}

#[test]
fn the_tempo_and_the_dwell_that_are_named_make_it_fit_and_say_what_they_change() {
    let score = "Juggle(name: \"one\", set: \"3\", pattern: \"51\", lasts: Cycles(5)), \
                 Juggle(name: \"two\", pattern: \"441\", lasts: Cycles(5), transition: Auto), \
                 Juggle(name: \"three\", pattern: \"51\", lasts: Cycles(5), transition: Auto)";
    let room = "clear_height: 3.5, hands_at: 1";
    let text = room_text("PerMinute(150)", room, score);
    let opened = throwbook::open(&text);
    // One tempo, one message, though two sections are too high.
    let [told] = opened.diagnostics.as_slice() else { panic!("{:?}", opened.diagnostics) };
    assert_eq!(told.code, "too-high");
    let help = told.helps.iter().find(|help| !help.edits.is_empty()).unwrap();
    assert!(
        help.effects.as_ref().and_then(|all| all.adds_s).is_some_and(|adds| adds < 0.0),
        "{help:?}"
    );
    let edit = &help.edits[0];
    let mut mended = text.clone();
    mended.replace_range(edit.at.start..edit.at.end, &edit.insert);
    assert!(throwbook::open(&mended).diagnostics.is_empty(), "{mended}");
    // A throw a minute less, and it does not fit.
    let needed: u32 = edit.insert.trim_matches(|one: char| !one.is_ascii_digit()).parse().unwrap();
    let slower = room_text(&format!("PerMinute({})", needed - 1), room, score);
    assert_eq!(throwbook::open(&slower).diagnostics.len(), 1);
    let dwell = told.helps.iter().find_map(|help| help.text.split("`dwell: ").nth(1)).unwrap();
    let dwell: f64 = dwell.split('`').next().unwrap().parse().unwrap();
    for (dwell, faults) in [(dwell, 0), (dwell - 0.01, 1)] {
        let held = text.replace("title:", &format!("dwell: {dwell:.2}, title:"));
        assert_eq!(throwbook::open(&held).diagnostics.len(), faults, "{held}");
    }
}

#[test]
fn a_throw_of_a_transition_is_marked_where_the_transition_is_written() {
    let score = "Juggle(name: \"one\", set: \"3\", pattern: \"3\", lasts: Beats(6)), \
                 Juggle(name: \"two\", pattern: \"51\", lasts: Cycles(5), transition: Throws(\"4\"))";
    let text = room_text("PerMinute(150)", "clear_height: 2.6, hands_at: 1", score);
    let opened = throwbook::open(&text);
    let [told] = opened.diagnostics.as_slice() else { panic!("{:?}", opened.diagnostics) };
    assert_eq!(&text[told.at.start..told.at.end], "\"51\"");
    let way = told.notes.iter().find(|note| {
        note.at.as_ref().is_some_and(|at| text[at.start..at.end].starts_with("Throws"))
    });
    assert!(way.is_some_and(|way| way.text.contains("4 needs about")), "{told:?}");
}
