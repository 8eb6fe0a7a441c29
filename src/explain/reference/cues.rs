//! Cues, and what holds for all of a crew's.

use super::{Field, Record, Words, word};

pub(super) const CUE: Record = Record {
    name: "Cue",
    about: "What a crew does, when, and how it knows. `check` also warns of cues that nobody can \
            take as they are written: numbers out of order, two GOs of a crew within a second, \
            one of them taken by eye, a follow from the completion of a fade that is cut short, something \
            to see in the dark that does not shine or before it happens. It holds Sound cues \
            against the tracks by their words: one that says `play`, `start` or `run` goes where a \
            track starts, one that says `fade` or `out` before it ends (not one that plays or \
            fades in, nor `mic out`, which speaks of something else); a cue means the tracks that \
            it names, by name or by file.",
    example: r##"cues: [
    Cue(crew: Light, number: 10, at: Start("walk on"), trigger: Called, does: "sides up",
        count: 3, standby: 15.0, light: "#ff8040", on_drop: "hold until the pick-up"),
    Cue(crew: Spot, number: 10, trigger: With(Light(10)), does: "pick up centre", spot: Up),
    Cue(crew: Light, number: 20, at: LastCatch, trigger: See("all balls in hands"),
        does: "blackout", dark: true, spot_stays: true),
    Cue(crew: Light, number: 30, trigger: Follow(20, Complete, 2.0), does: "bow", count: 1),
    Cue(crew: Spot, number: 20, at: End("bow"), trigger: See("the exit"), does: "out", spot: Out),
    Cue(crew: Fly, number: 10, trigger: Follow(Light(30), Go, 0.5), does: "moon in"),
],"##,
    fields: &[
        Field::needed(
            "crew",
            "a crew",
            "Who takes it. The rows of a contest's timekeeper come \
                                          from `time_signals` of a limit.",
        )
        .words(&["crew"]),
        Field::needed("trigger", "a way to take a cue", "How the crew knows that it goes.")
            .words(&["way to take a cue", "end of the other cue"])
            .codes(&["follow-of-nothing", "see-in-dark", "seen-too-early"]),
        Field::needed(
            "does",
            "a text, the verb first",
            "What happens, as the crew should read it.",
        ),
        Field::open(
            "at",
            "Needed, but for a cue that goes by `Follow` or `With`, which has none.",
            "a moment",
            "When it goes.",
        )
        .words(&["moment"])
        .codes(&["cue-after-end", "cue-too-early", "timed-cue-after-range"]),
        Field::open(
            "number",
            "The cue has none: nothing can follow it, and no show control calls it.",
            "a number such as 20 or 20.5, 0 to 99999.9",
            "Its number. Each crew has every number once; 16.1 and 16.10 are the same.",
        )
        .codes(&["cue-number", "duplicate-cue-number", "numbers-out-of-order"]),
        Field::open(
            "count",
            "The crew's `count`. A dark Light cue has 0; every other Light cue needs one.",
            "seconds from GO to completion, 0 to a day",
            "How long the fade or the move takes.",
        )
        .codes(&["completion-cut-short", "light-too-slow", "fade-after-end"]),
        Field::open(
            "standby",
            "The crew's `standby`; else 5 s, 30 s for Fly and Deck, and none for a cue that \
             follows.",
            "seconds before GO, 0 to a day",
            "When the crew stands by.",
        )
        .codes(&["called-too-close"]),
        Field::open(
            "dark",
            "It is `false`. A cue that speaks of a blackout says `true` or `false`; in an act with \
             fire or blades no sheet is written until it does.",
            "`true` or `false`; `true` on a Light cue only",
            "Whether it makes the stage dark, until that crew's next cue that is not dark.",
        )
        .codes(&[
            "dark-before-last-catch",
            "danger-in-dark",
            "dark-unsaid",
            "dark-too-short",
        ]),
        Field::open(
            "flashes",
            "It does not flash.",
            "flashes a second, above 0 and at most 1000",
            "How often it flashes; more than three a second are warned of. The sheets take it that the \
             next cue of the same crew ends it, whatever that one does: where it goes on, say \
             `flashes` there too.",
        )
        .codes(&["more-than-three-flashes"])
        .example(
            r#"cues: [Cue(crew: Light, at: Start("bow"), trigger: See("the bow"), does: "flicker",
    count: 2, flashes: 2)],"#,
        ),
        Field::open(
            "light",
            "It is judged as white.",
            "`#rrggbb` or a colour name of CSS, on a Light or a Spot cue, never black",
            "The colour that the cue brings up, until that crew's next one or the dark. The \
             colours of the props are judged under it.",
        )
        .codes(&["colours-alike-under-light", "light-is-black"]),
        Field::open(
            "spot",
            "The followspot stays as it is.",
            "a move, on a Spot cue only",
            "What the followspot does.",
        )
        .words(&["move of the followspot"])
        .codes(&["spot-in-dark", "spot-never-out", "spot-up-in-dark"]),
        Field::open(
            "spot_stays",
            "It is `false`.",
            "`true` or `false`, on a dark cue only",
            "The followspot stays up in this dark on purpose.",
        )
        .codes(&["spot-in-dark"]),
        Field::open(
            "on_drop",
            "What the sheet says of its trigger: See and Hear are taken by eye or ear, Called \
             waits for the call, a follow goes with its cue, and a dark waits for the props.",
            "a text",
            "What becomes of this one cue when a prop drops, in your words.",
        ),
    ],
};

pub(super) const CREW: Record = Record {
    name: "Crew",
    about: "What holds for a crew's cues where they do not say otherwise.",
    example: r#"crews: {
    Light: Crew(count: 3, numbers: Odd),
    Fly: Crew(standby: 40, numbers: Gaps),
},
cues: [
    Cue(crew: Light, number: 1, at: Start("walk on"), trigger: Called, does: "sides up"),
    Cue(crew: Fly, number: 10, at: Start("bow"), trigger: Called, does: "moon in"),
],"#,
    fields: &[
        Field::open(
            "count",
            "Every cue says its own.",
            "seconds from GO to completion, 0 to a day",
            "The `count` of its cues.",
        ),
        Field::open(
            "standby",
            "5 s before GO; 30 s for Fly and Deck.",
            "seconds before GO, 0 to a day",
            "The `standby` of its cues that somebody takes; a follow has none of its own accord.",
        ),
        Field::open(
            "numbers",
            "Any numbers will do.",
            "a numbering",
            "How the numbers of issue 1 leave room for cues that come later; a warning says where \
             they do not.",
        )
        .words(&["numbering"])
        .codes(&["number-without-gap"]),
    ],
};

pub(super) const CREWS: Words = Words {
    what: "crew",
    about: "",
    words: &[
        word("House", "House", "The house lights."),
        word("Light", "Light", "Lighting, LX on the sheets."),
        word("Sound", "Sound", "Sound, SND on the sheets."),
        word("Spot", "Spot", "The followspot, FS on the sheets."),
        word("Fly", "Fly", "Flown pieces."),
        word("Deck", "Deck", "The deck crew."),
    ],
    example: r#"cues: [
    Cue(crew: House, number: 10, at: Start("walk on"), trigger: Called, does: "to half", count: 3),
    Cue(crew: Light, number: 10, at: Start("walk on"), trigger: Called, does: "warm", count: 3),
    Cue(crew: Sound, number: 10, at: TrackStart, trigger: Called, does: "play"),
    Cue(crew: Spot, number: 10, at: Start("tide"), trigger: See("first throw"), does: "pick up",
        spot: Up),
    Cue(crew: Fly, number: 10, at: Start("bow"), trigger: Called, does: "moon in"),
    Cue(crew: Deck, number: 10, at: End("bow"), trigger: See("the exit"), does: "clear"),
],"#,
};

pub(super) const NUMBERING: Words = Words {
    what: "numbering",
    about: "",
    words: &[
        word("Odd", "Odd", "Odd numbers: 1, 3, 5."),
        word("Gaps", "Gaps", "Numbers with gaps between them, such as 10, 20, 30."),
    ],
    example: "",
};

pub(super) const TRIGGER: Words = Words {
    what: "way to take a cue",
    about: "Where two cues wait for the same words, the sheet adds where each of them is: `all \
            balls in hands, at the end of making way`.",
    words: &[
        word(
            "See",
            "See(\"all balls in hands\") or See",
            "On something seen; where you do not say what, it is named from the score.",
        ),
        word("Hear", "Hear(\"the bell\")", "On something heard."),
        word("Called", "Called", "On the caller's GO."),
        word("With", "With(Light(20)) or With(20)", "On the GO of another cue, however that goes."),
        word(
            "Follow",
            "Follow(20, Go, 2.0) or Follow(Light(20), Complete, 2.0)",
            "Seconds after the GO or the completion of another cue, 0 to a day; `20` is a cue of \
             the same crew.",
        ),
    ],
    example: r#"cues: [
    Cue(crew: Light, number: 10, at: FirstThrow, trigger: See, does: "warm", count: 1),
    Cue(crew: Light, number: 20, at: Mark("drum"), trigger: Hear("the drum"), does: "blue", count: 1),
    Cue(crew: Light, number: 30, at: Start("bow"), trigger: Called, does: "white", count: 1),
    Cue(crew: Spot, number: 10, trigger: With(Light(10)), does: "pick up", spot: Up),
    Cue(crew: Light, number: 40, trigger: Follow(30, Go, 2.0), does: "warm", count: 1),
    Cue(crew: Spot, number: 20, trigger: Follow(Light(40), Complete, 1.0), does: "out", spot: Out),
],"#,
};

pub(super) const END: Words = Words {
    what: "end of the other cue",
    about: "",
    words: &[
        word("Go", "Go", "From its GO."),
        word("Complete", "Complete", "From its completion, when its count is over."),
    ],
    example: "",
};

pub(super) const SPOT: Words = Words {
    what: "move of the followspot",
    about: "",
    words: &[word("Up", "Up", "It picks somebody up."), word("Out", "Out", "It goes out.")],
    example: "",
};
