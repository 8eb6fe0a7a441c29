//! Moments: points of the performance by name, so that nothing is retyped when the routine changes.

use crate::diagnostic::Placed;
use crate::time::Seconds;

/// A point in the performance.
#[derive(Clone, Debug, PartialEq)]
pub enum Moment {
    /// The music's first sample.
    TrackStart,
    /// The music's end.
    TrackEnd,
    /// The routine's first release.
    FirstThrow,
    /// The routine's last catch, or the last catch of the section of that name.
    LastCatch(Option<Placed<String>>),
    /// A section's first beat, its transition included.
    Start(Placed<String>),
    /// Where a section ends.
    End(Placed<String>),
    /// The release of a section's throw, counted from 1 through the cycles, the transition left
    /// out.
    Throw(Placed<String>, Placed<u32>),
    /// The catch of that throw.
    Catch(Placed<String>, Placed<u32>),
    /// The first throw of a section's cycle, counted from 1.
    Cycle(Placed<String>, Placed<u32>),
    /// A mark of the music.
    Mark(Placed<String>),
    /// A bar of the music, and a music beat in it from 1.
    Bar(i32, u32),
    /// A time on the show clock.
    At(Seconds),
    /// Where the set-up before the act starts.
    SetUpStart,
    /// Where it ends: the act's first section starts.
    SetUpEnd,
    /// Where the encore would start if it followed at once: the act's end. In the encore, where it
    /// does start.
    EncoreStart,
    /// Where it would end.
    EncoreEnd,
    /// Where the strike starts: after the act, and after its encore if it has one.
    StrikeStart,
    /// Where the strike ends.
    StrikeEnd,
    /// Where the music stands still at the hold of that name.
    HoldStart(Placed<String>),
    /// Where it goes on after it.
    HoldEnd(Placed<String>),
    /// One of the music's moments, of the track of that name.
    OfTrack(Placed<String>, Box<Moment>),
    /// So many seconds after another moment; negative for before it.
    Shift(Box<Moment>, Seconds),
    /// Whichever of these comes first; none of them is a first or a last itself.
    First(Vec<Moment>),
    /// Whichever of these comes last; none of them is a first or a last itself.
    Last(Vec<Moment>),
}

impl Moment {
    /// Whether it is whichever of several comes first or last, shifted or not.
    #[must_use]
    pub fn is_one_of_several(&self) -> bool {
        matches!(self.unshifted().0, Moment::First(_) | Moment::Last(_))
    }

    /// The moment that it is shifted from, itself where it is not, and by how many seconds in all.
    #[must_use]
    pub fn unshifted(&self) -> (&Moment, Seconds) {
        match self {
            Moment::Shift(from, by) => {
                let (from, more) = from.unshifted();
                (from, by + &more)
            }
            itself => (itself, Seconds::zero()),
        }
    }
}
