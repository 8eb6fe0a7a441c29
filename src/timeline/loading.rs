//! Loadings: which prop is in which hand at a cold start, and in which order it leaves.

use crate::hand::Hand;
use crate::patterns::Schedule;
use crate::routine::{Juggle, Routine};

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

/// The written loading of a section, if it has one: the set's props by their colours, equal
/// colours in the set's order. `Err` when it does not name exactly the set's props. A loading that
/// is to be found is none: until it is, the natural one stands for it.
pub(super) fn written(
    routine: &Routine,
    set: usize,
    juggle: &Juggle,
) -> Option<Result<HandLoading, ()>> {
    let written = juggle.written_loading()?;
    let set = routine.sets.get(set)?;
    let mut left_over: Vec<Option<&str>> =
        set.colours.iter().map(|colour| Some(colour.value.as_str())).collect();
    let mut loading = HandLoading::default();
    for (hand, colours) in [(Hand::Right, &written.right), (Hand::Left, &written.left)] {
        for colour in colours {
            let found = left_over.iter().position(|left| *left == Some(colour.value.as_str()));
            let Some((place, prop)) = found.and_then(|at| Some((at, u8::try_from(at).ok()?)))
            else {
                return Some(Err(()));
            };
            left_over[place] = None;
            loading.hands[hand.index()].push(Prop(prop));
        }
    }
    let all_used = left_over.iter().all(Option::is_none);
    Some(if all_used { Ok(loading) } else { Err(()) })
}

/// The colour of each prop of a set: indices into the routine's colours.
pub(super) fn colours(routine: &Routine, set: usize) -> Vec<usize> {
    let of = |name: &str| routine.colours.iter().position(|colour| colour.name.value == name);
    routine.sets.get(set).map_or_else(Vec::new, |set| {
        set.colours.iter().map(|colour| of(&colour.value).unwrap_or(usize::MAX)).collect()
    })
}

/// The colours in the right and in the left hand, in order of leaving.
pub(super) fn colours_in_hands(
    routine: &Routine,
    set: usize,
    loading: &HandLoading,
) -> (Vec<usize>, Vec<usize>) {
    let colours = colours(routine, set);
    let of = |hand: Hand| {
        let props = loading.in_hand(hand).iter();
        props.filter_map(|prop| colours.get(usize::from(prop.0)).copied()).collect()
    };
    (of(Hand::Right), of(Hand::Left))
}

/// Whether two loadings have the same colours in each hand, in whatever order.
pub(super) fn same_colours(
    routine: &Routine,
    set: usize,
    one: &HandLoading,
    other: &HandLoading,
) -> bool {
    let sorted = |loading| {
        let (mut right, mut left) = colours_in_hands(routine, set, loading);
        right.sort_unstable();
        left.sort_unstable();
        (right, left)
    };
    sorted(one) == sorted(other)
}
