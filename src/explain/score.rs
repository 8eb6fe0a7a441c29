//! What a pattern asks of the hands, how sections follow each other, and how long they last.

use crate::diagnostic::{Explanation, Form};

pub(super) const PATTERNS: &[Explanation] = &[
    Explanation {
        code: "average-not-whole",
        what: "The values of a pattern sum to a whole number of props for each beat.",
        why: "The average is the number of props, and nobody juggles four and a half.",
        raises: "54",
        mended: "53",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "landing-clash",
        what: "No two throws of a pattern come to one hand on one beat, unless that hand throws \
               as many together there.",
        why: "A written pattern with a clash cannot be juggled by anybody.",
        raises: "432",
        mended: "423",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "lead-of-pairs",
        what: "`lead` stands on a section whose hands alternate.",
        why: "In a pair both hands throw at once, so neither leads.",
        raises: act!(
            r#"        Juggle(name: "rain", set: "three", pattern: "(4,2x)*", lasts: Beats(8),
            lead: Left),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "rain", set: "three", pattern: "(4,2x)*", lasts: Beats(8)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "odd-beats-of-pairs",
        what: "A section of pairs lasts an even number of beats.",
        why: "A pair fills two beats, so an odd number would end in the middle of one.",
        raises: act!(
            r#"        Juggle(name: "rain", set: "three", pattern: "(4,2x)*", lasts: Beats(7)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "rain", set: "three", pattern: "(4,2x)*", lasts: Beats(8)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "pairs-have-no-lead",
        what: "`--lead` stands beside alternating throws, not beside pairs.",
        why: "In a pair both hands throw at once, so neither leads.",
        form: Form::Transition,
        raises: "3 '(4,2x)*' --lead right",
        mended: "3 '(4,2x)*'",
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "too-many-props",
        what: "A pattern needs at most 255 props.",
        why: "No hands hold that many: it is probably a slip.",
        raises: "[zzzzzzzzzzzzzzzzzzzz]",
        mended: "[zz]",
        ..Explanation::OF_PATTERNS
    },
];

pub(super) const JUNCTIONS: &[Explanation] = &[Explanation {
    code: "encore-without-pause",
    what: "An encore begins with a `Pause`.",
    why: "The audience claps and the props are taken up again: nobody throws at once.",
    raises: act!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    encore: Encore(score: [
        Juggle(name: "last wave", set: "three", pattern: "3", lasts: Beats(6)),
    ]),
"#
    ),
    mended: act!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    encore: Encore(score: [
        Pause(name: "back on stage", lasts: For("0:05")),
        Juggle(name: "last wave", set: "three", pattern: "3", lasts: Beats(6)),
    ]),
"#
    ),
    ..Explanation::OF_ROUTINES
}];

pub(super) const LENGTHS: &[Explanation] = &[
    Explanation {
        code: "beats-of-pause",
        what: "A `Pause` lasts a time or some bars, or until a moment.",
        why: "Nothing is thrown in a pause, so it has no beats to count.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: Beats(5)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: For("0:05")),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "ramp-without-section",
        what: "A `Ramp` stands on a section; the routine begins with a steady tempo.",
        why: "A ramp spans its section, so without one nothing says how long it takes.",
        raises: concat!(
            "Routine(\n    title: \"Example\",\n    tempo: Ramp(from: 180, to: 220),\n",
            "    colours: { \"coral\": \"#ec6a5c\" },\n",
            "    sets: { \"one\": Set(kind: Ball, length: 0.072, colours: [\"coral\"]) },\n",
            "    score: [\n        Juggle(name: \"hop\", set: \"one\", pattern: \"1\", ",
            "lasts: Beats(6)),\n    ],\n)\n",
        ),
        mended: concat!(
            "Routine(\n    title: \"Example\",\n    tempo: PerMinute(180),\n",
            "    colours: { \"coral\": \"#ec6a5c\" },\n",
            "    sets: { \"one\": Set(kind: Ball, length: 0.072, colours: [\"coral\"]) },\n",
            "    score: [\n        Juggle(name: \"hop\", set: \"one\", pattern: \"1\", ",
            "lasts: Beats(6), tempo: Ramp(from: 180, to: 220)),\n    ],\n)\n",
        ),
        ..Explanation::OF_ROUTINES
    },
];

pub(super) const OPEN_LENGTHS: &[Explanation] = &[
    Explanation {
        code: "range-of-juggle",
        what: "Only a `Pause` lasts `Between` two lengths.",
        why: "A pattern has a whole number of beats, and the juggler decides how many.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3",
            lasts: Between("0:02", "0:05")),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "range-reversed",
        what: "`Between` has the shorter length first.",
        why: "The other way round one of the two is a slip, and nothing says which.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "applause", lasts: Between("0:12", "0:04")),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "applause", lasts: Between("0:04", "0:12")),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
];
