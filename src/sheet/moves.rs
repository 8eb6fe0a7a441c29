//! The list of moves that an entry form asks for.

use crate::act::Act;
use crate::measure::moves::{Move, of_section};
use crate::routine::Section;
use crate::timeline::SectionSpan;

use super::heading::Heading;
use super::words::plain;

/// The contents of the list of moves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MovesSheet {
    /// Its head.
    pub heading: Heading,
    /// One for each section that is juggled, in the order of the score.
    pub moves: Vec<ListedLine>,
}

/// A section as an entry form lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListedLine {
    /// The section's name.
    pub name: String,
    /// The move, its name and its pattern safe to print; `None` where the section could not be
    /// read.
    pub listed: Option<Move>,
}

/// Composes the list of moves.
#[must_use]
pub fn compose(act: &Act) -> MovesSheet {
    let safe = |one: Move| Move { name: plain(&one.name), pattern: plain(&one.pattern), ..one };
    let line = |(index, section, span): (usize, &Section, &SectionSpan)| {
        let listed = of_section(act, index).map(safe);
        let is_move = listed.is_some() || span.hides_throws;
        is_move.then(|| ListedLine { name: plain(&section.name.value), listed })
    };
    MovesSheet { heading: Heading::of(act), moves: act.sections().filter_map(line).collect() }
}
