//! What the audience must see of the colours in a section, and what may be chosen to bring it
//! about.

use crate::diagnostic::{Place, Placed};
use crate::hand::Hand;

use super::Moment;

/// Everything that a section asks of the colours.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// Throws that must be seen in a colour.
    pub shows: Vec<Shown>,
    /// Where it is written that each orbit has one colour, whichever.
    pub solid: Option<Place>,
    /// Pairs of throws that must have one colour in every cycle.
    pub alike: Vec<TwoThrows>,
    /// Pairs of throws that must differ in every cycle.
    pub unlike: Vec<TwoThrows>,
    /// Colours that must be caught at a moment.
    pub caught: Vec<Caught>,
}

/// A throw of each cycle that must be seen in a colour.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The throw's number in the cycle, from 1.
    pub throw: Placed<u32>,
    /// Colour names, taken in turn cycle by cycle; at least one.
    pub colours: Vec<Placed<String>>,
}

/// Two throws of each cycle.
#[derive(Clone, Debug, PartialEq)]
pub struct TwoThrows {
    /// Their numbers in the cycle, from 1, as written.
    pub numbers: [u32; 2],
    /// Where they are written.
    pub at: Place,
}

/// A colour that must be caught at a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Caught {
    /// The colour's name.
    pub colour: Placed<String>,
    /// The moment of the catch.
    pub moment: Placed<Moment>,
    /// The hand that catches it, where both catch then.
    pub hand: Option<Hand>,
    /// The whole entry.
    pub at: Place,
}

/// What the line-up may choose in a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Freedom {
    /// The throw at which the pattern begins, and the colours with which its lists begin.
    StartingThrow,
    /// The order of a multiplex's values, in the pattern and in the throws that an `Auto` junction
    /// puts before it.
    MultiplexOrder,
    /// Which way into it an `Auto` junction takes, within the routine's bounds.
    Transition,
}
