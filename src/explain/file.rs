//! The file as a whole, before anything in it is read as a routine.

use crate::diagnostic::{Explanation, Form};

pub(super) const FILE: &[Explanation] = &[
    Explanation {
        code: "extension",
        what: "The file does not switch on the extension `unwrap_variant_newtypes` of RON.",
        why: "With it `Until(Start(\"tide\"))` could be read in two ways, and one of them is wrong.",
        raises: concat!(
            "#![enable(unwrap_variant_newtypes)]\n",
            act!(
                r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
            )
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "not-utf-8",
        what: "The file is UTF-8 text.",
        why: "In any other encoding nobody can tell which letters are meant, so names on the \
              sheets would come out garbled.",
        form: Form::Latin1,
        raises: act!(
            r#"        Juggle(name: "café", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "café", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "syntax",
        what: "The text is RON: every bracket and quotation mark is closed, and a comma stands \
               between two fields.",
        why: "Nothing can be read behind such a slip, so nothing else in the file is checked.",
        raises: act!(
            r#"        Juggle(name: "tide" set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "too-large",
        what: "The file has at most 4 megabytes.",
        why: "No routine needs that much: it is probably another file, and reading it would fill \
              the memory.",
        times: 100_000,
        raises: "// Rehearsal log: two clean runs, one drop.\n",
        mended: concat!(
            "// Rehearsal log: two clean runs, one drop.\n",
            act!(
                r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
            )
        ),
        ..Explanation::OF_ROUTINES
    },
];
