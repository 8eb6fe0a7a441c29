//! The routine as its user wrote it: sections, moments, cues and limits, each value with its place.
//!
//! Made by [`crate::read`]; everything later stages know of the file, they know from here.
//! Times are seconds, lengths metres, beats whole beats.

mod arms;
mod cue;
mod encore;
mod issued;
mod limit;
mod moment;
mod score;
mod seen;
mod staging;
mod venue;

pub use arms::{ArmCycle, Arms, Made, MadeThrow};
pub use cue::{
    Crew, CrewDefaults, Cue, CueNumber, Does, FollowFrom, Numbering, SpotMove, Trigger, has_word,
    words_of,
};
pub use encore::Encore;
pub use issued::{CueOnPaper, Issue, Issued};
pub use limit::{
    AddsUp, Edge, Grade, Limit, OnTheLine, Penalty, Price, StartEvent, StepsFrom, TimeSignal,
    points_in_words,
};
pub use moment::Moment;
pub use score::{
    Accent, Declares, HandColours, Handling, Juggle, Lands, Length, Loading, MOST_BEND, MayBend,
    Part, Pause, Section, Tempo, Transition, Twos, Unread, Until, WrittenPattern, WrittenThrows,
    place_of,
};
pub use seen::{Caught, Freedom, Seen, Shown, TwoThrows};
pub use staging::{
    Bars, Hazard, Hold, NamedColour, PropKind, PropSet, Room, Track, USUAL_MARGIN_M,
};
pub use venue::{Haze, OnPlan, PlanPlace, StageDepth, StagePlace, StageSide, Venue};

pub use crate::appearance::Rgb;

use num_rational::Ratio;

use crate::diagnostic::{Place, Placed};
use crate::hand::Hand;
use crate::time::Seconds;
use crate::transition::Bounds;

/// One routine file.
#[derive(Clone, Debug, PartialEq)]
pub struct Routine {
    /// Printed on every sheet.
    pub title: Placed<String>,
    /// The issue number, printed on every sheet.
    pub issue: u32,
    /// Where it is written; the routine's opening word where it is not.
    pub issue_at: Place,
    /// The hand of the first throw where no section says otherwise.
    pub lead: Hand,
    /// The tempo until a section says otherwise.
    pub tempo: Option<Placed<Tempo>>,
    /// The part of a hand's two beats for which it holds the prop; above 0 and below 1.
    pub dwell: Ratio<i64>,
    /// What is overhead.
    pub room: Option<Room>,
    /// Bounds of the transitions that `Auto` finds.
    pub transitions: Bounds,
    /// The named colours, in the file's order.
    pub colours: Vec<NamedColour>,
    /// The prop sets, in the file's order.
    pub sets: Vec<PropSet>,
    /// What is behind the props, if it is written.
    pub backdrop: Option<NamedColour>,
    /// The music, where it is one track without a name.
    pub music: Option<Track>,
    /// The tracks by name, in the file's order; none beside `music`.
    pub tracks: Vec<(Placed<String>, Track)>,
    /// The moment at which the show clock reads zero.
    pub zero: Placed<Moment>,
    /// The sections in order.
    pub score: Vec<Section>,
    /// The limits.
    pub limits: Vec<Limit>,
    /// What holds for the cues of a crew, in the file's order.
    pub crews: Vec<CrewDefaults>,
    /// The cues, in the file's order.
    pub cues: Vec<Cue>,
    /// Seconds that the set-up before the act takes.
    pub set_up: Option<Placed<Seconds>>,
    /// Seconds that the strike after it takes.
    pub strike: Option<Placed<Seconds>>,
    /// What a venue asks, if it is written.
    pub venue: Option<Box<Venue>>,
    /// What is played only if it is called for.
    pub encore: Option<Box<Encore>>,
    /// Whether it is itself the encore of another.
    pub is_encore: bool,
    /// What was handed out before, where a record of it lies beside the file.
    pub issued: Option<Issued>,
    /// What of the file could not be read: what hangs on it is not known.
    pub hidden: Hidden,
}

/// What could not be read of a routine's file beside entries of its score.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hidden {
    /// The zero of the show clock.
    pub zero: bool,
    /// The hand of the first throw.
    pub lead: bool,
    /// The dwell ratio.
    pub dwell: bool,
    /// One of the sets at least.
    pub sets: bool,
    /// One of the cues at least.
    pub cues: bool,
    /// Some of the music.
    pub music: bool,
    /// One of the limits at least.
    pub limits: bool,
    /// The encore, all of it.
    pub encore: bool,
}

impl Routine {
    /// The routine, and that of its encore where it has one.
    pub fn with_encore(&self) -> impl Iterator<Item = &Routine> {
        std::iter::successors(Some(self), |routine| Some(&routine.encore.as_deref()?.routine))
    }

    /// Every track, each with its name, if it has one.
    pub fn all_tracks(&self) -> impl Iterator<Item = (Option<&Placed<String>>, &Track)> {
        let named = self.tracks.iter().map(|(name, track)| (Some(name), track));
        self.music.iter().map(|track| (None, track)).chain(named)
    }

    /// The first track, which files to rehearse by and time codes run beside.
    #[must_use]
    pub fn first_track(&self) -> Option<&Track> {
        self.all_tracks().next().map(|(_, track)| track)
    }

    /// The moment at which it starts.
    #[must_use]
    pub fn first_track_start(&self) -> Moment {
        match self.all_tracks().next() {
            Some((Some(name), _)) => Moment::OfTrack(name.clone(), Box::new(Moment::TrackStart)),
            _ => Moment::TrackStart,
        }
    }

    /// What is juggled in the entry of that index; `None` for a pause and past the score's end.
    #[must_use]
    pub fn juggle(&self, section: usize) -> Option<&Juggle> {
        self.score.get(section)?.juggle()
    }

    /// The same, to be changed.
    #[must_use]
    pub fn juggle_mut(&mut self, section: usize) -> Option<&mut Juggle> {
        self.score.get_mut(section)?.juggle_mut()
    }

    /// Everything that is juggled, in the order of the score.
    pub fn juggles(&self) -> impl Iterator<Item = &Juggle> {
        self.score.iter().filter_map(Section::juggle)
    }

    /// Whether any tempo is the music's.
    #[must_use]
    pub fn follows_the_music(&self) -> bool {
        let juggled = self.juggles().filter_map(|juggle| juggle.tempo.as_ref());
        let mut tempos = juggled.chain(&self.tempo);
        tempos.any(|tempo| matches!(tempo.value, Tempo::PerMusicBeat { .. }))
    }

    /// The set of that name.
    #[must_use]
    pub fn set(&self, name: &str) -> Option<&PropSet> {
        self.sets.iter().find(|set| set.name.value == name)
    }

    /// The index of the set of that name.
    #[must_use]
    pub fn set_index(&self, name: &str) -> Option<usize> {
        self.sets.iter().position(|set| set.name.value == name)
    }

    /// The index in the score of the section of that name.
    #[must_use]
    pub fn section(&self, name: &str) -> Option<usize> {
        self.score.iter().position(|section| section.name.value == name)
    }

    /// The index of the colour of that name.
    #[must_use]
    pub fn colour(&self, name: &str) -> Option<usize> {
        self.colours.iter().position(|colour| colour.name.value == name)
    }

    /// What holds for the cues of a crew.
    #[must_use]
    pub fn crew(&self, crew: Crew) -> Option<&CrewDefaults> {
        self.crews.iter().find(|defaults| defaults.crew.value == crew)
    }
}
