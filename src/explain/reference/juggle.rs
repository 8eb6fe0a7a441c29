//! Sections that are juggled: pattern, length, tempo, arms, and what is declared.

use super::{Field, Record, Words, word};

pub(super) const JUGGLE: Record = Record {
    name: "Juggle",
    about: "A pattern for a while. It goes on from the `Juggle` before it, or starts cold after a \
            `Pause` or at the beginning.",
    example: r#"Juggle(name: "beam", pattern: "531", lasts: Cycles(8), tempo: PerMinute(190),
    place: "down centre"),
Juggle(name: "wake", pattern: "51", lasts: Cycles(10), transition: Auto),"#,
    fields: &[
        Field::needed(
            "name",
            "a text; no two sections have the same one",
            "What the section is called. Moments call it by that name.",
        )
        .codes(&["duplicate-name"]),
        Field::needed(
            "pattern",
            "throws in quotation marks: digits and small letters; `[54]` for a multiplex; \
             `(4,2x)` for two throws made together, the left hand's first, `x` for one that \
             crosses; `*` at the end to repeat with the hands exchanged",
            "What is juggled. `throwbook pattern` explains it, and says which prop leaves with \
             which value of a multiplex.",
        )
        .codes(&["junction-clash", "prop-count", "hand-count"]),
        Field::needed(
            "lasts",
            "a length, but not `Between`",
            "How long it is juggled. A time that is no whole number of beats is an error that \
             names the nearest two, unless `may_bend` is written; a time may cut the last cycle. \
             Pairs last an even number of beats.",
        )
        .words(&["length", "throw or catch that lands"])
        .codes(&["length-not-whole", "odd-beats-of-pairs", "cut-cycle", "range-moves-beats"]),
        Field::open(
            "set",
            "The set in use stays; the first section that is juggled needs one.",
            "the name of a set",
            "Which props are juggled from here on. Naming the set in use keeps its loading.",
        )
        .codes(&["no-set", "unknown-set", "quick-set-change"])
        .example(r#"Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(12)),"#),
        Field::open(
            "tempo",
            "The tempo before it goes on.",
            "a tempo",
            "How fast it is juggled, and what follows until another section says otherwise.",
        )
        .words(&["tempo"])
        .codes(&["no-tempo", "too-fast"]),
        Field::open(
            "transition",
            "`Direct`.",
            "a transition",
            "The throws that join it to the section before.",
        )
        .words(&["transition"])
        .codes(&["junction-clash", "no-transition"]),
        Field::open(
            "lead",
            "The hand whose turn it is.",
            "a hand",
            "The hand that must make its first throw. If another hand leads, that is an error. \
             Pairs have none.",
        )
        .words(&["hand"])
        .codes(&["lead-not-met", "lead-of-pairs"])
        .example(
            r#"Juggle(name: "wheel", pattern: "51", lasts: Cycles(6), transition: Auto, lead: Left),"#,
        ),
        Field::open(
            "twos",
            "They are held.",
            "a kind of 2",
            "Whether its 2s stay in the hand or are small throws.",
        )
        .words(&["kind of 2"])
        .example(
            r#"Juggle(name: "claws", pattern: "423", lasts: Cycles(4), twos: Thrown),
Juggle(name: "rest", pattern: "423", lasts: Cycles(4), twos: Held),"#,
        ),
        Field::open(
            "loading",
            "The usual loading: the set's colours in the order in which they leave.",
            "a loading, on the first `Juggle` of a set or after a change of sets",
            "Which prop starts in which hand at a cold start.",
        )
        .words(&["loading"])
        .codes(&["loading-mismatch"])
        .example(
            r#"Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(12), loading: Found),
Juggle(name: "beam", pattern: "531", lasts: Cycles(8), shows: { 2: ["pearl"] }),"#,
        ),
        Field::open(
            "shows",
            "No throw is asked to show a colour.",
            "a map of throws to lists of colours; throws are numbered as written, every value \
             counts, 1 to 1000000; a list is no longer than the section has cycles",
            "Throw 2 in coral, throw 1 in pearl and teal in turn, cycle by cycle. What a section \
             shows must be told apart from the rest of its set: the check says which two look \
             alike (CIEDE2000 below 10), to whom (usual, protan, deutan or tritan vision) and \
             under which cue's `light`, and offers a colour that reads. These are estimates: try \
             the props under the real light, with people who see colours that way.",
        )
        .codes(&["colour-not-shown", "colour-not-in-set", "colours-look-alike", "duplicate-key"])
        .example(
            r#"Juggle(name: "beam", pattern: "531", lasts: Cycles(8), shows: { 2: ["teal"] }),"#,
        ),
        Field::open(
            "solid",
            "It is `false`.",
            "`true` or `false`",
            "Each orbit must show one colour, whichever.",
        )
        .codes(&["colour-not-shown"])
        .example(
            r##"colours: { "coral": "#ec6a5c", "teal": "#0f8b8d" },
sets: { "three": Set(kind: Ball, length: 0.07, colours: ["coral", "teal", "coral"]) },
score: [Juggle(
    name: "tide", set: "three", pattern: "531", lasts: Cycles(8), loading: Found, solid: true,
)],"##,
        ),
        Field::open(
            "alike",
            "No two throws are asked to be alike.",
            "a list of two throws each, `(1, 3)`, numbered as in `shows`",
            "The two throws of each cycle must show one colour.",
        )
        .codes(&["colour-not-shown", "alike-and-unlike", "same-throw"])
        .example(
            r##"colours: { "coral": "#ec6a5c", "teal": "#0f8b8d" },
sets: { "three": Set(kind: Ball, length: 0.07, colours: ["coral", "teal", "coral"]) },
score: [Juggle(
    name: "tide", set: "three", pattern: "531", lasts: Cycles(8), loading: Found,
    alike: [(1, 3)], unlike: [(1, 2)],
)],"##,
        ),
        Field::open(
            "unlike",
            "No two throws are asked to differ.",
            "a list of two throws each, `(1, 2)`, numbered as in `shows`",
            "The two throws of each cycle must show different colours.",
        )
        .codes(&["colour-not-shown", "alike-and-unlike", "same-throw"])
        .example(r#"Juggle(name: "beam", pattern: "531", lasts: Cycles(8), unlike: [(1, 2)]),"#),
        Field::open(
            "caught",
            "No catch is asked to show a colour.",
            "a list of `(colour: …, at: …, hand: …)`",
            "Colours that must be caught at moments of this section.",
        )
        .codes(&["colour-not-shown"])
        .example(
            r#"Juggle(name: "beam", pattern: "531", lasts: Cycles(8),
    caught: [(colour: "teal", at: Catch("beam", 2))]),"#,
        ),
        Field::open(
            "free",
            "The section is juggled as written.",
            "a list of freedoms",
            "What may be chosen here so that all colour requests are met. What you write is kept; \
             of several choices the one with the fewest beats of transition is taken, then the \
             one nearest to what is written. The choice is exact: where `throwbook colours` says \
             that nothing meets the requests, no choice that you left open can. The bounds are \
             yours, in `transitions` and `free`; where they leave more possibilities than can be \
             gone through, it says so and chooses none. A request that is not met is a warning \
             with its reason, the smallest set of requests that clash, and repairs with what else \
             they change: beats, seconds, the hand that leads, cues that move.",
        )
        .words(&["freedom"])
        .example(
            r#"Juggle(name: "tide", set: "three", pattern: "531", lasts: Cycles(8), loading: Found,
    shows: { 1: ["coral", "teal"] }, free: [StartingThrow, MultiplexOrder, Transition]),"#,
        ),
        Field::open(
            "other_face",
            "The props show the face that they showed before.",
            "`true` or `false`",
            "The props of a set with `backs` show their other faces: from this section's own \
             first throw on, each as it is next thrown or held (one in the air keeps its face \
             until then), until another section says so again. A pause keeps the face; a set that \
             comes into use again shows its fronts. `shows`, cues, sheets and the strip go by the \
             face that is seen.",
        )
        .codes(&["other-face-without-backs"])
        .example(
            r##"colours: { "ivory": "#f4f1e6", "ink": "#22223b" },
sets: { "discs": Set(
    kind: Ring, length: 0.32, colours: ["ivory", "ivory", "ivory"], backs: ["ink", "ink", "ink"],
) },
score: [
    Juggle(name: "tide", set: "discs", pattern: "3", lasts: Beats(12)),
    Juggle(name: "night", pattern: "3", lasts: Beats(12), other_face: true),
],"##,
        ),
        Field::open(
            "arms",
            "They are open.",
            "a list, one position for each beat of the written cycle, or for each beat until hands \
             and throws repeat; a pair fills two beats and has two entries",
            "Where the arms are, from the section's own first throw on. Arms are physical: \
             `RightOver` is the right arm above, whichever hand throws and in both halves of a \
             starred pattern; an odd cycle, whose hands change each time, may be written as two \
             (\"3\" with `[RightOver, LeftOver]`). Between two sections the arms stay as they \
             are, or they have the beats of a transition to move in: one to cross or to uncross, \
             two to change the arm above (common practice, no source). Where they do not meet, a \
             warning says so. The timing sheet counts crossings.",
        )
        .words(&["position of the arms"])
        .codes(&["arms-do-not-meet", "arms-not-a-cycle"])
        .example(
            r#"Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(12),
    arms: [RightOver, LeftOver]),
Juggle(name: "wide", pattern: "3", lasts: Beats(12), transition: Throws("3"), arms: [Open]),"#,
        ),
        Field::open(
            "made",
            "Every throw is an ordinary one.",
            "a map of throws to ways, throws numbered as in `shows`; a held 2 and a 0 are made in \
             no way",
            "How throws are made. The strip says it beside the value, and the timing sheet counts \
             it for each hand.",
        )
        .words(&["way of making a throw"])
        .codes(&["made-not-thrown", "unknown-throw"])
        .example(
            r#"Juggle(name: "trick", pattern: "441", lasts: Cycles(4),
    made: { 1: UnderLeg, 2: Outside, 3: BehindBack }),
Juggle(name: "more", pattern: "441", lasts: Cycles(4),
    made: { 1: OverTop, 2: Inside, 3: UnderWrist }),"#,
        ),
        Field::open(
            "declares",
            "The move declares nothing.",
            "a declaration",
            "What an entry form says of this move, of the section's own throws. `throwbook time \
             --moves` says whether it is kept.",
        )
        .words(&["declaration"])
        .codes(&["catches-not-reached"])
        .example(
            r#"Juggle(name: "one", pattern: "3", lasts: Beats(30), declares: Catches(30)),
Juggle(name: "two", pattern: "3", lasts: Beats(30), declares: Throws(30)),
Juggle(name: "three", pattern: "3", lasts: Beats(30), declares: Flash),
Juggle(name: "four", pattern: "3", lasts: Beats(30), declares: Qualify),"#,
        ),
        Field::open(
            "turn",
            "It needs no time with both hands empty.",
            "seconds, above 0 and at most a day",
            "How long both hands must be empty at some point, for a turn of the body.",
        )
        .codes(&["turn-too-short"])
        .example(
            r#"Juggle(name: "spin", pattern: "55500", lasts: Cycles(2), turn: 0.4),"#,
        ),
        Field::open("place", "No place is given.", "a text", "Where on the stage it is juggled."),
        Field::open(
            "may_bend",
            "The tempo is kept; a length that is no whole number of beats is an error.",
            "a part of the tempo, 0 to 0.5: 0.03 is 3 % either way",
            "How much the tempo may bend so that whole cycles end exactly where the section ends: \
             after `For` a time or so many `Bars`, or `Until` a moment, which is the next \
             section's own first throw, or before a pause the end of the last beat. The number of \
             cycles with the least bend is taken, of equal ones the faster. The section's \
             transition bends with it, unless the section before lasts until a moment, which has \
             fixed the own first throw. A later section without a tempo of its own goes on with \
             the written tempo. The timing sheet says what became of the tempo and of the highest \
             throw; where that is too little, the check shows the nearest choices on each side. \
             `throwbook fit` tables the choices before you commit: also of a section without \
             `may_bend`, of one that does not compile for its length alone, and of one that is \
             counted and ends shortly before a mark or the end of a pause; without `--section`, \
             of all of them, with what the music's bars offer.",
        )
        .codes(&["bend-too-small", "nothing-to-land-on"])
        .example(
            r#"Juggle(name: "ebb", pattern: "3", lasts: For("0:04"), may_bend: 0.03),"#,
        ),
    ],
};

pub(super) const RAMP: Record = Record {
    name: "Ramp",
    about: "A tempo that rises or falls through the section, linear in its beats.",
    example: r#"Juggle(name: "rise", pattern: "3", lasts: Beats(40), tempo: Ramp(from: 180, to: 220)),"#,
    fields: &[
        Field::needed(
            "to",
            "throws a minute, at least 1 and at most 1000",
            "The tempo at the end of the section, and on from there.",
        ),
        Field::open(
            "from",
            "The tempo in force.",
            "throws a minute, at least 1 and at most 1000",
            "The tempo at the start of the section.",
        ),
    ],
};

pub(super) const PER_MUSIC_BEAT: Record = Record {
    name: "PerMusicBeat",
    about: "A tempo that follows the music through its steps and ramps, until another tempo is \
            written. A section that begins beside the music goes as fast as the music all the \
            same; a warning says by how much it is off.",
    example: r#"Juggle(name: "beam", pattern: "3", lasts: Cycles(8),
    tempo: PerMusicBeat(throws: 2, accent: Throw)),
Juggle(name: "wake", pattern: "3", lasts: Cycles(9),
    tempo: PerMusicBeat(throws: "3/2", accent: Catch)),"#,
    fields: &[
        Field::needed(
            "throws",
            "a number above 0 and at most 100, or a fraction such as \"3/2\"",
            "How many throws there are to a music beat.",
        )
        .codes(&["tempo-without-bars"]),
        Field::needed(
            "accent",
            "`Throw` or `Catch`",
            "What is meant to fall on the music. With `Catch`, a section `Until(Bar(9))` before \
             it, or its own, ends so much later that catches can fall on bar 9.",
        )
        .words(&["accent"]),
    ],
};

pub(super) const HAND: Words = Words {
    what: "hand",
    about: "Right and left are the performer's, facing the house.",
    words: &[word("Right", "Right", "The right hand."), word("Left", "Left", "The left hand.")],
    example: "lead: Right,",
};

pub(super) const SECTION: Words = Words {
    what: "section",
    about: "",
    words: &[
        word("Juggle", "Juggle(name: …, pattern: …, lasts: …)", "A pattern for a while."),
        word("Pause", "Pause(name: …, lasts: …)", "A walk, a pose, a bow, a pick-up: no throws."),
    ],
    example: "",
};

pub(super) const TEMPO: Words = Words {
    what: "tempo",
    about: "",
    words: &[
        word(
            "PerMinute",
            "PerMinute(200)",
            "So many throws a minute, at least 1 and at most 1000, both hands together.",
        ),
        word("Ramp", "Ramp(from: 180, to: 220)", "From one tempo to another through the section."),
        word(
            "PerMusicBeat",
            "PerMusicBeat(throws: 2, accent: Throw)",
            "With the music, so many throws to each of its beats.",
        ),
    ],
    example: "",
};

pub(super) const ACCENT: Words = Words {
    what: "accent",
    about: "",
    words: &[
        word("Throw", "Throw", "The throws fall on the music."),
        word("Catch", "Catch", "The catches fall on the music."),
    ],
    example: "",
};

pub(super) const TRANSITION: Words = Words {
    what: "transition",
    about: "",
    words: &[
        word("Direct", "Direct", "No throws between the two patterns."),
        word(
            "Auto",
            "Auto",
            "The shortest throws that join them, within the routine's `transitions`.",
        ),
        word("Throws", "Throws(\"4\")", "These throws, as you write them."),
    ],
    example: r#"Juggle(name: "beam", pattern: "531", lasts: Cycles(8), transition: Direct),
Juggle(name: "wake", pattern: "51", lasts: Cycles(10), transition: Throws("4")),
Juggle(name: "ebb", pattern: "3", lasts: Beats(12), transition: Auto),"#,
};

pub(super) const KIND_OF_2: Words = Words {
    what: "kind of 2",
    about: "",
    words: &[
        word("Held", "Held", "A 2 stays in the hand."),
        word("Thrown", "Thrown", "A 2 is a small throw."),
    ],
    example: "",
};

pub(super) const DECLARATION: Words = Words {
    what: "declaration",
    about: "",
    words: &[
        word("Catches", "Catches(50)", "So many catches, 1 to 10000000."),
        word("Throws", "Throws(50)", "So many throws, 1 to 10000000."),
        word("Flash", "Flash", "As many catches as props."),
        word("Qualify", "Qualify", "Twice as many catches as props."),
    ],
    example: "",
};

pub(super) const ARMS: Words = Words {
    what: "position of the arms",
    about: "",
    words: &[
        word("Open", "Open", "Not crossed."),
        word("RightOver", "RightOver", "Crossed, the right arm above."),
        word("LeftOver", "LeftOver", "Crossed, the left arm above."),
    ],
    example: "",
};

pub(super) const MADE: Words = Words {
    what: "way of making a throw",
    about: "",
    words: &[
        word("Inside", "Inside", "On the inside."),
        word("Outside", "Outside", "On the outside."),
        word("UnderWrist", "UnderWrist", "Under the wrist of the other hand."),
        word("UnderLeg", "UnderLeg", "Under a leg."),
        word("BehindBack", "BehindBack", "Behind the back."),
        word("OverTop", "OverTop", "Over the top."),
    ],
    example: "",
};
