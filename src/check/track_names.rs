//! Names of tracks and holds that nothing bears, and moments that do not say of which track they
//! are. Found while the file is read.

use super::{Check, Finds};

pub(super) const TRACK: Check = Check {
    code: "unknown-track",
    what: "A moment names a track of the routine.",
    why: "A cue on a track that was renamed hangs on nothing.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    tracks: { "main": Track(file: "a.wav", length: "0:03", starts: Start("tide")) },
    cues: [Cue(crew: Light, number: 5, at: TrackStart("mane"), trigger: Called, does: "warm", count: 2)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
        r#"    tracks: { "main": Track(file: "a.wav", length: "0:03", starts: Start("tide")) },
    cues: [Cue(crew: Light, number: 5, at: TrackStart("main"), trigger: Called, does: "warm", count: 2)],
"#
    ),
    finds: Finds::Reading,
};

pub(super) const HOLD: Check = Check {
    code: "unknown-hold",
    what: "A moment names a hold of the music.",
    why: "A pause until the end of a hold that does not exist never ends.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "pose", lasts: Until(HoldEnd("freese"))),
"#,
        r#"    music: Track(file: "a.wav", length: "0:04", starts: Start("tide"), holds: {
        "freeze": Hold(at: "0:03", lasts: Between("0:02", "0:05"), resumes: See("arms down")) }),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "pose", lasts: Until(HoldEnd("freeze"))),
"#,
        r#"    music: Track(file: "a.wav", length: "0:04", starts: Start("tide"), holds: {
        "freeze": Hold(at: "0:03", lasts: Between("0:02", "0:05"), resumes: See("arms down")) }),
"#
    ),
    finds: Finds::Reading,
};

pub(super) const WHICH: Check = Check {
    code: "which-track",
    what: "With several tracks, every moment of the music says of which track it is.",
    why: "Two tracks have two starts and two ends: nothing says which is meant.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: Until(TrackEnd)),
"#,
        r#"    tracks: {
        "main": Track(file: "a.wav", length: "0:02", starts: Start("tide")),
        "bow": Track(file: "b.wav", length: "0:05", starts: LastCatch("tide")),
    },
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
        Pause(name: "bow", lasts: Until(TrackEnd("bow"))),
"#,
        r#"    tracks: {
        "main": Track(file: "a.wav", length: "0:02", starts: Start("tide")),
        "bow": Track(file: "b.wav", length: "0:05", starts: LastCatch("tide")),
    },
"#
    ),
    finds: Finds::Reading,
};
