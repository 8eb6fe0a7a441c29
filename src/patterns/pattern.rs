//! A pattern: a valid sequence in one notation that can repeat for ever.

use std::ops::Range;

use crate::hand::Hand;
use crate::notation::{Fault, Kind, Sequence};

use super::landing::Landings;
use super::{Schedule, faults};

/// A valid pattern. Made by [`Pattern::read`] and
/// [`Pattern::from_sequence`] only, so every `Pattern` can be juggled for ever.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    sequence: Sequence,
    kind: Kind,
    props: u32,
    period: u32,
    schedule: Schedule,
}

impl Pattern {
    /// One written cycle (both halves of a starred pattern).
    #[must_use]
    pub fn sequence(&self) -> &Sequence {
        &self.sequence
    }

    /// Alternating hands or pairs.
    #[must_use]
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// How many props it needs.
    #[must_use]
    pub fn props(&self) -> u32 {
        self.props
    }

    /// Beats of one cycle.
    #[must_use]
    pub fn period(&self) -> u32 {
        self.period
    }

    /// The beats after which hands and throws both repeat: the cycle or, if that is odd, twice it.
    #[must_use]
    pub fn beats_to_repeat(&self) -> u32 {
        if self.period.is_multiple_of(2) { self.period } else { 2 * self.period }
    }

    /// The schedule before its first written throw. Alternating hands: led by the right.
    #[must_use]
    pub fn schedule(&self) -> &Schedule {
        &self.schedule
    }

    /// The schedule before its first written throw with `lead` throwing it. Pairs have no lead:
    /// the same either way.
    #[must_use]
    pub fn schedule_led_by(&self, lead: Hand) -> Schedule {
        match (self.kind, lead) {
            (Kind::Async, Hand::Left) => self.schedule.mirrored(),
            _ => self.schedule.clone(),
        }
    }
}

impl Pattern {
    /// Reads a pattern.
    ///
    /// # Errors
    /// Every fault of the text, warnings among them; `Ok` carries the warnings.
    pub fn read(text: &str) -> Result<(Pattern, Vec<Fault>), Vec<Fault>> {
        let (sequence, mut found) = Sequence::read(text)?;
        match Pattern::from_sequence(sequence, 0..text.chars().count()) {
            Ok(pattern) => Ok((pattern, found)),
            Err(faults) => {
                found.extend(faults);
                Err(found)
            }
        }
    }

    /// Makes a pattern of throws, if they can repeat for ever. `whole` are the characters that
    /// write them.
    ///
    /// # Errors
    /// What hinders them, with places in the text that the throws were read from.
    pub fn from_sequence(sequence: Sequence, whole: Range<usize>) -> Result<Pattern, Vec<Fault>> {
        let Some(kind) = sequence.kind() else { return Err(vec![faults::no_kind(&sequence)]) };
        let landings = Landings::of(&sequence, kind);
        let Some(props) = landings.props() else {
            return Err(vec![faults::average(&sequence, &landings, whole)]);
        };
        if !landings.all_fit() {
            return Err(faults::clashes(&sequence, &landings, whole));
        }
        let schedule = landings.schedule();
        let period = landings.period();
        Ok(Pattern { sequence, kind, props, period, schedule })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pattern(text: &str) -> Pattern {
        Pattern::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0
    }

    fn codes(text: &str) -> Vec<&'static str> {
        Pattern::read(text).err().unwrap_or_default().iter().map(|fault| fault.code).collect()
    }

    /// What is due on each coming beat, both hands together.
    fn due(schedule: &Schedule) -> Vec<u8> {
        (0..schedule.span())
            .map(|beat| Hand::BOTH.iter().map(|&hand| schedule.due(hand, beat)).sum())
            .collect()
    }

    #[test]
    fn a_pattern_needs_as_many_props_as_its_average() {
        for (text, props, period) in [
            ("3", 3, 1),
            ("531", 3, 3),
            ("[54]24", 5, 3),
            ("[43]23", 4, 3),
            ("(4,2x)(2x,4)", 3, 4),
            ("(4,2x)*", 3, 4),
            ("([44],2)", 5, 2),
            ("([4x2],2x)", 4, 2),
            ("(4,4)(4,0)", 3, 4),
            ("0", 0, 1),
            ("zzz", 35, 3),
            ("  5 3 1 ", 3, 3),
        ] {
            let pattern = pattern(text);
            assert_eq!((pattern.props(), pattern.period()), (props, period), "{text}");
        }
    }

    #[test]
    fn the_schedule_stands_before_the_first_written_throw() {
        assert_eq!(due(pattern("[54]24").schedule()), [2, 1, 1, 1]);
        assert_eq!(due(pattern("24[54]").schedule()), [1, 1, 1, 1, 1]);
        assert_eq!(due(pattern("4[54]2").schedule()), [1, 2, 1, 1]);
        assert_eq!(due(pattern("51").schedule()), [1, 1, 0, 1]);
    }

    #[test]
    fn ground_is_one_prop_on_each_of_the_next_beats() {
        for (text, ground) in [
            ("3", true),
            ("531", true),
            ("315", false),
            ("51", false),
            ("24[54]", true),
            ("0", true),
            ("(4,4)", true),
            ("(4,2x)*", true),
            ("(2x,4x)", true),
            ("(6,2)(2,6)", false),
            ("(4,0)", false),
            ("([44],2)", false),
        ] {
            let pattern = pattern(text);
            assert_eq!(pattern.schedule().is_ground(pattern.kind()), ground, "{text}");
        }
    }

    #[test]
    fn what_cannot_repeat_is_no_pattern() {
        assert_eq!(codes(""), ["empty-pattern"]);
        assert_eq!(codes("  "), ["empty-pattern"]);
        assert_eq!(codes("3(4,4)"), ["mixed-notation"]);
        assert_eq!(codes("54"), ["average-not-whole"]);
        assert_eq!(codes("432"), ["landing-clash"]);
    }
}
