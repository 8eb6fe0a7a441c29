//! What codes are about: the headings under which they are listed.

/// What a code is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// The file as a whole.
    File,
    /// Fields, and what stands in them.
    Fields,
    /// Names that are given and used.
    Names,
    /// Digits, letters and stars of a pattern.
    Throws,
    /// Square brackets of a pattern.
    Multiplexes,
    /// Round brackets of a pattern.
    Pairs,
    /// What a written pattern asks of the hands.
    Patterns,
    /// Props, their sets and what is in which hand.
    Props,
    /// From one section to the next.
    Junctions,
    /// Where the arms are, and how throws are made.
    Arms,
    /// How long sections last and how fast they are.
    Lengths,
    /// Lengths that nobody knows until the night.
    OpenLengths,
    /// What a body and a room allow.
    Reach,
    /// Colours as they are seen.
    Colours,
    /// Tracks, bars and holds.
    Music,
    /// Music files, as they are found beside the routine.
    MusicFiles,
    /// Limits on how long the act is.
    Limits,
    /// Cues and their numbers.
    Cues,
    /// Fire, blades, the dark and flashes.
    Danger,
    /// What was handed out before.
    Issues,
    /// What a venue is told before the act arrives.
    Venue,
}

impl Topic {
    /// Its heading.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Topic::File => "the file as a whole",
            Topic::Fields => "fields and values",
            Topic::Names => "names",
            Topic::Throws => "how throws are written",
            Topic::Multiplexes => "how multiplexes are written",
            Topic::Pairs => "how pairs are written",
            Topic::Patterns => "whether a pattern can be juggled",
            Topic::Props => "props and hands",
            Topic::Junctions => "from one section to the next",
            Topic::Arms => "arms and ways of throwing",
            Topic::Lengths => "lengths and tempos",
            Topic::OpenLengths => "lengths that are left open",
            Topic::Reach => "what a body and a room allow",
            Topic::Colours => "colours",
            Topic::Music => "music",
            Topic::MusicFiles => "music files",
            Topic::Limits => "limits",
            Topic::Cues => "cues",
            Topic::Danger => "fire, blades, dark and flashes",
            Topic::Issues => "what was handed out",
            Topic::Venue => "what a venue is told",
        }
    }
}
