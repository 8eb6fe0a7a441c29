//! Where the throws of a repeating sequence land, and whether each hand then has what it throws.
//!
//! A *slot* is one beat of one hand in the cycle. Where the hands alternate, each beat belongs to
//! one hand, so there is a slot for each beat (of an odd cycle the hand changes from pass to pass);
//! in pairs there is one for each hand of each pair. A sequence repeats for ever when as many
//! props land in each slot as are thrown from it.

use crate::hand::Hand;
use crate::notation::{Kind, Sequence, Throw};

use super::Schedule;

/// The most props that are counted; far above what is juggled.
const MOST_PROPS: u64 = 255;

/// One written value, where it stands in the cycle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Toss {
    /// The throw; a 0 is an empty hand.
    pub(super) throw: Throw,
    /// Beats from the cycle's first.
    pub(super) beat: u32,
    /// The hand that throws, in a pass led by the right.
    pub(super) hand: Hand,
    /// Its number as written, from 1.
    pub(super) number: u32,
}

/// All throws of a cycle and the balance of its slots.
#[derive(Clone, Debug)]
pub(super) struct Landings {
    tosses: Vec<Toss>,
    kind: Kind,
    period: u32,
    sum: u64,
    /// For each slot: props that land less props that are thrown.
    excess: Vec<i32>,
    /// How many slots are out of balance.
    unbalanced: usize,
}

impl Landings {
    /// Follows every throw of a sequence that is all of one kind and not empty.
    pub(super) fn of(sequence: &Sequence, kind: Kind) -> Landings {
        let period = sequence.beats();
        let mut landings = Landings {
            tosses: Vec::new(),
            kind,
            period,
            sum: 0,
            excess: vec![0; period as usize],
            unbalanced: 0,
        };
        let mut beat = 0;
        for step in &sequence.steps {
            for (hand, throws) in step.by_hand(Hand::Right.after(beat)) {
                for written in throws {
                    let toss = Toss { throw: written.throw, beat, hand, number: written.number };
                    landings.tosses.push(toss);
                    landings.count(toss, 1);
                }
            }
            beat += step.beats();
        }
        landings
    }

    /// Puts a throw into the balance (`sign` 1) or takes it out (−1).
    fn count(&mut self, toss: Toss, sign: i32) {
        if toss.throw.value == 0 {
            return;
        }
        let value = u64::from(toss.throw.value);
        self.sum = if sign > 0 { self.sum + value } else { self.sum - value };
        let leaves = self.slot(toss.beat, toss.hand);
        let lands = self.slot(self.lands_on(toss), toss.throw.to(toss.hand, self.kind));
        self.shift(leaves, -sign);
        self.shift(lands, sign);
    }

    fn shift(&mut self, slot: usize, by: i32) {
        let was = self.excess[slot];
        self.excess[slot] = was + by;
        match (was == 0, was + by == 0) {
            (true, false) => self.unbalanced += 1,
            (false, true) => self.unbalanced -= 1,
            _ => {}
        }
    }

    /// Makes another throw of one of them.
    pub(super) fn change(&mut self, toss: usize, throw: Throw) {
        self.count(self.tosses[toss], -1);
        self.tosses[toss].throw = throw;
        self.count(self.tosses[toss], 1);
    }

    /// The beat on which a throw lands, counted from the cycle's first.
    pub(super) fn lands_on(&self, toss: Toss) -> u32 {
        toss.beat + u32::from(toss.throw.value)
    }

    /// The hand in which it lands, in a pass led by the right.
    pub(super) fn lands_in(&self, toss: Toss) -> Hand {
        toss.throw.to(toss.hand, self.kind)
    }

    /// The slot of a beat and hand. Pairs act on even beats only, which leaves the odd numbers to
    /// the right hand.
    pub(super) fn slot(&self, beat: u32, hand: Hand) -> usize {
        let beat = (beat % self.period) as usize;
        match self.kind {
            Kind::Async => beat,
            Kind::Sync => beat + hand.index(),
        }
    }

    /// The throws, in order of beat, left hand before right, then as written.
    pub(super) fn tosses(&self) -> &[Toss] {
        &self.tosses
    }

    /// Alternating hands or pairs.
    pub(super) fn kind(&self) -> Kind {
        self.kind
    }

    /// Beats of the cycle.
    pub(super) fn period(&self) -> u32 {
        self.period
    }

    /// The sum of all values.
    pub(super) fn sum(&self) -> u64 {
        self.sum
    }

    /// How many props it needs: the average of its values, if that is a whole number that can be
    /// counted.
    pub(super) fn props(&self) -> Option<u32> {
        let period = u64::from(self.period);
        let whole = self.sum.is_multiple_of(period) && self.sum / period <= MOST_PROPS;
        if whole { u32::try_from(self.sum / period).ok() } else { None }
    }

    /// Whether as many props land in each slot as are thrown from it.
    pub(super) fn all_fit(&self) -> bool {
        self.unbalanced == 0
    }

    /// How many slots are out of balance.
    pub(super) fn unbalanced(&self) -> usize {
        self.unbalanced
    }

    /// For each slot, props that land less props that are thrown.
    pub(super) fn excess(&self) -> &[i32] {
        &self.excess
    }

    /// What is due before the first throw, when the cycle has run for ever.
    pub(super) fn schedule(&self) -> Schedule {
        let mut schedule = Schedule::empty();
        for &toss in &self.tosses {
            let mut lands = self.lands_on(toss);
            let mut hand = self.lands_in(toss);
            while lands >= self.period && toss.throw.value > 0 {
                lands -= self.period;
                if self.kind == Kind::Async {
                    hand = hand.after(self.period);
                }
                schedule.add(hand, lands);
            }
        }
        schedule
    }
}
