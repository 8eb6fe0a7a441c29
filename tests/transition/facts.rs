//! Transitions worked by hand. Facts of the trade have no source: common practice.

use throwbook::hand::Hand::{self, Left, Right};
use throwbook::notation::{Kind, Step};
use throwbook::patterns::{Pattern, Schedule};
use throwbook::transition::{Bounds, Goal, Origin, Way, ways};

fn pattern(text: &str) -> Pattern {
    Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0
}

fn goal(pattern: &Pattern, lead: Option<Hand>) -> Goal<'_> {
    Goal { pattern, lead, preferred: Right }
}

fn all(from: &str, to: &str, lead: Option<Hand>, bounds: Bounds) -> Vec<Way> {
    let (from, to) = (pattern(from), pattern(to));
    let origin = Origin::after(&from, Right);
    let found = ways(&origin, goal(&to, lead), bounds, 20);
    found.iter().for_each(|way| make(&origin, &to, way));
    found
}

/// Makes the way's throws step by step and checks that the junction is valid.
fn make(origin: &Origin, to: &Pattern, way: &Way) {
    let (mut schedule, mut next, kind) = match origin {
        Origin::Alternating { schedule, next, .. } => (schedule.clone(), *next, Kind::Async),
        Origin::Pairs { schedule, .. } => (schedule.clone(), Right, Kind::Sync),
        Origin::AtRest { .. } => return,
    };
    let wait = |schedule: &mut Schedule, next: &mut Hand| {
        let hand = way.waits.unwrap();
        *schedule = schedule.waited(hand);
        match kind {
            Kind::Async => {
                assert_eq!(hand, *next, "the hand due next waits");
                *schedule = schedule.later(1);
            }
            Kind::Sync => *next = hand.other(),
        }
    };
    let mut changed = false;
    for step in &way.throws.steps {
        if step.kind() != kind && !changed {
            wait(&mut schedule, &mut next);
            changed = true;
        }
        schedule = schedule.step(step, next).unwrap();
        next = next.after(step.beats());
    }
    if to.kind() != kind && !changed {
        wait(&mut schedule, &mut next);
    }
    let needed = to.schedule_led_by(way.lead.unwrap_or(Right));
    assert_eq!(schedule, needed);
    if to.kind() == Kind::Async {
        assert_eq!(way.lead, Some(next));
    }
}

fn texts(found: &[Way]) -> Vec<String> {
    found.iter().map(|way| way.throws.to_string()).collect()
}

fn within(highest: u8, at_once: u8, beats: u32) -> Bounds {
    Bounds { highest, at_once, beats }
}

#[test]
fn the_shortest_way_is_the_lowest_of_least_beats() {
    for (from, to, throws, beats) in [
        ("3", "531", "", 0),
        ("3", "51", "4", 1),
        ("51", "3", "2", 1),
        ("4", "71", "56", 2),
        ("5", "91", "678", 3),
        ("3", "423", "", 0),
        ("5", "[54]24", "1", 1),
        ("[54]24", "5", "[54]", 1),
        ("(4,4)", "(6,2)(2,6)", "(4,6)", 2),
    ] {
        let found = all(from, to, None, Bounds::default());
        let first = found.first().unwrap_or_else(|| panic!("{from} to {to}"));
        assert_eq!(
            (first.throws.to_string().as_str(), first.beats),
            (throws, beats),
            "{from} {to}"
        );
    }
}

#[test]
fn the_cascade_enters_51_by_a_4_and_leaves_it_by_a_2() {
    // Common practice, no source.
    let found = all("3", "51", None, Bounds::default());
    assert_eq!(texts(&found), ["4"]);
    assert_eq!((found[0].lead, found[0].begins, found[0].waits), (Some(Left), Some(Right), None));
    assert_eq!(texts(&all("51", "3", None, Bounds::default())), ["2"]);
}

#[test]
fn a_lead_that_is_demanded_costs_beats() {
    let found = all("3", "51", Some(Right), Bounds::default());
    assert_eq!((found[0].throws.to_string().as_str(), found[0].beats), ("34", 2));
    assert!(found.iter().all(|way| way.lead == Some(Right)));
    assert_eq!(texts(&found), ["34", "52"]);
    let direct = all("3", "531", Some(Left), Bounds::default());
    assert_eq!(texts(&direct), ["3"]);
}

#[test]
fn from_rest_the_throws_come_from_the_hand_that_has_too_many() {
    // `[43]23` needs three props in the leading hand and one in the other.
    let to = pattern("[43]23");
    let rest = Origin::AtRest { right: 2, left: 2 };
    let found = ways(&rest, goal(&to, None), within(9, 1, 6), 20);
    assert_eq!(texts(&found)[..4], ["1", "1", "3", "3"]);
    assert_eq!((found[0].begins, found[0].lead), (Some(Right), Some(Left)));
    assert_eq!((found[1].begins, found[1].lead), (Some(Left), Some(Right)));
    let preferred = Goal { pattern: &to, lead: None, preferred: Left };
    assert_eq!(ways(&rest, preferred, Bounds::default(), 1)[0].begins, Some(Left));
    let led = ways(&rest, goal(&to, Some(Right)), Bounds::default(), 1);
    assert_eq!((led[0].begins, led[0].lead), (Some(Left), Some(Right)));
}

#[test]
fn with_the_right_numbers_in_the_hands_a_cold_start_needs_no_throws() {
    let to = pattern("5");
    for (right, left, lead) in [(3, 2, Right), (2, 3, Left)] {
        let rest = Origin::AtRest { right, left };
        let found = ways(&rest, goal(&to, None), Bounds::default(), 20);
        assert_eq!((found[0].beats, found[0].lead, found.len()), (0, Some(lead), 1));
    }
    let both = ways(
        &Origin::AtRest { right: 2, left: 2 },
        goal(&pattern("4"), None),
        Bounds::default(),
        5,
    );
    assert_eq!(both.iter().map(|way| way.lead).collect::<Vec<_>>(), [Some(Right), Some(Left)]);
}

#[test]
fn after_pairs_the_hand_that_does_not_lead_waits() {
    let found = all("(4,2x)(2x,4)", "3", None, Bounds::default());
    assert_eq!(texts(&found), [""]);
    let way = &found[0];
    assert_eq!(
        (way.beats, way.waits, way.lead, way.begins),
        (0, Some(Left), Some(Right), Some(Right))
    );
    let left = all("(4,2x)(2x,4)", "3", Some(Left), Bounds::default());
    assert!(left[0].beats > 0 && left.iter().all(|way| way.lead == Some(Left)));
}

#[test]
fn before_pairs_the_hand_due_next_waits_a_beat() {
    let found = all("4", "(4,4)", None, Bounds::default());
    assert_eq!(texts(&found), [""]);
    assert_eq!((found[0].beats, found[0].waits, found[0].lead), (1, Some(Right), None));
    assert!(all("4", "(4,4)", None, within(9, 1, 0)).is_empty());
}

#[test]
fn props_that_differ_are_joined_by_nothing() {
    assert!(all("3", "5", None, within(35, 5, 60)).is_empty());
    assert!(
        ways(
            &Origin::AtRest { right: 9, left: 9 },
            goal(&pattern("3"), None),
            within(35, 5, 60),
            20
        )
        .is_empty()
    );
}

#[test]
fn bounds_are_never_below_what_the_patterns_use() {
    assert_eq!(
        texts(&all("3", "900", None, within(1, 0, 6)))[0],
        texts(&all("3", "900", None, within(9, 1, 6)))[0]
    );
    assert!(!all("5", "[54]24", None, within(0, 0, 9)).is_empty());
}

#[test]
fn nothing_is_found_beyond_the_beats() {
    assert!(all("5", "91", None, within(9, 1, 2)).is_empty());
    assert_eq!(all("5", "91", None, within(9, 1, 3))[0].beats, 3);
    assert!(all("5", "91", None, Bounds::default()).len() <= 20);
    let none = ways(
        &Origin::after(&pattern("3"), Right),
        goal(&pattern("51"), None),
        Bounds::default(),
        0,
    );
    assert!(none.is_empty());
}

#[test]
fn every_pair_of_patterns_is_joined_by_ways_that_can_be_made() {
    let lists: [&[&str]; 4] = [
        &["3", "51", "531", "423", "900", "[32]1", "(4,2x)*", "(4,2)", "([42],0)", "(6,0)"],
        &["4", "71", "[43]23", "53", "(4,4)", "(4x,4x)", "(6,2)(2,6)", "([42],2)"],
        &["5", "91", "[54]24", "744", "(6x,4)*", "(6,4)", "(8,2)(4,6)", "([64],0)"],
        &["0", "00", "(0,0)"],
    ];
    for list in lists {
        for from in list {
            for to in list {
                assert_eq!(pattern(from).props(), pattern(to).props(), "{from} to {to}");
                for at_once in [1, 2] {
                    let found = all(from, to, None, within(9, at_once, 40));
                    assert!(!found.is_empty() && found.len() <= 20, "{from} to {to}");
                }
            }
        }
    }
}

#[test]
fn found_throws_are_numbered_and_placed_as_they_are_written() {
    for (from, to) in
        [("3", "51"), ("[54]24", "5"), ("(6,4)", "5"), ("5", "(8,2)(4,6)"), ("([44],2)", "(6,4)")]
    {
        for way in all(from, to, None, within(9, 2, 12)) {
            let text = way.throws.to_string();
            let characters: Vec<char> = text.chars().collect();
            for (written, number) in way.throws.throws().zip(1..) {
                let there: String = characters[written.at.clone()].iter().collect();
                assert_eq!((there, written.number), (written.throw.to_string(), number), "{text}");
            }
            let pairs =
                way.throws.steps.iter().filter(|step| matches!(step, Step::Pair(_))).count();
            assert_eq!(text.matches('(').count(), pairs);
        }
    }
}

#[test]
fn many_props_at_once_are_joined_without_delay() {
    for text in ["[98765]", "z", "[hi]"] {
        let from = pattern(text);
        let direct = ways(&Origin::after(&from, Right), goal(&from, None), within(35, 9, 60), 20);
        assert_eq!(direct.first().map(|way| way.beats), Some(0), "{text}");
        for right in [0, from.props() / 2, from.props()] {
            let rest = Origin::AtRest { right, left: from.props() - right };
            assert!(!ways(&rest, goal(&from, None), within(35, 9, 60), 20).is_empty());
        }
    }
}

#[test]
fn hands_that_throw_nine_props_at_once_are_joined_both_ways() {
    let (from, to) = (pattern("[987654321]"), pattern("[555555555]"));
    assert_eq!((from.props(), to.props()), (45, 45));
    let wide = within(35, 9, 60);
    for (from, to) in [(&from, &to), (&to, &from)] {
        let origin = Origin::after(from, Right);
        let found = ways(&origin, goal(to, None), wide, 20);
        assert_eq!(found.len(), 20);
        found.iter().for_each(|way| make(&origin, to, way));
        for right in [0, 22, 45] {
            let rest = Origin::AtRest { right, left: 45 - right };
            assert!(!ways(&rest, goal(to, None), wide, 20).is_empty(), "{right} in the right hand");
        }
    }
}
