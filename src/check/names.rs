//! Names that nothing bears, and names that two things bear. Found while the file is read.

use super::{Check, Finds};

pub(super) const DUPLICATE: Check = Check {
    code: "duplicate-name",
    what: "Sections, sets, colours and marks each have a name of their own.",
    why: "A cue that hangs on a name must find one thing.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "tide", pattern: "531", lasts: Cycles(2)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Juggle(name: "beam", pattern: "531", lasts: Cycles(2)),
"#
    ),
    finds: Finds::Reading,
};

pub(super) const SECTION: Check = Check {
    code: "unknown-section",
    what: "A moment names a section of the score.",
    why: "A cue that hangs on a section that was renamed hangs on nothing.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    cues: [Cue(crew: Light, number: 5, at: Start("tyde"), trigger: Called, does: "warm", count: 2)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    cues: [Cue(crew: Light, number: 5, at: Start("tide"), trigger: Called, does: "warm", count: 2)],
"#
    ),
    finds: Finds::Reading,
};

pub(super) const MARK: Check = Check {
    code: "unknown-mark",
    what: "A moment names a mark of the music.",
    why: "A cue on a mark that does not exist never comes.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"),
        marks: { "drum": "0:01" }),
    cues: [Cue(crew: Light, number: 5, at: Mark("drums"), trigger: Called, does: "warm", count: 2)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"),
        marks: { "drum": "0:01" }),
    cues: [Cue(crew: Light, number: 5, at: Mark("drum"), trigger: Called, does: "warm", count: 2)],
"#
    ),
    finds: Finds::Reading,
};

pub(super) const SET: Check = Check {
    code: "unknown-set",
    what: "A section names a prop set of the routine.",
    why: "Without its set it is unknown what is thrown.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "tree", pattern: "3", lasts: Beats(6)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#
    ),
    finds: Finds::Reading,
};

pub(super) const COLOUR: Check = Check {
    code: "unknown-colour",
    what: "Props, loadings and `shows` name colours of the routine.",
    why: "A colour that nothing has is a requirement that nothing can meet.",
    raises: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            shows: { 2: ["teel"] }),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "beam", set: "three", pattern: "531", lasts: Cycles(2),
            shows: { 2: ["teal"] }),
"#
    ),
    finds: Finds::Reading,
};
