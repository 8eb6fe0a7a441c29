//! Throws in a row, as written: the shape that the reader makes and that the mathematics uses.

use std::fmt;
use std::ops::Range;

use crate::hand::Hand;

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
    /// The hand that acts next acts; one beat. Several throws are a multiplex; an empty hand is
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

    /// Its throws, left hand before right, then as written.
    pub fn throws(&self) -> impl Iterator<Item = &WrittenThrow> {
        let (first, second) = match self {
            Step::Alternating(throws) => (throws.as_slice(), [].as_slice()),
            Step::Pair([left, right]) => (left.as_slice(), right.as_slice()),
        };
        first.iter().chain(second)
    }

    /// The same, to be changed in place.
    pub(crate) fn throws_mut(&mut self) -> impl Iterator<Item = &mut WrittenThrow> {
        let (first, second) = match self {
            Step::Alternating(throws) => (throws.as_mut_slice(), [].as_mut_slice()),
            Step::Pair([left, right]) => (left.as_mut_slice(), right.as_mut_slice()),
        };
        first.iter_mut().chain(second)
    }

    /// The hands that act, left before right, each with its throws. `next` is the hand that acts
    /// next where the hands alternate; a pair does not ask.
    pub fn by_hand(&self, next: Hand) -> impl Iterator<Item = (Hand, &[WrittenThrow])> {
        let (first, second) = match self {
            Step::Alternating(throws) => ((next, throws.as_slice()), None),
            Step::Pair([left, right]) => {
                ((Hand::Left, left.as_slice()), Some((Hand::Right, right.as_slice())))
            }
        };
        std::iter::once(first).chain(second)
    }

    /// The characters that write its throws, brackets and commas between them included.
    #[must_use]
    pub fn at(&self) -> Range<usize> {
        let start = self.throws().map(|written| written.at.start).min().unwrap_or(0);
        let end = self.throws().map(|written| written.at.end).max().unwrap_or(start);
        start..end
    }

    /// Its notation.
    #[must_use]
    pub fn kind(&self) -> Kind {
        match self {
            Step::Alternating(_) => Kind::Async,
            Step::Pair(_) => Kind::Sync,
        }
    }

    /// The same with the hands exchanged. Where the hands alternate nothing changes: the lead
    /// changes outside.
    #[must_use]
    pub fn mirrored(&self) -> Step {
        match self {
            Step::Alternating(throws) => Step::Alternating(throws.clone()),
            Step::Pair([left, right]) => Step::Pair([right.clone(), left.clone()]),
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
        for (_, throws) in self.steps.iter().flat_map(|step| step.by_hand(Hand::Right)) {
            let props = throws.iter().filter(|written| written.throw.value > 0);
            at_once = at_once.max(u8::try_from(props.clone().count()).unwrap_or(u8::MAX));
            highest = props.map(|written| written.throw.value).fold(highest, u8::max);
        }
        (highest, at_once)
    }

    /// Beats of one written pass.
    #[must_use]
    pub fn beats(&self) -> u32 {
        self.steps.iter().map(Step::beats).sum()
    }

    /// The notation, where it is one; `None` for an empty or a mixed sequence.
    #[must_use]
    pub fn kind(&self) -> Option<Kind> {
        let first = self.steps.first()?.kind();
        self.steps.iter().all(|step| step.kind() == first).then_some(first)
    }

    /// The same with the hands exchanged: pairs change hands, numbers and places stay with their
    /// throws. Alternating throws stay as they are: their lead changes outside.
    #[must_use]
    pub fn mirrored(&self) -> Sequence {
        let steps = self.steps.iter().map(Step::mirrored).collect();
        Sequence { steps, starred: self.starred }
    }

    /// All throws in order: by beat, left hand before right, then as written.
    pub fn throws(&self) -> impl Iterator<Item = &WrittenThrow> {
        self.steps.iter().flat_map(Step::throws)
    }
}

/// Writes the throws back; what was read from it reads as the same throws.
impl fmt::Display for Sequence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let written = if self.starred { self.steps.len() / 2 } else { self.steps.len() };
        for step in &self.steps[..written] {
            match step {
                Step::Alternating(throws) => write_hand(f, throws)?,
                Step::Pair([left, right]) => {
                    f.write_str("(")?;
                    write_hand(f, left)?;
                    f.write_str(",")?;
                    write_hand(f, right)?;
                    f.write_str(")")?;
                }
            }
        }
        f.write_str(if self.starred { "*" } else { "" })
    }
}

/// What one hand throws: a single throw bare, several in square brackets.
fn write_hand(f: &mut fmt::Formatter<'_>, throws: &[WrittenThrow]) -> fmt::Result {
    if let [only] = throws {
        return write!(f, "{}", only.throw);
    }
    f.write_str("[")?;
    for written in throws {
        write!(f, "{}", written.throw)?;
    }
    f.write_str("]")
}
