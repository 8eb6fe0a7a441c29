//! Arms that cross, and how throws are made: what a section says of its juggler's body.
//!
//! An arm cycle has one entry for each beat of the written cycle (a pair fills two beats, so it
//! has two) or, where the cycle is odd, of the two cycles after which hands and throws repeat. It
//! begins with the section's own first throw. Arms are physical: `RightOver` is the right arm
//! above, whichever hand leads and in both halves of a starred pattern.

use crate::diagnostic::{Place, Placed};

use super::{Juggle, Routine};

/// Where the arms are on a beat.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Arms {
    /// Side by side.
    #[default]
    Open,
    /// Crossed, the right arm above.
    RightOver,
    /// Crossed, the left arm above.
    LeftOver,
}

impl Arms {
    /// All positions, with the word that the routine file has for each.
    pub const WRITTEN: [(&str, Arms); 3] =
        [("Open", Arms::Open), ("RightOver", Arms::RightOver), ("LeftOver", Arms::LeftOver)];

    /// The word that the routine file has for it.
    #[must_use]
    pub fn written(self) -> &'static str {
        match self {
            Arms::Open => "Open",
            Arms::RightOver => "RightOver",
            Arms::LeftOver => "LeftOver",
        }
    }

    /// What a section begins or ends with, as in "with the right arm over".
    #[must_use]
    pub fn phrase(self) -> &'static str {
        match self {
            Arms::Open => "the arms open",
            Arms::RightOver => "the right arm over",
            Arms::LeftOver => "the left arm over",
        }
    }

    /// In words, as in "the arms are open".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Arms::Open => "open",
            Arms::RightOver => "right over",
            Arms::LeftOver => "left over",
        }
    }

    /// The beats between two throws that going from one position to another takes: one to cross
    /// or to uncross, so two from one arm above to the other. Common practice, no source.
    #[must_use]
    pub fn beats_to(self, other: Arms) -> u32 {
        match (self, other) {
            _ if self == other => 0,
            (Arms::Open, _) | (_, Arms::Open) => 1,
            _ => 2,
        }
    }

    /// Whether going from one position to another crosses the arms: from open, or from one arm
    /// above to the other.
    #[must_use]
    pub fn crosses_to(self, other: Arms) -> bool {
        self != other && other != Arms::Open
    }
}

/// Where the arms are through a section, beat by beat.
#[derive(Clone, Debug, PartialEq)]
pub struct ArmCycle {
    /// The whole list.
    pub at: Place,
    /// One for each beat, at least one; repeated for as long as the section lasts.
    pub beats: Vec<Placed<Arms>>,
}

impl ArmCycle {
    /// Which entry holds on a beat of the section's own, counted from 0.
    #[must_use]
    pub fn entry(&self, beat: u32) -> Option<&Placed<Arms>> {
        self.beats.get(beat as usize % self.beats.len().max(1))
    }
}

/// How a throw is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Made {
    /// From the middle outwards, as in a cascade.
    Inside,
    /// Round the outside and in, as in a reverse cascade.
    Outside,
    /// Under the other arm's wrist.
    UnderWrist,
    /// Under a leg.
    UnderLeg,
    /// Behind the back.
    BehindBack,
    /// Over the top of everything that flies.
    OverTop,
}

impl Made {
    /// All ways, with the word that the routine file has for each.
    pub const WRITTEN: [(&str, Made); 6] = [
        ("Inside", Made::Inside),
        ("Outside", Made::Outside),
        ("UnderWrist", Made::UnderWrist),
        ("UnderLeg", Made::UnderLeg),
        ("BehindBack", Made::BehindBack),
        ("OverTop", Made::OverTop),
    ];

    /// In the trade's words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Made::Inside => "inside",
            Made::Outside => "outside",
            Made::UnderWrist => "under the wrist",
            Made::UnderLeg => "under the leg",
            Made::BehindBack => "behind the back",
            Made::OverTop => "over the top",
        }
    }
}

/// A throw of each cycle that is made in some way.
#[derive(Clone, Debug, PartialEq)]
pub struct MadeThrow {
    /// The throw's number in the cycle, from 1.
    pub throw: Placed<u32>,
    /// How it is made.
    pub made: Made,
}

impl Juggle {
    /// Where the arms are on a beat of its own, counted from 0: open where nothing is written.
    #[must_use]
    pub fn arms_on(&self, beat: u32) -> Arms {
        let entry = self.arms.as_ref().and_then(|track| track.entry(beat));
        entry.map_or(Arms::Open, |entry| entry.value)
    }

    /// How the throw of that number in the cycle is made, where that is written.
    #[must_use]
    pub fn made(&self, number: u32) -> Option<Made> {
        self.made.iter().find(|made| made.throw.value == number).map(|made| made.made)
    }
}

impl Routine {
    /// Whether any section has an arm cycle.
    #[must_use]
    pub fn has_arms(&self) -> bool {
        self.juggles().any(|juggle| juggle.arms.is_some())
    }

    /// Whether any section says how its throws are made.
    #[must_use]
    pub fn says_how_made(&self) -> bool {
        self.juggles().any(|juggle| !juggle.made.is_empty())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crossing_or_uncrossing_takes_a_beat_and_changing_the_arm_above_two() {
        use Arms::{LeftOver, Open, RightOver};
        for (from, to, beats, crosses) in [
            (Open, Open, 0, false),
            (RightOver, RightOver, 0, false),
            (Open, LeftOver, 1, true),
            (LeftOver, Open, 1, false),
            (RightOver, LeftOver, 2, true),
            (LeftOver, RightOver, 2, true),
        ] {
            assert_eq!((from.beats_to(to), from.crosses_to(to)), (beats, crosses), "{from:?}");
        }
    }
}
