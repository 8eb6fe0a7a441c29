//! Shortest transitions against a brute force over explicit schedules.

mod brute_force;
mod facts;
mod hardest;

use brute_force::{BruteWay, State, Wanted, brute_ways};
use proptest::prelude::*;
use throwbook::hand::Hand;
use throwbook::notation::{Kind, Sequence, Step, Throw};
use throwbook::patterns::Schedule;
use throwbook::transition::{Bounds, Entry, Origin, Way, ways_into};

/// A side of a junction: alternating hands led by the right, or pairs.
#[derive(Clone, Debug)]
struct Side {
    kind: Kind,
    /// Props due on each beat, or in the left and the right hand of each pair in turn.
    due: Vec<u8>,
}

impl Side {
    fn place(&self, index: usize) -> (Hand, u32) {
        let index = u32::try_from(index).unwrap();
        match self.kind {
            Kind::Async => (Hand::Right.after(index), index),
            Kind::Sync => (Hand::Left.after(index), index / 2 * 2),
        }
    }

    fn schedule(&self) -> Schedule {
        let mut schedule = Schedule::empty();
        for (index, &due) in self.due.iter().enumerate() {
            let (hand, beat) = self.place(index);
            (0..due).for_each(|_| schedule.add(hand, beat));
        }
        schedule
    }

    fn explicit(&self) -> [Vec<u8>; 2] {
        let mut explicit = [vec![], vec![]];
        for (index, &due) in self.due.iter().enumerate() {
            if due > 0 {
                let (hand, beat) = self.place(index);
                let hand: &mut Vec<u8> = &mut explicit[hand.index()];
                hand.resize(hand.len().max(beat as usize + 1), 0);
                hand[beat as usize] += due;
            }
        }
        explicit
    }
}

fn lists(throws: &Sequence) -> Vec<Vec<Throw>> {
    let hands = throws.steps.iter().flat_map(|step| match step {
        Step::Alternating(hand) => vec![hand],
        Step::Pair([left, right]) => vec![left, right],
    });
    hands.map(|hand| hand.iter().map(|written| written.throw).collect()).collect()
}

/// What both searches must agree on.
type Told = (u32, Vec<Vec<Throw>>, Option<Hand>, Option<Hand>, Option<Hand>);

fn told(way: &Way) -> Told {
    (way.beats, lists(&way.throws), way.waits, way.begins, way.lead)
}

fn brute_told(way: &BruteWay) -> Told {
    (way.beats, way.throws.clone(), way.waits, way.begins, way.lead)
}

fn compare(origin: &Origin, starts: &[State], goal: &Side, lead: Option<Hand>, bounds: Bounds) {
    let preferred = if goal.due.len().is_multiple_of(2) { Hand::Right } else { Hand::Left };
    let entry = Entry { kind: goal.kind, schedule: goal.schedule(), uses: (0, 0), lead, preferred };
    let wanted = Wanted {
        due: goal.explicit(),
        kind: goal.kind,
        lead: lead.filter(|_| goal.kind == Kind::Async),
        preferred,
        highest: bounds.highest,
        at_once: usize::from(bounds.at_once),
    };
    let found = ways_into(origin, &entry, bounds, 20);
    let brute = brute_ways(starts, &wanted, bounds.beats);
    let (_, brute) = brute.unwrap_or_default();
    let expected: Vec<Told> = brute.iter().take(20).map(brute_told).collect();
    assert_eq!(found.iter().map(told).collect::<Vec<_>>(), expected);
    for at_most in [1, 2, 7] {
        let fewer = ways_into(origin, &entry, bounds, at_most);
        assert_eq!(fewer[..], found[..at_most.min(found.len())]);
    }
}

/// From one side to the other, the first led by the right.
fn compare_sides(from: &Side, to: &Side, lead: Option<Hand>, bounds: Bounds) {
    let (schedule, uses) = (from.schedule(), (0, 0));
    let (origin, next) = match from.kind {
        Kind::Async => {
            (Origin::Alternating { schedule, next: Hand::Right, uses }, Some(Hand::Right))
        }
        Kind::Sync => (Origin::Pairs { schedule, uses }, None),
    };
    let start = State { due: from.explicit(), rest: [0, 0], next };
    compare(&origin, &[start], to, lead, bounds);
}

fn compare_from_rest(left: u8, right: u8, to: &Side, lead: Option<Hand>, bounds: Bounds) {
    let origin = Origin::AtRest { left: u32::from(left), right: u32::from(right) };
    let start = |next| State { due: [vec![], vec![]], rest: [left, right], next };
    let starts = match to.kind {
        Kind::Async => vec![start(Some(Hand::Left)), start(Some(Hand::Right))],
        Kind::Sync => vec![start(None)],
    };
    compare(&origin, &starts, to, lead, bounds);
}

fn lead() -> impl Strategy<Value = Option<Hand>> {
    prop_oneof![Just(None), Just(Some(Hand::Left)), Just(Some(Hand::Right))]
}

fn kind() -> impl Strategy<Value = Kind> {
    prop_oneof![Just(Kind::Async), Just(Kind::Sync)]
}

/// Two sides of as many props, each hand having at most `at_once` on a beat.
fn sides(
    kinds: (Kind, Kind),
    props: usize,
    highest: usize,
    at_once: u8,
) -> impl Strategy<Value = (Side, Side)> {
    let side = move |kind: Kind| {
        let places = match kind {
            Kind::Async => highest,
            Kind::Sync => highest / 2 * 2,
        };
        let places: Vec<usize> = (0..places * usize::from(at_once)).collect();
        let props = props.min(places.len());
        proptest::sample::subsequence(places, props).prop_map(move |chosen| {
            let mut due = vec![0; highest];
            chosen.iter().for_each(|place| due[place / usize::from(at_once)] += 1);
            Side { kind, due }
        })
    };
    (side(kinds.0), side(kinds.1))
}

fn case(most_highest: usize) -> impl Strategy<Value = ((Side, Side), Option<Hand>, Bounds)> {
    let numbers = (kind(), kind(), 2..=most_highest, 1u8..=3, 1usize..=5);
    numbers.prop_flat_map(|(from, to, highest, at_once, props)| {
        let at_once = if highest > 4 { at_once.min(2) } else { at_once };
        let props = props.min(highest / 2 * 2);
        let bounds = Bounds { highest: highest as u8, at_once, beats: 6 };
        (sides((from, to), props, highest, at_once), lead(), Just(bounds))
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_search_finds_what_the_brute_force_finds(((from, to), lead, bounds) in case(6)) {
        compare_sides(&from, &to, lead, bounds);
    }

    #[test]
    fn from_rest_the_search_finds_what_the_brute_force_finds(
        ((_, to), lead, bounds) in case(6),
        left in 0u8..=5,
    ) {
        let props: u8 = to.due.iter().sum();
        let left = left.min(props);
        compare_from_rest(left, props - left, &to, lead, bounds);
    }
}
