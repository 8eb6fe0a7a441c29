//! Other loadings than the found one that meet every colour request too: what else is chosen stays.

use crate::act::Act;
use crate::diagnostic::Placed;
use crate::hand::Hand;
use crate::routine::{HandColours, Loading, Routine};
use crate::timeline::{Timeline, compile};

use super::colouring::Domains;
use super::demand::requirements;
use super::looks::{LookMask, Looks};
use super::settle::chains;
use super::verdict::failures;
use super::{Choices, Choosing};

/// The most other loadings that are told.
pub const MOST_TOLD: usize = 20;

/// So many loadings are looked at closely: each is a whole act compiled.
const MOST_FOUND: usize = 3 * MOST_TOLD;

/// So many props are placed on trial at most.
const MOST_PLACED: usize = 200_000;

/// The loadings of a cold start beside the one that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Others {
    /// The section that starts cold, as an index into the score.
    pub section: usize,
    /// The loadings, those first that put the fewest props elsewhere; at most [`MOST_TOLD`].
    pub loadings: Vec<HandColours>,
    /// Whether these are all there are.
    pub are_all: bool,
}

/// The other loadings of every cold start whose loading was found. Nothing is told of an act with
/// an error.
#[must_use]
pub fn others(act: &Act, choices: &Choices) -> Vec<Others> {
    if act.errors > 0 {
        return Vec::new();
    }
    let found = choices.chosen.iter().filter(|chosen| chosen.what == Choosing::Loading);
    found.filter_map(|chosen| of_section(&act.routine, &act.timeline, chosen.section)).collect()
}

fn of_section(routine: &Routine, timeline: &Timeline, section: usize) -> Option<Others> {
    let Loading::Hands(hands) = &routine.juggle(section)?.loading.as_ref()?.value else {
        return None;
    };
    let chains = chains(&timeline.runs);
    let chain = chains.iter().find(|chain| chain.runs[0].sections.start == section)?;
    let (looks, set) = (Looks::of(routine, chain.set), routine.sets.get(chain.set)?);
    let loading = &chain.runs[0].loading;
    let in_hand = |hand| loading.in_hand(hand).iter().map(|prop| usize::from(prop.0));
    let right = in_hand(Hand::Right).count();
    let places: Vec<usize> = in_hand(Hand::Right).chain(in_hand(Hand::Left)).collect();
    if places.len() != looks.of_prop.len() {
        return None;
    }
    let asked = requirements(routine);
    let open = Domains::open(places.len(), &looks);
    let name = |look: u8| Some(set.name_of(looks.prop_of(look)?));
    let mut in_order: Vec<u8> = (0_u8..).take(looks.len()).collect();
    in_order.sort_by_key(|&look| name(look));
    let mut moves = Moves { looks: &looks, places, in_order, found: Vec::new(), left: MOST_PLACED };
    let open = chain.met(open, routine, timeline, &asked, &looks);
    let are_all = open.is_none_or(|open| {
        (2..=moves.places.len()).all(|elsewhere| moves.place(&open, 0, elsewhere))
    });
    let mut others = Others { section, loadings: Vec::new(), are_all };
    let mut trial = routine.clone();
    for look_of in &moves.found {
        if others.loadings.len() >= MOST_TOLD {
            others.are_all = false;
            break;
        }
        let at = &hands.right.iter().chain(&hands.left).next()?.at;
        let named = |&prop: &usize| Some(Placed { value: name(look_of[prop])?, at: at.clone() });
        let (right, left) = moves.places.split_at(right);
        let of = |places: &[usize]| places.iter().filter_map(named).collect();
        let hands = HandColours { right: of(right), left: of(left) };
        trial.juggle_mut(section)?.loading.as_mut()?.value = Loading::Hands(hands.clone());
        // What a pause before it regrips is its own.
        let compiled = compile(&trial);
        if compiled.troubles.is_empty() && failures(&trial, &compiled.timeline).is_empty() {
            others.loadings.push(hands);
        }
    }
    Some(others)
}

/// The search for loadings that put some props elsewhere.
struct Moves<'a> {
    looks: &'a Looks,
    /// The props in the order in which a loading names them, by their places in the set.
    places: Vec<usize>,
    /// The looks in the order of their names.
    in_order: Vec<u8>,
    /// The look of each prop, for every loading that was found.
    found: Vec<Vec<u8>>,
    /// How many props may still be placed on trial.
    left: usize,
}

impl Moves<'_> {
    /// Finds every loading that gives exactly so many of the places from `at` on another look, the
    /// places before being settled; false where there are too many.
    fn place(&mut self, open: &Domains, at: usize, elsewhere: usize) -> bool {
        let Some(&prop) = self.places.get(at) else {
            let look = |mask: &LookMask| u8::try_from(mask.trailing_zeros()).unwrap_or(u8::MAX);
            self.found.push(open.masks.iter().map(look).collect());
            return self.found.len() < MOST_FOUND;
        };
        for look in self.in_order.clone() {
            let moves = usize::from(self.looks.of_prop[prop] != look);
            let rest = self.places.len() - at - 1;
            if open.masks[prop] >> look & 1 == 0 || moves > elsewhere || elsewhere - moves > rest {
                continue;
            }
            let Some(left) = self.left.checked_sub(1) else { return false };
            self.left = left;
            let mut placed = open.clone();
            placed.masks[prop] = 1 << look;
            if placed.is_possible(self.looks) && !self.place(&placed, at + 1, elsewhere - moves) {
                return false;
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn act(shows: &str) -> String {
        format!(
            "Routine(title: \"T\", tempo: PerMinute(200), lead: Right,
            colours: {{ \"coral\": \"#ec6a5c\", \"teal\": \"#0f5b6d\", \"pearl\": \"#f4f1e6\" }},
            sets: {{ \"three\": Set(kind: Ball, length: 0.07, colours: [\"coral\", \"teal\", \
             \"pearl\"]) }},
            score: [
                Juggle(name: \"tide\", set: \"three\", pattern: \"531\", lasts: Cycles(4),
                    loading: Found, shows: {shows}),
                Pause(name: \"bow\", lasts: For(\"0:04\")),
            ])"
        )
    }

    fn of(shows: &str) -> Vec<Others> {
        let opened = crate::open(&act(shows));
        let act = opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
        others(act, &opened.colours.as_ref().unwrap().choices)
    }

    #[test]
    fn every_other_loading_that_meets_the_requests_is_told() {
        // The 3 is teal: its place is fixed, the other two may change places.
        let told = of("{ 2: [\"teal\"] }");
        let [one] = &told[..] else { panic!("{told:?}") };
        assert_eq!((one.section, one.loadings.len(), one.are_all), (0, 1, true));
        // The 5 and the 1 change colours in turn: asked, they fix every place.
        let told = of("{ 1: [\"coral\", \"pearl\"] }");
        assert_eq!(told[0].loadings, []);
        assert!(told[0].are_all);
    }

    #[test]
    fn the_fewest_props_change_places_and_the_left_hand_counts_as_the_right() {
        // Nine props, each of its own colour, five of them in the right hand; one is asked for.
        let names: Vec<String> = (0..9).map(|prop| format!("c{prop}")).collect();
        let looks: Vec<String> =
            names.iter().zip(1..).map(|(name, n)| format!("{name:?}: \"#{n}0{n}0{n}0\"")).collect();
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), lead: Right, colours: {{ {} }},
            sets: {{ \"nine\": Set(kind: Ball, length: 0.07, colours: {names:?}) }},
            score: [
                Juggle(name: \"tide\", set: \"nine\", pattern: \"b97999999\", lasts: Cycles(4),
                    loading: Found, shows: {{ 2: [\"c8\"] }}),
                Pause(name: \"bow\", lasts: For(\"0:04\")),
            ])",
            looks.join(", ")
        );
        let opened = crate::open(&text);
        let act = opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
        let told = others(act, &opened.colours.as_ref().unwrap().choices);
        let [one] = &told[..] else { panic!("{told:?}") };
        assert_eq!((one.loadings.len(), one.are_all), (MOST_TOLD, false));
        let Loading::Hands(found) = &act.routine.juggle(0).unwrap().loading.as_ref().unwrap().value
        else {
            panic!("nothing was found");
        };
        let named = |hands: &HandColours| -> Vec<String> {
            hands.right.iter().chain(&hands.left).map(|name| name.value.clone()).collect()
        };
        for other in &one.loadings {
            let moved = named(found).iter().zip(named(other)).filter(|(a, b)| *a != b).count();
            assert_eq!(moved, 2, "{other:?}");
        }
    }
}
