//! What decides how a draft goes on: drafts that agree in it go on alike, the colours apart.
//!
//! Which prop is due when in which hand, and which leaves first; the hands and the tempo; and where
//! a later length reads a clock, the time that is reached and the moments that later lengths name.

use std::hash::{Hash, Hasher};

use crate::hand::Hand;
use crate::routine::{Length, Moment, Routine, Track};
use crate::time::{BeatPosition, Time};

use super::compile::Compiler;
use super::label::Due;
use super::length::InForce;
use super::run::Face;

/// What decides how a draft goes on before a section, or before a pause.
#[derive(Clone, Debug)]
pub(crate) struct Decides {
    section: usize,
    set: Option<usize>,
    face: Face,
    /// The props of a run in the making; none where they are at rest.
    due: Vec<Due>,
    /// The hand that alternating throws go on with, and the one that led last.
    hands: [Option<Hand>; 2],
    /// How many props are at rest in each hand.
    at_rest: Option<[usize; 2]>,
    tempo: Option<InForce>,
    /// Where a later length reads a clock: the time that is reached.
    clock: Option<Time>,
    moments: Vec<When>,
}

impl PartialEq for Decides {
    fn eq(&self, other: &Decides) -> bool {
        let same_clock = match (&self.clock, &other.clock) {
            (Some(one), Some(other)) => one.is_identical(other),
            (None, None) => true,
            _ => false,
        };
        same_clock
            && self.section == other.section
            && self.set == other.set
            && self.face == other.face
            && self.hands == other.hands
            && self.at_rest == other.at_rest
            && self.due == other.due
            && self.tempo == other.tempo
            && self.moments == other.moments
    }
}

impl Eq for Decides {}

impl Hash for Decides {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.section.hash(state);
        self.hands.hash(state);
        self.due.hash(state);
        // Of the time that is reached enough to tell most apart.
        self.clock.as_ref().map(|clock| clock.shortest().to_f64().round().to_bits()).hash(state);
    }
}

/// When a moment comes that a later length names.
#[derive(Clone, Debug)]
enum When {
    /// It is known.
    At(Time),
    /// So many beats from now, in the run in the making.
    In(BeatPosition),
    /// It hangs on what comes.
    Later,
}

impl PartialEq for When {
    fn eq(&self, other: &When) -> bool {
        match (self, other) {
            (When::At(one), When::At(other)) => one.is_identical(other),
            (When::In(one), When::In(other)) => one == other,
            (When::Later, When::Later) => true,
            _ => false,
        }
    }
}

/// What the lengths of a routine read of what happened before them.
#[derive(Clone, Debug, Default)]
pub(super) struct Reads {
    /// The last entry whose length, or whose pace, reads the time that is reached.
    clock_up_to: Option<usize>,
    /// The moments that are read, each with the last entry that reads it.
    moments: Vec<(usize, Moment)>,
    /// The last entry that names a throw or a catch by its number.
    pub(super) throws_up_to: Option<usize>,
}

impl Reads {
    /// Of a routine.
    pub(super) fn of(routine: &Routine) -> Reads {
        let mut reads = Reads::default();
        for (index, section) in routine.score.iter().enumerate() {
            match section.lasts().map(|lasts| &lasts.value) {
                Some(Length::Until(until)) => {
                    reads.clock_up_to = Some(index);
                    reads.moment(index, &until.on);
                }
                Some(Length::Bars(_)) => reads.clock_up_to = Some(index),
                _ => {}
            }
        }
        // Where the music sets a tempo, the time at which a section starts decides how fast it is.
        if routine.follows_the_music() {
            reads.clock_up_to = Some(routine.score.len());
        }
        // Bars and marks lie where their track starts, and times where the clock reads zero.
        if let Some(last) = reads.clock_up_to {
            let tracks = routine.all_tracks().map(|(_, track): (_, &Track)| &track.starts.value);
            for moment in tracks.chain([&routine.zero.value]) {
                reads.moment(last, moment);
            }
        }
        reads
    }

    fn moment(&mut self, read_by: usize, moment: &Moment) {
        match moment {
            Moment::Shift(of, _) | Moment::OfTrack(_, of) => self.moment(read_by, of),
            Moment::First(of) | Moment::Last(of) => {
                of.iter().for_each(|of| self.moment(read_by, of));
            }
            _ => {
                if matches!(moment, Moment::Throw(..) | Moment::Catch(..)) {
                    self.throws_up_to = self.throws_up_to.max(Some(read_by));
                }
                self.moments.push((read_by, moment.clone()));
            }
        }
    }

    /// Whether anything from an entry on reads the time that is reached.
    fn clock(&self, from: usize) -> bool {
        self.clock_up_to.is_some_and(|last| last >= from)
    }
}

impl Compiler<'_> {
    /// What decides how things go on from the entry of that index.
    pub(super) fn decides(&self, next: usize, reads: &Reads) -> Decides {
        let named = reads.moments.iter().filter(|(read_by, _)| *read_by >= next);
        let at_rest = self.hands.as_ref().filter(|_| self.label.is_none());
        Decides {
            section: next,
            set: self.set,
            face: self.face,
            due: self.label.as_ref().map(|label| label.due(true)).unwrap_or_default(),
            hands: [self.label.as_ref().and_then(|label| label.next), self.last_lead(next)],
            at_rest: at_rest.map(|hands| hands.hands.each_ref().map(Vec::len)),
            tempo: self.tempo.clone(),
            clock: reads.clock(next).then(|| self.clock.clone()),
            moments: named.map(|(_, moment)| self.when(moment)).collect(),
        }
    }

    fn when(&self, moment: &Moment) -> When {
        if let Ok(time) = self.moment(moment, None) {
            return When::At(time);
        }
        let (Moment::Throw(name, number) | Moment::Catch(name, number)) = moment else {
            return When::Later;
        };
        let in_flight = || {
            let label = self.label.as_ref()?;
            let section = u32::try_from(self.routine.section(&name.value)?).ok()?;
            let made = label.actions.iter().find(|action| {
                action.section == section && action.number.is_some_and(|n| n.get() == number.value)
            })?;
            let position = match moment {
                Moment::Catch(..) => made.caught(self.routine.dwell)?,
                _ => BeatPosition::from_integer(i64::from(made.beat)),
            };
            Some(position - BeatPosition::from_integer(i64::from(label.beat)))
        };
        in_flight().map_or(When::Later, When::In)
    }
}
