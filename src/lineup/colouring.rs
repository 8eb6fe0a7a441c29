//! Which prop has which look: an assignment that meets every demand, or the proof that none does.
//!
//! Exact. Demands on single props are a matching of props to looks; what ties props to each other
//! is tried out, the most constrained prop first.

use crate::timeline::Face;

use super::demand::Demand;
use super::looks::{LookMask, Looks};

/// What is known of a number of props.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Domains {
    /// The looks that each prop may have.
    pub(super) masks: Vec<LookMask>,
    /// Props that must look alike, or must not: the lower index first, in order, each once.
    pub(super) ties: Vec<Tie>,
}

/// Two props tied to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Tie {
    /// The lower index.
    pub(super) one: u8,
    /// The higher index.
    pub(super) other: u8,
    /// Whether they must look alike; otherwise they must not.
    pub(super) alike: bool,
    /// The face on which.
    pub(super) face: Face,
}

impl Tie {
    pub(super) fn of(one: u8, other: u8, alike: bool, face: Face) -> Tie {
        Tie { one: one.min(other), other: one.max(other), alike, face }
    }
}

impl Domains {
    /// Props that may still be any.
    pub(super) fn open(props: usize, looks: &Looks) -> Domains {
        Domains { masks: vec![looks.all(); props], ties: Vec::new() }
    }

    /// Adds a demand, `place` being the index of a prop; false where a prop is left no look.
    pub(super) fn demand(&mut self, demand: Demand, looks: &Looks) -> bool {
        match demand {
            Demand::Is(prop, shown) => {
                let mask = &mut self.masks[usize::from(prop)];
                *mask &= shown;
                *mask != 0
            }
            Demand::Alike(one, other, face) => {
                one == other || self.tie(Tie::of(one, other, true, face), looks)
            }
            Demand::Unlike(one, other, face) => {
                one != other && self.tie(Tie::of(one, other, false, face), looks)
            }
        }
    }

    /// Whether a demand leaves every prop some look, as far as one glance tells.
    pub(super) fn may(&self, demand: Demand) -> bool {
        match demand {
            Demand::Is(prop, shown) => self.masks[usize::from(prop)] & shown != 0,
            Demand::Alike(..) | Demand::Unlike(..) => true,
        }
    }

    fn tie(&mut self, tie: Tie, looks: &Looks) -> bool {
        let Tie { one, other, alike, face } = tie;
        if let Err(at) = self.ties.binary_search(&tie) {
            self.ties.insert(at, tie);
        }
        let opposite = Tie { alike: !alike, ..tie };
        if alike {
            let (one, other) = (usize::from(one), usize::from(other));
            self.masks[one] &= looks.alike(self.masks[other], face);
            self.masks[other] &= looks.alike(self.masks[one], face);
            return self.masks[one] != 0 && self.ties.binary_search(&opposite).is_err();
        }
        self.ties.binary_search(&opposite).is_err()
    }

    /// The same with the props in another order: place n is what was at `from[n]`.
    pub(super) fn reordered(&self, from: &[u8]) -> Domains {
        let masks = from.iter().map(|&old| self.masks[usize::from(old)]).collect();
        let mut now = vec![0_u8; from.len()];
        for (new, &old) in (0_u8..).zip(from) {
            now[usize::from(old)] = new;
        }
        let moved = |tie: &Tie| {
            let (one, other) = (now[usize::from(tie.one)], now[usize::from(tie.other)]);
            Tie::of(one, other, tie.alike, tie.face)
        };
        let mut ties: Vec<Tie> = self.ties.iter().map(moved).collect();
        ties.sort_unstable();
        Domains { masks, ties }
    }

    /// Whether every prop has one look only.
    pub(super) fn is_settled(&self) -> bool {
        self.masks.iter().all(|mask| mask.count_ones() == 1)
    }

    /// Whether some assignment uses each look as often as there are props of it.
    pub(super) fn is_possible(&self, looks: &Looks) -> bool {
        let mut left: Vec<i16> = looks.count.iter().map(|&count| i16::from(count)).collect();
        let mut masks = self.masks.clone();
        self.complete(looks, &mut masks, &mut left, &mut vec![false; self.masks.len()])
    }

    /// Whether some assignment gives the first `first.len()` props these looks, in whatever order,
    /// and the others those.
    pub(super) fn is_possible_parted(&self, looks: &Looks, first: &[u8], second: &[u8]) -> bool {
        if first.len() + second.len() != self.masks.len() {
            return false;
        }
        // Where that many looks have no room, only the whole is asked.
        let Some(parted) = looks.parted(first, second) else { return self.is_possible(looks) };
        let mut domains = self.clone();
        for mask in &mut domains.masks[first.len()..] {
            *mask <<= looks.len();
        }
        domains.is_possible(&parted)
    }

    /// Decides the tied props one after another, then matches the others.
    fn complete(
        &self,
        looks: &Looks,
        masks: &mut [LookMask],
        left: &mut [i16],
        decided: &mut [bool],
    ) -> bool {
        if !matched(masks, left, decided) {
            return false;
        }
        let tied = self.ties.iter().flat_map(|tie| [tie.one, tie.other]).map(usize::from);
        let next = tied.filter(|&prop| !decided[prop]).min_by_key(|&prop| {
            // The most constrained first, then the first in order.
            (masks[prop].count_ones(), prop)
        });
        let Some(prop) = next else { return true };
        let mut failed: Vec<usize> = Vec::new();
        for look in bits(masks[prop]) {
            // What failed with one look fails with another that could stand in its place.
            let stands_for = |one: &usize| self.are_interchangeable(looks, masks, left, *one, look);
            if left[look] == 0 || failed.iter().any(stands_for) {
                continue;
            }
            failed.push(look);
            let before = masks.to_vec();
            left[look] -= 1;
            decided[prop] = true;
            masks[prop] = 1 << look;
            let mut fits = true;
            for tie in &self.ties {
                let ends = [usize::from(tie.one), usize::from(tie.other)];
                let Some(at) = ends.iter().position(|&end| end == prop) else { continue };
                let other = ends[1 - at];
                let alike = looks.alike(1 << look, tie.face);
                masks[other] &= if tie.alike { alike } else { !alike };
                fits &= masks[other] != 0;
            }
            if fits && self.complete(looks, masks, left, decided) {
                return true;
            }
            masks.copy_from_slice(&before);
            left[look] += 1;
            decided[prop] = false;
        }
        false
    }

    /// Whether everything that is still open is the same with these two looks exchanged.
    fn are_interchangeable(
        &self,
        looks: &Looks,
        masks: &[LookMask],
        left: &[i16],
        one: usize,
        other: usize,
    ) -> bool {
        let both: LookMask = 1 << one | 1 << other;
        let has_both_or_neither = |mask: LookMask| mask & both == 0 || mask & both == both;
        if left[one] != left[other] || !masks.iter().all(|mask| has_both_or_neither(*mask)) {
            return false;
        }
        let exchanged = |mask| if has_both_or_neither(mask) { mask } else { mask ^ both };
        let mut faces: Vec<Face> = Vec::new();
        for tie in &self.ties {
            if !faces.contains(&tie.face) {
                faces.push(tie.face);
            }
        }
        faces.into_iter().all(|face| {
            exchanged(looks.alike(1 << one, face)) == looks.alike(1 << other, face)
                && (0..looks.len())
                    .filter(|look| *look != one && *look != other)
                    .all(|look| has_both_or_neither(looks.alike(1 << look, face)))
        })
    }

    /// The assignment nearest to what is preferred: in order, each prop keeps its preferred look
    /// where that can still be completed; the others take the first look that can. `None` where
    /// there is none at all.
    pub(super) fn nearest(&self, looks: &Looks, preferred: &[u8]) -> Option<Vec<u8>> {
        let mut domains = self.clone();
        if !domains.is_possible(looks) {
            return None;
        }
        let keeps = |domains: &mut Domains, prop: usize, look: u8| {
            let before = domains.masks[prop];
            if before & (1 << look) == 0 {
                return false;
            }
            domains.masks[prop] = 1 << look;
            let possible = domains.is_possible(looks);
            if !possible {
                domains.masks[prop] = before;
            }
            possible
        };
        for (prop, &look) in preferred.iter().enumerate() {
            keeps(&mut domains, prop, look);
        }
        for prop in 0..domains.masks.len() {
            if domains.masks[prop].count_ones() > 1 {
                let open: Vec<usize> = bits(domains.masks[prop]).collect();
                open.into_iter().find(|&look| keeps(&mut domains, prop, byte(look)));
            }
        }
        let look = |mask: &LookMask| u8::try_from(mask.trailing_zeros()).unwrap_or(u8::MAX);
        Some(domains.masks.iter().map(look).collect())
    }
}

fn byte(look: usize) -> u8 {
    u8::try_from(look).unwrap_or_else(|_| unreachable!("a set has at most 35 props"))
}

/// The looks of a mask, lowest first.
fn bits(mask: LookMask) -> impl Iterator<Item = usize> {
    (0..64).filter(move |look| mask >> look & 1 == 1)
}

/// Whether the undecided props can be matched to what is left of the looks, ties apart. Props with
/// one look take theirs; the others by augmenting paths, one prop after another.
fn matched(masks: &[LookMask], left: &[i16], decided: &[bool]) -> bool {
    let mut left = left.to_vec();
    let mut any: LookMask = 0;
    let mut open = 0;
    let undecided = || masks.iter().zip(decided).filter(|(_, decided)| !**decided);
    for (&mask, _) in undecided() {
        match mask.is_power_of_two() {
            true => {
                let room = &mut left[mask.trailing_zeros() as usize];
                *room -= 1;
                if *room < 0 {
                    return false;
                }
            }
            false => (any, open) = (any | mask, open + 1),
        }
    }
    let several = || undecided().filter(|(mask, _)| !mask.is_power_of_two());
    let room =
        bits(any).filter_map(|look| left.get(look)).map(|&room| i32::from(room)).sum::<i32>();
    if room < open {
        return false;
    }
    // Where the others may all have the same looks, counting is enough.
    if several().all(|(&mask, _)| mask == any) {
        return true;
    }
    let mut holds: Vec<Vec<usize>> = vec![Vec::new(); left.len()];
    (0..masks.len()).filter(|&prop| !decided[prop] && !masks[prop].is_power_of_two()).all(|prop| {
        let mut asked = 0;
        augment(prop, masks, &left, &mut holds, &mut asked)
    })
}

fn augment(
    prop: usize,
    masks: &[LookMask],
    left: &[i16],
    holds: &mut [Vec<usize>],
    asked: &mut LookMask,
) -> bool {
    for look in bits(masks[prop]).filter(|&look| look < left.len()) {
        if *asked >> look & 1 == 1 {
            continue;
        }
        *asked |= 1 << look;
        let room = usize::try_from(left[look]).unwrap_or(0);
        if holds[look].len() < room {
            holds[look].push(prop);
            return true;
        }
        for place in 0..holds[look].len() {
            let other = holds[look][place];
            if augment(other, masks, left, holds, asked) {
                holds[look][place] = prop;
                return true;
            }
        }
    }
    false
}
