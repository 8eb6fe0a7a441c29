//! Cues: what each crew does, when, and how the operator knows.

use std::borrow::Cow;
use std::fmt;

use crate::diagnostic::{Place, Placed};
use crate::time::Seconds;

use super::{Moment, NamedColour};

/// One line of the cue sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Cue {
    /// The whole entry.
    pub at: Place,
    /// Whose cue it is.
    pub crew: Placed<Crew>,
    /// Its number, unique within the crew.
    pub number: Option<Placed<CueNumber>>,
    /// When it goes; `None` for a cue that goes with another one or follows it.
    pub when: Option<Placed<Moment>>,
    /// How the operator takes it.
    pub trigger: Placed<Trigger>,
    /// What the crew does.
    pub does: Placed<Does>,
    /// Seconds from GO to completion.
    pub count: Option<Placed<Seconds>>,
    /// Seconds from stand-by to GO, if its user says so.
    pub standby: Option<Placed<Seconds>>,
    /// The stage is dark from its GO on.
    pub dark: bool,
    /// Whether it says so or says that it is not.
    pub says_dark: bool,
    /// Flashes a second.
    pub flashes: Option<Placed<f64>>,
    /// The colour of the light that it brings up, on a Light or a Spot cue; never black. It holds
    /// until that crew's next cue with a colour, or a dark one.
    pub light: Option<NamedColour>,
    /// What the followspot does.
    pub spot: Option<SpotMove>,
    /// In a dark cue: the followspot stays up.
    pub spot_stays: bool,
    /// What becomes of it when a prop drops, where its user says so.
    pub on_drop: Option<Placed<String>>,
}

/// The words of a text, in small letters.
pub fn words_of(text: &str) -> impl Iterator<Item = String> {
    let words = text.split(|character: char| !character.is_alphanumeric());
    words.filter(|word| !word.is_empty()).map(str::to_lowercase)
}

/// Whether a text has one of these words, which are in small letters.
#[must_use]
pub fn has_word(text: &str, words: &[&str]) -> bool {
    words_of(text).any(|word| words.contains(&word.as_str()))
}

impl Cue {
    /// A cue of which nothing more is said: no number, no moment, no count, no light.
    #[must_use]
    pub fn new(at: Place, crew: Placed<Crew>, trigger: Placed<Trigger>, does: Placed<Does>) -> Cue {
        Cue {
            at,
            crew,
            number: None,
            when: None,
            trigger,
            does,
            count: None,
            standby: None,
            dark: false,
            says_dark: true,
            flashes: None,
            light: None,
            spot: None,
            spot_stays: false,
            on_drop: None,
        }
    }

    /// What it is called: its crew, and its number if it has one.
    #[must_use]
    pub fn label(&self) -> String {
        match &self.number {
            Some(number) => self.crew.value.cue(number.value),
            None => self.crew.value.label().to_owned(),
        }
    }

    /// Where its time is written: its moment, or the cue that it goes with or follows.
    #[must_use]
    pub fn timed_at(&self) -> &Place {
        self.when.as_ref().map_or(&self.trigger.at, |when| &when.at)
    }
}

/// What a crew does on a cue.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Does {
    /// In its user's words.
    Written(String),
    /// Sound holds this track; `None`: the only one, which has no name.
    HoldTrack(Option<String>),
    /// Sound lets this track go on.
    ResumeTrack(Option<String>),
}

impl Does {
    /// In words, as sheets and records have it.
    #[must_use]
    pub fn words(&self) -> Cow<'_, str> {
        let (verb, track) = match self {
            Does::Written(words) => return Cow::Borrowed(words),
            Does::HoldTrack(track) => ("hold", track),
            Does::ResumeTrack(track) => ("resume", track),
        };
        Cow::Owned(match track {
            Some(track) => format!("{verb} track \"{track}\""),
            None => format!("{verb} the track"),
        })
    }
}

/// A crew.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Crew {
    /// The house lights.
    House,
    /// Lighting (LX).
    Light,
    /// Sound (SND).
    Sound,
    /// Followspot (FS).
    Spot,
    /// Flown pieces.
    Fly,
    /// The deck crew.
    Deck,
    /// A contest's timekeeper, whose rows come from the limits: no cue of a file is its.
    Timekeeper,
}

impl Crew {
    /// Every crew, in the order of the sheets.
    pub const ALL: [Crew; 7] = [
        Crew::House,
        Crew::Light,
        Crew::Sound,
        Crew::Spot,
        Crew::Fly,
        Crew::Deck,
        Crew::Timekeeper,
    ];
}

impl Crew {
    /// What it is called on sheets and in messages.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Crew::House => "HOUSE",
            Crew::Light => "LX",
            Crew::Sound => "SND",
            Crew::Spot => "FS",
            Crew::Fly => "FLY",
            Crew::Deck => "DECK",
            Crew::Timekeeper => "TIME",
        }
    }

    /// In small letters, as documents for programs and options write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Crew::House => "house",
            Crew::Light => "light",
            Crew::Sound => "sound",
            Crew::Spot => "spot",
            Crew::Fly => "fly",
            Crew::Deck => "deck",
            Crew::Timekeeper => "timekeeper",
        }
    }

    /// A cue of its by number, as in `LX 20`.
    #[must_use]
    pub fn cue(self, number: CueNumber) -> String {
        format!("{} {number}", self.label())
    }
}

/// A cue number in tenths: 16.1 is 161. 16.1 and 16.10 are the same number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CueNumber {
    /// Tenths.
    pub tenths: u32,
}

impl fmt::Display for CueNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, tenth) = (self.tenths / 10, self.tenths % 10);
        let text = if tenth == 0 { format!("{whole}") } else { format!("{whole}.{tenth}") };
        f.pad(&text)
    }
}

/// How a cue is taken.
#[derive(Clone, Debug, PartialEq)]
pub enum Trigger {
    /// On something seen; `None`: the compiler names it from the score.
    See(Option<String>),
    /// On the counter of the player.
    Counter {
        /// What it reads then: seconds on the clock of the track.
        reads: Seconds,
        /// The mark of the track that is written, and seconds after it.
        mark: Option<(String, Seconds)>,
    },
    /// On something heard.
    Hear(String),
    /// On a caller's GO.
    Called,
    /// On the same GO as another cue, however that one is taken.
    With {
        /// The crew of the other cue; `None`: the same crew.
        crew: Option<Crew>,
        /// The other cue's number.
        number: Placed<CueNumber>,
    },
    /// After another cue, by itself.
    Follow {
        /// The crew of the other cue; `None`: the same crew.
        crew: Option<Crew>,
        /// The other cue's number.
        number: Placed<CueNumber>,
        /// Counted from which of its ends.
        from: FollowFrom,
        /// Seconds after that.
        after: Seconds,
    },
}

/// Where a follow is counted from. Never left open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FollowFrom {
    /// From the other cue's GO.
    Go,
    /// From its completion: GO and its count.
    Complete,
}

/// What a followspot cue does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpotMove {
    /// The spot comes up.
    Up,
    /// The spot goes out.
    Out,
}

/// What holds for a crew's cues unless they say otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct CrewDefaults {
    /// The crew.
    pub crew: Placed<Crew>,
    /// Seconds from GO to completion.
    pub count: Option<Placed<Seconds>>,
    /// Seconds from stand-by to GO.
    pub standby: Option<Placed<Seconds>>,
    /// How its first issue is numbered, where that is to be checked.
    pub numbers: Option<Numbering>,
}

/// How the cues of a first issue are numbered, so that later ones find room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Numbering {
    /// Odd numbers only.
    Odd,
    /// A free whole number between any two.
    Gaps,
}
