//! Looks: what tells props of a set apart. Props of one look are interchangeable.

use crate::routine::Routine;

/// Some of a set's looks: bit n is look n. A set has at most 35 props.
pub(super) type LookMask = u64;

/// The looks of a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Looks {
    /// The look of each prop of the set, in the set's order.
    pub(super) of_prop: Vec<u8>,
    /// How many props have each look.
    pub(super) count: Vec<u8>,
    /// The colour that each look shows, as an index into the routine's colours.
    colours: Vec<usize>,
}

impl Looks {
    /// Those of a set of the routine, by its index.
    pub(super) fn of(routine: &Routine, set: usize) -> Looks {
        let mut looks = Looks { of_prop: Vec::new(), count: Vec::new(), colours: Vec::new() };
        let named = |name: &str| routine.colours.iter().position(|c| c.name.value == name);
        for colour in routine.sets.get(set).map_or(&[][..], |set| &set.colours) {
            let colour = named(&colour.value).unwrap_or(usize::MAX);
            let look = looks.colours.iter().position(|&known| known == colour);
            let look = look.unwrap_or_else(|| {
                looks.colours.push(colour);
                looks.count.push(0);
                looks.colours.len() - 1
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

    /// Those that show a colour.
    pub(super) fn showing(&self, colour: usize) -> LookMask {
        let shows = self.colours.iter().enumerate().filter(|&(_, &shown)| shown == colour);
        shows.fold(0, |mask, (look, _)| mask | 1 << look)
    }

    /// Every look that shows the same colour as one of these.
    pub(super) fn alike(&self, mask: LookMask) -> LookMask {
        let of = |look: usize| self.showing(self.colours[look]);
        (0..self.len()).filter(|look| mask >> look & 1 == 1).fold(0, |all, look| all | of(look))
    }

    /// The same looks twice over, for props that are parted between two hands: the second half
    /// stands for the other hand. `None` where so many have no room.
    pub(super) fn parted(&self, first: &[u8], second: &[u8]) -> Option<Looks> {
        if 2 * self.len() >= 64 {
            return None;
        }
        let mut parted = self.clone();
        parted.colours.extend_from_within(..);
        parted.count = vec![0; parted.colours.len()];
        for &look in first {
            parted.count[usize::from(look)] += 1;
        }
        for &look in second {
            parted.count[usize::from(look) + self.len()] += 1;
        }
        Some(parted)
    }

    /// The colour that a look shows.
    pub(super) fn colour(&self, look: u8) -> Option<usize> {
        self.colours.get(usize::from(look)).copied()
    }
}
