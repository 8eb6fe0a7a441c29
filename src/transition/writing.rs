//! Writes found throws as a sequence.

use std::ops::Range;

use crate::notation::{Kind, Sequence, Step, Throw, WrittenThrow};

/// A pen that knows how far it has come.
#[derive(Default)]
struct Pen {
    characters: usize,
    throws: u32,
}

impl Pen {
    fn over(&mut self, characters: usize) -> Range<usize> {
        self.characters += characters;
        self.characters - characters..self.characters
    }

    /// The throws of one hand on one beat, in brackets where there are several.
    fn hand(&mut self, throws: Vec<Throw>) -> Vec<WrittenThrow> {
        let bracket = usize::from(throws.len() > 1);
        self.over(bracket);
        let written = throws.into_iter().map(|throw| {
            self.throws += 1;
            let at = self.over(1 + usize::from(throw.crossing));
            WrittenThrow { throw, number: self.throws, at }
        });
        let written = written.collect();
        self.over(bracket);
        written
    }
}

/// The throws of each slot in order, left before right in a pair, numbered and placed as they are
/// written without spaces.
pub(super) fn written(slots: impl IntoIterator<Item = (Kind, Vec<Throw>)>) -> Sequence {
    let mut slots = slots.into_iter();
    let mut pen = Pen::default();
    let mut steps = Vec::new();
    while let Some((kind, throws)) = slots.next() {
        steps.push(match kind {
            Kind::Async => Step::Alternating(pen.hand(throws)),
            Kind::Sync => {
                pen.over(1);
                let left = pen.hand(throws);
                pen.over(1);
                let Some((_, right)) = slots.next() else {
                    unreachable!("slots of pairs come two by two");
                };
                let right = pen.hand(right);
                pen.over(1);
                Step::Pair([left, right])
            }
        });
    }
    Sequence { steps, starred: false }
}
