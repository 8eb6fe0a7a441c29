//! The venue page of acts that ship and of awkward ones, as it would be read out.

use super::*;

fn read_out(act: &Act) -> String {
    let sheet = compose(act);
    let mut text = format!("0:00.0 is {}\n", sheet.zero);
    for part in &sheet.parts {
        text += &format!("{}\n", part.title);
        for fact in &part.facts {
            let says = if fact.is_blank() { "____".to_owned() } else { fact.says.join(" / ") };
            text += &format!("  {}: {says}\n", fact.label);
        }
    }
    text += "PLAN\n";
    for one in sheet.plan.boxes.iter().filter(|one| !one.what.is_empty()) {
        text += &format!("  {}: {}\n", one.place, one.what.join(", "));
    }
    for (place, what) in &sheet.plan.beside {
        text += &format!("  beside, {place}: {what}\n");
    }
    for (place, names) in &sheet.plan.sections {
        text += &format!("  {place}: {}\n", names.join(", "));
    }
    let cautions: Vec<&str> = sheet.cautions.iter().map(|one| one.heading()).collect();
    text + &format!("CAUTIONS {cautions:?}\n")
}

fn shipped(name: &str) -> Act {
    let path = format!("{}/routines/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    let opened = crate::open(&std::fs::read_to_string(path).unwrap());
    opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics)).clone()
}

/// An act with these sets, this score and the rest; a draft where it has errors.
fn act(sets: &str, score: &str, rest: &str) -> Act {
    let text = format!(
        "Routine(title: \"T\", tempo: PerMinute(200), zero: FirstThrow, colours: {{ \"coral\": \
         \"#ec6a5c\", \"pearl\": \"#f4f1e6\" }}, sets: {{ {sets} }}, score: [{score}], {rest})"
    );
    let opened = crate::open(&text);
    opened.act.unwrap_or_else(|| panic!("{:?}", opened.diagnostics))
}

const BALLS: &str =
    "\"balls\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"pearl\", \"coral\"]),";
const FIRE: &str =
    "\"fire\": Set(kind: Torch, length: 0.6, colours: [\"coral\", \"coral\", \"coral\"]),";
const KNIVES: &str =
    "\"knives\": Set(kind: Knife, length: 0.5, colours: [\"pearl\", \"pearl\", \"pearl\"]),";

fn juggle(name: &str, set: &str, pattern: &str) -> String {
    format!("Juggle(name: \"{name}\", set: \"{set}\", pattern: \"{pattern}\", lasts: Beats(20)),")
}

/// What a fact says; `None` for a blank.
fn says(act: &Act, label: &str) -> Option<String> {
    let sheet = compose(act);
    let mut facts = sheet.parts.iter().flat_map(|part| &part.facts);
    let fact = facts.find(|fact| fact.label == label).unwrap_or_else(|| panic!("no {label}"));
    (!fact.is_blank()).then(|| fact.says.join(" / "))
}

fn has(act: &Act, label: &str) -> bool {
    compose(act).parts.iter().flat_map(|part| &part.facts).any(|fact| fact.label == label)
}

#[test]
fn the_page_of_an_act_with_fire_says_when_it_is_alight_and_who_watches() {
    insta::assert_snapshot!(read_out(&shipped("kiln-yard")));
}

#[test]
fn the_page_of_an_act_of_four_minutes_fits_what_a_venue_asks() {
    insta::assert_snapshot!(read_out(&shipped("night-ferry")));
}

#[test]
fn without_a_venue_everything_that_only_the_juggler_knows_is_a_blank() {
    insta::assert_snapshot!(read_out(&shipped("salt-flat")));
}

#[test]
fn open_lengths_give_both_ends_and_say_which() {
    let score = juggle("a", "balls", "3")
        + "Pause(name: \"wait\", lasts: Between(\"0:02\", \"0:09\")),"
        + &juggle("b", "balls", "3");
    let act = act(BALLS, &score, "set_up: \"1:00\", strike: \"0:30\"");
    assert_eq!(
        says(&act, "running time").as_deref(),
        Some("0:14.4–0:21.4 / the pause wait lasts 2.0–9.0 s")
    );
    assert_eq!(says(&act, "slot in all").as_deref(), Some("1:44.4–1:51.4"));
}

#[test]
fn an_encore_counts_in_the_slot_and_its_music_and_dangers_are_told() {
    let encore = "encore: Encore(score: [Pause(name: \"again\", lasts: For(\"0:05\"), lit: \
                  \"fire\"), Juggle(name: \"more\", set: \"fire\", pattern: \"3\", lasts: Beats(20), \
                  place: \"down centre\")], music: Track(file: \"again.ogg\", length: \"0:30\", \
                  starts: Start(\"again\")), cues: [Cue(crew: Sound, number: 5, at: TrackStart, \
                  trigger: See(\"a nod\"), does: \"play\")]), set_up: \"1:00\", strike: \"0:30\"";
    let act = act(&[BALLS, FIRE].concat(), &juggle("a", "balls", "3"), encore);
    assert_eq!(act.errors, 0);
    assert_eq!(says(&act, "music").as_deref(), Some("none"));
    let music = "again.ogg, 0:30.0 long; started at 0:00.0 by SND 5: SEE a nod";
    assert_eq!(says(&act, "music of the encore").as_deref(), Some(music));
    assert_eq!(says(&act, "encore").as_deref(), Some("0:11.2, only if it is called for"));
    assert_eq!(says(&act, "slot in all, with the encore").as_deref(), Some("1:47.4"));
    assert_eq!(
        says(&act, "flames: \"fire\", in the encore on its own clock").as_deref(),
        Some(
            "alight from 0:00.0: lit in \"again\" / to 0:11.2: NOT PUT OUT by the end of the encore \
             / 11.2 s long"
        )
    );
    assert_eq!(says(&act, "fuel"), None);
    assert_eq!(compose(&act).cautions, [Caution::Fire]);
    assert_eq!(
        compose(&act).plan.sections,
        [("down centre".to_owned(), vec!["\"more\"".to_owned()])]
    );
    // The highest throw of the encore counts too.
    assert!(says(&act, "clear height that the act needs").unwrap().contains("\"more\""));
}

#[test]
fn nothing_that_burns_or_cuts_is_said_and_what_is_not_used_is_not_silent() {
    let plain = act(BALLS, &juggle("a", "balls", "3"), "");
    assert_eq!(says(&plain, "flames").as_deref(), Some("No set of this file burns."));
    assert_eq!(says(&plain, "blades").as_deref(), Some("No set of this file has blades."));
    assert_eq!(says(&plain, "strobe").as_deref(), Some("No cue says that its light flashes."));
    assert!(!has(&plain, "fuel") && !has(&plain, "spotter"));
    let brought = act(&[BALLS, FIRE].concat(), &juggle("a", "balls", "3"), "");
    assert_eq!(says(&brought, "flames").as_deref(), Some("They are not used in this act."));
    assert_eq!(says(&brought, "fuel"), None);
    assert!(
        says(&brought, "\"fire\"")
            .unwrap()
            .ends_with("FIRE: they burn. / Not juggled in this act.")
    );
    let blades = act(KNIVES, &juggle("a", "knives", "3"), "");
    let words = "in somebody's hands from 0:00.0: picked up in \"a\" / to 0:06.2: NOT PUT DOWN by the \
                 end of the act / 6.2 s long";
    assert_eq!(says(&blades, "blades: \"knives\"").as_deref(), Some(words));
}

#[test]
fn a_strobe_says_its_longest_burst_and_when_no_cue_ends_it() {
    let strobe = |rest: &str| {
        let cues = format!(
            "cues: [Cue(crew: Light, number: 5, at: At(\"0:01\"), trigger: Called, does: \"x\", count: 1, \
             flashes: 2.5), {rest}]"
        );
        says(&act(BALLS, &juggle("a", "balls", "3"), &cues), "strobe").unwrap()
    };
    assert_eq!(
        strobe(""),
        "longest burst: 5.2 s, LX 5 / LX 5: 2.5 flashes a second from 0:01.0, for up to 5.2 s, to the \
         end of the act: NO CUE ENDS IT"
    );
    let steady =
        "Cue(crew: Light, number: 6, at: At(\"0:03\"), trigger: Called, does: \"y\", count: 0)";
    assert_eq!(
        strobe(steady),
        "longest burst: 2.0 s, LX 5 / LX 5: 2.5 flashes a second from 0:01.0, for up to 2.0 s, until LX 6"
    );
}

#[test]
fn a_draft_leaves_a_blank_where_an_error_hides_the_answer() {
    // How long "b" is, and so the act, an error hides; so is what it throws.
    let score = juggle("a", "balls", "3") + "Juggle(name: \"b\", pattern: \"(\", lasts: Beats(9)),";
    let draft = act(BALLS, &score, "set_up: \"1:00\", strike: \"0:30\"");
    assert!(draft.errors > 0 && compose(&draft).heading.draft().is_some());
    for label in ["running time", "slot in all", "clear height that the act needs"] {
        assert_eq!(says(&draft, label), None, "{label}");
    }
    assert_eq!(says(&draft, "set-up before it").as_deref(), Some("1:00.0"));
    // A set that could not be read may be anything.
    let hidden = act(&[BALLS, "\"x\": Set(kind: Torch)"].concat(), &juggle("a", "balls", "3"), "");
    for label in ["flames", "blades", "other props"] {
        assert_eq!(says(&hidden, label), None, "{label}");
    }
    // So may a cue.
    let cues = act(BALLS, &juggle("a", "balls", "3"), "cues: [Cue(crew: Light)]");
    for label in ["strobe", "cues", "dark"] {
        assert_eq!(says(&cues, label), None, "{label}");
    }
}

#[test]
fn the_height_there_is_is_held_against_the_height_that_is_needed() {
    let of = |room: &str| {
        let act = act(BALLS, &juggle("a", "balls", "900"), room);
        let label = |label: &str| says(&act, label);
        (label("clear height that the act needs"), label("clear height that there is"))
    };
    // 9 beats less 4/3 at 0.3 s: 2.3 s in the air, 6.48 m, and half a ball.
    let (needs, there_is) = of("");
    let above = "6.52 m (21.4 ft) above the hands: the 9 of \"a\", half a prop on top; how high the \
                 hands are is not written / An estimate from the time in the air.";
    assert_eq!((needs.as_deref(), there_is), (Some(above), None));
    let (needs, there_is) = of("room: Room(clear_height: 7.0, hands_at: 1.0)");
    let sure = "7.52 m (24.7 ft): the 9 of \"a\", half a prop on top, hands at 1.00 m / 7.82 m (25.7 ft) \
                with the margin of 0.30 m / An estimate from the time in the air.";
    assert_eq!(needs.as_deref(), Some(sure));
    assert_eq!(there_is.as_deref(), Some("7.00 m (23.0 ft) as written: 0.52 m TOO LOW"));
    let (_, there_is) = of("room: Room(clear_height: 7.7, hands_at: 1.0)");
    let close = "7.70 m (25.3 ft) as written: leaves 0.18 m, LESS THAN THE MARGIN";
    assert_eq!(there_is.as_deref(), Some(close));
    let pause = act(BALLS, "Pause(name: \"x\", lasts: For(\"0:05\")),", "");
    assert_eq!(
        says(&pause, "clear height that the act needs").as_deref(),
        Some("nothing is thrown")
    );
}

#[test]
fn names_that_turn_the_line_or_hide_a_control_character_come_out_harmless() {
    let venue = "venue: Venue(contact: \"a\\u{202e}b\\u{1b}\", floor: \"one\\ntwo\", plan: [(\"centre\", \
                 \"<b>\"), (\"wing\\u{7}\", \"=1\")])";
    let act = act(BALLS, &juggle("a", "balls", "3"), venue);
    assert_eq!(says(&act, "contact").as_deref(), Some("a\u{202e}b\u{202c}"));
    assert_eq!(says(&act, "floor").as_deref(), Some("one two"));
    let plan = compose(&act).plan;
    assert_eq!(plan.beside, [("wing".to_owned(), "=1".to_owned())]);
    assert_eq!(plan.boxes[4].what, ["<b>"]);
}
