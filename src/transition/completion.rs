//! Whether throws that have been begun can be completed, and with how few multiplex throws.
//!
//! # Why counting is enough
//!
//! Give every slot room for one prop, or for the most at once where it may be a multiplex. A slot
//! that throws less than it has room for keeps the rest of its room to itself: a `0` lands where
//! it was thrown. Then throws pair *room to throw* with *room to land*, one to one, and each slot
//! reaches an unbroken stretch of cells whose two ends never move backwards from one slot to the
//! next ([`super::shape::Shape::cells`]). In such a case the first room to throw may as well take
//! the first room to land, the second the second, and so on; so a pairing exists exactly when for
//! every slot
//!
//! > room of the slots after it, up to the last cell that it reaches
//! > ≥ props due or at rest up to that cell − props needed up to that cell.
//!
//! (The two hands of a pair cannot throw to each other on their own beat; but where the order
//! above would have them do so, exchanging the two targets mends it.) Props at rest only ever do
//! harm by leaving early, so each hand's leave as late as its cells have room.
//!
//! Each condition asks a stretch of slots for so many multiplexes. Without props at rest the
//! fewest slots that satisfy all of them are found by going through the stretches in order and
//! taking from each the latest slots. With props at rest they are found by trying, latest first,
//! under the bound that the neediest condition gives.

use super::shape::{Shape, Slot};

/// A shape with some of its throws made.
#[derive(Clone, Debug)]
pub(super) struct Partial<'s> {
    /// The shape.
    pub(super) shape: &'s Shape,
    /// The highest throw that may be made from here on.
    pub(super) highest: u8,
    /// The most props that one hand may throw at once.
    pub(super) at_once: u32,
    /// Props due at each cell and not thrown yet.
    pub(super) due: Vec<u32>,
    /// Props still at rest in each hand, left first.
    pub(super) rest: [u32; 2],
    /// How many props each slot's cell has room to throw.
    room: Vec<u32>,
    /// Whether that could be more, were the slot a multiplex.
    may_grow: Vec<bool>,
    excess: Vec<i64>,
    limit: u8,
}

impl<'s> Partial<'s> {
    /// Nothing thrown yet.
    pub(super) fn new(shape: &'s Shape, highest: u8, at_once: u32) -> Partial<'s> {
        Partial {
            shape,
            highest,
            at_once,
            due: shape.cells.iter().map(|cell| cell.due).collect(),
            rest: shape.rest,
            room: vec![0; shape.slots.len()],
            may_grow: vec![false; shape.slots.len()],
            excess: vec![0; shape.cells.len() + 1],
            limit: highest,
        }
    }

    /// Whether throws from slot `from` on can meet the goal, `thrown` props of that slot having
    /// been thrown already, with at most `multiplexes` multiplex throws more. A slot of which two
    /// props have been thrown is one already and is not counted again.
    pub(super) fn completes(&mut self, from: usize, thrown: u32, multiplexes: u32) -> bool {
        self.completes_below(from, thrown, multiplexes, self.highest)
    }

    /// [`Partial::completes`] where what is still due at slot `from` may be thrown as high as
    /// `limit` only.
    pub(super) fn completes_below(
        &mut self,
        from: usize,
        thrown: u32,
        multiplexes: u32,
        limit: u8,
    ) -> bool {
        self.limit = limit;
        let Some(budget) = self.make_room(from, thrown).and_then(|n| multiplexes.checked_sub(n))
        else {
            return false;
        };
        if self.rest == [0, 0] {
            self.sum_excess();
            self.completes_in_order(from, budget)
        } else {
            self.completes_latest_first(from, self.shape.slots.len(), budget)
        }
    }

    /// Gives each slot the room that it has without a choice; says how many slots are multiplexes
    /// because of what is due there. `None` where more is due than may be thrown at once.
    fn make_room(&mut self, from: usize, thrown: u32) -> Option<u32> {
        self.room.fill(0);
        self.may_grow.fill(false);
        let mut forced = 0;
        for (index, slot) in self.shape.slots.iter().enumerate().skip(from) {
            let thrown = if index == from { thrown } else { 0 };
            let due = self.due[slot.cell];
            if thrown + due > self.at_once {
                return None;
            }
            let many = thrown + due >= 2;
            forced += u32::from(many && thrown < 2);
            self.room[slot.cell] = if many { self.at_once - thrown } else { 1 - thrown };
            self.may_grow[slot.cell] = !many && self.at_once > 1;
        }
        Some(forced)
    }

    /// For each cell, how many props are due before it beyond what the goal needs there.
    fn sum_excess(&mut self) {
        let mut sum = 0;
        for (index, cell) in self.shape.cells.iter().enumerate() {
            sum += i64::from(self.due[index]) - i64::from(cell.needed.unwrap_or(0));
            self.excess[index + 1] = sum;
        }
    }

    /// How far the slot in hand reaches under its limit, and what is due at the other hand of its
    /// pair, which the limit does not concern.
    fn limited(&self, slot: &Slot) -> (usize, i64) {
        let pair: u32 = self.due[..slot.after].iter().sum();
        (slot.ends[usize::from(self.limit)], i64::from(pair - self.due[slot.cell]))
    }

    fn room_in(&self, cells: std::ops::Range<usize>) -> i64 {
        let cells = cells.start.min(self.room.len())..cells.end.min(self.room.len());
        self.room[cells].iter().copied().map(i64::from).sum()
    }

    /// Without props at rest: from each slot's stretch in order, the latest slots.
    fn completes_in_order(&mut self, from: usize, mut budget: u32) -> bool {
        let shape = self.shape;
        let slots = &shape.slots[from..];
        let limited = slots.first().map(|slot| (slot, self.limited(slot)));
        let ends = slots.iter().map(|slot| {
            let end = slot.ends[usize::from(self.highest)];
            (slot, (end, 0))
        });
        for (slot, (end, aside)) in limited.into_iter().chain(ends) {
            let mut lacking = self.excess[end] - aside - self.room_in(slot.after..end);
            let mut cell = end.min(self.room.len());
            while lacking > 0 {
                if cell <= slot.after || budget == 0 {
                    return false;
                }
                cell -= 1;
                if self.may_grow[cell] {
                    self.may_grow[cell] = false;
                    self.room[cell] = self.at_once;
                    lacking -= i64::from(self.at_once) - 1;
                    budget -= 1;
                }
            }
        }
        true
    }

    /// With props at rest: tries the slots before `below` as multiplexes, latest first.
    fn completes_latest_first(&mut self, from: usize, below: usize, budget: u32) -> bool {
        match self.multiplexes_lacking(from) {
            Some(0) => return true,
            Some(lacking) if lacking <= budget && below > from => {}
            _ => return false,
        }
        let slot = below - 1;
        let cell = self.shape.slots[slot].cell;
        if self.may_grow[cell] {
            self.room[cell] += self.at_once - 1;
            if self.completes_latest_first(from, slot, budget - 1) {
                return true;
            }
            self.room[cell] -= self.at_once - 1;
        }
        self.completes_latest_first(from, slot, budget)
    }

    /// How many multiplexes the neediest condition lacks; 0 when all are met, `None` when no
    /// multiplex can help.
    fn multiplexes_lacking(&mut self, from: usize) -> Option<u32> {
        self.sum_excess();
        let shape = self.shape;
        let mut most = 0;
        if let Some(slot) = shape.slots.get(from) {
            let (end, aside) = self.limited(slot);
            most = most.max(self.excess[end] - aside - self.room_in(slot.after..end));
        }
        // Room for each hand's props at rest in the cells from an end on, left hand first.
        let mut ahead = [0, 0];
        let mut cell = shape.cells.len();
        for slot in shape.slots[from..].iter().rev() {
            let end = slot.ends[usize::from(self.highest)];
            while cell > end {
                cell -= 1;
                ahead[shape.cells[cell].hand.index()] += self.room_at(cell);
            }
            let hands = self.rest.into_iter().zip(ahead);
            let early: i64 = hands.map(|(rest, ahead)| (i64::from(rest) - ahead).max(0)).sum();
            most = most.max(self.excess[end] + early - self.room_in(slot.after..end));
        }
        while cell > 0 {
            cell -= 1;
            ahead[shape.cells[cell].hand.index()] += self.room_at(cell);
        }
        for (rest, ahead) in self.rest.into_iter().zip(ahead) {
            most = most.max(i64::from(rest) - ahead);
        }
        match (most, i64::from(self.at_once) - 1) {
            (0, _) => Some(0),
            (_, 0) => None,
            (most, each) => u32::try_from((most + each - 1) / each).ok(),
        }
    }

    /// Room for props at rest at a cell.
    fn room_at(&self, cell: usize) -> i64 {
        let room = match self.shape.cells[cell].needed {
            Some(needed) => needed,
            None => self.room[cell],
        };
        i64::from(room) - i64::from(self.due[cell])
    }
}
