//! What the places of a search still ask of the props that come to them, from the end backward.
//!
//! Where the forward search has gone through much already, every place gets the arrangements with
//! which all that comes behind it can be met; what comes to it with none of them is a dead end, and
//! where the first place has none, nothing can be met. They may be too many, never too few: a place
//! with more than are kept counts as one that asks nothing.

use std::collections::HashSet;

use super::Bound;
use super::colouring::{Domains, Tie};
use super::place::{Props, Step};
use super::search::{GaveUp, MOST_BYTES, Search};

/// So many arrangements are kept of one place.
const MOST_KEPT: usize = 1_000;

/// So many places are looked back from.
const MOST_PLACES: usize = 500;

/// One part in so many of what the search may still go through, and of what it keeps, is spent on
/// making all places.
const PART: usize = 8;

/// So many steps are taken back in all.
const MOST_TAKEN: usize = 300_000;

/// For each place the arrangements with which it goes on to the end; `None` where that is not known.
#[derive(Default)]
pub(super) struct Asked(Vec<Option<Vec<Domains>>>);

impl Search<'_> {
    /// Finds what every place asks. Nothing is known where the places or steps are too many.
    pub(super) fn look_back(&mut self) -> Asked {
        let before = self.budget.left();
        self.budget.restore(before / PART);
        let made = self.make_all();
        // What was made is kept for the search and costs it nothing: it may never need it.
        self.budget.restore(before);
        if made.is_err() || self.places.len() > MOST_PLACES {
            return Asked::default();
        }
        let mut asked = Asked(vec![None; self.places.len()]);
        let mut taken = 0;
        let mut order: Vec<usize> = (0..self.places.len()).collect();
        order.sort_by_key(|&place| std::cmp::Reverse(self.places[place].section));
        for place in order {
            if self.places[place].section == self.routine.score.len() {
                continue;
            }
            let mut found: HashSet<Domains> = HashSet::new();
            for step in self.places[place].made() {
                match asked.0.get(step.to).and_then(Option::as_ref) {
                    Some(all) => {
                        taken += all.len();
                        let back =
                            all.iter().map(|after| self.taken_back(place, step, Some(after)));
                        found.extend(back.flatten());
                    }
                    // The end asks nothing; nor does a place where it is not known what it asks.
                    None => {
                        taken += 1;
                        found.extend(self.taken_back(place, step, None));
                    }
                }
                if taken > MOST_TAKEN {
                    return asked;
                }
                if found.len() > MOST_KEPT {
                    break;
                }
            }
            if found.len() <= MOST_KEPT {
                asked.0[place] = Some(found.into_iter().collect());
            }
        }
        asked
    }

    /// Makes the ways on from every place that there is, as far as they are not too many.
    fn make_all(&mut self) -> Result<(), GaveUp> {
        let mut place = 0;
        let most = self.budget.kept() + MOST_BYTES / PART;
        while place < self.places.len() && self.places.len() <= MOST_PLACES {
            if self.places[place].section < self.routine.score.len() {
                for ways in 0..=self.longest_way(place) {
                    self.steps(place, ways)?;
                    if self.budget.kept() > most {
                        return Err(GaveUp(Bound::Memory));
                    }
                }
            }
            place += 1;
        }
        Ok(())
    }

    /// What a place asks so that a step from it can be taken and comes to `after`; `None` where no
    /// props can.
    fn taken_back(&self, place: usize, step: &Step, after: Option<&Domains>) -> Option<Domains> {
        let (set, moved, anew) = match &step.props {
            Props::Moved(moved) => (self.places[place].set(), moved, false),
            Props::Loaded { set, moved, .. } => (Some(*set), moved, true),
        };
        let nothing = |props| Domains { masks: vec![u64::MAX; props], ties: Vec::new() };
        let Some(looks) = set.and_then(|set| self.looks.get(set)) else {
            return Some(nothing(self.places[place].props()));
        };
        let mut domains = Domains::open(looks.of_prop.len(), looks);
        if let Some(after) = after.filter(|after| after.masks.len() == moved.len()) {
            for (mask, &was) in after.masks.iter().zip(moved) {
                *domains.masks.get_mut(usize::from(was))? &= mask;
            }
            let at = |now: u8| moved.get(usize::from(now)).copied();
            for tie in &after.ties {
                domains.ties.push(Tie::of(at(tie.one)?, at(tie.other)?, tie.alike, tie.face));
            }
            domains.ties.sort_unstable();
        }
        let possible = self.demanded(step).all(|demand| domains.demand(demand, looks))
            && domains.is_possible(looks);
        match (possible, anew) {
            (false, _) => None,
            // Before that the props may be whatever they are.
            (true, true) => Some(nothing(self.places[place].props())),
            (true, false) => Some(domains),
        }
    }

    /// Whether props can go on from a place to the end, as far as it is known what they are and what
    /// that asks.
    pub(super) fn can_go_on(
        &self,
        asked: &Asked,
        place: usize,
        (set, known): (Option<usize>, &Domains),
    ) -> bool {
        let Some(Some(all)) = asked.0.get(place) else { return true };
        let looks = set.and_then(|set| self.looks.get(set));
        all.iter().any(|one| {
            if one.masks.len() != known.masks.len() {
                return true;
            }
            let both = one.masks.iter().zip(&known.masks);
            if both.clone().any(|(one, known)| one & known == 0) {
                return false;
            }
            let Some(looks) = looks else { return true };
            let mut ties: Vec<Tie> = one.ties.iter().chain(&known.ties).copied().collect();
            ties.sort_unstable();
            ties.dedup();
            let masks = both.map(|(one, known)| one & known).collect();
            Domains { masks, ties }.is_possible(looks)
        })
    }
}
