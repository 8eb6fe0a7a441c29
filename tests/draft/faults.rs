//! The worked example with one mistake in it.

use super::{LANTERN, spoilt};

/// A junction that does not join.
pub(crate) fn torn() -> String {
    spoilt(LANTERN, "lasts: Cycles(10), transition: Auto", "lasts: Cycles(10)")
}

/// A pattern that is mistyped.
pub(crate) fn unread() -> String {
    spoilt(LANTERN, "pattern: \"51\"", "pattern: \"5?1\"")
}

/// A length that is no whole number of beats.
pub(crate) fn off_beat() -> String {
    spoilt(LANTERN, "lasts: Cycles(8)", "lasts: For(\"0:07.1\")")
}

/// A set that there is not.
pub(crate) fn no_set() -> String {
    spoilt(LANTERN, "set: \"three\"", "set: \"tree\"")
}

/// A stage that goes dark while torches are in the air.
pub(crate) fn fire_in_dark() -> String {
    let fire = spoilt(LANTERN, "\"three\": Set(kind: Ball", "\"three\": Set(kind: Torch");
    spoilt(&fire, "at: LastCatch(\"ebb\")", "at: Start(\"ebb\")")
}

/// A pattern that is mistyped in an act of torches with a dark.
pub(crate) fn fire_that_may_be_in_dark() -> String {
    spoilt(&unread(), "\"three\": Set(kind: Ball", "\"three\": Set(kind: Torch")
}
