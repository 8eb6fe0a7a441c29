//! The schedule (state): for each coming beat and hand, how many props are due to be thrown there.

use crate::hand::Hand;
use crate::notation::{Kind, Step};

/// How many props are due in each hand on each coming beat, beat 0 being the next one.
///
/// Kept per hand, so that a junction knows hands. Trailing beats without props are never kept, so
/// equal schedules compare equal.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Schedule {
    /// Left, then right ([`Hand::index`]); each indexed by beats from now.
    due: [Vec<u8>; 2],
}

impl Schedule {
    /// No prop due anywhere.
    #[must_use]
    pub fn empty() -> Schedule {
        Schedule::default()
    }

    /// Props due in `hand`, `beat` beats from now.
    #[must_use]
    pub fn due(&self, hand: Hand, beat: u32) -> u8 {
        self.due[hand.index()].get(beat as usize).copied().unwrap_or(0)
    }

    /// Makes one more prop due. At most 255 on one beat of one hand, far above what is juggled.
    pub fn add(&mut self, hand: Hand, beat: u32) {
        let due = &mut self.due[hand.index()];
        let beat = beat as usize;
        if due.len() <= beat {
            due.resize(beat + 1, 0);
        }
        due[beat] = due[beat].saturating_add(1);
    }

    /// Beats from now to the last one on which a prop is due, plus one; 0 for no props.
    #[must_use]
    pub fn span(&self) -> u32 {
        let longest = self.due[0].len().max(self.due[1].len());
        u32::try_from(longest).unwrap_or_else(|_| unreachable!("a schedule spans some 35 beats"))
    }

    /// All props.
    #[must_use]
    pub fn props(&self) -> u32 {
        self.due.iter().flatten().map(|&count| u32::from(count)).sum()
    }

    /// Props due in one hand: what it must hold at a cold start.
    #[must_use]
    pub fn in_hand(&self, hand: Hand) -> u32 {
        self.due[hand.index()].iter().map(|&count| u32::from(count)).sum()
    }

    /// The same with the hands exchanged.
    #[must_use]
    pub fn mirrored(&self) -> Schedule {
        let [left, right] = &self.due;
        Schedule { due: [right.clone(), left.clone()] }
    }

    /// After `hand` has waited one beat: every prop due there comes one beat later.
    #[must_use]
    pub fn waited(&self, hand: Hand) -> Schedule {
        let mut waited = self.clone();
        let due = &mut waited.due[hand.index()];
        if !due.is_empty() {
            due.insert(0, 0);
        }
        waited
    }

    /// As it stands `beats` later, if nothing is thrown meanwhile: what was due before is dropped.
    #[must_use]
    pub fn later(&self, beats: u32) -> Schedule {
        let beats = beats as usize;
        Schedule { due: self.due.clone().map(|due| due.get(beats..).unwrap_or_default().to_vec()) }
    }

    /// The schedule after `step`, its beats gone by. `next` is the hand that acts next where the
    /// hands alternate; a pair does not ask.
    ///
    /// # Errors
    /// The first hand that must throw another number of props than the step lets it throw.
    pub fn step(&self, step: &Step, next: Hand) -> Result<Schedule, Misfit> {
        let mut thrown = [0; 2];
        for (hand, throws) in step.by_hand(next) {
            let props = throws.iter().filter(|written| written.throw.value > 0).count();
            thrown[hand.index()] = u32::try_from(props).unwrap_or(u32::MAX);
        }
        for beat in 0..step.beats() {
            for hand in Hand::BOTH {
                let thrown = if beat == 0 { thrown[hand.index()] } else { 0 };
                let due = u32::from(self.due(hand, beat));
                if due != thrown {
                    return Err(Misfit { hand, beat, due, thrown });
                }
            }
        }
        let mut after = self.clone();
        for (hand, throws) in step.by_hand(next) {
            for throw in throws.iter().map(|written| written.throw) {
                if throw.value > 0 {
                    after.add(throw.to(hand, step.kind()), u32::from(throw.value));
                }
            }
        }
        Ok(after.later(step.beats()))
    }

    /// Whether it is ground: one prop on each of the next beats; in pairs one in each hand on each
    /// of the next pairs, an odd prop in either hand. Anything else is excited.
    #[must_use]
    pub fn is_ground(&self, kind: Kind) -> bool {
        let both = |beat| self.due(Hand::Left, beat) + self.due(Hand::Right, beat);
        let span = self.span();
        match kind {
            Kind::Async => (0..span).all(|beat| both(beat) == 1),
            Kind::Sync => (0..span).all(|beat| {
                let one_each = self.due(Hand::Left, beat) == 1 && self.due(Hand::Right, beat) == 1;
                if beat % 2 == 1 {
                    both(beat) == 0
                } else {
                    one_each || (beat + 1 == span && both(beat) == 1)
                }
            }),
        }
    }
}

/// Why a step cannot be thrown from a schedule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Misfit {
    /// The hand that does not fit.
    pub hand: Hand,
    /// Beats from the step's first beat: 0, or 1 for the second beat of a pair.
    pub beat: u32,
    /// Props due in it on that beat.
    pub due: u32,
    /// Props that the step lets it throw.
    pub thrown: u32,
}
