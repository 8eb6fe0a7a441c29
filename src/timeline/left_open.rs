//! The lengths that a routine leaves open: pauses and holds that last between two lengths.

use crate::routine::{Length, Routine};
use crate::time::{Open, OpenLength, Seconds, Time};

/// Something that lasts between two lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOpen {
    /// A pause, by its index in the score.
    Pause(usize),
    /// A hold of a track, both by index, the tracks as in [`Routine::all_tracks`].
    Hold {
        /// The track.
        track: usize,
        /// The hold.
        hold: usize,
    },
}

/// Everything that lasts between two lengths, the pauses first.
#[must_use]
pub fn left_open(routine: &Routine) -> Vec<LeftOpen> {
    let pauses = routine.score.iter().enumerate().filter_map(|(index, section)| {
        let pause = section.pause()?;
        let Length::Between(lasts) = &pause.lasts.value else { return None };
        (lasts.0 != lasts.1).then_some(LeftOpen::Pause(index))
    });
    let holds = routine.all_tracks().enumerate().flat_map(|(track, (_, written))| {
        let open = |(hold, written): (usize, &crate::routine::Hold)| {
            (written.lasts.0 != written.lasts.1).then_some(LeftOpen::Hold { track, hold })
        };
        written.holds.iter().enumerate().filter_map(open).collect::<Vec<_>>()
    });
    pauses.chain(holds).collect()
}

/// The same with their names and lengths, the act's first and then its encore's: an
/// [`Open::Length`] is a place in this list.
#[must_use]
pub fn open_lengths(routine: &Routine) -> Vec<OpenLength> {
    let own = left_open(routine).into_iter().filter_map(|open| named(routine, open));
    let encore = routine.encore.iter().flat_map(|encore| open_lengths(&encore.routine));
    own.chain(encore).collect()
}

fn named(routine: &Routine, open: LeftOpen) -> Option<OpenLength> {
    let length = |name: String, (shortest, longest): &(Seconds, Seconds)| OpenLength {
        name,
        shortest: shortest.clone(),
        longest: longest.clone(),
    };
    match open {
        LeftOpen::Pause(index) => {
            let section = routine.score.get(index)?;
            let pause = section.pause()?;
            let Length::Between(lasts) = &pause.lasts.value else { return None };
            Some(length(format!("{:?}", section.name.value), lasts))
        }
        LeftOpen::Hold { track, hold } => {
            let (_, track) = routine.all_tracks().nth(track)?;
            let hold = track.holds.get(hold)?;
            Some(length(format!("the hold {:?}", hold.name.value), &hold.lasts))
        }
    }
}

/// The open lengths of one routine, each with its place among those of the act and its encore.
#[derive(Clone, Debug)]
pub(super) struct OpenPlaces {
    first: usize,
    all: Vec<LeftOpen>,
}

impl OpenPlaces {
    /// Those of a routine, of which the first has that place.
    pub(super) fn of(routine: &Routine, first: usize) -> OpenPlaces {
        OpenPlaces { first, all: left_open(routine) }
    }

    /// Where the next routine's begin.
    pub(super) fn end(&self) -> usize {
        self.first + self.all.len()
    }

    /// A length between two, as long as it is.
    pub(super) fn time(&self, one: LeftOpen, (shortest, longest): &(Seconds, Seconds)) -> Time {
        let place = self.all.iter().position(|open| *open == one);
        match place.and_then(|place| u16::try_from(self.first + place).ok()) {
            Some(place) => Time::between(Open::Length(place), shortest, longest),
            None => Time::from(shortest.clone()),
        }
    }
}
