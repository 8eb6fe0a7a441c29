//! Looks: what tells props of a set apart. Props of one look are interchangeable.

use crate::routine::Routine;
use crate::timeline::Face;

/// Some of a set's looks: bit n is look n. A set has at most 35 props.
pub(super) type LookMask = u64;

/// The looks of a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Looks {
    /// The look of each prop of the set, in the set's order.
    pub(super) of_prop: Vec<u8>,
    /// How many props have each look.
    pub(super) count: Vec<u8>,
    /// The colours of each look's front and back, as indices into the routine's colours; the same
    /// where a prop has one face.
    faces: Vec<[usize; 2]>,
}

impl Looks {
    /// Those of a set of the routine, by its index.
    pub(super) fn of(routine: &Routine, set: usize) -> Looks {
        let mut looks = Looks { of_prop: Vec::new(), count: Vec::new(), faces: Vec::new() };
        let Some(set) = routine.sets.get(set) else { return looks };
        let colour = |name: &str| routine.colour(name).unwrap_or(usize::MAX);
        for (prop, front) in set.colours.iter().enumerate() {
            let back = set.backs.get(prop).unwrap_or(front);
            let faces = [colour(&front.value), colour(&back.value)];
            let look = looks.faces.iter().position(|&known| known == faces);
            let look = look.unwrap_or_else(|| {
                looks.faces.push(faces);
                looks.count.push(0);
                looks.faces.len() - 1
            });
            looks.count[look] += 1;
            looks.of_prop.push(u8::try_from(look).unwrap_or(u8::MAX));
        }
        looks
    }

    /// How many looks there are.
    pub(super) fn len(&self) -> usize {
        self.count.len()
    }

    /// All of them.
    pub(super) fn all(&self) -> LookMask {
        (1_u64 << self.len().min(63)) - 1
    }

    /// Those that show a colour on this face.
    pub(super) fn showing(&self, colour: usize, face: Face) -> LookMask {
        let face = face as usize;
        let shows = self.faces.iter().enumerate().filter(|(_, shown)| shown[face] == colour);
        shows.fold(0, |mask, (look, _)| mask | 1 << look)
    }

    /// Every look that shows on this face the colour of one of these.
    pub(super) fn alike(&self, mask: LookMask, face: Face) -> LookMask {
        let of = |look: usize| self.showing(self.faces[look][face as usize], face);
        (0..self.len()).filter(|look| mask >> look & 1 == 1).fold(0, |all, look| all | of(look))
    }

    /// The same looks twice over, for props that are parted between two hands: the second half
    /// stands for the other hand. `None` where so many have no room.
    pub(super) fn parted(&self, first: &[u8], second: &[u8]) -> Option<Looks> {
        if 2 * self.len() >= 64 {
            return None;
        }
        let mut parted = self.clone();
        parted.faces.extend_from_within(..);
        parted.count = vec![0; parted.faces.len()];
        for &look in first {
            parted.count[usize::from(look)] += 1;
        }
        for &look in second {
            parted.count[usize::from(look) + self.len()] += 1;
        }
        Some(parted)
    }

    /// The first prop of the set, by its place in it, that has a look.
    pub(super) fn prop_of(&self, look: u8) -> Option<usize> {
        self.of_prop.iter().position(|&other| other == look)
    }
}
