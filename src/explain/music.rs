//! Bars and holds of the music, as the reader finds them.

use crate::diagnostic::Explanation;

pub(super) const MUSIC: &[Explanation] = &[
    Explanation {
        code: "bars-overlap",
        what: "Stretches of bars follow each other, in time and in number.",
        why: "A bar with two places on the track, or two with one number, cannot be found.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"), bars: [
        Bars(from: "0:00", bpm: 120, music_beats: 4, number: 1),
        Bars(from: "0:16", bpm: 90, music_beats: 4, number: 5),
    ]),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"), bars: [
        Bars(from: "0:00", bpm: 120, music_beats: 4, number: 1),
        Bars(from: "0:16", bpm: 90, music_beats: 4, number: 9),
    ]),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "bars-ramp",
        what: "A ramp of the music says where it ends: after `over` music beats, or where the \
               next stretch of bars begins.",
        why: "As long as that is open, so is every bar in it and behind it.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"), bars: [
        Bars(from: "0:00", bpm: 120, music_beats: 4, number: 1, to: 140),
    ]),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(6)),
"#,
            r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"), bars: [
        Bars(from: "0:00", bpm: 120, music_beats: 4, number: 1, to: 140, over: 16),
    ]),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
    Explanation {
        code: "holds-overlap",
        what: "No two holds begin at one point of a track.",
        why: "The track stands still there already: nobody could tell the two apart.",
        raises: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(120)),
"#,
            r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"), holds: {
        "freeze": Hold(at: "0:01", lasts: Between("0:02", "0:05"),
            resumes: See("arms down")),
        "pose": Hold(at: "0:01", lasts: Between("0:01", "0:03"),
            resumes: See("a nod")),
    }),
"#
        ),
        mended: act!(
            r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(120)),
"#,
            r#"    music: Track(file: "a.wav", length: "1:00", starts: Start("tide"), holds: {
        "freeze": Hold(at: "0:01", lasts: Between("0:02", "0:05"),
            resumes: See("arms down")),
        "pose": Hold(at: "0:20", lasts: Between("0:01", "0:03"),
            resumes: See("a nod")),
    }),
"#
        ),
        ..Explanation::OF_ROUTINES
    },
];
