//! Loadings: which prop is in which hand at a cold start, and in which order it leaves.

use crate::diagnostic::Placed;
use crate::hand::Hand;
use crate::patterns::Schedule;
use crate::routine::{HandColours, Juggle, PropSet, Routine};

use super::run::{Action, HandLoading, Prop};

/// The natural loading: the set's props in the order in which they are first called for, by beat,
/// left before right. Where more are called for than the set has, which is reported, the others
/// are counted on from its last.
pub(super) fn natural(called: &Schedule) -> HandLoading {
    let mut loading = HandLoading::default();
    let mut next = 0_u8;
    for beat in 0..called.span() {
        for hand in Hand::BOTH {
            for _ in 0..called.due(hand, beat) {
                loading.hands[hand.index()].push(Prop(next));
                next = next.saturating_add(1);
            }
        }
    }
    loading
}

/// What each prop of a natural loading is called once its run is laid out, where that differs: a
/// wait early in the run may call for the props in another order than the first section alone.
/// Props that are never called for come last, in their old order.
pub(super) fn order_of_calls(actions: &[Action], props: usize) -> Option<Vec<Prop>> {
    let mut called: Vec<Prop> = Vec::with_capacity(props);
    for prop in actions.iter().filter_map(|action| action.prop) {
        if called.len() == props {
            break;
        }
        if !called.contains(&prop) {
            called.push(prop);
        }
    }
    let all = || (0..props).filter_map(|prop| u8::try_from(prop).ok()).map(Prop);
    let in_order = called.iter().copied().zip(all()).all(|(prop, name)| prop == name);
    let counted_on = called.iter().any(|prop| usize::from(prop.0) >= props);
    if in_order || counted_on {
        return None;
    }
    let never: Vec<Prop> = all().filter(|prop| !called.contains(prop)).collect();
    called.extend(never);
    let mut names: Vec<(Prop, Prop)> = called.into_iter().zip(all()).collect();
    names.sort_unstable();
    Some(names.into_iter().map(|(_, name)| name).collect())
}

/// The written loading of a section, if it has one: the set's props by their names, equal ones in
/// the set's order. `Err` when it does not name exactly the set's props. A loading
/// that is to be found is none: until it is, the natural one stands for it.
pub(super) fn written(
    routine: &Routine,
    set: usize,
    juggle: &Juggle,
) -> Option<Result<HandLoading, ()>> {
    let written = juggle.written_loading()?;
    named(routine.sets.get(set)?, written, &HandLoading::default()).map(Ok).or(Some(Err(())))
}

/// As [`written`], of props that the hands hold already: `Err` too when it names another prop in
/// a hand than the hand holds.
pub(super) fn written_of_held(
    routine: &Routine,
    set: usize,
    juggle: &Juggle,
    held: &HandLoading,
) -> Option<Result<HandLoading, ()>> {
    let written = juggle.written_loading()?;
    let named = named(routine.sets.get(set)?, written, held);
    let in_their_hands = |named: &HandLoading| {
        Hand::BOTH
            .iter()
            .all(|&hand| named.in_hand(hand).iter().all(|prop| held.in_hand(hand).contains(prop)))
    };
    Some(named.filter(in_their_hands).ok_or(()))
}

/// Whether a loading names exactly the props of a set.
#[must_use]
pub fn names_the_props(set: &PropSet, written: &HandColours) -> bool {
    named(set, written, &HandLoading::default()).is_some()
}

/// The props that a loading names, right hand first: exactly the set's, or none at all. Of props
/// that a name fits, one that is in the hand already goes before others, so that the fewest change
/// hands, and of several the one that leaves first there; otherwise the first of the set, and of
/// those like it on both faces the one that leaves first. Names in full choose before those that
/// leave the back open.
pub(super) fn named(
    set: &PropSet,
    written: &HandColours,
    held: &HandLoading,
) -> Option<HandLoading> {
    let sides = [(Hand::Right, &written.right), (Hand::Left, &written.left)];
    let mut names: Vec<(Hand, &str, Option<Prop>)> = Vec::new();
    for (hand, written) in sides {
        names.extend(written.iter().map(|name| (hand, name.value.as_str(), None)));
    }
    let all = (0..set.colours.len()).filter_map(|prop| u8::try_from(prop).ok()).map(Prop);
    // After a trouble the hands may hold what the set does not have.
    let is_of_set = |prop: &&Prop| usize::from(prop.0) < set.colours.len();
    let mut left: Vec<Prop> = held.hands.iter().flatten().filter(is_of_set).copied().collect();
    left.extend(all.filter(|prop| !held.hands.iter().any(|hand| hand.contains(prop))));
    for in_full in [true, false] {
        for at_home in [true, false] {
            for (hand, name, taken) in names.iter_mut().filter(|(.., taken)| taken.is_none()) {
                let fits = |prop: &Prop| {
                    let place = usize::from(prop.0);
                    let called = if in_full {
                        set.is_called_in_full(place, name)
                    } else {
                        set.is_called(place, name)
                    };
                    called && (!at_home || held.in_hand(*hand).contains(prop))
                };
                let first = match at_home {
                    true => left.iter().find(|prop| fits(prop)),
                    false => left.iter().filter(|prop| fits(prop)).min(),
                };
                let Some(&first) = first else { continue };
                let look = |prop: Prop| set.name_of(usize::from(prop.0));
                let is_like = |prop: &Prop| fits(prop) && look(*prop) == look(first);
                *taken = left.iter().position(is_like).map(|place| left.remove(place));
            }
        }
    }
    let mut loading = HandLoading::default();
    for (hand, _, taken) in names {
        loading.hands[hand.index()].push(taken?);
    }
    left.is_empty().then_some(loading)
}

/// The colour of each prop's front and of its back, none where props have one face: indices into
/// the routine's colours.
pub(super) fn faces(routine: &Routine, set: usize) -> [Vec<usize>; 2] {
    let of = |name: &str| routine.colours.iter().position(|colour| colour.name.value == name);
    let colours = |names: &[Placed<String>]| {
        names.iter().map(|name| of(&name.value).unwrap_or(usize::MAX)).collect()
    };
    let set = routine.sets.get(set);
    set.map_or_else(Default::default, |set| [colours(&set.colours), colours(&set.backs)])
}
