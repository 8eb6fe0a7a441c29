//! What stops the compiler: typed, without words. The checks put them into sentences.
//!
//! Sections are indices into the score; beats count from the join unless said otherwise.

use crate::hand::Hand;
use crate::patterns::Schedule;
use crate::time::{Open, Seconds, Time};
use crate::transition::Origin;

use super::{Action, Bend, HandLoading, Misfit, Unresolved};

/// Something that the compiler could not do.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// The schedule that is left is not the one that the section needs, or its written transition
    /// does not fit.
    Junction {
        /// The section that is joined.
        section: usize,
        /// What is left before the join, its written transition not yet thrown.
        origin: Origin,
        /// Written transition throws that do not fit.
        misfits: Vec<Misfit>,
        /// What is left when the section's own first throw comes, from that beat on.
        left: Schedule,
        /// What the section needs there.
        needed: Schedule,
        /// Beats from the join to the section's own first throw.
        beats: u32,
        /// The hand of the section's own first throw; `None` for pairs.
        lead: Option<Hand>,
        /// The throws before the section's own first one that land from there on, each with its
        /// [`Action::due`] in beats from there.
        in_flight: Vec<Action>,
    },
    /// No transition lies within the routine's bounds.
    NoTransition {
        /// The section that is joined.
        section: usize,
        /// What is left before it.
        origin: Origin,
    },
    /// Another hand leads than the one that is demanded.
    Lead {
        /// The section that demands it.
        section: usize,
        /// The hand that leads instead.
        got: Hand,
        /// Whether the join would fit, led by that hand.
        fits: bool,
        /// What is left before it.
        origin: Origin,
    },
    /// A cold start finds other numbers in the hands than it needs.
    HandCount {
        /// The section that starts.
        section: usize,
        /// In the right hand.
        right: u32,
        /// In the left hand.
        left: u32,
        /// Needed in the right hand.
        needs_right: u32,
        /// Needed in the left hand.
        needs_left: u32,
        /// The hand that would lead; `None` for pairs.
        lead: Option<Hand>,
    },
    /// The pattern needs another number of props than the set has.
    PropCount {
        /// The section.
        section: usize,
        /// Index of the set in the routine.
        set: usize,
    },
    /// Another set inside a run: props change at a pause only.
    SetInRun {
        /// The section.
        section: usize,
    },
    /// No set is in use.
    NoSet {
        /// The section.
        section: usize,
    },
    /// No tempo is in force.
    NoTempo {
        /// The section.
        section: usize,
    },
    /// A tempo as the music goes where the music has no bars.
    OffBars {
        /// The section.
        section: usize,
        /// Why there are none.
        why: WhyNoBars,
    },
    /// A written loading that is not the set's props, or not what the hands hold.
    Loading {
        /// The section.
        section: usize,
        /// Index of the set in the routine.
        set: usize,
        /// What the hands hold instead, where the props are kept from the gather before; `None`
        /// where the loading does not name the set's props.
        held: Option<HandLoading>,
    },
    /// A pause cannot load the hands anew as it says.
    Regrip {
        /// The pause.
        section: usize,
        /// Why not.
        why: WhyNoRegrip,
    },
    /// A length that is no whole number of beats.
    NotWhole {
        /// The section.
        section: usize,
        /// Own beats just below, if that is at least one, with the error in seconds (negative).
        below: Option<(u32, Seconds)>,
        /// Own beats just above, with the error in seconds.
        above: (u32, Seconds),
    },
    /// No whole number of cycles ends where the section ends, as far as its tempo may bend.
    BendTooSmall {
        /// The section.
        section: usize,
        /// The nearest bends, slower and faster, least first, each with how much later so many
        /// cycles end at the written tempo, in seconds.
        nearest: Vec<(Seconds, Bend)>,
    },
    /// The moment that ends a section is not known when the section is laid out.
    UntilUnknown {
        /// The section.
        section: usize,
        /// Why.
        why: Unresolved,
    },
    /// The moment that ends a section comes before its first own beat is over.
    UntilTooEarly {
        /// The section.
        section: usize,
        /// By how much, in seconds.
        by: Seconds,
    },
    /// A pause that would end before it starts.
    NegativePause {
        /// The section.
        section: usize,
        /// How long it would be, in seconds; negative.
        lasts: Seconds,
    },
    /// The show clock has no zero.
    ZeroUnknown {
        /// Why.
        why: Unresolved,
    },
    /// The moment at which a track starts is unknown.
    TrackStartUnknown {
        /// Index of the track, as in [`crate::routine::Routine::all_tracks`].
        track: usize,
        /// Why.
        why: Unresolved,
    },
    /// A length that is left open changes more than times.
    Range {
        /// The section that it changes.
        section: usize,
        /// What is left open.
        by: Open,
        /// What would change.
        moved: MovedByOpen,
    },
    /// More throws than the program lays out.
    TooLong {
        /// The section in which they become too many.
        section: usize,
    },
}

impl Trouble {
    /// The section whose props do not come as it needs them, if it is that.
    #[must_use]
    pub fn tears(&self) -> Option<usize> {
        match *self {
            Trouble::Junction { section, .. }
            | Trouble::NoTransition { section, .. }
            | Trouble::Lead { section, .. }
            | Trouble::HandCount { section, .. }
            | Trouble::PropCount { section, .. }
            | Trouble::SetInRun { section }
            | Trouble::Loading { section, .. } => Some(section),
            _ => None,
        }
    }
}

/// What must not hang on a length that is left open.
#[derive(Clone, Debug, PartialEq)]
pub enum MovedByOpen {
    /// A pause would end before it starts: it would last so long.
    Negative(Time),
    /// A juggled section would get other beats, or beats that are no whole number.
    Beats,
    /// How fast a section goes, or how long its bars last.
    Pace,
    /// How far a tempo bends.
    Bend,
    /// Which of several moments ends it.
    Which,
}

/// Why the music has no bars where a section follows them.
#[derive(Clone, Debug, PartialEq)]
pub enum WhyNoBars {
    /// It is not known when the music starts, or it has none, or no bars are written.
    Unknown(Unresolved),
    /// The section starts so many seconds before the first bar.
    Before(Seconds),
    /// The section's last beat ends so many seconds after the track.
    After(Seconds),
    /// The music is held within the section, by the hold at that index of the first track.
    Held(usize),
}

/// Why a pause cannot load the hands anew.
#[derive(Clone, Debug, PartialEq)]
pub enum WhyNoRegrip {
    /// Nothing was gathered before it.
    NothingGathered,
    /// The section after it brings this set, an index into the routine's.
    OtherSet(usize),
    /// What is written is not the set's props.
    NotTheProps {
        /// Index of the set in the routine.
        set: usize,
        /// What the hands hold.
        held: HandLoading,
    },
}
