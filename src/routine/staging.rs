//! What the act is done with: props and their colours, the room, the music.

use num_rational::BigRational;

use crate::appearance::Rgb;
use crate::diagnostic::{Place, Placed};
use crate::time::{MusicMap, MusicStretch, Seconds};

use super::Moment;

/// A colour of the routine's palette, of its backdrop or of a light.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedColour {
    /// What sheets call it: its name, or the colour as it is written where it has none.
    pub name: Placed<String>,
    /// What it looks like.
    pub rgb: Rgb,
    /// Where that is written.
    pub at: Place,
}

/// The props in use at one time.
#[derive(Clone, Debug, PartialEq)]
pub struct PropSet {
    /// Its name.
    pub name: Placed<String>,
    /// The whole entry.
    pub at: Place,
    /// What kind of prop.
    pub kind: PropKind,
    /// Length of one prop in metres.
    pub length: f64,
    /// The colour of each prop, of two-sided ones that of the front; props with equal colours on
    /// both faces are the same props. At least one.
    pub colours: Vec<Placed<String>>,
    /// The colour of each prop's other face, in the same order; empty where they have none.
    pub backs: Vec<Placed<String>>,
    /// Tested seconds alight: the shortest counts.
    pub burn: Vec<Placed<Seconds>>,
    /// What may hurt somebody, where it is written; an empty list says that nothing does.
    pub danger: Option<Vec<Hazard>>,
}

/// What needs light for as long as it is in use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hazard {
    /// Flames.
    Fire,
    /// Blades.
    Blades,
}

impl Hazard {
    /// Both.
    pub const ALL: [Hazard; 2] = [Hazard::Fire, Hazard::Blades];

    /// What is done where they come into use, as in `lit`.
    #[must_use]
    pub fn taken(self) -> &'static str {
        match self {
            Hazard::Fire => "lit",
            Hazard::Blades => "picked up",
        }
    }

    /// What is done where they are in use no longer, as in `put out`.
    #[must_use]
    pub fn put_away(self) -> &'static str {
        match self {
            Hazard::Fire => "put out",
            Hazard::Blades => "put down",
        }
    }

    /// What they are meanwhile, as in `alight`.
    #[must_use]
    pub fn state(self) -> &'static str {
        match self {
            Hazard::Fire => "alight",
            Hazard::Blades => "in somebody's hands",
        }
    }
}

impl PropSet {
    /// Whether its props burn, or have blades: a kind that does, a tested burn, or its own word.
    #[must_use]
    pub fn is(&self, hazard: Hazard) -> bool {
        let by_itself = match hazard {
            Hazard::Fire => self.kind == PropKind::Torch || !self.burn.is_empty(),
            Hazard::Blades => self.kind == PropKind::Knife,
        };
        by_itself || self.danger.as_ref().is_some_and(|danger| danger.contains(&hazard))
    }

    /// Whether it is fire.
    #[must_use]
    pub fn is_fire(&self) -> bool {
        self.is(Hazard::Fire)
    }

    /// Whether it is fire or blades, which need light for as long as they are in use.
    #[must_use]
    pub fn is_dangerous(&self) -> bool {
        Hazard::ALL.into_iter().any(|hazard| self.is(hazard))
    }

    /// The colour of a prop's front and, where it has one, of its back.
    fn faces(&self, prop: usize) -> Option<(&str, Option<&str>)> {
        let front = self.colours.get(prop)?.value.as_str();
        Some((front, self.backs.get(prop).map(|back| back.value.as_str())))
    }

    /// Whether a loading may call a prop by this name: by the colour of its front.
    #[must_use]
    pub fn is_called(&self, prop: usize, name: &str) -> bool {
        self.faces(prop).is_some_and(|(front, _)| front == name)
    }

    /// Whether this name, front and back as in `ivory/ink`, is that prop's.
    #[must_use]
    pub fn is_called_in_full(&self, prop: usize, name: &str) -> bool {
        let faces = self.faces(prop);
        faces
            .and_then(|(front, back)| name.strip_prefix(front)?.strip_prefix('/').zip(back))
            .is_some_and(|(name, back)| name == back)
    }

    /// What a loading calls a prop: the colour of its front, with that of its back where another
    /// prop of the set differs from it by its back only.
    #[must_use]
    pub fn name_of(&self, prop: usize) -> String {
        let Some((front, back)) = self.faces(prop) else { return String::new() };
        let others = (0..self.colours.len()).filter_map(|other| self.faces(other));
        let alike = others.filter(|(other, _)| *other == front).any(|(_, other)| other != back);
        match back.filter(|_| alike) {
            Some(back) => format!("{front}/{back}"),
            None => front.to_owned(),
        }
    }
}

/// What is juggled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PropKind {
    /// A ball.
    Ball,
    /// A club.
    Club,
    /// A ring.
    Ring,
    /// Fire.
    Torch,
    /// A blade.
    Knife,
    /// Anything else, by its user's word.
    Other(String),
}

impl PropKind {
    /// What several of them are called, as in `clubs`; anything else as its user wrote it.
    #[must_use]
    pub fn word(&self) -> &str {
        match self {
            PropKind::Ball => "balls",
            PropKind::Club => "clubs",
            PropKind::Ring => "rings",
            PropKind::Torch => "torches",
            PropKind::Knife => "knives",
            PropKind::Other(kind) => kind,
        }
    }

    /// What one of them is called, as in `club`; anything else as its user wrote it.
    #[must_use]
    pub fn one(&self) -> &str {
        match self {
            PropKind::Ball => "ball",
            PropKind::Club => "club",
            PropKind::Ring => "ring",
            PropKind::Torch => "torch",
            PropKind::Knife => "knife",
            PropKind::Other(kind) => kind,
        }
    }
}

/// The room, in metres.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// From the floor to the lowest thing overhead.
    pub clear_height: Placed<f64>,
    /// Height of the hands above the floor.
    pub hands_at: f64,
    /// What must be left between the highest throw and what is overhead, for heights are estimates.
    pub margin: f64,
}

/// The margin of a room that does not say one, in metres (common practice, no source).
pub const USUAL_MARGIN_M: f64 = 0.3;

/// A piece of music.
#[derive(Clone, Debug, PartialEq)]
pub struct Track {
    /// The sound file's name, as written; `None` for live music.
    pub file: Option<Placed<String>>,
    /// Its length.
    pub length: Placed<Seconds>,
    /// The moment at which the operator starts it.
    pub starts: Placed<Moment>,
    /// Where its bars lie; the strip shows them beside the clock.
    pub bars: Vec<Bars>,
    /// Named points, in seconds from its first sample, in the file's order.
    pub marks: Vec<(Placed<String>, Placed<Seconds>)>,
    /// Where the operator holds it, in order of time.
    pub holds: Vec<Hold>,
}

/// A place where the operator holds a track until something is seen or heard. The track's clock
/// stands still meanwhile.
#[derive(Clone, Debug, PartialEq)]
pub struct Hold {
    /// The whole entry.
    pub at: Place,
    /// Its name, by which moments speak of it.
    pub name: Placed<String>,
    /// In seconds from the track's first sample.
    pub from: Placed<Seconds>,
    /// The least and the most that it lasts, in seconds.
    pub lasts: (Seconds, Seconds),
}

/// A stretch of bars: at one tempo, or on a ramp to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Bars {
    /// Its first music beat that sounds, in seconds from the track's first sample.
    pub from: Placed<Seconds>,
    /// Music beats a minute; above 0.
    pub bpm: BigRational,
    /// Music beats to the bar.
    pub music_beats: u32,
    /// The number of its first bar, the upbeat left out.
    pub number: i32,
    /// Music beats before that bar, from [`Bars::from`] on.
    pub upbeat: u32,
    /// Music beats a minute at the end of a ramp, linear in music beats.
    pub to: Option<BigRational>,
    /// Music beats after which the ramp is over; where not written, it ends at the next stretch.
    pub over: Option<u32>,
}

impl Bars {
    /// What it says, for the map of the music.
    #[must_use]
    pub fn stretch(&self) -> MusicStretch {
        MusicStretch {
            from: self.from.value.clone(),
            bpm: self.bpm.clone(),
            ramp: self.to.clone().map(|to| (to, self.over)),
            music_beats: self.music_beats,
            number: self.number,
            upbeat: self.upbeat,
        }
    }
}

impl Track {
    /// The sound file's name; `None` for live music.
    #[must_use]
    pub fn file_name(&self) -> Option<&str> {
        self.file.as_ref().map(|file| file.value.as_str())
    }

    /// Its bars on its clock; `None` where none are written.
    #[must_use]
    pub fn music_map(&self) -> Option<MusicMap> {
        let stretches: Vec<_> = self.bars.iter().map(Bars::stretch).collect();
        MusicMap::new(&stretches, self.length.value.clone())
    }
}
