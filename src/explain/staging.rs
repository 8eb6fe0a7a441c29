//! Props, arms, colours and limits, as the reader finds them.

use crate::diagnostic::Explanation;

pub(super) const PROPS: &[Explanation] = &[Explanation {
    code: "backs-count",
    what: "A set with `backs` has one for each of its props.",
    why: "A prop without a back would show nothing when it is turned.",
    raises: concat!(
        "Routine(\n    title: \"Example\",\n    tempo: PerMinute(200),\n",
        "    colours: { \"ivory\": \"#f4f1e6\", \"ink\": \"#33415c\" },\n",
        "    sets: { \"rings\": Set(\n        kind: Ring, length: 0.32,\n        ",
        "colours: [\"ivory\", \"ivory\", \"ivory\"],\n        backs: [\"ink\", \"ink\"],\n    ) },\n",
        "    score: [\n        Juggle(name: \"tide\", set: \"rings\", pattern: \"3\", ",
        "lasts: Beats(6)),\n    ],\n)\n",
    ),
    mended: concat!(
        "Routine(\n    title: \"Example\",\n    tempo: PerMinute(200),\n",
        "    colours: { \"ivory\": \"#f4f1e6\", \"ink\": \"#33415c\" },\n",
        "    sets: { \"rings\": Set(\n        kind: Ring, length: 0.32,\n        ",
        "colours: [\"ivory\", \"ivory\", \"ivory\"],\n        backs: [\"ink\", \"ink\", \"ink\"],\n    ) },\n",
        "    score: [\n        Juggle(name: \"tide\", set: \"rings\", pattern: \"3\", ",
        "lasts: Beats(6)),\n    ],\n)\n",
    ),
    ..Explanation::OF_ROUTINES
}];

pub(super) const VENUE: &[Explanation] = &[Explanation {
    code: "not-on-stage",
    what: "A place on the stage plan is one of nine: `up`, `centre` or `down` with `right`, \
           `centre` or `left`; other words are a place beside the stage.",
    why: "The venue sets the stage by the plan. A place that is only half said is set where \
          somebody guesses.",
    raises: act!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    venue: Venue(plan: [("front", "sand tray")]),
"#
    ),
    mended: act!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    venue: Venue(plan: [("down centre", "sand tray")]),
"#
    ),
    ..Explanation::OF_ROUTINES
}];

pub(super) const ARMS: &[Explanation] = &[
    Explanation {
        code: "arms-not-a-cycle",
        what: "`arms` has one entry for each beat of the cycle, or for as many as repeat with the \
               hands.",
        why: "With any other number the arms would be elsewhere in every cycle.",
        raises: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            arms: [Open, RightOver]),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            arms: [Open, RightOver, Open]),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "made-not-thrown",
        what: "`made` names throws that leave the hand.",
        why: "An empty hand and a held 2 throw nothing, so they are made in no way.",
        raises: act!(
            r#"        Juggle(name: "swing", set: "three", pattern: "423", lasts: Cycles(2),
            made: { 2: Outside }),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "swing", set: "three", pattern: "423", lasts: Cycles(2),
            made: { 1: Outside }),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
];

pub(super) const COLOURS: &[Explanation] = &[
    Explanation {
        code: "alike-and-unlike",
        what: "No two throws are asked to be both alike and unlike.",
        why: "Whichever colours they have, one of the two wishes is not met.",
        raises: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            alike: [(1, 3)], unlike: [(3, 1)]),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            unlike: [(3, 1)]),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "light-is-black",
        what: "`light` is a colour that lights something.",
        why: "Black light is the dark, and the checks of the dark do not look there.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
            r#"    cues: [
        Cue(crew: Light, at: End("bow"), trigger: Called, does: "out", count: 0, light: "black"),
    ],
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
            r#"    cues: [
        Cue(crew: Light, at: End("bow"), trigger: Called, does: "out", dark: true),
    ],
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "same-throw",
        what: "`alike` and `unlike` compare two different throws.",
        why: "A throw is always like itself.",
        raises: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            unlike: [(1, 1)]),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            unlike: [(1, 2)]),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "shows-empty-hand",
        what: "`shows` names throws that are made with a prop.",
        why: "A 0 is an empty hand, in which no colour is seen.",
        raises: act!(
            r#"        Juggle(name: "gap", set: "three", pattern: "504", lasts: Cycles(2),
            shows: { 2: ["teal"] }),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "gap", set: "three", pattern: "504", lasts: Cycles(2)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
];

pub(super) const LIMITS: &[Explanation] = &[
    Explanation {
        code: "grades-out-of-order",
        what: "The rows of a graded penalty go up.",
        why: "The last row that is exceeded holds: out of order, nothing says which that is.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    limits: [Limit(
        rule: "club night", starts: FirstThrow, stops: LastCatch, on_the_line: Inside,
        at_most: "1:00", penalty: Graded([
            (over: 5.0, points: 2.0), (over: 0.0, points: 1.0),
        ]),
    )],
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    limits: [Limit(
        rule: "club night", starts: FirstThrow, stops: LastCatch, on_the_line: Inside,
        at_most: "1:00", penalty: Graded([
            (over: 0.0, points: 1.0), (over: 5.0, points: 2.0),
        ]),
    )],
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "limit-crossed",
        what: "`at_least` is not longer than `at_most`.",
        why: "Nothing would be inside such a limit.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    limits: [Limit(
        rule: "club night", starts: FirstThrow, stops: LastCatch, on_the_line: Inside,
        at_least: "1:10", at_most: "1:00",
    )],
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    limits: [Limit(
        rule: "club night", starts: FirstThrow, stops: LastCatch, on_the_line: Inside,
        at_least: "0:01", at_most: "1:00",
    )],
"#
        ),
        ..Explanation::OF_ROUTINES
    },
];
