//! The record of what was handed out, which lies beside a routine file.

use crate::diagnostic::{Beside, Explanation, Form};

/// The routine beside the examples.
const BESIDE: &[Beside] = &[Beside {
    file: "act.ron",
    what: "the routine",
    text: Some(act!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    issue: 2,
"#
    )),
}];

macro_rules! record {
    ($title:literal, $first:literal, $second:literal) => {
        concat!(
            "Issued(title: \"",
            $title,
            "\", issues: [\n    Issue(number: ",
            $first,
            ", cues: []),\n    Issue(number: ",
            $second,
            ", cues: []),\n])\n"
        )
    };
}

pub(super) const RECORDS: &[Explanation] = &[
    Explanation {
        code: "issued-of-another",
        what: "The record beside a routine is the record of that routine.",
        why: "Held against the cues of another act, every cue looks new, changed or cut.",
        form: Form::Record,
        beside: BESIDE,
        raises: record!("Lantern Quay", 1, 2),
        mended: record!("Example", 1, 2),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "issues-out-of-order",
        what: "In a record every issue has a higher number than the one before it.",
        why: "The last issue is what people have in their hands; out of order nobody knows which \
              it is.",
        form: Form::Record,
        beside: BESIDE,
        raises: record!("Example", 2, 1),
        mended: record!("Example", 1, 2),
        ..Explanation::OF_ROUTINES
    },
];
