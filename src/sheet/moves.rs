//! The list of moves that an entry form asks for.

use crate::act::Act;
use crate::diagnostic::words::counted;
use crate::measure::moves::{Move, of_section};
use crate::measure::moves_in_time::LimitMoves;
use crate::routine::{Limit, PropKind, Section};
use crate::timeline::SectionSpan;

use super::heading::Heading;
use super::stamp::{Stamp, StampClocks};
use super::words::plain;

/// The contents of the list of moves.
#[derive(Clone, Debug, PartialEq)]
pub struct MovesSheet {
    /// Its head.
    pub heading: Heading,
    /// One for each section that is juggled, in the order of the score.
    pub moves: Vec<ListedLine>,
    /// The rules that ask for a number of moves.
    pub rules: Vec<MovesRule>,
}

/// A section as an entry form lists it.
#[derive(Clone, Debug, PartialEq)]
pub struct ListedLine {
    /// The section's name.
    pub name: String,
    /// Where it starts.
    pub starts: Stamp,
    /// The move, its words safe to print; `None` where the section could not be read.
    pub listed: Option<Move>,
}

/// A rule that asks for a number of moves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MovesRule {
    /// The rule, as its user calls it.
    pub rule: String,
    /// The least that it asks for.
    pub at_least: u32,
    /// The fewest and the most moves that begin in its time; `None` where that is not known.
    pub counted: Option<(u32, u32)>,
}

impl MovesRule {
    /// The rule of a limit; `None` where it asks for no number of moves.
    pub(super) fn of(act: &Act, limit: &Limit) -> Option<MovesRule> {
        let at_least = limit.moves.as_ref()?.value;
        let counted = LimitMoves::of(act, limit).and_then(|moves| moves.range());
        Some(MovesRule { rule: plain(&limit.rule), at_least, counted })
    }

    /// The fewest moves that begin in its time.
    #[must_use]
    pub fn fewest(&self) -> Option<u32> {
        self.counted.map(|(fewest, _)| fewest)
    }

    /// The most, where that is another number.
    #[must_use]
    pub fn most(&self) -> Option<u32> {
        self.counted.filter(|(fewest, most)| fewest != most).map(|(_, most)| most)
    }

    /// Its number of moves in words, as in `at least 20 moves; 12 in its time, NOT REACHED: 8
    /// short`.
    #[must_use]
    pub fn words(&self) -> String {
        let MovesRule { at_least, counted: begin, .. } = self;
        let asked = format!("at least {}", counted(*at_least, "move"));
        let Some((fewest, most)) = *begin else { return asked };
        let verdict = match fewest >= *at_least {
            true => "reached".to_owned(),
            false if most >= *at_least => {
                format!("NOT REACHED at worst: {} short", at_least - fewest)
            }
            false => format!("NOT REACHED: {} short", at_least - fewest),
        };
        let begins = match fewest == most {
            true => fewest.to_string(),
            false => format!("{fewest} to {most}"),
        };
        format!("{asked}; {begins} in its time, {verdict}")
    }
}

/// Composes the list of moves.
#[must_use]
pub fn compose(act: &Act) -> MovesSheet {
    let clocks = StampClocks::of(act);
    let line = |(index, section, span): (usize, &Section, &SectionSpan)| {
        let listed = of_section(act, index).map(safe);
        let is_move = listed.is_some() || span.hides_throws;
        is_move.then(|| ListedLine {
            name: plain(&section.name.value),
            starts: clocks.stamp(&span.starts),
            listed,
        })
    };
    let rules = act.routine.limits.iter().filter_map(|limit| MovesRule::of(act, limit));
    MovesSheet {
        heading: Heading::of(act),
        moves: act.sections().filter_map(line).collect(),
        rules: rules.collect(),
    }
}

fn safe(one: Move) -> Move {
    let kind = one.kind.map(|kind| match kind {
        PropKind::Other(kind) => PropKind::Other(plain(&kind)),
        known => known,
    });
    Move { name: plain(&one.name), pattern: plain(&one.pattern), kind, ..one }
}
