//! Moments, on which cues, limits and music hang.

use super::{Words, word};

pub(super) const MOMENT: Words = Words {
    what: "moment",
    about: "Cues, limits and music hang on moments, so nothing is typed again when the routine \
            changes. With several tracks, a moment of the music names its track first: \
            `TrackStart(\"day\")`, `Mark(\"day\", \"bell\")`, `HoldEnd(\"day\", \"freeze\")`, \
            `Bar(\"day\", 9, 3)`.",
    words: &[
        word("TrackStart", "TrackStart", "The music starts."),
        word("TrackEnd", "TrackEnd", "The music ends."),
        word("FirstThrow", "FirstThrow", "The first throw of the act."),
        word(
            "LastCatch",
            "LastCatch or LastCatch(\"tide\")",
            "The last catch of the act, or of the run that ends with a section.",
        ),
        word("Start", "Start(\"tide\")", "A section starts."),
        word("End", "End(\"tide\")", "A section ends."),
        word(
            "Throw",
            "Throw(\"tide\", 12)",
            "A throw of a section, counted through its cycles from 1 (at most 10000000), without \
             those of its transition. A 0 and a held 2 are no throws.",
        ),
        word("Catch", "Catch(\"tide\", 12)", "The catch of that throw."),
        word(
            "Cycle",
            "Cycle(\"tide\", 3)",
            "A cycle of a section begins, counted from 1 (at most 10000000).",
        ),
        word("Mark", "Mark(\"drum\")", "A mark of the music."),
        word("HoldStart", "HoldStart(\"freeze\")", "A track is held."),
        word("HoldEnd", "HoldEnd(\"freeze\")", "A held track resumes."),
        word(
            "Bar",
            "Bar(9) or Bar(9, 3)",
            "A bar of the music, from -100000 to 100000, or a music beat in it, from 1 to 100.",
        ),
        word("At", "At(\"1:05\")", "A time on the show clock, less than a day from its zero."),
        word(
            "Shift",
            "Shift(LastCatch, 2.0)",
            "Seconds after a moment, or before it: `Shift(Mark(\"drum\"), -1.5)`; a day (86400 s) \
             at most. It stands wherever a moment does.",
        ),
        word(
            "First",
            "First([TrackStart, FirstThrow])",
            "Whichever of these comes first, at most 12. Where lengths are open and another one \
             may win on another night, only a limit can hang on it.",
        ),
        word(
            "Last",
            "Last([TrackEnd, LastCatch])",
            "Whichever of these comes last; the same holds.",
        ),
        word("SetUpStart", "SetUpStart", "You begin to set up."),
        word("SetUpEnd", "SetUpEnd", "All is set up: the act begins."),
        word("EncoreStart", "EncoreStart", "The encore starts."),
        word("EncoreEnd", "EncoreEnd", "The encore ends."),
        word("StrikeStart", "StrikeStart", "You begin to clear the stage."),
        word("StrikeEnd", "StrikeEnd", "The stage is clear."),
    ],
    example: r#"set_up: "0:30",
strike: "0:20",
encore: Encore(score: [Pause(name: "back on", lasts: For("0:05"))]),
music: Track(
    file: "quay.wav", length: "1:00", starts: Start("walk on"), marks: { "drum": "0:40" },
    holds: { "freeze": Hold(
        at: "0:40", lasts: Between("0:03", "0:03"), resumes: See("arms down"),
    ) },
    bars: [Bars(from: "0:00", bpm: 100, music_beats: 4, number: 1)],
),
limits: [
    Limit(rule: "slot", starts: SetUpStart, stops: StrikeEnd, at_most: "3:00", on_the_line: Inside),
    Limit(rule: "act", starts: SetUpEnd, stops: StrikeStart, at_most: "2:40", on_the_line: Inside),
    Limit(rule: "encore", starts: EncoreStart, stops: EncoreEnd, at_most: "0:30",
        on_the_line: Inside),
    Limit(rule: "club night", starts: First([TrackStart, FirstThrow]),
        stops: Last([TrackEnd, LastCatch]), at_most: "2:00", on_the_line: Inside),
],
cues: [
    Cue(crew: Sound, at: TrackStart, trigger: Called, does: "play"),
    Cue(crew: House, at: Shift(FirstThrow, -4.0), trigger: Called, does: "out", count: 3),
    Cue(crew: Light, at: Start("tide"), trigger: See("first throw"), does: "warm", count: 1),
    Cue(crew: Light, at: Cycle("tide", 3), trigger: Called, does: "cool", count: 1),
    Cue(crew: Deck, at: Throw("tide", 9), trigger: Called, does: "hold the line"),
    Cue(crew: Deck, at: Catch("tide", 12), trigger: Called, does: "let go"),
    Cue(crew: Light, at: At("0:08"), trigger: Called, does: "sides", count: 1),
    Cue(crew: Light, at: End("tide"), trigger: Called, does: "front", count: 1),
    Cue(crew: Light, at: LastCatch("tide"), trigger: See("hands still"), does: "low", count: 1),
    Cue(crew: Light, at: Bar(9), trigger: Called, does: "blue", count: 1),
    Cue(crew: Light, at: Bar(12, 3), trigger: Called, does: "red", count: 1),
    Cue(crew: Light, at: HoldStart("freeze"), trigger: See("the freeze"), does: "white", count: 0),
    Cue(crew: Light, at: HoldEnd("freeze"), trigger: See("arms down"), does: "warm", count: 0),
    Cue(crew: Light, at: Shift(Mark("drum"), -1.5), trigger: Hear("roll"), does: "dim", count: 1),
    Cue(crew: Sound, at: Shift(TrackEnd, -2.0), trigger: Called, does: "fade"),
    Cue(crew: House, at: Shift(LastCatch, 2.0), trigger: See("the bow"), does: "up", count: 3),
],"#,
};
