//! Cards of acts that ship and of awkward ones, as they would be read out.

use super::*;

fn read_out(act: &Act) -> String {
    let sheet = compose(act);
    let mut text = String::new();
    for (title, cards) in [("SECTIONS", &sheet.sections), ("ALONE", &sheet.alone)] {
        text += &format!("{title}\n");
        for card in cards {
            let often =
                card.how_often.as_ref().map(|often| format!(" {often}")).unwrap_or_default();
            let encore = if card.in_encore { " (encore)" } else { "" };
            text += &format!("{}{encore} {}: {}{often}\n", card.number, card.name, card.pattern);
            text += &format!("  aloud: {}\n", card.spoken);
            text += &format!("  way in: {}\n", card.way_in.join(" / "));
            let loading = card.loading.as_ref().map(AtRest::in_words);
            text +=
                &format!("  {}: {}\n", card.props, loading.unwrap_or_else(|| "____".to_owned()));
            let chart = card.chart.as_ref().map(|chart| (chart.cycles.len(), chart.repeats));
            text += &format!("  colours: {chart:?}\n");
            let tempo = card.tempo.clone().unwrap_or_else(|| "____".to_owned());
            let height = card.height.clone().unwrap_or_else(|| "____".to_owned());
            text += &format!("  {tempo}; {height}; {}\n", card.counts.join("; "));
        }
    }
    text
}

fn shipped(name: &str) -> Act {
    let path = format!("{}/routines/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    let opened = crate::open(&std::fs::read_to_string(path).unwrap());
    opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics)).clone()
}

fn act(score: &str, rest: &str) -> Act {
    let text = format!(
        "Routine(title: \"T\", tempo: PerMinute(200), zero: FirstThrow, colours: {{ \"coral\": \
         \"#ec6a5c\", \"pearl\": \"#f4f1e6\", \"teal\": \"teal\" }}, sets: {{ \"three\": Set(kind: Ball, \
         length: 0.07, colours: [\"coral\", \"pearl\", \"teal\"]) }}, score: [{score}], {rest})"
    );
    let opened = crate::open(&text);
    opened.act.unwrap_or_else(|| panic!("{:?}", opened.diagnostics))
}

#[test]
fn the_cards_of_an_act_stand_in_its_order_and_each_move_once_alone() {
    insta::assert_snapshot!(read_out(&shipped("salt-flat")));
}

#[test]
fn a_ramp_a_multiplex_and_two_sets_are_told() {
    insta::assert_snapshot!(read_out(&shipped("night-ferry")));
}

#[test]
fn the_loading_of_a_joined_section_starts_it_cold() {
    let score = "Juggle(name: \"a\", set: \"three\", pattern: \"3\", lasts: Beats(7)), \
                 Juggle(name: \"b\", pattern: \"51\", lasts: Cycles(6), transition: Auto),";
    let joined = act(score, "");
    assert_eq!(joined.errors, 0);
    let card = compose(&joined).sections.swap_remove(1);
    assert_eq!(card.way_in, ["from \"a\"", "throw 4", "right hand leads"]);
    let rest = card.loading.unwrap();
    // The same act that starts with "b", loaded so, shows the same colours throw by throw.
    let names = |hand: Hand| {
        let names = rest.in_hand(hand).iter().map(|prop| format!("{:?}", prop.colour_name));
        names.collect::<Vec<_>>().join(", ")
    };
    let alone = act(
        &format!(
            "Juggle(name: \"b\", set: \"three\", pattern: \"51\", lasts: Cycles(6), lead: Right, \
             loading: Hands(right: [{}], left: [{}])),",
            names(Hand::Right),
            names(Hand::Left)
        ),
        "",
    );
    assert_eq!(alone.errors, 0);
    let cycles = |act: &Act, section: usize| {
        let made = compose(act).sections.swap_remove(section).chart.unwrap().cycles;
        made.into_iter().map(|cycle| cycle.made).collect::<Vec<_>>()
    };
    assert_eq!(cycles(&joined, 1), cycles(&alone, 0));
}

#[test]
fn a_section_of_one_throw_pairs_and_waits_have_a_card() {
    let one = act("Juggle(name: \"one\", set: \"three\", pattern: \"3\", lasts: Beats(1)),", "");
    let one = compose(&one).sections.swap_remove(0);
    assert_eq!(
        (one.how_often.as_deref(), one.spoken.as_str()),
        (Some("×1 beat"), "three; for one beat")
    );
    assert_eq!(one.way_in, ["cold start", "right hand leads"]);
    assert_eq!(
        one.loading.unwrap().in_words(),
        "right hand: coral first, then teal; left hand: pearl"
    );
    let score = "Juggle(name: \"a\", set: \"three\", pattern: \"3\", lasts: Beats(6)), \
                 Juggle(name: \"pairs\", pattern: \"(4,2x)(2x,4)\", lasts: Cycles(2)),";
    let pairs = compose(&act(score, "")).sections.swap_remove(1);
    assert_eq!(pairs.way_in, ["from \"a\"", "right hand waits", "both hands together"]);
    let spoken = "both hands: four and two crossed, then two crossed and four; times two";
    assert_eq!(pairs.spoken, spoken);
}

#[test]
fn a_cold_start_with_throws_before_it_is_loaded_for_these() {
    let score = "Juggle(name: \"a\", set: \"three\", pattern: \"51\", lasts: Cycles(4), transition: \
                 Throws(\"4\")),";
    let sheet = compose(&act(score, ""));
    let card = &sheet.sections[0];
    assert_eq!(card.way_in, ["cold start", "throw 4", "left hand leads"]);
    let rest = |card: &Card| card.loading.as_ref().unwrap().in_words();
    assert_eq!(rest(card), "right hand: coral first, then teal; left hand: pearl");
    // At its own first throw the 4 is gone from the right hand, and comes back behind the other.
    assert_eq!(rest(&sheet.alone[0]), "right hand: teal first, then coral; left hand: pearl");
}

#[test]
fn an_encore_has_cards_and_a_move_of_both_stands_once_alone() {
    let tide = |name: &str| {
        format!("Juggle(name: \"{name}\", set: \"three\", pattern: \"3\", lasts: Beats(9)),")
    };
    let encore = format!(
        "encore: Encore(score: [Pause(name: \"p\", lasts: For(\"0:05\")), {}])",
        tide("again")
    );
    let sheet = compose(&act(&tide("tide"), &encore));
    let cards: Vec<(usize, bool)> =
        sheet.sections.iter().map(|card| (card.number, card.in_encore)).collect();
    assert_eq!(cards, [(1, false), (2, true)]);
    assert_eq!(sheet.alone.len(), 1);
    assert_eq!(sheet.alone[0].name, "\"tide\", \"again\"");
    assert_eq!((sheet.alone[0].number, &sheet.alone[0].how_often), (1, &None));
}

#[test]
fn a_draft_leaves_blank_what_an_error_hides() {
    let torn = "Juggle(name: \"a\", set: \"three\", pattern: \"3\", lasts: Beats(6)), \
                Juggle(name: \"b\", pattern: \"(\", lasts: Beats(9)), \
                Juggle(name: \"c\", pattern: \"531\", lasts: Cycles(2)), \
                Juggle(name: \"d\", pattern: \"51\", lasts: Cycles(2)),";
    let sheet = compose(&act(torn, ""));
    assert!(sheet.heading.draft().is_some());
    let [a, b, c, d] = sheet.sections.as_slice() else { panic!("{:?}", sheet.sections) };
    assert!(a.loading.is_some());
    assert_eq!((b.name.as_str(), b.spoken.as_str()), ("b", "could not be read"));
    assert_eq!(
        (&b.pattern, &b.loading, &b.tempo, &b.height),
        (&String::new(), &None, &None, &None)
    );
    assert_eq!(c.way_in[0], "how it is joined is not known");
    assert_eq!(c.loading, None);
    assert_eq!(d.way_in[0], "the join does NOT FIT");
    assert_eq!(d.loading, None);
}

#[test]
fn an_act_without_a_pattern_has_no_cards() {
    let sheet = compose(&act("Pause(name: \"p\", lasts: For(\"0:05\")),", ""));
    assert_eq!((sheet.sections.len(), sheet.alone.len()), (0, 0));
}
