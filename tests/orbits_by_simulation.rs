//! Orbits against labelled props: a cold start, thrown prop by prop for many cycles by the rule of
//! which prop leaves first. A prop at rest since the cold start stands before one that was held
//! meanwhile, so the first throws may go otherwise than they do for ever after: they are left out.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::patterns::Pattern;
use throwbook::patterns::effect::{Effects, HandOfThrow};
use throwbook::patterns::hands::ActionKind;
use throwbook::patterns::orbit::orbits;
use throwbook::patterns::standing::Standing;

mod random_pattern;

/// A prop in flight or held: its label, where and when it is due, and how it stands there.
struct Due {
    prop: usize,
    hand: Hand,
    beat: u32,
    standing: Standing,
}

/// A throw as one prop makes it.
#[derive(Clone, Copy, Debug)]
struct Made {
    /// The throw's number as written.
    number: u32,
    /// The cycle, from 0.
    cycle: u32,
    hand: Hand,
}

/// For each prop, the throws that it makes, in order, once every prop that was at rest has been
/// thrown.
fn histories(pattern: &Pattern, twos_are_thrown: bool, beats: u32) -> Vec<Vec<Made>> {
    let mut label = 0;
    let mut at_rest = Hand::BOTH.map(|hand| {
        let props = pattern.schedule().in_hand(hand);
        let labels = label..label + props as usize;
        label = labels.end;
        labels.collect::<VecDeque<usize>>()
    });
    let mut histories = vec![Vec::new(); label];
    let mut called = [0_u32; 2];
    let mut waiting: Vec<Due> = Vec::new();
    let mut beat = 0;
    while beat < beats {
        for step in &pattern.sequence().steps {
            let mut thrown = Vec::new();
            let mut place = 0;
            for (hand, throws) in step.by_hand(Hand::Right.after(beat)) {
                let props = throws.iter().filter(|one| one.throw.value > 0).count();
                let (mut here, others): (Vec<Due>, Vec<Due>) =
                    waiting.into_iter().partition(|due| due.beat == beat && due.hand == hand);
                waiting = others;
                while here.len() < props {
                    let prop = at_rest[hand.index()].pop_front().expect("a prop is at rest");
                    let standing = Standing::at_rest(called[hand.index()]);
                    called[hand.index()] += 1;
                    here.push(Due { prop, hand, beat, standing });
                }
                assert_eq!(here.len(), props, "beat {beat}");
                here.sort_by_key(|due| due.standing);
                for (due, written) in here.into_iter().zip(throws) {
                    if beat >= pattern.schedule().span() {
                        let cycle = beat / pattern.period();
                        histories[due.prop].push(Made { number: written.number, cycle, hand });
                    }
                    let throw = written.throw;
                    let lands = beat + u32::from(throw.value);
                    let held = ActionKind::of(throw, twos_are_thrown) == ActionKind::Held;
                    let fresh = Standing {
                        came: i64::from(lands),
                        thrown: i64::from(beat),
                        written: place,
                    };
                    place += 1;
                    thrown.push(Due {
                        prop: due.prop,
                        hand: throw.to(hand, step.kind()),
                        beat: lands,
                        standing: if held { due.standing } else { fresh },
                    });
                }
            }
            waiting.extend(thrown);
            beat += step.beats();
        }
    }
    histories
}

fn orbits_are_what_labelled_props_go_through(text: &str) {
    let pattern = Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0;
    for twos_are_thrown in [false, true] {
        let orbits = orbits(&pattern, twos_are_thrown);
        let mut next = BTreeMap::new();
        let mut orbit_of = BTreeMap::new();
        for (index, orbit) in orbits.iter().enumerate() {
            for (place, &number) in orbit.numbers.iter().enumerate() {
                next.insert(number, orbit.numbers[(place + 1) % orbit.numbers.len()]);
                assert_eq!(orbit_of.insert(number, index), None, "{text}: throw {number}");
            }
        }
        let mut props = vec![0; orbits.len()];
        let histories = histories(&pattern, twos_are_thrown, 40 * pattern.period().max(4));
        for history in &histories {
            for pair in history.windows(2) {
                let then = next.get(&pair[0].number);
                assert_eq!(then, Some(&pair[1].number), "{text}: {history:?}");
            }
            props[orbit_of[&history[0].number]] += 1;
        }
        let expected: Vec<u32> = orbits.iter().map(|orbit| orbit.props).collect();
        assert_eq!(props, expected, "{text}, 2s thrown: {twos_are_thrown}");
    }
}

/// Props that come round later are not waited for, in cycles.
const LONGEST_ROUND: u64 = 300;

/// Which props make each throw, cycle by cycle.
struct Shown {
    /// For each throw, by its number, the prop and the hand of each cycle.
    makers: BTreeMap<u32, BTreeMap<u32, (usize, Hand)>>,
    /// The cycles that were watched from their first throw to their last.
    cycles: std::ops::Range<u32>,
}

/// Watches labelled props for some cycles after all that were at rest have been thrown.
fn watched(pattern: &Pattern, twos_are_thrown: bool, cycles: u32) -> Shown {
    let from = pattern.schedule().span().div_ceil(pattern.period());
    let cycles = from..from + cycles;
    let histories = histories(pattern, twos_are_thrown, cycles.end * pattern.period());
    let mut makers: BTreeMap<u32, BTreeMap<u32, (usize, Hand)>> = BTreeMap::new();
    for (prop, history) in histories.iter().enumerate() {
        for made in history.iter().filter(|made| cycles.contains(&made.cycle)) {
            let by_cycle = makers.entry(made.number).or_default();
            assert_eq!(by_cycle.insert(made.cycle, (prop, made.hand)), None);
        }
    }
    Shown { makers, cycles }
}

impl Shown {
    /// How many props make this throw.
    fn props(&self, number: u32) -> usize {
        let props = self.makers[&number].values().map(|made| made.0);
        props.collect::<BTreeSet<usize>>().len()
    }

    /// Whether each throw has the same prop so many cycles later, as far as was watched.
    fn comes_round_after(&self, later: u32) -> bool {
        self.makers.values().all(|by_cycle| {
            let until = self.cycles.end - later;
            by_cycle.range(..until).all(|(&cycle, made)| by_cycle[&(cycle + later)].0 == made.0)
        })
    }

    /// Whether this throw comes from both hands, and whether one prop makes it from both.
    fn changes_hands(&self, number: u32) -> (bool, bool) {
        let mut by_prop: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
        for (prop, hand) in self.makers[&number].values() {
            by_prop.entry(*prop).or_default().insert(hand.index());
        }
        let all: BTreeSet<usize> = by_prop.values().flatten().copied().collect();
        (all.len() > 1, by_prop.values().any(|hands| hands.len() > 1))
    }
}

/// Every multiplex order of a pattern, its 2s held and thrown, against what labelled props show.
fn effects_are_what_labelled_props_show(text: &str, most_orders: usize) {
    let pattern = Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0;
    let at_work = |order: &Pattern, twos_are_thrown| {
        let named = format!("{} of {text}, 2s thrown: {twos_are_thrown}", order.sequence());
        let orbits = orbits(order, twos_are_thrown);
        let effects = Effects::of(&orbits);
        let shown = watched(order, twos_are_thrown, 3 * pattern.props().max(1));
        let throws = order.sequence().throws().filter(|one| one.throw.value > 0);
        let mut numbers: Vec<u32> = throws.map(|one| one.number).collect();
        numbers.sort_unstable();
        assert_eq!(shown.makers.keys().copied().collect::<Vec<_>>(), numbers, "{named}");
        let kept: Vec<u32> =
            numbers.iter().copied().filter(|&number| shown.props(number) == 1).collect();
        assert_eq!(effects.keeps, kept, "{named}");
        for orbit in &orbits {
            let first = &shown.makers[&orbit.numbers[0]];
            for (&number, &cycles_later) in orbit.numbers.iter().zip(&orbit.cycles) {
                let makers = &shown.makers[&number];
                let props = orbit.props as usize;
                assert_eq!(shown.props(number), props, "{named}: throw {number}");
                // In turn: any so many cycles running have that many props.
                let in_turn: Vec<usize> = makers.values().map(|made| made.0).collect();
                for running in in_turn.windows(props) {
                    let different: BTreeSet<&usize> = running.iter().collect();
                    assert_eq!(different.len(), props, "{named}: throw {number}");
                }
                for (cycle, made) in first {
                    if let Some(later) = makers.get(&(cycle + cycles_later)) {
                        assert_eq!(made.0, later.0, "{named}: throw {number}");
                    }
                }
                let hand = match shown.changes_hands(number) {
                    (false, _) => HandOfThrow::Fixed,
                    (true, false) => HandOfThrow::EachItsOwn,
                    (true, true) => HandOfThrow::Alternates,
                };
                assert_eq!(HandOfThrow::of(orbit, order), hand, "{named}: throw {number}");
            }
        }
        if effects.comes_round <= LONGEST_ROUND {
            let round = u32::try_from(effects.comes_round).expect("a short round");
            let shown = watched(order, twos_are_thrown, round + pattern.props());
            let least = (1..=round).find(|&later| shown.comes_round_after(later));
            assert_eq!(least, Some(round), "{named}");
        }
    };
    for order in pattern.multiplex_orders(most_orders) {
        for twos_are_thrown in [false, true] {
            at_work(&order, twos_are_thrown);
        }
    }
}

/// All single-throw patterns of so many props and beats.
fn vanilla(props: usize, period: usize) -> Vec<String> {
    fn go_on(values: &mut Vec<usize>, left: usize, period: usize, found: &mut Vec<String>) {
        let beat = values.len();
        if beat == period {
            let digit = |&value: &usize| char::from_digit(value as u32, 36).expect("at most z");
            found.extend((left == 0).then(|| values.iter().map(digit).collect()));
            return;
        }
        for value in 0..=left {
            let lands = |(beat, value): (usize, &usize)| (beat + value) % period;
            if values.iter().enumerate().all(|one| lands(one) != lands((beat, &value))) {
                values.push(value);
                go_on(values, left - value, period, found);
                values.pop();
            }
        }
    }
    let mut found = Vec::new();
    go_on(&mut Vec::new(), props * period, period, &mut found);
    found
}

/// Their number, (b+1)^n − b^n: J. Buhler, D. Eisenbud, R. Graham, C. Wright, "Juggling Drops and
/// Descents", Amer. Math. Monthly 101(6) (1994) 507–519.
#[test]
fn all_short_patterns_of_three_and_four_props_show_what_labelled_props_show() {
    for props in [3, 4_usize] {
        for period in 1..=5 {
            let patterns = vanilla(props, period);
            let published = (props + 1).pow(period as u32) - props.pow(period as u32);
            assert_eq!(patterns.len(), published, "{props} props, {period} beats");
            for text in patterns {
                effects_are_what_labelled_props_show(&text, 2);
            }
        }
    }
}

#[test]
fn known_multiplexes_show_by_every_multiplex_order_what_labelled_props_show() {
    for text in [
        "[54]24",
        "[41]3",
        "[32]",
        "[22]2",
        "[43]23",
        "[345]",
        "[2334]",
        "[53][31]",
        "([24],2)(2,2)",
        "([4x2],2x)",
        "([2x4],2x)*",
    ] {
        effects_are_what_labelled_props_show(text, 100);
    }
}

#[test]
fn known_patterns_route_their_props_as_labelled_props_go() {
    for text in [
        "3",
        "423",
        "531",
        "441",
        "552",
        "[54]24",
        "[45]24",
        "[41]3",
        "[14]3",
        "[32]",
        "[23]",
        "[22]2",
        "[24]",
        "[42]",
        "[222]",
        "[322]",
        "[232]",
        "[223]",
        "2",
        "0",
        "[43]23",
        "24[54]",
        "(4,2x)*",
        "([44],2)",
        "([24],2)(2,2)",
        "([4x2],2x)",
        "([22],[22])",
        "([2x4],2x)*",
    ] {
        orbits_are_what_labelled_props_go_through(text);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..Default::default() })]

    #[test]
    fn any_pattern_routes_its_props_as_labelled_props_go(text in random_pattern::any_pattern()) {
        orbits_are_what_labelled_props_go_through(&text);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..Default::default() })]

    #[test]
    fn any_pattern_shows_by_every_multiplex_order_what_labelled_props_show(
        text in random_pattern::any_pattern(),
    ) {
        effects_are_what_labelled_props_show(&text, 12);
    }
}
