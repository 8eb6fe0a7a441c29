//! Throws in a row, as written: the shape that the reader makes and that the mathematics uses.

use std::ops::Range;

use super::Throw;

/// A throw with its place in the writing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenThrow {
    /// The throw.
    pub throw: Throw,
    /// Its number in the cycle, from 1, as written: every value counts, the parts of a multiplex
    /// one by one, a pair left hand first. The second half of a starred pattern goes on counting
    /// in the same *written* order (so there the hand written first is the right).
    pub number: u32,
    /// The characters that write it, counted from 0, end excluded (an `x` included).
    pub at: Range<usize>,
}

/// What happens on one beat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// The hand whose turn it is acts; one beat. Several throws are a multiplex; an empty hand is
    /// one throw of value 0.
    Alternating(Vec<WrittenThrow>),
    /// Both hands act at once, which fills two beats. Left hand first, physical hands: the
    /// second half of a starred pattern stands here with the hands exchanged already.
    Pair([Vec<WrittenThrow>; 2]),
}

impl Step {
    /// How many beats it fills: 1 or 2.
    #[must_use]
    pub fn beats(&self) -> u32 {
        match self {
            Step::Alternating(_) => 1,
            Step::Pair(_) => 2,
        }
    }
}

/// Which of the two notations.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// The hands alternate, one beat each.
    Async,
    /// Both hands throw together, in pairs that fill two beats.
    Sync,
}

/// Written throws in order. May mix the two notations: only a pattern may not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sequence {
    /// One written pass; of a starred sequence both halves.
    pub steps: Vec<Step>,
    /// Written with a closing `*`.
    pub starred: bool,
}

impl Sequence {
    /// The highest value in it, and the most props that one hand throws at once.
    #[must_use]
    pub fn uses(&self) -> (u8, u8) {
        let mut highest = 0;
        let mut at_once = 0;
        for step in &self.steps {
            let hands: &[Vec<WrittenThrow>] = match step {
                Step::Alternating(throws) => std::slice::from_ref(throws),
                Step::Pair(pair) => pair,
            };
            for throws in hands {
                let props = throws.iter().filter(|written| written.throw.value > 0);
                at_once = at_once.max(u8::try_from(props.clone().count()).unwrap_or(u8::MAX));
                highest = props.map(|written| written.throw.value).fold(highest, u8::max);
            }
        }
        (highest, at_once)
    }
}
