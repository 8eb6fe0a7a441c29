//! One throw: how many beats until the same prop is thrown again, and whether it crosses.

use std::fmt;

use crate::hand::Hand;

use super::Kind;

/// The highest throw value that the notation can write: `z`.
pub const HIGHEST_VALUE: u8 = 35;

/// A throw as the notation counts it.
///
/// The order is *lowest first, straight before crossing*, which is the order in which ties
/// between transitions are broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Throw {
    /// Beats until the same prop is thrown again, 0 to [`HIGHEST_VALUE`]; 0 = the hand is empty.
    pub value: u8,
    /// Written with an `x` in a pair: the throw goes to the other hand. Always `false` where the
    /// hands alternate, where the value alone says which hand catches.
    pub crossing: bool,
}

impl Throw {
    /// A throw that carries no `x`.
    #[must_use]
    pub const fn straight(value: u8) -> Throw {
        Throw { value, crossing: false }
    }

    /// A throw of a pair that goes to the other hand.
    #[must_use]
    pub const fn crossing(value: u8) -> Throw {
        Throw { value, crossing: true }
    }

    /// The hand that the prop comes to when `from` throws it.
    #[must_use]
    pub fn to(self, from: Hand, kind: Kind) -> Hand {
        match kind {
            Kind::Async => from.after(u32::from(self.value)),
            Kind::Sync if self.crossing => from.other(),
            Kind::Sync => from,
        }
    }

    /// The character that writes `value`: `0`–`9`, then `a`–`z`.
    #[must_use]
    pub fn digit(value: u8) -> char {
        char::from_digit(u32::from(value), 36)
            .unwrap_or_else(|| unreachable!("the reader of the notation lets no value above 35 in"))
    }
}

impl fmt::Display for Throw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", Throw::digit(self.value), if self.crossing { "x" } else { "" })
    }
}
