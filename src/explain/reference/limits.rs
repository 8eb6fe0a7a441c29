//! Limits: what a rule allows, and when its time runs.

use super::{Field, Record, Words, word};

pub(super) const LIMIT: Record = Record {
    name: "Limit",
    about: "A rule that is yours, as you wrote it down; none is built in. Where lengths are open, \
            the sheet says the worst and the best of all nights, each price for itself.",
    example: r#"limits: [
    Limit(
        rule: "tin cup, short class", starts: FirstThrow, stops: LastCatch,
        passes_over: [TrackStart], adds_up: Everything, encore: false,
        at_least: "0:05", at_most: "2:00", margin: 3.0, grace: 5.0, grace_under: 2.0,
        on_the_line: Inside, moves: AtLeast(1),
        penalty: Steps(every: 8.0, or_part: true, from: Limit, points: 1.0),
        time_signals: [("amber", "1:30"), ("red", "2:00")],
    ),
    Limit(rule: "in the air", starts: FirstThrow, stops: LastCatch, passes_over: [TrackStart],
        adds_up: Juggling, at_most: "1:30", on_the_line: Outside),
    Limit(rule: "stage hands", starts: SetUpStart, stops: StrikeEnd,
        adds_up: SetUpAndStrike, at_most: "5:00", on_the_line: Inside),
    Limit(rule: "music first", starts: TrackStart, stops: LastCatch, passes_over: [FirstThrow],
        at_most: "2:00", on_the_line: Inside),
],
set_up: "1:00",
strike: "1:00","#,
    fields: &[
        Field::needed("rule", "a text", "What you call it; it stands beside every verdict."),
        Field::needed(
            "starts",
            "a moment",
            "Where the rule starts the time, such as `First([TrackStart, FirstThrow])`.",
        )
        .words(&["moment"])
        .codes(&["limit-starts-late"]),
        Field::needed("stops", "a moment", "Where the rule stops the time.")
            .words(&["moment"])
            .codes(&["limit-stops-first"]),
        Field::open(
            "passes_over",
            "A warning says so where such an event comes before `starts`.",
            "a list of events",
            "Events that do not start this rule's time though they come first.",
        )
        .words(&["event that starts a contest's time"])
        .codes(&["limit-starts-late"]),
        Field::open("adds_up", "`Everything`.", "a choice", "What is counted between the two.")
            .words(&["choice of what is added up"])
            .codes(&["limit-counts-nothing"]),
        Field::open(
            "encore",
            "`Everything` counts an encore that lies between, `Juggling` does not count what is \
             juggled in it.",
            "`true` or `false`",
            "Whether the encore counts.",
        )
        .codes(&["misplaced-field"]),
        Field::open(
            "at_least",
            "There is no lower edge; then `at_most` or `moves` is needed.",
            "a time, at most a day",
            "The lower edge.",
        )
        .codes(&["limit-under", "limit-crossed"]),
        Field::open(
            "at_most",
            "There is no upper edge; then `at_least` or `moves` is needed.",
            "a time, at most a day",
            "The upper edge.",
        )
        .codes(&["limit-over", "limit-crossed"]),
        Field::open(
            "on_the_line",
            "Needed beside an edge; without one it says nothing.",
            "a side of the line",
            "Whether a time exactly on an edge is inside. One that is outside costs what the \
             smallest excess costs.",
        )
        .words(&["side of the line"]),
        Field::open(
            "moves",
            "No number of moves is asked for.",
            "`AtLeast(20)`",
            "The least moves that must begin in its time: from its start on, before its stop, not \
             after `at_most`, those of an encore that it counts too. A limit with `moves` and no \
             edge has no verdict in time, and no `margin` or `penalty`.",
        )
        .words(&["number of moves"])
        .codes(&["limit-too-few-moves"])
        .example(
            r#"limits: [Limit(
    rule: "open class", starts: TrackStart, stops: LastCatch, moves: AtLeast(1),
)],"#,
        ),
        Field::open(
            "grace",
            "Nothing is forgiven.",
            "seconds, 0 to a day; beside `at_most`",
            "How far over is forgiven.",
        )
        .codes(&["limit-in-grace"]),
        Field::open(
            "grace_under",
            "Nothing is forgiven.",
            "seconds, 0 to a day; beside `at_least`",
            "How far under is forgiven.",
        )
        .codes(&["limit-in-grace"]),
        Field::open(
            "margin",
            "Nothing warns of a time that is close to an edge.",
            "seconds, 0 to a day; beside an edge",
            "A warning comes when the time is closer to an edge than this.",
        )
        .codes(&["limit-close"]),
        Field::open(
            "time_signals",
            "The timekeeper gives no signals.",
            "a list of signals and times, `(\"amber\", \"8:00\")`, at most 100; beside \
             `Everything` only",
            "What the rule's timekeeper shows or calls, and when on the watch that runs from \
             `starts`. They are rows of the cue sheet for the crew `timekeeper`, which no show \
             control hears of.",
        ),
        Field::open(
            "penalty",
            "It costs nothing that is known.",
            "a penalty",
            "What it costs to be over or under.",
        )
        .words(&["penalty"]),
    ],
};

pub(super) const ADDED_UP: Words = Words {
    what: "choice of what is added up",
    about: "",
    words: &[
        word("Everything", "Everything", "All time between the start and the stop."),
        word("Juggling", "Juggling", "Every run, from its first beat to its last catch."),
        word("SetUpAndStrike", "SetUpAndStrike", "Setting up and clearing the stage alone."),
    ],
    example: "",
};

pub(super) const SIDE_OF_THE_LINE: Words = Words {
    what: "side of the line",
    about: "",
    words: &[
        word("Inside", "Inside", "A time on the edge is allowed."),
        word("Outside", "Outside", "A time on the edge is over, or under."),
    ],
    example: "",
};

pub(super) const START_EVENT: Words = Words {
    what: "event that starts a contest's time",
    about: "",
    words: &[
        word("TrackStart", "TrackStart", "The music starts."),
        word("FirstThrow", "FirstThrow", "The first throw."),
    ],
    example: "",
};

pub(super) const MOVES: Words = Words {
    what: "number of moves",
    about: "",
    words: &[word("AtLeast", "AtLeast(20)", "So many moves or more, 1 to 10000.")],
    example: "",
};
