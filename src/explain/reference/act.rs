//! The routine as a whole, its room, the bounds of its transitions, and its encore.

use super::{Field, Record};

pub(super) const ROUTINE: Record = Record {
    name: "Routine",
    about: "One file holds one routine, written in RON. Times are \"m:ss\" with up to three \
            decimals, lengths of time without quotation marks are seconds, lengths are metres, \
            colours are #rrggbb or a colour name of CSS. Anything missing is an error; nothing is \
            guessed.",
    example: r##"Routine(
    title: "Lantern Quay",
    issue: 3,
    lead: Right,
    tempo: PerMinute(200),
    dwell: 0.7,
    room: Room(clear_height: 4.5, hands_at: 1.0),
    transitions: Within(highest: 7, at_once: 2, beats: 6),
    colours: { "coral": "#ec6a5c", "teal": "#0f8b8d", "pearl": "#f4f1e6" },
    backdrop: "black",
    sets: { "three": Set(kind: Ball, length: 0.07, colours: ["coral", "teal", "pearl"]) },
    music: Track(file: "lantern.wav", length: "0:40", starts: Start("walk on")),
    zero: TrackStart,
    score: [
        Pause(name: "walk on", lasts: For("0:05")),
        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(30)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(10)),
        Pause(name: "bow", lasts: For("0:05")),
    ],
    limits: [Limit(
        rule: "club night", starts: FirstThrow, stops: LastCatch,
        at_most: "0:40", on_the_line: Inside,
    )],
    crews: { Light: Crew(count: 3) },
    cues: [
        Cue(crew: Sound, number: 5, at: TrackStart, trigger: Called, does: "play"),
        Cue(crew: Light, number: 10, at: Start("tide"), trigger: See("first throw"), does: "warm"),
    ],
    set_up: "2:00",
    strike: "1:00",
    venue: Venue(performers: 1, width: 5.0, depth: 4.0, contact: "act@lantern-quay.example"),
    encore: Encore(score: [
        Pause(name: "back on", lasts: For("0:05")),
        Juggle(name: "once more", set: "three", pattern: "3", lasts: Beats(20)),
    ]),
)"##,
    fields: &[
        Field::needed("title", "a text", "What the act is called; it stands on every sheet."),
        Field::needed(
            "score",
            "a list of sections, `Juggle` and `Pause`",
            "The act in order: patterns, and pauses between them.",
        )
        .words(&["section"])
        .codes(&["empty-list", "duplicate-name"]),
        Field::open(
            "issue",
            "It is 1.",
            "a whole number from 1 to 1000000",
            "Stands on every sheet. Count it up when you hand out new ones: `throwbook issue` \
             keeps the cues of each issue, and later sheets say what has changed since.",
        )
        .codes(&["issues-out-of-order"]),
        Field::open("lead", "The right hand.", "a hand", "The hand of the first throw.")
            .words(&["hand"]),
        Field::open(
            "tempo",
            "Every section that is juggled needs a tempo of its own, or one before it.",
            "a tempo, but no `Ramp`",
            "How fast throws follow each other, until a section says otherwise.",
        )
        .words(&["tempo"])
        .codes(&["no-tempo", "ramp-without-section"]),
        Field::open(
            "dwell",
            "It is 2/3.",
            "a number above 0 and below 1",
            "The part of a hand's two beats in which it holds the prop. Catches, heights and \
             empty hands follow from it.",
        ),
        Field::open("room", "No height is checked.", "`Room(…)`", "How high you can throw.")
            .codes(&["too-high"]),
        Field::open(
            "transitions",
            "`Within(highest: 9, at_once: 1, beats: 6)`.",
            "`Within(…)`",
            "What a `transition: Auto` may use.",
        )
        .codes(&["no-transition"]),
        Field::open(
            "colours",
            "There is no colour, and a set needs some.",
            "a map of names to colours, `#rrggbb` or a colour name of CSS",
            "The palette. Sets, loadings and `shows` call its colours by name.",
        )
        .codes(&["unknown-colour"]),
        Field::open(
            "sets",
            "There are no props, and every pattern needs some.",
            "a map of names to `Set(…)`",
            "The props, in sets that are juggled together.",
        )
        .codes(&["no-set", "unknown-set"]),
        Field::open(
            "backdrop",
            "No prop is judged against the backdrop.",
            "one of `colours`, `#rrggbb` or a colour name of CSS",
            "What is behind the props. Every prop is then judged against it.",
        )
        .codes(&["colour-against-backdrop"]),
        Field::open(
            "music",
            "The act has no music, or several `tracks`.",
            "`Track(…)`",
            "The one track of the act.",
        ),
        Field::open(
            "tracks",
            "The act has one track in `music`, or none.",
            "a map of names to `Track(…)`, at most 100; it stands in place of `music`",
            "Several tracks. Moments of the music then name their track first.",
        )
        .codes(&["which-track", "unknown-track", "tracks-overlap"])
        .example(
            r#"tracks: {
    "day": Track(file: "day.wav", length: "0:10", starts: Start("tide"),
        marks: { "bell": "0:04" }),
    "night": Track(file: "night.wav", length: "0:10", starts: TrackEnd("day")),
},
zero: Mark("day", "bell"),
cues: [
    Cue(crew: Sound, number: 5, at: TrackStart("day"), trigger: Called, does: "play day"),
    Cue(crew: Sound, number: 15, at: TrackStart("night"), trigger: Called, does: "play night"),
],"#,
        ),
        Field::open(
            "zero",
            "The track's start; the first throw where there is no music or more than one track.",
            "a moment",
            "Where the show clock reads zero. Every time on the sheets counts from it.",
        )
        .words(&["moment"]),
        Field::open(
            "limits",
            "Nothing is held against a rule.",
            "a list of `Limit(…)`, at most 100",
            "What is allowed: the rules of a contest, a bill or a slot.",
        ),
        Field::open(
            "crews",
            "Every cue says all of it itself.",
            "a map of crews to `Crew(…)`",
            "What holds for a crew's cues where they do not say otherwise.",
        )
        .words(&["crew"]),
        Field::open("cues", "There are no cues.", "a list of `Cue(…)`", "What the crews do."),
        Field::open(
            "set_up",
            "Setting up takes no time of the slot.",
            "a time, at most a day",
            "How long you set up before the act: outside the act, inside the slot.",
        ),
        Field::open(
            "strike",
            "Clearing the stage takes no time of the slot.",
            "a time, at most a day",
            "How long it takes to clear the stage after the act: outside the act, inside the slot.",
        ),
        Field::open(
            "venue",
            "The venue page has blanks where only you know.",
            "`Venue(…)`",
            "What a venue asks before the act arrives.",
        ),
        Field::open(
            "encore",
            "There is none.",
            "`Encore(…)`",
            "What is juggled only if it is called for.",
        ),
    ],
};

pub(super) const ROOM: Record = Record {
    name: "Room",
    about: "What is overhead. Heights are estimates from the time in the air: measure in the \
            room, to the lowest thing overhead.",
    example: "room: Room(clear_height: 4.5, hands_at: 1.0, margin: 0.5),",
    fields: &[
        Field::needed(
            "clear_height",
            "metres, above 0 and at most 1000",
            "From the floor to the lowest thing overhead.",
        )
        .codes(&["too-high"]),
        Field::needed("hands_at", "metres, 0 to 100", "From the floor to the hands as they throw."),
        Field::open(
            "margin",
            "It is 0.3 m.",
            "metres, 0 to 100",
            "What must be left above the highest throw.",
        ),
    ],
};

pub(super) const WITHIN: Record = Record {
    name: "Within",
    about: "The bounds of a `transition: Auto`. The shortest way within them is taken.",
    example: "transitions: Within(highest: 7, at_once: 2, beats: 6),",
    fields: &[
        Field::open(
            "highest",
            "It is 9.",
            "a throw, 1 to 35",
            "The highest throw of a transition.",
        ),
        Field::open(
            "at_once",
            "It is 1: no multiplex.",
            "a number, 1 to 12",
            "How many props a hand may throw at once.",
        ),
        Field::open("beats", "It is 6.", "beats, 1 to 40", "How long a transition may be."),
    ],
};

pub(super) const ENCORE: Record = Record {
    name: "Encore",
    about: "An encore has sections, music, cues and a clock of its own; the clock reads zero where \
            its first section starts. `LastCatch` and every other moment of the act leave the \
            encore out, and the encore knows nothing of the act's sections and cues; \
            `EncoreStart`, `EncoreEnd`, `StrikeStart` and `StrikeEnd` can stand in both, each on \
            its own clock. A limit of the slot stops at `EncoreEnd` or `StrikeEnd`, as if the \
            encore followed at once; what the encore leaves open counts. Every sheet has a part \
            for the encore, the strip draws it on sheets of its own, and its time codes begin \
            again with its first track. Clicks, MIDI, captions and the overview have the act \
            alone.",
    example: r#"encore: Encore(
    score: [
        Pause(name: "back on", lasts: For("0:05")),
        Juggle(name: "once more", set: "three", pattern: "3", lasts: Beats(20)),
    ],
    music: Track(file: "again.wav", length: "0:15", starts: Start("back on")),
    cues: [Cue(crew: Sound, number: 105, at: TrackStart, trigger: Called, does: "play")],
),"#,
    fields: &[
        Field::needed(
            "score",
            "a list of sections; the first is a `Pause`",
            "The encore in order.",
        )
        .words(&["section"])
        .codes(&["encore-without-pause"]),
        Field::open(
            "music",
            "The encore has no music, or several `tracks`.",
            "`Track(…)`",
            "The one track of the encore: its bars, marks and holds are the encore's.",
        ),
        Field::open(
            "tracks",
            "The encore has one track in `music`, or none.",
            "a map of names to `Track(…)`, at most 100, under names that no track of the act has",
            "Several tracks of the encore.",
        )
        .example(
            r#"encore: Encore(
    score: [Pause(name: "back on", lasts: For("0:05"))],
    tracks: { "again": Track(file: "again.wav", length: "0:04", starts: Start("back on")) },
    cues: [Cue(crew: Sound, number: 105, at: TrackStart("again"), trigger: Called, does: "play")],
),"#,
        ),
        Field::open(
            "cues",
            "There are none.",
            "a list of `Cue(…)`",
            "The cues of the encore. They follow cues of the encore only.",
        ),
    ],
};
