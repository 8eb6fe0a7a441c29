//! Fields, and what stands in them.

use crate::diagnostic::Explanation;

pub(super) const FIELDS: &[Explanation] = &[
    Explanation {
        code: "bad-time",
        what: "A time is written in minutes and seconds, as in \"1:05\" or \"0:06.5\".",
        why: "\"75\" may be seconds or minutes: what is written for a show must not be guessed.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: For("75")),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: For("1:15")),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "cue-number",
        what: "A cue number is a number such as 20 or 20.5, not below 0, with one decimal at most.",
        why: "An operator types it into a console: what cannot be typed cannot be called.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    cues: [
        Cue(crew: Light, number: 5.25, at: FirstThrow, trigger: Called,
            does: "warm", count: 2),
    ],
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    cues: [
        Cue(crew: Light, number: 5.2, at: FirstThrow, trigger: Called,
            does: "warm", count: 2),
    ],
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "duplicate-field",
        what: "A field is written once.",
        why: "Of two values only one can count, and nothing says which.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6),
            lasts: Beats(12)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "duplicate-key",
        what: "In `shows` and in `made` every throw is written once.",
        why: "Of two wishes for one throw only one can count, and nothing says which.",
        raises: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            shows: { 2: ["teal"], 2: ["coral"] }),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            shows: { 2: ["teal"] }),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "empty-list",
        what: "A list that is there to name something names at least one.",
        why: "A throw that shows no colour, a set without props or a score without sections is a \
              slip.",
        raises: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            shows: { 2: [] }),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            shows: { 2: ["teal"] }),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "text-too-long",
        what: "Titles and names have at most 200 characters, and what is done, said, seen or heard \
               at most 2,000.",
        why: "Nobody finds a longer name on a sheet, and no row has room for it.",
        raises: act!(
            r#"        Juggle(name: "tide, which begins low and slow at the left
of the stage while the drum still plays, then comes up to the middle
with the second verse, stays there for as long as the lamp swings,
and only then turns to the crate",
            set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "empty-text",
        what: "Names and other texts are not empty.",
        why: "A section without a name cannot be found on a sheet, and no cue can hang on it.",
        raises: act!(
            r#"        Juggle(name: "", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "misplaced-field",
        what: "A field stands where it means something.",
        why: "A blackout that is written on a Sound cue darkens nothing, and the checks of the \
              dark do not see it.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
            r#"    cues: [Cue(crew: Sound, at: End("bow"), trigger: Called, does: "out", dark: true)],
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: For("0:05")),
"#,
            r#"    cues: [Cue(crew: Light, at: End("bow"), trigger: Called, does: "out", dark: true)],
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "missing-field",
        what: "Everything that must be said is said.",
        why: "What the file leaves open is not guessed: a section without `lasts` has no length.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3"),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "out-of-range",
        what: "A number, a time or the length of a list lies within its bounds; the message says \
               which they are.",
        why: "A section of no beats, a tempo of 0 or a mark behind the end of its track is a slip.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(0)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "unknown-field",
        what: "Only fields that mean something are written.",
        why: "A field with a slip in its name would be passed over in silence, and with it what \
              you wanted.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6),
            tmepo: PerMinute(180)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6),
            tempo: PerMinute(180)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "unknown-word",
        what: "A word without quotation marks is one of those that can stand there.",
        why: "A word with a slip in it means nothing; the message names those that do.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beets(6)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "wrong-shape",
        what: "A value has the shape of its field: a number, a text, a list, a word with what \
               belongs to it.",
        why: "A bare 180 does not say what it counts: throws a minute or throws to a music beat.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6),
            tempo: 180),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6),
            tempo: PerMinute(180)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
];
