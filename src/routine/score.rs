//! The score: sections, how long they last, and how they are joined.

use std::ops::Range;

use num_rational::BigRational;

use crate::diagnostic::{Place, Placed};
use crate::hand::Hand;
use crate::notation::Sequence;
use crate::patterns::Pattern;
use crate::time::Seconds;

use super::{ArmCycle, Freedom, Hazard, MadeThrow, Moment, Seen};

/// One entry of the score.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its name, by which moments speak of it.
    pub name: Placed<String>,
    /// The whole entry.
    pub at: Place,
    /// What happens in it.
    pub part: Part,
}

impl Section {
    /// Whether it is juggled, be it that it could not be read.
    #[must_use]
    pub fn is_juggled(&self) -> bool {
        match &self.part {
            Part::Juggle(_) => true,
            Part::Pause(_) => false,
            Part::Unread(unread) => unread.is_juggled == Some(true),
        }
    }

    /// What is juggled in it; `None` for a pause and for what could not be read.
    #[must_use]
    pub fn juggle(&self) -> Option<&Juggle> {
        match &self.part {
            Part::Juggle(juggle) => Some(juggle),
            Part::Pause(_) | Part::Unread(_) => None,
        }
    }

    /// The same, to be changed.
    #[must_use]
    pub fn juggle_mut(&mut self) -> Option<&mut Juggle> {
        match &mut self.part {
            Part::Juggle(juggle) => Some(juggle),
            Part::Pause(_) | Part::Unread(_) => None,
        }
    }

    /// The pause that it is; `None` where something is juggled, and for what could not be read.
    #[must_use]
    pub fn pause(&self) -> Option<&Pause> {
        match &self.part {
            Part::Pause(pause) => Some(pause),
            Part::Juggle(_) | Part::Unread(_) => None,
        }
    }

    /// What is known of it, where it could not be read.
    #[must_use]
    pub fn unread(&self) -> Option<&Unread> {
        match &self.part {
            Part::Unread(unread) => Some(unread),
            Part::Juggle(_) | Part::Pause(_) => None,
        }
    }

    /// How long it lasts, as written; `None` for what could not be read.
    #[must_use]
    pub fn lasts(&self) -> Option<&Placed<Length>> {
        match &self.part {
            Part::Juggle(juggle) => Some(&juggle.lasts),
            Part::Pause(pause) => Some(&pause.lasts),
            Part::Unread(_) => None,
        }
    }

    /// Where its length is written; the whole entry for what could not be read.
    #[must_use]
    pub fn lasts_at(&self) -> &Place {
        self.lasts().map_or(&self.at, |lasts| &lasts.at)
    }
}

/// What a section is.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// A pattern for a while.
    Juggle(Box<Juggle>),
    /// No throws; the props are gathered.
    Pause(Pause),
    /// It could not be read; its faults are reported, and it stands here so that its neighbours
    /// and the moments that name it are still understood.
    Unread(Unread),
}

/// What is known of an entry that could not be read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Unread {
    /// Whether it is juggled (or a pause), where its first word says so.
    pub is_juggled: Option<bool>,
    /// The set that it brings.
    pub set: Option<Placed<String>>,
    /// The tempo that it brings.
    pub tempo: Option<Placed<Tempo>>,
    /// Whether it may bring a set that could not be read.
    pub hides_set: bool,
    /// Whether it may bring a tempo that could not be read.
    pub hides_tempo: bool,
}

/// A pattern for a while.
#[derive(Clone, Debug, PartialEq)]
pub struct Juggle {
    /// The pattern, with its text.
    pub pattern: WrittenPattern,
    /// How long.
    pub lasts: Placed<Length>,
    /// Another prop set than the one in use; the same name keeps its loading.
    pub set: Option<Placed<String>>,
    /// Another tempo from here on.
    pub tempo: Option<Placed<Tempo>>,
    /// How it is joined to the section before it, or started cold; an empty place behind the
    /// pattern where it is not written.
    pub transition: Placed<Transition>,
    /// The hand that its own first throw must have.
    pub lead: Option<Placed<Hand>>,
    /// Whether its 2s are held or thrown.
    pub twos: Twos,
    /// Which prop is in which hand, if written.
    pub loading: Option<Placed<Loading>>,
    /// What must be seen of the colours.
    pub seen: Seen,
    /// What the line-up may choose here.
    pub free: Vec<Placed<Freedom>>,
    /// Where that is written, be it an empty list.
    pub free_at: Option<Place>,
    /// Whether the props show their other faces from its own first throw on.
    pub other_face: Option<Placed<bool>>,
    /// Where the arms are, beat by beat; open on every beat where it is not written.
    pub arms: Option<ArmCycle>,
    /// How throws of each cycle are made.
    pub made: Vec<MadeThrow>,
    /// What its user must show of it.
    pub declares: Option<Placed<Declares>>,
    /// How long both hands must be empty at once, for a turn or a clap.
    pub turn: Option<Placed<Seconds>>,
    /// How much its tempo may bend, so that whole cycles end where it ends.
    pub may_bend: Option<MayBend>,
    /// Where on stage.
    pub place: Option<String>,
}

/// What a juggler says will be shown of a move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Declares {
    /// So many catches of its own.
    Catches(u32),
    /// So many throws of its own, those handed across among them.
    Throws(u32),
    /// As many catches as there are props.
    Flash,
    /// Twice as many.
    Qualify,
}

/// The most that a file may let a tempo bend: half as fast again, or half as fast.
pub const MOST_BEND: f64 = 0.5;

/// How much a tempo may bend either way.
#[derive(Clone, Debug, PartialEq)]
pub struct MayBend {
    /// The most, as a part of the written tempo: 0.03 is 3 %.
    pub most: Placed<BigRational>,
    /// What is cut to leave the field out.
    pub field: Place,
}

/// A pattern and the string that wrote it.
#[derive(Clone, Debug, PartialEq)]
pub struct WrittenPattern {
    /// The pattern.
    pub pattern: Pattern,
    /// The string's text, as it came.
    pub text: String,
    /// The string in the file, quotes included.
    pub at: Place,
    /// The place in the file of each character of the text, in order.
    pub characters: Vec<Place>,
}

/// The throws of a written transition and the string that wrote them.
#[derive(Clone, Debug, PartialEq)]
pub struct WrittenThrows {
    /// The throws.
    pub throws: Sequence,
    /// The string in the file, quotes included.
    pub at: Place,
    /// The place in the file of each character of the text, in order.
    pub characters: Vec<Place>,
}

/// The place in the file of some characters of a string (`characters[i]` is where character `i`
/// stands); the whole string where there are none.
#[must_use]
pub fn place_of(characters: &[Place], whole: &Place, range: Range<usize>) -> Place {
    match (characters.get(range.start), characters.get(range.end.saturating_sub(1))) {
        (Some(first), Some(last)) if range.start < range.end => {
            Place { start: first.start, end: last.end }
        }
        _ => whole.clone(),
    }
}

impl WrittenPattern {
    /// The place in the file of some characters of the pattern.
    #[must_use]
    pub fn place_of(&self, range: Range<usize>) -> Place {
        place_of(&self.characters, &self.at, range)
    }
}

impl Juggle {
    /// Whether the props show their other faces from here on.
    #[must_use]
    pub fn shows_other_faces(&self) -> bool {
        self.other_face.as_ref().is_some_and(|other| other.value)
    }
}

impl WrittenThrows {
    /// The place in the file of some characters of the throws.
    #[must_use]
    pub fn place_of(&self, range: Range<usize>) -> Place {
        place_of(&self.characters, &self.at, range)
    }
}

/// No throws for a while.
#[derive(Clone, Debug, PartialEq)]
pub struct Pause {
    /// How long.
    pub lasts: Placed<Length>,
    /// How the props of the set in use are put into the hands anew, if they are.
    pub regrip: Option<Placed<HandColours>>,
    /// Logged pick-ups in seconds: the slowest counts.
    pub pick_up: Vec<Placed<Seconds>>,
    /// What is done with fire and blades in it, and with which sets.
    pub handled: Vec<(Handling, Placed<String>)>,
    /// Where on stage.
    pub place: Option<String>,
}

impl Pause {
    /// The slowest logged pick-up, in seconds.
    #[must_use]
    pub fn slowest_pick_up(&self) -> Option<&Seconds> {
        self.pick_up
            .iter()
            .map(|logged| &logged.value)
            .reduce(|slowest, logged| if logged > slowest { logged } else { slowest })
    }
}

/// What is done with fire or blades in a pause.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handling {
    /// Fire is lit.
    Lit,
    /// Blades are picked up.
    PickedUp,
    /// Fire is put out.
    PutOut,
    /// Blades are put down.
    PutDown,
}

impl Handling {
    /// All of them.
    pub const ALL: [Handling; 4] =
        [Handling::Lit, Handling::PickedUp, Handling::PutOut, Handling::PutDown];

    /// What it is done with.
    #[must_use]
    pub fn hazard(self) -> Hazard {
        match self {
            Handling::Lit | Handling::PutOut => Hazard::Fire,
            Handling::PickedUp | Handling::PutDown => Hazard::Blades,
        }
    }

    /// Whether it is in use from then on, not until then.
    #[must_use]
    pub fn begins(self) -> bool {
        matches!(self, Handling::Lit | Handling::PickedUp)
    }

    /// The field of a pause that says it.
    #[must_use]
    pub fn field(self) -> &'static str {
        match self {
            Handling::Lit => "lit",
            Handling::PickedUp => "picked_up",
            Handling::PutOut => "put_out",
            Handling::PutDown => "put_down",
        }
    }
}

/// How long a section lasts.
#[derive(Clone, Debug, PartialEq)]
pub enum Length {
    /// So many of the pattern's own beats.
    Beats(u32),
    /// So many cycles of the pattern.
    Cycles(u32),
    /// A length of time, from the section's start to the end of its last beat.
    For(Seconds),
    /// So many bars of the music from the section's start.
    Bars(u32),
    /// Until something lands on a moment.
    Until(Box<Until>),
    /// Of a pause: as long as it takes, from the first to the second of these.
    Between(Box<(Seconds, Seconds)>),
}

/// The end of a section that lasts until something lands on a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Until {
    /// The moment.
    pub on: Moment,
    /// What lands there.
    pub lands: Lands,
}

/// What lands on a moment.
#[derive(Clone, Debug, PartialEq)]
pub enum Lands {
    /// The own first throw of the next section; before a pause the end of the last beat; of a pause
    /// that nothing follows its end.
    Next,
    /// The throw of that number, from 1, of the next section.
    Throw(Placed<String>, Placed<u32>),
    /// The catch of it.
    Catch(Placed<String>, Placed<u32>),
    /// The section's own last throw of that value.
    LastThrow(Placed<u8>),
    /// The catch of it.
    LastCatch(Placed<u8>),
    /// The last catch of all before the pause that follows.
    Gather,
}

impl Lands {
    /// Whether it is a throw or a catch of the next section, which decides when that one starts.
    #[must_use]
    pub fn is_of_next(&self) -> bool {
        matches!(self, Lands::Next | Lands::Throw(..) | Lands::Catch(..))
    }
}

impl Length {
    /// Until what it lasts, if it does.
    #[must_use]
    pub fn until(&self) -> Option<&Until> {
        match self {
            Length::Until(until) => Some(until),
            _ => None,
        }
    }
}

/// Throws a minute.
#[derive(Clone, Debug, PartialEq)]
pub enum Tempo {
    /// Steady; above 0.
    PerMinute(BigRational),
    /// A ramp over the section, linear in beats.
    Ramp {
        /// At its start; the tempo in force where none is written.
        from: Option<BigRational>,
        /// At its end.
        to: BigRational,
    },
    /// As the music goes.
    PerMusicBeat {
        /// Throws a music beat; above 0.
        throws: BigRational,
        /// What falls on the music.
        accent: Accent,
    },
}

/// What falls on the music beats and the even parts of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Accent {
    /// The throws.
    Throw,
    /// The catches.
    Catch,
}

/// How a section is joined to what is before it.
#[derive(Clone, Debug, PartialEq)]
pub enum Transition {
    /// Nothing between.
    Direct,
    /// The shortest transition there is.
    Auto,
    /// These throws.
    Throws(WrittenThrows),
}

/// What a 2 is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Twos {
    /// The hand keeps the prop.
    #[default]
    Held,
    /// A small throw.
    Thrown,
}

/// Which prop is in which hand at a cold start.
#[derive(Clone, Debug, PartialEq)]
pub enum Loading {
    /// As written.
    Hands(HandColours),
    /// The line-up chooses it.
    Found,
}

/// Which prop is in which hand: names of props ([`super::PropSet::is_called`]), each list in the
/// order in which they leave.
#[derive(Clone, Debug, PartialEq)]
pub struct HandColours {
    /// In the right hand.
    pub right: Vec<Placed<String>>,
    /// In the left hand.
    pub left: Vec<Placed<String>>,
}

impl Juggle {
    /// Whether the line-up may choose something here.
    #[must_use]
    pub fn is_free(&self, freedom: Freedom) -> bool {
        self.free.iter().any(|free| free.value == freedom)
    }

    /// The loading as it is written; `None` where none is or where it is to be found.
    #[must_use]
    pub fn written_loading(&self) -> Option<&HandColours> {
        match &self.loading.as_ref()?.value {
            Loading::Hands(hands) => Some(hands),
            Loading::Found => None,
        }
    }
}
