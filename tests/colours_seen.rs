//! What is said of the colours that sections ask for and of the props that show them.
#![allow(missing_docs)]

use throwbook::act::Act;
use throwbook::diagnostic::Place;
use throwbook::export::colours_text;
use throwbook::measure::sight::sight;
use throwbook::open;
use throwbook::routine::Moment;
use throwbook::timeline::HandLoading;

/// Three rings whose fronts and backs are written, in a score.
fn rings(colours: &str, backs: &str, score: &str) -> String {
    format!(
        "Routine(title: \"Rings\", lead: Right, tempo: PerMinute(200), zero: FirstThrow,
        colours: {{ \"ivory\": \"#f5f0dc\", \"ink\": \"#2b3a67\", \"moss\": \"#6a8d3f\" }},
        sets: {{ \"three\": Set(kind: Ring, length: 0.32, colours: [{colours}] {backs}) }},
        score: [{score}])"
    )
}

/// Why the one wish of an act is not met.
fn reason(text: &str) -> String {
    let opened = open(text);
    let colours = opened.colours.as_ref().unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
    let [unmet] = &colours.verdict.unmet[..] else { panic!("{:?}", colours.verdict) };
    unmet.reason.clone()
}

#[test]
fn a_reason_counts_the_faces_that_are_shown() {
    // Two show ivory in front and one behind; the section shows the backs.
    let asks = |pattern: &str, shows: &str, face: &str| {
        let score = format!(
            "Juggle(name: \"a\", set: \"three\", pattern: \"{pattern}\", lasts: Cycles(8),
            loading: Found, shows: {{ {shows} }} {face}),"
        );
        reason(&rings(
            "\"ivory\", \"ivory\", \"ink\"",
            ", backs: [\"ink\", \"ink\", \"ivory\"]",
            &score,
        ))
    };
    let backs = ", other_face: true";
    assert_eq!(
        asks("3", "1: [\"ivory\"]", backs),
        "in `3` all 3 props share one orbit: every prop makes every throw, and 1 prop of the set \
         is ivory on its back"
    );
    assert_eq!(
        asks("3", "1: [\"ivory\"]", ""),
        "in `3` all 3 props share one orbit: every prop makes every throw, and 2 props of the set \
         are ivory on their fronts"
    );
    assert_eq!(
        asks("531", "1: [\"ivory\"]", backs),
        "2 props take turns at throw 1 of `531`, and 1 prop of the set is ivory on its back"
    );
}

#[test]
fn one_prop_makes_its_throw_and_takes_no_turns() {
    let score = "Juggle(name: \"a\", set: \"three\", pattern: \"531\", lasts: Cycles(8),
        loading: Found, shows: { 2: [\"moss\"] }, other_face: true),";
    let text =
        rings("\"moss\", \"ivory\", \"ink\"", ", backs: [\"ink\", \"ink\", \"ivory\"]", score);
    assert_eq!(
        reason(&text),
        "1 prop makes throw 2 of `531` in every cycle, and no prop of the set is moss on its back"
    );
}

#[test]
fn a_cycle_is_seen_by_the_throw_with_which_the_pattern_really_begins() {
    // Natural loading, right hand leading: ivory first. So that it makes the 3 of `423`, the pattern
    // begins there.
    let score = "Juggle(name: \"a\", set: \"three\", pattern: \"423\", lasts: Cycles(6),
        shows: { 3: [\"ivory\"] }, free: [StartingThrow]), Pause(name: \"b\", lasts: For(\"0:05\")),";
    let opened = open(&rings("\"ivory\", \"ink\", \"moss\"", "", score));
    let act = opened.finished().unwrap();
    assert_eq!(act.routine.juggle(0).unwrap().pattern.text, "342");
    let mut hands = Vec::new();
    for cycle in 1..=6 {
        let placed = |value| throwbook::diagnostic::Placed { value, at: Place::default() };
        let moment = Moment::Cycle(
            throwbook::diagnostic::Placed { value: "a".to_owned(), at: Place::default() },
            placed(cycle),
        );
        let at = act.moment(&moment).unwrap();
        // What leaves the hands then, by the timeline.
        let run = &act.timeline.runs[0];
        let then = |action: &&throwbook::timeline::Action| {
            action.is_release() && run.time_of(action).shortest() == at.shortest()
        };
        let thrown: Vec<_> = run.actions.iter().filter(then).collect();
        let [thrown] = thrown[..] else { panic!("{thrown:?}") };
        assert_eq!(thrown.written, 3);
        let seen = sight(act, &moment).unwrap().seen;
        assert_eq!(seen, [(thrown.hand, run.colour(thrown).unwrap())], "cycle {cycle}");
        assert_eq!(seen[0].1, 0, "ivory makes the 3 of every cycle");
        hands.push(thrown.hand);
    }
    assert!(hands.windows(2).all(|two| two[0] != two[1]), "three beats a cycle");
}

#[test]
fn a_set_that_is_not_there_is_said_and_nothing_panics() {
    let sets = [
        "",
        "sets: {},",
        "sets: { \"two\": Set(kind: Ball, length: 0.07, colours: [\"ivory\"]) },",
    ];
    let asked = [
        "shows: { 1: [\"ivory\"] }",
        "solid: true",
        "alike: [(1, 3)]",
        "unlike: [(1, 2)]",
        "caught: [(colour: \"ivory\", at: Catch(\"a\", 3))]",
        "shows: { 1: [\"ivory\"] }, solid: true, alike: [(1, 3)], unlike: [(1, 2)]",
    ];
    let open_choices = [
        "",
        "loading: Found,",
        "free: [StartingThrow, MultiplexOrder, Transition],",
        "loading: Found, free: [StartingThrow],",
    ];
    for sets in sets {
        for asked in asked {
            for choices in open_choices {
                let juggle = format!(
                    "Juggle(name: \"a\", set: \"three\", pattern: \"531\", lasts: Cycles(4), {choices} {asked}),"
                );
                let encore = format!(
                    "encore: Encore(score: [Pause(name: \"p\", lasts: For(\"0:02\")), {}]),",
                    juggle.replace("\"a\"", "\"c\"")
                );
                let text = format!(
                    "Routine(title: \"None\", tempo: PerMinute(200), zero: FirstThrow,
                    colours: {{ \"ivory\": \"#f5f0dc\" }}, {sets}
                    score: [{juggle} Juggle(name: \"b\", pattern: \"51\", transition: Auto, lasts: Cycles(4), solid: true)],
                    {encore})"
                );
                let opened = open(&text);
                let unknown = opened.diagnostics.iter().filter(|one| one.code == "unknown-set");
                assert_eq!(unknown.count(), 2, "{text}\n{:?}", opened.diagnostics);
                if let Some(act) = &opened.act {
                    let colours = opened.colours.as_ref();
                    if let Some(colours) = colours {
                        let _ = colours_text::of_sheet(
                            &throwbook::sheet::colours::compose(act, colours),
                            80,
                        );
                    }
                }
            }
        }
    }
}

/// The props in the right and in the left hand, by their place in the set from 1.
fn in_hands(hands: &HandLoading) -> [Vec<u8>; 2] {
    use throwbook::hand::Hand;
    [Hand::Right, Hand::Left]
        .map(|hand| hands.in_hand(hand).iter().map(|prop| prop.0 + 1).collect())
}

fn finished(text: &str) -> Act {
    let opened = open(text);
    opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics)).clone()
}

#[test]
fn hands_tell_props_that_differ_by_their_backs_only() {
    // Natural loading, right hand leading: right 1 and 3, both ink in front.
    let score = "Juggle(name: \"a\", set: \"three\", pattern: \"3\", lasts: Beats(6)),";
    let text =
        rings("\"ink\", \"ivory\", \"ink\"", ", backs: [\"moss\", \"ink\", \"ivory\"]", score);
    let act = finished(&text);
    let start = &throwbook::sheet::loading::cold_starts(&act, &[])[0];
    assert_eq!(
        start.at_rest.as_ref().unwrap().in_words(),
        "right hand: ink (moss behind) first, then ink (ivory behind); left hand: ivory"
    );
    // Those that are alike on both faces are counted.
    let text =
        rings("\"ink\", \"ivory\", \"ink\"", ", backs: [\"moss\", \"ink\", \"moss\"]", score);
    let start = &throwbook::sheet::loading::cold_starts(&finished(&text), &[])[0];
    assert_eq!(start.at_rest.as_ref().unwrap().in_words(), "right hand: ink ×2; left hand: ivory");
}

#[test]
fn a_plain_name_in_a_regrip_stays_with_its_hand_or_takes_the_first_of_the_set() {
    let regrip = |backs: &str, beats: u32, hands: &str| {
        let score = format!(
            "Juggle(name: \"a\", set: \"three\", pattern: \"3\", lasts: Beats({beats})),
            Pause(name: \"p\", lasts: For(\"0:02\"), regrip: Hands({hands})),"
        );
        let act = finished(&rings("\"ink\", \"ink\", \"ink\"", backs, &score));
        let regrip = act.timeline.sections[1].regrip.clone().unwrap();
        (in_hands(&regrip.before), in_hands(&regrip.after))
    };
    let differ = ", backs: [\"moss\", \"ivory\", \"ink\"]";
    // Six beats leave 3 before 1 in the right hand: as they lie nothing moves.
    let both = "right: [\"ink\", \"ink\"], left: [\"ink\"]";
    assert_eq!(regrip(differ, 6, both), ([vec![3, 1], vec![2]], [vec![3, 1], vec![2]]));
    // The one that would leave first stays.
    let away = "right: [\"ink\"], left: [\"ink\", \"ink\"]";
    let (before, after) = regrip(differ, 6, away);
    assert_eq!((before, after), ([vec![3, 1], vec![2]], [vec![3], vec![2, 1]]));
    // Of two that come from the other hand the first of the set takes the first place.
    let all = "right: [], left: [\"ink\", \"ink\", \"ink\"]";
    assert_eq!(regrip(differ, 6, all).1, [vec![], vec![2, 1, 3]]);
    // Props that are alike on both faces stay as they lie: nothing moves for nothing.
    let alike = ", backs: [\"moss\", \"moss\", \"moss\"]";
    assert_eq!(regrip(alike, 6, both), ([vec![3, 1], vec![2]], [vec![3, 1], vec![2]]));
    assert_eq!(regrip("", 6, both), ([vec![3, 1], vec![2]], [vec![3, 1], vec![2]]));
}
