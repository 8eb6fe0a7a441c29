//! The two hands. Nothing here knows of beats, patterns or routines.

use std::fmt;

/// One of a juggler's hands, as the juggler names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hand {
    /// The left hand; written first in a synchronous pair.
    Left,
    /// The right hand; leads where nothing else is said.
    Right,
}

impl Hand {
    /// Both hands, left first, as a pair is written.
    pub const BOTH: [Hand; 2] = [Hand::Left, Hand::Right];

    /// The hand that is not this one.
    #[must_use]
    pub fn other(self) -> Hand {
        match self {
            Hand::Left => Hand::Right,
            Hand::Right => Hand::Left,
        }
    }

    /// This hand's place in an array that holds left, then right.
    #[must_use]
    pub fn index(self) -> usize {
        self as usize
    }

    /// The hand that acts `beats` after this one where the hands alternate.
    #[must_use]
    pub fn after(self, beats: u32) -> Hand {
        if beats.is_multiple_of(2) { self } else { self.other() }
    }

    /// `left` or `right`, as messages and documents write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Hand::Left => "left",
            Hand::Right => "right",
        }
    }
}

impl fmt::Display for Hand {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}
