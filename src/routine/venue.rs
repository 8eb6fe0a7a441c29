//! What a venue asks before the act arrives, as far as no other part of the file says it.
//!
//! Lengths are metres, times seconds. Whatever is left out is a blank on the venue page.

use std::fmt;

use crate::diagnostic::Place;
use crate::time::Seconds;

/// What only the juggler can tell a venue.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Venue {
    /// The whole entry.
    pub at: Place,
    /// How many perform.
    pub performers: Option<u32>,
    /// How many come with them and work beside the stage.
    pub helpers: Option<u32>,
    /// How wide the stage should be, in metres.
    pub width: Option<f64>,
    /// How deep, in metres.
    pub depth: Option<f64>,
    /// What the floor should be like.
    pub floor: Option<String>,
    /// From which sides the light should come.
    pub light: Option<String>,
    /// What the sound should be able to do.
    pub sound: Option<String>,
    /// The power that is needed, and where.
    pub power: Option<String>,
    /// What stands where.
    pub plan: Vec<OnPlan>,
    /// What burns, how much of it, and where it is kept.
    pub fuel: Option<String>,
    /// Who watches the flames.
    pub spotter: Option<String>,
    /// The fire blanket, and where it lies.
    pub blanket: Option<String>,
    /// The extinguisher, and where it stands.
    pub extinguisher: Option<String>,
    /// Whether there is haze.
    pub haze: Option<Haze>,
    /// What is done where the room is too low.
    pub low_room: Option<String>,
    /// What is done where it cannot be dark.
    pub no_blackout: Option<String>,
    /// How long the act wants the stage in show light before the show, in seconds.
    pub rehearsal: Option<Seconds>,
    /// Whom to ask.
    pub contact: Option<String>,
    /// What the host says before the act.
    pub intro: Option<String>,
}

/// Whether an act makes haze.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Haze {
    /// It makes none.
    Nothing,
    /// It does: which, in its user's words.
    Made(String),
}

/// Something on the stage plan, or beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnPlan {
    /// Where.
    pub place: PlanPlace,
    /// What.
    pub what: String,
}

/// Where something is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PlanPlace {
    /// On the stage.
    OnStage(StagePlace),
    /// Elsewhere, in its user's words.
    Beside(String),
}

/// One of the nine places of a stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StagePlace {
    /// How far from the audience.
    pub depth: StageDepth,
    /// On which side.
    pub side: StageSide,
}

/// How far from the audience.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StageDepth {
    /// Away from it.
    Up,
    /// Between.
    Centre,
    /// Next to it.
    Down,
}

/// On which side, the performer's, who faces the audience.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StageSide {
    /// The performer's right.
    Right,
    /// Between.
    Centre,
    /// The performer's left.
    Left,
}

impl StageDepth {
    /// From the back to the audience.
    pub const ALL: [StageDepth; 3] = [StageDepth::Up, StageDepth::Centre, StageDepth::Down];

    /// `up`, `centre` or `down`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            StageDepth::Up => "up",
            StageDepth::Centre => "centre",
            StageDepth::Down => "down",
        }
    }
}

impl StageSide {
    /// As the audience sees them, from left to right.
    pub const ALL: [StageSide; 3] = [StageSide::Right, StageSide::Centre, StageSide::Left];

    /// `right`, `centre` or `left`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            StageSide::Right => "right",
            StageSide::Centre => "centre",
            StageSide::Left => "left",
        }
    }
}

/// As in `down right`; the middle of the stage is `centre`.
impl fmt::Display for StagePlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.depth, self.side) {
            (StageDepth::Centre, StageSide::Centre) => f.write_str("centre"),
            (depth, side) => write!(f, "{} {}", depth.word(), side.word()),
        }
    }
}

impl StagePlace {
    /// The nine, from the back to the audience, each row as the audience sees it.
    pub fn all() -> impl Iterator<Item = StagePlace> {
        let row = |depth| StageSide::ALL.into_iter().map(move |side| StagePlace { depth, side });
        StageDepth::ALL.into_iter().flat_map(row)
    }

    /// The place of these words, as in `down centre`; `None` where they name none of the nine.
    #[must_use]
    pub fn of(words: &str) -> Option<StagePlace> {
        let mut words = words.split_whitespace().map(str::to_lowercase);
        let (first, second) = (words.next()?, words.next());
        if words.next().is_some() {
            return None;
        }
        let depth = StageDepth::ALL.into_iter().find(|depth| depth.word() == first)?;
        let side = match second {
            Some(second) => StageSide::ALL.into_iter().find(|side| side.word() == second)?,
            None => Some(StageSide::Centre).filter(|_| depth == StageDepth::Centre)?,
        };
        Some(StagePlace { depth, side })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nine_places_are_on_stage_and_no_other() {
        for place in StagePlace::all() {
            assert_eq!(StagePlace::of(&place.to_string()), Some(place), "{place}");
        }
        assert_eq!(StagePlace::all().count(), 9);
        let words = |words| StagePlace::of(words).map(|place| place.to_string());
        assert_eq!(words("  Down   LEFT ").as_deref(), Some("down left"));
        assert_eq!(words("centre centre").as_deref(), Some("centre"));
        for other in ["", "up", "left", "left up", "up up", "down centre, at the tray", "wing"] {
            assert_eq!(words(other), None, "{other}");
        }
    }
}
