//! Names that nothing bears, and names that two things bear.

use crate::diagnostic::Explanation;

pub(super) const NAMES: &[Explanation] = &[
    Explanation {
        code: "duplicate-name",
        what: "Sections, sets, colours, marks, tracks and holds each have a name of their own.",
        why: "A cue that hangs on a name must find one thing.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "tide", pattern: "531", lasts: Cycles(2)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "unknown-colour",
        what: "Props, loadings and `shows` name colours of the routine; a colour is #rrggbb or a \
               colour name of CSS.",
        why: "A colour that nothing has is a requirement that nothing can meet.",
        raises: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            shows: { 2: ["teel"] }),
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
        code: "unknown-hold",
        what: "A moment names a hold of the music.",
        why: "A pause until the end of a hold that does not exist never ends.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "pose", lasts: Until(HoldEnd("freese"))),
"#,
            r#"    music: Track(file: "a.wav", length: "0:04", starts: Start("tide"), holds: {
        "freeze": Hold(at: "0:03", lasts: Between("0:02", "0:05"),
            resumes: See("arms down")),
    }),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "pose", lasts: Until(HoldEnd("freeze"))),
"#,
            r#"    music: Track(file: "a.wav", length: "0:04", starts: Start("tide"), holds: {
        "freeze": Hold(at: "0:03", lasts: Between("0:02", "0:05"),
            resumes: See("arms down")),
    }),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "unknown-mark",
        what: "A moment names a mark of the music.",
        why: "A cue on a mark that does not exist never comes.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"),
        marks: { "drum": "0:01" }),
    zero: Mark("drums"),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"),
        marks: { "drum": "0:01" }),
    zero: Mark("drum"),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "unknown-section",
        what: "A moment names a section of the score.",
        why: "A cue that hangs on a section that was renamed hangs on nothing.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    zero: Start("tyde"),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    zero: Start("tide"),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "unknown-set",
        what: "A section names a prop set of the routine.",
        why: "Without its set it is unknown what is thrown.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "tree", pattern: "3", lasts: Beats(6)),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "unknown-throw",
        what: "`shows`, `alike`, `unlike` and `made` name throws of the cycle, numbered as written \
               from 1.",
        why: "A wish for a throw that the pattern does not have can never be met.",
        raises: act!(
            r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            shows: { 4: ["teal"] }),
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
        code: "unknown-track",
        what: "A moment names a track of the routine.",
        why: "A cue on a track that was renamed hangs on nothing.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    tracks: { "main": Track(file: "a.wav", length: "0:03", starts: Start("tide")) },
    zero: TrackStart("mane"),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    tracks: { "main": Track(file: "a.wav", length: "0:03", starts: Start("tide")) },
    zero: TrackStart("main"),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "which-track",
        what: "With several tracks, every moment of the music names its track.",
        why: "Two tracks have two starts and two ends: nothing says which is meant.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: Until(TrackEnd)),
"#,
            r#"    tracks: {
        "main": Track(file: "a.wav", length: "0:02", starts: Start("tide")),
        "bow": Track(file: "b.wav", length: "0:05", starts: LastCatch("tide")),
    },
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: Until(TrackEnd("bow"))),
"#,
            r#"    tracks: {
        "main": Track(file: "a.wav", length: "0:02", starts: Start("tide")),
        "bow": Track(file: "b.wav", length: "0:05", starts: LastCatch("tide")),
    },
"#
        ),
        ..Explanation::OF_ROUTINES
    },
];
