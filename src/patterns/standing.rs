//! Which prop leaves first, when a hand throws several together.
//!
//! The throws as written go to the props in the order in which they stand in that hand: by the
//! beat on which the prop came due there (a held 2 keeps the beat on which it first came); then by
//! the beat on which it was thrown, earlier first; then as written, left hand before right. The
//! dwell plays no part. This one order serves orbits, the timeline and gathers.

/// Where a prop stands among those that its hand throws together: lower leaves first.
///
/// Beats may be negative (in a pattern that has run for ever). A prop at rest since the cold start
/// stands before props that land later: `came` and `thrown` are [`Standing::AT_REST`] and
/// `written` its place in the hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Standing {
    /// The beat on which it first came due in this hand.
    pub came: i64,
    /// The beat on which it was thrown.
    pub thrown: i64,
    /// Its place among the throws of that beat: left hand before right, then as written.
    pub written: u32,
}

impl Standing {
    /// Earlier than any beat.
    pub const AT_REST: i64 = i64::MIN;

    /// A prop at rest in a hand since the cold start, `place` props leaving before it.
    #[must_use]
    pub fn at_rest(place: u32) -> Standing {
        Standing { came: Standing::AT_REST, thrown: Standing::AT_REST, written: place }
    }

    /// The same after its hand waited one beat: what had not come yet comes one beat later.
    /// `due` is the beat on which the prop was due before the wait.
    #[must_use]
    pub fn waited(self, due: i64) -> Standing {
        Standing { came: if self.came == due { due + 1 } else { self.came }, ..self }
    }
}
