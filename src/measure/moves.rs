//! The list of moves that an entry form asks for: declared catches, flash and qualify.
//!
//! With N props a *flash* is N catches and a *qualify* 2N. Common practice, no source. They count
//! the move's own catches: those of the throws that join it belong to no move.

use crate::act::Act;
use crate::hand::Hand;
use crate::routine::{Declares, PropKind};
use crate::timeline::Action;

use super::counts;

/// A juggled section as an entry form lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// Index of the section in the score.
    pub section: usize,
    /// Its number among the moves, from 1.
    pub number: usize,
    /// The section's name.
    pub name: String,
    /// The pattern as written.
    pub pattern: String,
    /// How many props.
    pub props: u32,
    /// What they are; `None` where an error leaves that unknown.
    pub kind: Option<PropKind>,
    /// What its user declared, if anything.
    pub declared: Option<Declares>,
    /// What it makes; `None` where an error leaves that unknown.
    pub makes: Option<Makes>,
}

/// What a section makes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Makes {
    /// Throws of its own, those handed across among them.
    pub throws: u32,
    /// Catches of its own throws.
    pub own_catches: u32,
    /// Catches of the throws that join it to the section before.
    pub join_catches: u32,
}

impl Move {
    /// All of its catches, its join's among them.
    #[must_use]
    pub fn catches(&self) -> Option<u32> {
        self.makes.map(|makes| makes.own_catches + makes.join_catches)
    }

    /// The catches of a flash.
    #[must_use]
    pub fn flash(&self) -> u32 {
        self.props
    }

    /// The catches of a qualify.
    #[must_use]
    pub fn qualify(&self) -> u32 {
        2 * self.props
    }

    /// How many throws or catches its declaration asks for.
    #[must_use]
    pub fn asked(&self) -> Option<u32> {
        Some(match self.declared? {
            Declares::Catches(number) | Declares::Throws(number) => number,
            Declares::Flash => self.flash(),
            Declares::Qualify => self.qualify(),
        })
    }

    /// How many of these it makes.
    #[must_use]
    pub fn shown(&self) -> Option<u32> {
        let makes = self.makes?;
        Some(match self.declared? {
            Declares::Throws(_) => makes.throws,
            Declares::Catches(_) | Declares::Flash | Declares::Qualify => makes.own_catches,
        })
    }

    /// Whether what is declared is reached; `None` where nothing is declared, and where it is not
    /// known how many are made.
    #[must_use]
    pub fn keeps_its_word(&self) -> Option<bool> {
        Some(self.shown()? >= self.asked()?)
    }
}

/// The moves of a routine in the order of the score.
#[must_use]
pub fn moves(act: &Act) -> Vec<Move> {
    (0..act.routine.score.len()).filter_map(|section| of_section(act, section)).collect()
}

/// An entry of the score as a move; `None` for a pause.
#[must_use]
pub fn of_section(act: &Act, section: usize) -> Option<Move> {
    let Act { routine, timeline, .. } = act;
    let entry = routine.score.get(section)?;
    let juggle = entry.juggle()?;
    let span = timeline.sections.get(section)?.juggle.as_ref()?;
    let actions = counts::actions_of(timeline, section)?;
    let (own, join): (Vec<Action>, Vec<Action>) =
        actions.iter().cloned().partition(|action| action.number.is_some());
    let (own, join) = (counts::of_actions(&own), counts::of_actions(&join));
    let thrown = |hand: Hand| {
        let hand = &own.hands[hand.index()];
        hand.thrown + hand.handed_across
    };
    let makes = Makes {
        throws: Hand::BOTH.map(thrown).iter().sum(),
        own_catches: own.catches,
        join_catches: join.catches,
    };
    let set = timeline.runs.get(span.run).and_then(|run| routine.sets.get(run.set));
    let before = routine.score.iter().take(section).filter(|entry| entry.is_juggled());
    Some(Move {
        section,
        number: before.count() + 1,
        name: entry.name.value.clone(),
        pattern: juggle.pattern.text.clone(),
        props: juggle.pattern.pattern.props(),
        kind: set.map(|set| set.kind.clone()),
        declared: juggle.declares.as_ref().map(|declared| declared.value),
        makes: (span.beats_known && span.way_known).then_some(makes),
    })
}
