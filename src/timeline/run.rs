//! A run: from a cold start to the gather that ends it, throw by throw.

use std::num::NonZeroU32;
use std::ops::Range;

use num_rational::Ratio;

use crate::hand::Hand;
use crate::notation::Throw;
use crate::patterns::hands::ActionKind;
use crate::time::{BeatPosition, TempoMap, Time};

/// A prop of a run, by its place in the run's prop set (from 0).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Prop(pub u8);

/// From a cold start to the gather.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its sections, as indices into the score.
    pub sections: Range<usize>,
    /// Index of its prop set in the routine; none of its sets where it is not known.
    pub set: usize,
    /// Which prop is in which hand at the cold start, in the order in which they leave.
    pub loading: HandLoading,
    /// How that loading came about.
    pub loaded: Loaded,
    /// The colour of each prop's front (index = [`Prop`]): an index into the routine's colours.
    /// What is seen of a prop is asked of [`Run::colour`] and [`Run::colour_of`].
    pub colours: Vec<usize>,
    /// The same of their backs; empty where the props have one face.
    pub backs: Vec<usize>,
    /// The face that the props show at rest before the run.
    pub face: Face,
    /// The beats from which on every prop shows its other face as it is next thrown or held: the
    /// first own beats of sections that say so, in order.
    pub other_faces: Vec<u32>,
    /// The hand of its first throw, a transition's included; `None` when it begins with pairs.
    pub lead: Option<Hand>,
    /// Every action, in order of beat; on one beat left before right, then as written.
    pub actions: Vec<Action>,
    /// Beats, waits and transitions included.
    pub beats: u32,
    /// Turns its beats into seconds on the show clock.
    pub tempo: TempoMap,
    /// How it ends.
    pub gather: Gather,
    /// Whether it goes on into an entry that could not be read: then nobody knows how it ends, and
    /// its gather is empty.
    pub breaks_off: bool,
}

/// How the props of a run came into the hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loaded {
    /// Kept since the gather before, in the order in which they were caught.
    Kept,
    /// Kept since the gather before, each hand's in an order that is written.
    Ordered,
    /// Loaded anew by a pause, with the props that the hands held.
    Regripped,
    /// As written.
    Written,
    /// In the natural order.
    Natural,
    /// As the line-up finds; in the natural order until it has.
    Found,
}

/// A side of a prop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// The one whose colour is written first; the only one of most props.
    #[default]
    Front,
    /// The other one.
    Back,
}

impl Face {
    /// The face that is not this one.
    #[must_use]
    pub fn other(self) -> Face {
        match self {
            Face::Front => Face::Back,
            Face::Back => Face::Front,
        }
    }

    /// `front` or `back`, as messages and documents write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Face::Front => "front",
            Face::Back => "back",
        }
    }
}

/// Props in each hand, in the order in which they leave.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HandLoading {
    /// In the left hand, then in the right ([`Hand::index`]).
    pub hands: [Vec<Prop>; 2],
}

impl HandLoading {
    /// Gives every prop the name that stands in its place.
    pub(super) fn rename(&mut self, names: &[Prop]) {
        for prop in self.hands.iter_mut().flatten() {
            *prop = names.get(usize::from(prop.0)).copied().unwrap_or(*prop);
        }
    }

    /// The props in one hand, in the order in which they leave.
    #[must_use]
    pub fn in_hand(&self, hand: Hand) -> &[Prop] {
        &self.hands[hand.index()]
    }
}

/// All props at rest again.
#[derive(Clone, Debug, PartialEq)]
pub struct Gather {
    /// What is in which hand, in the order in which it would leave: last caught first.
    pub hands: HandLoading,
    /// The run's last catch; `None` when nothing is caught.
    pub last_catch: Option<Time>,
    /// Where the run ends: the later of its last beat's end and its last catch.
    pub ends: Time,
}

/// What a hand does with one prop, or with none, on one beat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Action {
    /// The beat, counted in the run from 0.
    pub beat: u32,
    /// The hand that acts.
    pub hand: Hand,
    /// The throw as written.
    pub throw: Throw,
    /// What it amounts to.
    pub kind: ActionKind,
    /// The prop; `None` for an empty hand.
    pub prop: Option<Prop>,
    /// Index of its section in the score; a transition belongs to the section it leads into.
    pub section: u32,
    /// Its number in the section, from 1, counted through the cycles; `None` in a transition.
    pub number: Option<NonZeroU32>,
    /// Its number in the written cycle, from 1; in a transition its place among its throws.
    pub written: u32,
    /// The hand in which the prop is next.
    pub to: Hand,
    /// The beat on which the prop is due to be thrown again, waits included.
    pub due: u32,
}

impl Action {
    /// Whether a prop leaves the hand.
    #[must_use]
    pub fn is_release(&self) -> bool {
        matches!(self.kind, ActionKind::Thrown | ActionKind::HandedAcross)
    }

    /// Where in the run's beats the prop is caught: n beats later less twice the dwell ratio, a 1
    /// half a beat later. `None` when nothing leaves the hand.
    #[must_use]
    pub fn caught(&self, dwell: Ratio<i64>) -> Option<BeatPosition> {
        if !self.is_release() {
            return None;
        }
        let beat = BeatPosition::from_integer(i64::from(self.beat));
        Some(beat + flies(self.throw.value, dwell))
    }
}

/// Beats from a throw to its catch: its value less twice the dwell ratio, half a beat for a 1.
pub(super) fn flies(value: u8, dwell: Ratio<i64>) -> BeatPosition {
    match value {
        1 => BeatPosition::new(1, 2),
        value => BeatPosition::from_integer(i64::from(value)) - dwell * 2,
    }
}

impl Run {
    /// The face that a prop shows which is thrown or held on a beat, counted in the run from 0. A
    /// prop in the air keeps its face until then.
    #[must_use]
    pub fn face_at(&self, beat: u32) -> Face {
        let changes = self.other_faces.iter().filter(|&&from| from <= beat).count();
        if changes % 2 == 0 { self.face } else { self.face.other() }
    }

    /// The face that all props show once they are gathered.
    #[must_use]
    pub fn face_gathered(&self) -> Face {
        self.face_at(u32::MAX)
    }

    /// The colour of a prop's face: an index into the routine's colours; `None` for a prop that
    /// the set does not have.
    #[must_use]
    pub fn colour_of(&self, prop: Prop, face: Face) -> Option<usize> {
        self.colours_of(face).get(usize::from(prop.0)).copied()
    }

    /// The colour of that face of each prop (index = [`Prop`]).
    #[must_use]
    pub fn colours_of(&self, face: Face) -> &[usize] {
        match face {
            Face::Back if !self.backs.is_empty() => &self.backs,
            Face::Front | Face::Back => &self.colours,
        }
    }

    /// The colour that is seen of an action's prop; `None` for an empty hand.
    #[must_use]
    pub fn colour(&self, action: &Action) -> Option<usize> {
        self.colour_of(action.prop?, self.face_at(action.beat))
    }

    /// When an action happens, on the show clock.
    #[must_use]
    pub fn time_of(&self, action: &Action) -> Time {
        self.tempo.at_beat(action.beat)
    }

    /// When its prop is caught, on the show clock; `None` when nothing leaves the hand.
    #[must_use]
    pub fn catch_of(&self, action: &Action, dwell: Ratio<i64>) -> Option<Time> {
        action.caught(dwell).map(|position| self.tempo.at(position))
    }
    /// The first release: the action and when; `None` when no prop leaves a hand.
    #[must_use]
    pub fn first_throw(&self) -> Option<(&Action, Time)> {
        let first = self.actions.iter().find(|action| action.is_release())?;
        Some((first, self.time_of(first)))
    }
}
