//! A shape of transition: how many slots of which notation, in which hands, and where a hand waits.
//!
//! A shape fixes everything but the throws. Its *cells* are the places where a prop can be due: one
//! for each slot and one for each beat and hand of what the goal needs, in the order in which
//! throws reach them. Beats count from the junction and include the wait. Which throws a shape
//! allows is [`super::completion`]'s and [`super::search`]'s affair.

use crate::hand::Hand;
use crate::notation::{HIGHEST_VALUE, Kind, Throw};
use crate::patterns::Schedule;

use super::{Entry, Origin};

/// A beat on which a hand throws.
#[derive(Clone, Debug)]
pub(super) struct Slot {
    /// The hand.
    pub(super) hand: Hand,
    /// Whether it acts alone or as half of a pair.
    pub(super) kind: Kind,
    /// Its own cell.
    pub(super) cell: usize,
    /// The first cell after it (after its pair).
    pub(super) after: usize,
    /// Every cell that it can reach at all and the throw that does, lowest throw first.
    pub(super) reach: Vec<(Throw, usize)>,
    /// For each value from 0, one more than the last cell that a throw so high reaches.
    pub(super) ends: Vec<usize>,
}

/// A place where props can be due.
#[derive(Clone, Debug)]
pub(super) struct Cell {
    /// The beat.
    beat: u32,
    /// The hand.
    pub(super) hand: Hand,
    /// How many props the goal needs here; `None` for a slot.
    pub(super) needed: Option<u32>,
    /// How many props are due here before anything is thrown.
    pub(super) due: u32,
}

/// One shape.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    /// In the order in which they act, left before right in a pair.
    pub(super) slots: Vec<Slot>,
    /// Those of the slots, then those of the goal. A throw of one slot reaches an unbroken stretch
    /// of them, and a later slot's stretch neither begins nor ends earlier.
    pub(super) cells: Vec<Cell>,
    /// Props at rest in each hand, left first, to be thrown at any cell of their hand.
    pub(super) rest: [u32; 2],
    /// Beats, that of an async-to-sync wait included.
    pub(super) beats: u32,
    /// The hand that waits.
    pub(super) waits: Option<Hand>,
    /// The hand of the next throw, where that is alternating.
    pub(super) begins: Option<Hand>,
    /// The hand of the goal's first throw, where that is alternating.
    pub(super) lead: Option<Hand>,
}

/// A hand that waits at a beat: what was due in it from there on comes a beat later.
#[derive(Clone, Copy)]
struct Wait {
    hand: Hand,
    beat: u32,
}

impl Wait {
    /// Where a prop due on `beat` comes after the wait.
    fn later(wait: Option<Wait>, hand: Hand, beat: u32) -> u32 {
        beat + u32::from(wait.is_some_and(|wait| wait.hand == hand && beat >= wait.beat))
    }

    /// Where what comes on `beat` was due as a throw before the wait counts it.
    fn before(wait: Option<Wait>, hand: Hand, beat: u32) -> u32 {
        beat - u32::from(wait.is_some_and(|wait| wait.hand == hand && beat > wait.beat))
    }
}

/// Slots before they know what they reach.
struct Plan {
    /// Beat, hand and notation, in the order in which they act.
    throws: Vec<(u32, Hand, Kind)>,
    wait: Option<Wait>,
    beats: u32,
    begins: Option<Hand>,
    lead: Option<Hand>,
}

impl Plan {
    fn new(beats: u32) -> Plan {
        Plan { throws: Vec::new(), wait: None, beats, begins: None, lead: None }
    }

    fn alternate(mut self, from: u32, first: Hand, count: u32) -> Plan {
        let throws = (0..count).map(|beat| (from + beat, first.after(beat), Kind::Async));
        self.throws.extend(throws);
        self
    }

    fn pair(mut self, from: u32, count: u32) -> Plan {
        let beats = (0..count).map(|pair| from + 2 * pair);
        let throws = beats.flat_map(|beat| Hand::BOTH.map(|hand| (beat, hand, Kind::Sync)));
        self.throws.extend(throws);
        self
    }
}

/// Every shape that takes so many beats and fits what is due, in the order in which equal throws
/// are preferred: the notation that is left for longer first, then the preferred hand.
pub(super) fn shapes(origin: &Origin, entry: &Entry, beats: u32) -> Vec<Shape> {
    let hands = [entry.preferred, entry.preferred.other()];
    let leads = |hand: &Hand| entry.lead.is_none_or(|lead| lead == *hand);
    let mut plans = Vec::new();
    match (origin, entry.kind) {
        (&Origin::Alternating { next, .. }, Kind::Async) => {
            let lead = next.after(beats);
            if leads(&lead) {
                let plan = Plan { begins: Some(next), lead: Some(lead), ..Plan::new(beats) };
                plans.push(plan.alternate(0, next, beats));
            }
        }
        (&Origin::Alternating { next, .. }, Kind::Sync) => {
            for pairs in (0..beats.div_ceil(2)).filter(|pairs| 2 * pairs < beats) {
                let alone = beats - 1 - 2 * pairs;
                let wait = Wait { hand: next.after(alone), beat: alone };
                let begins = (alone > 0).then_some(next);
                let plan = Plan { wait: Some(wait), begins, ..Plan::new(beats) };
                plans.push(plan.alternate(0, next, alone).pair(alone + 1, pairs));
            }
        }
        (Origin::Pairs { .. }, Kind::Async) => {
            for pairs in (0..=beats / 2).rev() {
                let alone = beats - 2 * pairs;
                // Equal throws are told apart by the hand that leads the goal.
                for lead in hands.into_iter().filter(leads) {
                    let first = lead.after(alone);
                    let wait = Wait { hand: first.other(), beat: 2 * pairs };
                    let begins = (pairs == 0).then_some(first);
                    let wait = Some(wait);
                    let plan = Plan { wait, begins, lead: Some(lead), ..Plan::new(beats) };
                    plans.push(plan.pair(0, pairs).alternate(2 * pairs, first, alone));
                }
            }
        }
        (Origin::AtRest { .. }, Kind::Async) => {
            for begins in hands {
                let lead = begins.after(beats);
                if leads(&lead) {
                    let plan = Plan { begins: Some(begins), lead: Some(lead), ..Plan::new(beats) };
                    plans.push(plan.alternate(0, begins, beats));
                }
            }
        }
        (Origin::Pairs { .. } | Origin::AtRest { .. }, Kind::Sync) => {
            if beats.is_multiple_of(2) {
                plans.push(Plan::new(beats).pair(0, beats / 2));
            }
        }
    }
    plans.into_iter().filter_map(|plan| Shape::lay_out(&plan, origin, entry)).collect()
}

impl Shape {
    /// Lays out the cells; `None` where a prop is due at no cell, or at more than the goal needs.
    fn lay_out(plan: &Plan, origin: &Origin, entry: &Entry) -> Option<Shape> {
        let mut cells = Shape::slot_cells(plan);
        let slots = cells.len();
        cells.extend(Shape::goal_cells(plan, entry));
        let mut rest = [0, 0];
        match origin {
            &Origin::AtRest { right, left } => rest = [left, right],
            Origin::Alternating { schedule, .. } | Origin::Pairs { schedule, .. } => {
                Shape::lay_down(&mut cells, schedule, plan.wait)?;
            }
        }
        let too_many = |cell: &Cell| cell.needed.is_some_and(|needed| cell.due > needed);
        if cells.iter().any(too_many) {
            return None;
        }
        let slots = plan.throws.iter().map(|throw| Slot::new(throw, &cells, slots, plan.wait));
        Some(Shape {
            slots: slots.collect(),
            rest,
            beats: plan.beats,
            waits: plan.wait.map(|wait| wait.hand),
            begins: plan.begins,
            lead: plan.lead,
            cells,
        })
    }

    /// One cell for each throw; of a pair, the one that a throw before the wait reaches first.
    fn slot_cells(plan: &Plan) -> Vec<Cell> {
        let cell = |&(beat, hand, _): &(u32, Hand, Kind)| Cell { beat, hand, needed: None, due: 0 };
        let mut cells: Vec<Cell> = plan.throws.iter().map(cell).collect();
        cells.sort_by_key(|cell| (cell.beat, Wait::before(plan.wait, cell.hand, cell.beat)));
        cells
    }

    fn goal_cells(plan: &Plan, entry: &Entry) -> Vec<Cell> {
        let schedule = match plan.lead {
            Some(Hand::Left) => entry.schedule.mirrored(),
            _ => entry.schedule.clone(),
        };
        let mut cells = Vec::new();
        for beat in 0..schedule.span() {
            for hand in Hand::BOTH {
                let needed = u32::from(schedule.due(hand, beat));
                let throws = match plan.lead {
                    Some(lead) => lead.after(beat) == hand,
                    None => beat.is_multiple_of(2),
                };
                // Props due where no hand throws are in no valid schedule; kept, they can never be met.
                if throws || needed > 0 {
                    let needed = Some(needed);
                    cells.push(Cell { beat: plan.beats + beat, hand, needed, due: 0 });
                }
            }
        }
        cells.sort_by_key(|cell| (cell.beat, Wait::before(plan.wait, cell.hand, cell.beat)));
        cells
    }

    /// Puts what is due into the cells where it comes after the wait.
    fn lay_down(cells: &mut [Cell], schedule: &Schedule, wait: Option<Wait>) -> Option<()> {
        for hand in Hand::BOTH {
            for beat in 0..schedule.span() {
                let due = u32::from(schedule.due(hand, beat));
                if due > 0 {
                    let beat = Wait::later(wait, hand, beat);
                    let cell = cells.iter_mut().find(|c| (c.beat, c.hand) == (beat, hand))?;
                    cell.due += due;
                }
            }
        }
        Some(())
    }
}

impl Slot {
    fn new(
        &(beat, hand, kind): &(u32, Hand, Kind),
        cells: &[Cell],
        slots: usize,
        wait: Option<Wait>,
    ) -> Slot {
        let cell = cells.iter().take(slots).position(|c| (c.beat, c.hand) == (beat, hand));
        let cell = cell.unwrap_or_else(|| unreachable!("`slot_cells` makes one for each throw"));
        // Only a pair has two cells on one beat.
        let after = cells.iter().take(slots).filter(|c| c.beat <= beat).count();
        let mut reach: Vec<(Throw, usize)> = Vec::new();
        for (index, target) in cells.iter().enumerate().skip(after) {
            let wait = wait.filter(|wait| beat < wait.beat);
            let due = Wait::before(wait, target.hand, target.beat);
            let Ok(value) = u8::try_from(due - beat) else { continue };
            let throw = match kind {
                Kind::Async => Throw::straight(value),
                Kind::Sync => Throw { value, crossing: target.hand != hand },
            };
            let fits = match kind {
                Kind::Async => value >= 1 && value.is_multiple_of(2) == (target.hand == hand),
                Kind::Sync => value >= 2 && value.is_multiple_of(2),
            };
            if fits && value <= HIGHEST_VALUE {
                reach.push((throw, index));
            }
        }
        reach.sort();
        let mut ends = vec![after; usize::from(HIGHEST_VALUE) + 1];
        for &(throw, cell) in &reach {
            let end = &mut ends[usize::from(throw.value)];
            *end = (*end).max(cell + 1);
        }
        for value in 1..ends.len() {
            ends[value] = ends[value].max(ends[value - 1]);
        }
        Slot { hand, kind, cell, after, ends, reach }
    }
}
