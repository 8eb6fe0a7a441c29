//! What it costs to break a limit.

use super::{Field, Record, Words, word};

/// What every price has.
const POINTS: Field = Field::open(
    "points",
    "No points are taken.",
    "points, 0 to 1000000",
    "The points that are taken.",
);
const PERCENT: Field = Field::open(
    "percent",
    "No part of the score is taken.",
    "percent of the score, 0 to 100",
    "The part of the score that is taken.",
);
const RATING: Field = Field::open(
    "rating",
    "The rating stays.",
    "a text",
    "What becomes of the rating, in the rule's words.",
);

pub(super) const STEPS: Record = Record {
    name: "Steps",
    about: "A penalty of so much for every step over or under. It takes `points`, `percent` or \
            both.",
    example: r#"limits: [Limit(
    rule: "tin cup", starts: FirstThrow, stops: LastCatch, at_most: "1:00", grace: 5.0,
    on_the_line: Inside, passes_over: [TrackStart],
    penalty: Steps(
        every: 8.0, or_part: true, from: Grace, points: 1.0, percent: 0.5, at_most_points: 5.0,
    ),
)],"#,
    fields: &[
        Field::needed("every", "seconds, above 0 and at most a day", "How long a step is."),
        Field::needed("or_part", "`true` or `false`", "Whether a step that has begun counts."),
        Field::open(
            "from",
            "The limit; needed beside a grace.",
            "a start",
            "Where the first step starts.",
        )
        .words(&["start of the steps"]),
        POINTS,
        PERCENT,
        Field::open(
            "at_most_points",
            "There is no most.",
            "points, 0 to 1000000; beside `points`",
            "The most points that are taken.",
        ),
    ],
};

pub(super) const FLAT: Record = Record {
    name: "Flat",
    about: "A penalty that is taken once: `points`, `percent`, `rating` or several of them. \
            `Flat(4.0)` is four points.",
    example: r#"limits: [Limit(
    rule: "tin cup", starts: FirstThrow, stops: LastCatch, at_most: "1:00", on_the_line: Inside,
    passes_over: [TrackStart],
    penalty: Flat(points: 2.0, percent: 5.0, rating: "one level down"),
)],"#,
    fields: &[POINTS, PERCENT, RATING],
};

pub(super) const GRADE: Record = Record {
    name: "Grade",
    about: "A row of `Graded`. It is written without its name; `Out(over: 30.0)` is a row that \
            disqualifies. It begins `over` a time or `from` it on.",
    example: r#"limits: [Limit(
    rule: "tin cup", starts: FirstThrow, stops: LastCatch, at_most: "1:00", on_the_line: Inside,
    passes_over: [TrackStart],
    penalty: Graded([
        (over: 0.0, points: 1.0, percent: 2.0),
        (from: 5.0, rating: "one level down"),
        Out(over: 30.0),
    ]),
)],"#,
    fields: &[
        Field::open(
            "over",
            "The row begins `from` a time on.",
            "seconds, 0 to a day",
            "The row holds for more than so many seconds beyond the limit.",
        )
        .codes(&["grades-out-of-order"]),
        Field::open(
            "from",
            "The row begins `over` a time.",
            "seconds, 0 to a day",
            "The row holds for so many seconds beyond the limit, and more.",
        )
        .codes(&["grades-out-of-order"]),
        POINTS,
        PERCENT,
        RATING,
    ],
};

pub(super) const PENALTY: Words = Words {
    what: "penalty",
    about: "",
    words: &[
        word(
            "Steps",
            "Steps(every: 8.0, or_part: true, from: Limit, points: 1.0)",
            "So much for every step.",
        ),
        word("Flat", "Flat(points: 4.0) or Flat(4.0)", "So much once, 0 to 1000000 points."),
        word(
            "Graded",
            "Graded([(over: 0.0, points: 1.0), (from: 5.0, points: 4.0), Out(over: 30.0)])",
            "The last row that is reached; rows go up.",
        ),
        word("Out", "Out", "Disqualified."),
    ],
    example: r#"limits: [
    Limit(rule: "one", starts: TrackStart, stops: LastCatch, at_most: "2:00",
        on_the_line: Inside, penalty: Flat(4.0)),
    Limit(rule: "two", starts: TrackStart, stops: LastCatch, at_most: "2:00",
        on_the_line: Inside, penalty: Out),
],"#,
};

pub(super) const START_OF_THE_STEPS: Words = Words {
    what: "start of the steps",
    about: "",
    words: &[
        word("Limit", "Limit", "At the edge."),
        word("Grace", "Grace", "At the end of the grace."),
    ],
    example: "",
};
