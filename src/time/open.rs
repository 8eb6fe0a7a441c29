//! Times that hang on lengths which nobody knows until the night.
//!
//! A [`Time`] is what it is with every open length at its shortest, plus what it owes to each of
//! them: its *share*, how many seconds later it is where that one lasts its longest. Between the
//! two it moves evenly. So times add and subtract exactly, what moves two times alike cancels, and
//! the least and the greatest value of any difference can be read off. Unit: seconds.
//!
//! Worked: a pause of 4 to 12 s, then 3 s more: 7 s, and a share of 8 s. The same pause followed by
//! a pause until 0:20: 20 s, and a share of nothing.

use std::collections::BTreeMap;
use std::ops::{Add, Sub};

use num_rational::BigRational;
use num_traits::{Signed, Zero};

use super::{Seconds, TimeRange};

/// Something that a time hangs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Open {
    /// A length that lasts between two others: an index into its act's list.
    Length(u16),
    /// A time of its own between two ends, of which nothing else is known to hang on a length: an
    /// index that only tells two such times apart.
    Enclosed(u16),
    /// How long the entry of the score at that index lasts, which an error leaves unknown.
    Unknown(u32),
    /// When something happens within that entry, which an error hides.
    Within(u32, Within),
}

impl Open {
    /// Whether an error leaves it unknown.
    #[must_use]
    pub fn is_unknown(&self) -> bool {
        matches!(self, Open::Unknown(_) | Open::Within(..))
    }
}

/// An instant, or a length of time: exact, whatever is left open.
#[derive(Clone, Debug)]
pub struct Time {
    shortest: Seconds,
    /// In order, none of them zero.
    owes: Vec<(Open, BigRational)>,
}

/// What happens within an entry of the score.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Within {
    /// Its own throws start.
    Starts,
    /// The act's first throw.
    FirstThrow,
    /// A last catch.
    LastCatch,
    /// The throw of that number.
    Throw(u32),
    /// Its catch.
    Catch(u32),
    /// The start of the cycle of that number.
    Cycle(u32),
}

/// How long the open lengths are on one night: 0 for the shortest, 1 for the longest; what is not
/// named is at its shortest.
pub type Lengths = BTreeMap<Open, BigRational>;

impl Time {
    /// The zero of a clock.
    #[must_use]
    pub fn zero() -> Time {
        Time::from(Seconds::zero())
    }

    /// A length that lasts from `shortest` to `longest`.
    #[must_use]
    pub fn between(open: Open, shortest: &Seconds, longest: &Seconds) -> Time {
        let share = (longest - shortest).exact();
        let owes = if share.is_zero() { Vec::new() } else { vec![(open, share)] };
        Time { shortest: shortest.clone(), owes }
    }

    /// The same time, not known for it hangs on how long an entry of the score lasts.
    #[must_use]
    pub fn unknown(self, section: usize) -> Time {
        self.hanging_on(Open::Unknown(u32::try_from(section).unwrap_or(u32::MAX)))
    }

    /// What it is with every open length at its shortest.
    #[must_use]
    pub fn shortest(&self) -> &Seconds {
        &self.shortest
    }

    /// The open lengths that it hangs on, each with its share in seconds.
    #[must_use]
    pub fn owes(&self) -> &[(Open, BigRational)] {
        &self.owes
    }

    /// The time, where it hangs on nothing that is open.
    #[must_use]
    pub fn certain(&self) -> Option<&Seconds> {
        self.owes.is_empty().then_some(&self.shortest)
    }

    /// Something that it hangs on: before all else what an error leaves unknown.
    #[must_use]
    pub fn hangs_on(&self) -> Option<Open> {
        self.owes.iter().map(|(open, _)| *open).max_by_key(Open::is_unknown)
    }

    /// The same time, not known for an error hides when something happens within an entry of the
    /// score: its first throw, or a throw by its number.
    #[must_use]
    pub fn hidden_within(self, section: usize, what: Within) -> Time {
        self.hanging_on(Open::Within(u32::try_from(section).unwrap_or(u32::MAX), what))
    }

    fn hanging_on(self, open: Open) -> Time {
        if self.owes.iter().any(|(owed, _)| *owed == open) {
            return self;
        }
        let one = BigRational::from_integer(1.into());
        &self + &Time { shortest: Seconds::zero(), owes: vec![(open, one)] }
    }

    /// Whether an error leaves it unknown.
    #[must_use]
    pub fn is_unknown(&self) -> bool {
        self.owes.iter().any(|(open, _)| open.is_unknown())
    }

    /// What it is on a night.
    #[must_use]
    pub fn on(&self, lengths: &Lengths) -> Seconds {
        let late = self.owes.iter().filter_map(|(open, share)| Some(share * lengths.get(open)?));
        late.fold(self.shortest.clone(), |time, late| &time + &Seconds::from(late))
    }

    /// From the earliest to the latest.
    #[must_use]
    pub fn range(&self) -> TimeRange {
        if self.is_unknown() {
            return TimeRange::unknown();
        }
        TimeRange::between(self.least(), self.most())
    }

    /// The least that it can be.
    #[must_use]
    pub fn least(&self) -> Seconds {
        self.with_shares(BigRational::is_negative)
    }

    /// The most that it can be.
    #[must_use]
    pub fn most(&self) -> Seconds {
        self.with_shares(BigRational::is_positive)
    }

    fn with_shares(&self, counts: impl Fn(&BigRational) -> bool) -> Seconds {
        let counted = self.owes.iter().map(|(_, share)| share).filter(|share| counts(share));
        counted.fold(self.shortest.clone(), |time, share| &time + &Seconds::from(share.clone()))
    }

    fn with(
        &self,
        other: &Time,
        sign: impl Fn(&BigRational) -> BigRational,
    ) -> Vec<(Open, BigRational)> {
        if other.owes.is_empty() {
            return self.owes.clone();
        }
        let mut owes: BTreeMap<Open, BigRational> = self.owes.iter().cloned().collect();
        for (open, share) in &other.owes {
            let sum = owes.entry(*open).or_insert_with(BigRational::zero);
            *sum += sign(share);
        }
        owes.into_iter().filter(|(_, share)| !share.is_zero()).collect()
    }
}

impl From<Seconds> for Time {
    /// A time that hangs on nothing that is open.
    fn from(time: Seconds) -> Time {
        Time { shortest: time, owes: Vec::new() }
    }
}

impl Add<&Time> for &Time {
    type Output = Time;
    fn add(self, other: &Time) -> Time {
        Time { shortest: &self.shortest + &other.shortest, owes: self.with(other, Clone::clone) }
    }
}

impl Add<&Seconds> for &Time {
    type Output = Time;
    fn add(self, other: &Seconds) -> Time {
        Time { shortest: &self.shortest + other, owes: self.owes.clone() }
    }
}

impl Sub<&Time> for &Time {
    type Output = Time;
    fn sub(self, other: &Time) -> Time {
        Time { shortest: &self.shortest - &other.shortest, owes: self.with(other, |share| -share) }
    }
}

impl Sub<&Seconds> for &Time {
    type Output = Time;
    fn sub(self, other: &Seconds) -> Time {
        Time { shortest: &self.shortest - other, owes: self.owes.clone() }
    }
}

impl Time {
    /// Whether it is the same to the last bit, where equal times after a ramp may be less than a
    /// microsecond apart.
    pub(crate) fn is_identical(&self, other: &Time) -> bool {
        let same = match (&self.shortest, &other.shortest) {
            (Seconds::Exact(one), Seconds::Exact(other)) => one == other,
            (Seconds::Near(one), Seconds::Near(other)) => one.to_bits() == other.to_bits(),
            _ => false,
        };
        same && self.owes == other.owes
    }
}

/// Times are equal that are so on every night.
impl PartialEq for Time {
    fn eq(&self, other: &Time) -> bool {
        self.owes == other.owes && self.shortest == other.shortest
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn s(seconds: i64) -> Seconds {
        Seconds::fraction(seconds, 1)
    }

    #[test]
    fn what_moves_two_times_alike_cancels() {
        let applause = Time::between(Open::Length(0), &s(4), &s(12));
        let talk = Time::between(Open::Length(1), &s(1), &s(9));
        let start = Time::from(s(10));
        let after_applause = &start + &applause;
        let light = &after_applause + &s(1);
        assert_eq!((&light - &after_applause).certain(), Some(&s(1)));
        // A pause until 0:30 takes up the applause; the talk comes after it.
        let torches = &Time::from(s(30)) + &talk;
        let late = &light - &torches;
        assert_eq!((late.least(), late.most()), (s(15 - 39), s(23 - 31)));
        assert_eq!(late.range(), TimeRange::between(s(-24), s(-8)));
        let half = BigRational::new(1.into(), 2.into());
        assert_eq!(late.on(&[(Open::Length(0), half)].into()), s(19 - 31));
    }

    #[test]
    fn what_an_error_leaves_unknown_says_nothing_but_a_difference_from_there_does() {
        let unknown = Time::from(s(10)).unknown(2);
        let later = &unknown + &s(3);
        assert!(later.is_unknown());
        assert_eq!(later.range(), TimeRange::unknown());
        assert_eq!((&later - &unknown).certain(), Some(&s(3)));
    }
}
