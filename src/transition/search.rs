//! The search for shortest transitions: the least beats, then the ways of that length in order.

use crate::hand::Hand;
use crate::notation::Throw;
use crate::patterns::Schedule;

use super::completion::Partial;
use super::shape::{Shape, shapes};
use super::writing::written;
use super::{Bounds, Entry, Goal, Origin, Way};

/// Beyond this many beats nothing is looked for: with throws of 35 any two schedules of as many
/// props are joined within 36 beats, with waits and props that change hands within twice that.
const ENOUGH_BEATS: u32 = 144;

/// All ways of least length in their order, at most `at_most` of them; none when no way lies
/// within the bounds.
#[must_use]
pub fn ways(origin: &Origin, goal: Goal<'_>, bounds: Bounds, at_most: usize) -> Vec<Way> {
    ways_into(origin, &Entry::of(goal), bounds, at_most)
}

/// [`ways`] into any entry, a pattern's or not.
#[must_use]
pub fn ways_into(origin: &Origin, entry: &Entry, bounds: Bounds, at_most: usize) -> Vec<Way> {
    if origin.props() != entry.schedule.props() || at_most == 0 {
        return Vec::new();
    }
    let limits = Limits::new(origin, entry, bounds);
    for beats in 0..=bounds.beats.min(ENOUGH_BEATS) {
        let mut shapes = shapes(origin, entry, beats);
        shapes.retain(|shape| limits.partial(shape).completes(0, 0, u32::MAX));
        let found = in_order(&shapes, limits, at_most);
        if !found.is_empty() {
            return found.into_iter().map(|found| found.way(&shapes)).collect();
        }
    }
    Vec::new()
}

/// All ways of exactly so many beats, shortest or not, in their order; the bounds say how high and
/// how many at once. At most `at_most` of them.
#[must_use]
pub fn ways_of(
    origin: &Origin,
    goal: Goal<'_>,
    bounds: Bounds,
    beats: u32,
    at_most: usize,
) -> Vec<Way> {
    let entry = Entry::of(goal);
    if origin.props() != entry.schedule.props() || beats > ENOUGH_BEATS.min(bounds.beats) {
        return Vec::new();
    }
    let limits = Limits::new(origin, &entry, bounds);
    let mut shapes = shapes(origin, &entry, beats);
    shapes.retain(|shape| limits.partial(shape).completes(0, 0, u32::MAX));
    let mut found = Vec::new();
    for (shape, index) in shapes.iter().zip(0..) {
        let all = Group { multiplexes: 0..=u32::MAX, highest: 0..=limits.highest };
        let mut walk = Walk::new(limits, shape, index, all, at_most - found.len());
        walk.slot(0, 0);
        found.append(&mut walk.found);
    }
    found.sort();
    found.into_iter().map(|found| found.way(&shapes)).collect()
}

/// What the throws may be: the bounds, never below what the patterns on both sides use.
#[derive(Clone, Copy, Debug)]
struct Limits {
    highest: u8,
    at_once: u32,
}

impl Limits {
    fn new(origin: &Origin, entry: &Entry, bounds: Bounds) -> Limits {
        let most = |schedule: &Schedule| {
            let beats = 0..schedule.span();
            let due = beats.flat_map(|beat| Hand::BOTH.map(|hand| schedule.due(hand, beat)));
            due.max().unwrap_or(0)
        };
        let (uses, due) = match origin {
            Origin::Alternating { schedule, uses, .. } | Origin::Pairs { schedule, uses } => {
                (*uses, most(schedule))
            }
            Origin::AtRest { .. } => ((0, 0), 0),
        };
        let at_once = [1, bounds.at_once, uses.1, entry.uses.1, due, most(&entry.schedule)];
        let highest = bounds.highest.max(uses.0).max(entry.uses.0);
        Limits {
            highest: highest.min(crate::notation::HIGHEST_VALUE),
            at_once: at_once.into_iter().max().map_or(1, u32::from),
        }
    }

    fn partial(self, shape: &Shape) -> Partial<'_> {
        Partial::new(shape, self.highest, self.at_once)
    }
}

/// A way that was found. The order of the fields is the order in which ways are preferred.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Found {
    multiplexes: u32,
    highest: u8,
    /// For each slot its throws, as written; an empty hand throws a `0`.
    throws: Vec<Vec<Throw>>,
    /// Index of its shape.
    shape: usize,
}

impl Found {
    fn way(self, shapes: &[Shape]) -> Way {
        let shape = &shapes[self.shape];
        Way {
            throws: written(shape.slots.iter().map(|slot| slot.kind).zip(self.throws)),
            beats: shape.beats,
            waits: shape.waits,
            begins: shape.begins,
            lead: shape.lead,
        }
    }
}

/// The first ways, in order, of shapes that all take as many beats.
///
/// Ways come out of a shape in the order of their throws only, so the ways are gathered group by
/// group: first the fewest multiplexes that give enough ways, and among those the lowest highest
/// throw. Each group below holds fewer ways than are wanted, so no group is large to go through.
fn in_order(shapes: &[Shape], limits: Limits, at_most: usize) -> Vec<Found> {
    let gather = |group: Group, wanted: usize| {
        let mut found = Vec::new();
        for (shape, index) in shapes.iter().zip(0..) {
            let mut walk = Walk::new(limits, shape, index, group.clone(), wanted);
            walk.slot(0, 0);
            found.append(&mut walk.found);
        }
        found.sort();
        found.truncate(wanted);
        found
    };
    let slots = shapes.iter().map(|shape| shape.slots.len()).max().unwrap_or(0);
    let slots = u32::try_from(slots).unwrap_or_else(|_| unreachable!("ENOUGH_BEATS bounds it"));
    let up_to = |multiplexes| Group { multiplexes: 0..=multiplexes, highest: 0..=limits.highest };
    let multiplexes = first(slots, |n| gather(up_to(n), at_most).len() >= at_most);
    let mut found = match multiplexes.checked_sub(1) {
        Some(fewer) => gather(up_to(fewer), at_most),
        None => Vec::new(),
    };
    let wanted = at_most - found.len();
    let within = |highest: std::ops::RangeInclusive<u8>| Group {
        multiplexes: multiplexes..=multiplexes,
        highest,
    };
    let enough = |n| gather(within(0..=n), wanted).len() >= wanted;
    let highest = first(limits.highest, enough);
    if let Some(lower) = highest.checked_sub(1) {
        found.append(&mut gather(within(0..=lower), wanted));
    }
    let wanted = at_most - found.len();
    found.append(&mut gather(within(highest..=highest), wanted));
    found
}

/// The least number from 0 for which `enough` holds, which holds from there on; `last` if none
/// below it does.
fn first<N: Copy + Into<u32> + TryFrom<u32>>(last: N, enough: impl Fn(N) -> bool) -> N {
    let (mut low, mut high) = (0, last.into());
    while low < high {
        let middle = low + (high - low) / 2;
        let number = N::try_from(middle);
        if enough(number.unwrap_or_else(|_| unreachable!("it is at most `last`"))) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    N::try_from(low).unwrap_or_else(|_| unreachable!("it is at most `last`"))
}

/// Ways with so many multiplexes and so high a highest throw.
#[derive(Clone, Debug)]
struct Group {
    multiplexes: std::ops::RangeInclusive<u32>,
    highest: std::ops::RangeInclusive<u8>,
}

/// Goes through a shape's ways, the lowest throws first, never into what cannot be completed.
struct Walk<'s> {
    partial: Partial<'s>,
    index: usize,
    group: Group,
    wanted: usize,
    throws: Vec<Vec<Throw>>,
    found: Vec<Found>,
}

impl<'s> Walk<'s> {
    fn new(
        limits: Limits,
        shape: &'s Shape,
        index: usize,
        group: Group,
        wanted: usize,
    ) -> Walk<'s> {
        let mut partial = limits.partial(shape);
        partial.highest = *group.highest.end();
        let throws = Vec::with_capacity(shape.slots.len());
        Walk { partial, index, group, wanted, throws, found: Vec::new() }
    }

    /// Everything from a slot on, `multiplexes` having been thrown before it.
    fn slot(&mut self, slot: usize, multiplexes: u32) {
        let Some(left) = self.group.multiplexes.end().checked_sub(multiplexes) else { return };
        if self.found.len() >= self.wanted || !self.partial.completes(slot, 0, left) {
            return;
        }
        if slot < self.partial.shape.slots.len() {
            self.throws.push(Vec::new());
            self.throw(slot, multiplexes);
            self.throws.pop();
            return;
        }
        let highest = self.throws.iter().flatten().map(|throw| throw.value).max().unwrap_or(0);
        if self.group.multiplexes.contains(&multiplexes) && self.group.highest.contains(&highest) {
            let throws = self.throws.clone();
            self.found.push(Found { multiplexes, highest, throws, shape: self.index });
        }
    }

    /// Everything from a slot on of which some props have been thrown.
    fn throw(&mut self, slot: usize, multiplexes: u32) {
        let shape = self.partial.shape;
        let here = &shape.slots[slot];
        let hand = here.hand.index();
        let thrown = self.throws[slot].len();
        if self.partial.due[here.cell] == 0 {
            if thrown == 0 {
                self.throws[slot].push(Throw::straight(0));
            }
            self.slot(slot + 1, multiplexes + u32::from(thrown >= 2));
            if thrown == 0 {
                self.throws[slot].clear();
            }
        }
        let from_rest = self.partial.due[here.cell] == 0;
        let thrown = u32::try_from(thrown + 1).unwrap_or_else(|_| unreachable!("a hand is small"));
        if thrown > self.partial.at_once || (from_rest && self.partial.rest[hand] == 0) {
            return;
        }
        // Two thrown make it a multiplex, which is not counted again.
        let counted = multiplexes + u32::from(thrown >= 2);
        let Some(left) = self.group.multiplexes.end().checked_sub(counted) else { return };
        let last = self.throws[slot].last().copied();
        for &(throw, cell) in &shape.slots[slot].reach {
            if throw.value > self.partial.highest || self.found.len() >= self.wanted {
                break;
            }
            let may_follow = last.is_none_or(|last| {
                throw.value < last.value
                    || (throw.value == last.value && throw.crossing >= last.crossing)
            });
            let room = shape.cells[cell].needed.unwrap_or(self.partial.at_once);
            if !may_follow || self.partial.due[cell] >= room {
                continue;
            }
            let source = match from_rest {
                true => &mut self.partial.rest[hand],
                false => &mut self.partial.due[here.cell],
            };
            *source -= 1;
            self.partial.due[cell] += 1;
            self.throws[slot].push(throw);
            if self.partial.completes_below(slot, thrown, left, throw.value) {
                self.throw(slot, multiplexes);
            }
            self.throws[slot].pop();
            self.partial.due[cell] -= 1;
            match from_rest {
                true => self.partial.rest[hand] += 1,
                false => self.partial.due[here.cell] += 1,
            }
        }
    }
}
