//! The list of moves that an entry form asks for: declared catches, flash and qualify.
//!
//! With N props a *flash* is N catches and a *qualify* 2N. Common practice, no source.

use crate::act::Act;

use super::counts;

/// A juggled section as an entry form lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// Index of the section in the score.
    pub section: usize,
    /// The section's name.
    pub name: String,
    /// The pattern as written.
    pub pattern: String,
    /// How many props.
    pub props: u32,
    /// The catches that its user declared, if any.
    pub declared: Option<u32>,
    /// The catches that the section makes; `None` where an error leaves its beats unknown.
    pub catches: Option<u32>,
}

impl Move {
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

    /// Whether the declared catches are reached; `None` where none are declared, and where it is
    /// not known how many are made.
    #[must_use]
    pub fn keeps_its_word(&self) -> Option<bool> {
        Some(self.catches? >= self.declared?)
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
    let counts = counts::of_section(timeline, section)?;
    Some(Move {
        section,
        name: entry.name.value.clone(),
        pattern: juggle.pattern.text.clone(),
        props: juggle.pattern.pattern.props(),
        declared: juggle.declares.as_ref().map(|declared| declared.value),
        catches: (span.beats_known && span.way_known).then_some(counts.catches),
    })
}
