//! The schedule (state): for each coming beat and hand, how many props are due to be thrown there.

use crate::hand::Hand;

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

    /// Makes one more prop due.
    pub fn add(&mut self, hand: Hand, beat: u32) {
        let due = &mut self.due[hand.index()];
        let beat = beat as usize;
        if due.len() <= beat {
            due.resize(beat + 1, 0);
        }
        due[beat] += 1;
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
}
