//! Tracks, the bars in them, and where they are held.

use super::{Field, Record, Words, word};

pub(super) const TRACK: Record = Record {
    name: "Track",
    about: "A piece of music. Put its file beside the routine file, or write its way from there: \
            WAV, FLAC, MP3, Ogg Vorbis or M4A. It is listened to whenever the routine is opened: \
            a length that is more than 0.1 s off is an error with the right one to write, a file \
            that is missing is a warning, one that is cut off is an error, and the strip draws \
            how loud it is below each row. `throwbook listen TRACK` measures a file's length and \
            its leading silence (all that stays 60 dB below its peak), estimates its tempo and \
            its first strong beats, and prints a `Track(…)` to paste. That is a proposal: an \
            octave (half, double) is easily mistaken, so its alternatives are named, and music \
            without a steady beat gets no tempo at all.",
    example: r#"music: Track(
    file: "quay.wav", length: "1:00", starts: Start("walk on"),
    bars: [Bars(from: "0:00.85", bpm: 120, music_beats: 4, number: 1)],
    marks: { "drum": "0:07.5", "stop": "0:20" },
    holds: { "freeze": Hold(
        at: Mark("stop"), lasts: Between("0:03", "0:08"), resumes: See("arms down"),
    ) },
),"#,
    fields: &[
        Field::needed(
            "length",
            "a time above 0:00, at most a day",
            "How long the file, or the live music, is.",
        )
        .codes(&["track-length", "music-ends-early"]),
        Field::needed("starts", "a moment", "When it starts.")
            .words(&["moment"])
            .codes(&["track-without-cue", "play-not-at-start"]),
        Field::open(
            "file",
            "The music is live: nothing is listened to, and no Sound cue need play it.",
            "a text",
            "The music file, seen from the routine file.",
        )
        .codes(&["track-missing", "track-unreadable"]),
        Field::open(
            "bars",
            "The music has no bars: `Bar` and `PerMusicBeat` cannot be asked.",
            "a list of `Bars(…)`, one for every stretch, in order of time",
            "Where its bars lie. Every sheet then has the bar and the music beat beside the clock: \
             `9, 1.50` is half-way from the first music beat of bar 9 to the second.",
        )
        .codes(&["bars-overlap", "bars-ramp", "off-the-music"]),
        Field::open(
            "marks",
            "There are none.",
            "a map of names to times on the track",
            "Places in the music by name, such as a drum that you land on.",
        )
        .codes(&["unknown-mark", "duplicate-name"]),
        Field::open(
            "holds",
            "The track plays through.",
            "a map of names to `Hold(…)`, at most 100",
            "Where the operator holds the track until something happens on stage.",
        )
        .codes(&["holds-overlap", "unknown-hold"]),
    ],
};

pub(super) const BARS: Record = Record {
    name: "Bars",
    about: "A stretch of bars at one tempo, or on a ramp to another. Below, bar 1 is at 0:00.85 \
            and bar 9 at 0:16.85. The last music beat before a stretch takes what is left: a \
            quarter more than its tempo says at most, and in a ramp without `over` a quarter less \
            at most.",
    example: r#"music: Track(
    file: "quay.wav", length: "1:00", starts: Start("walk on"), marks: { "drum": "0:10" },
    bars: [
        Bars(from: "0:00.35", bpm: 120, music_beats: 4, number: 1, upbeat: 1),
        Bars(from: "0:16.85", bpm: 90, music_beats: 4, number: 9, to: 140, over: 16),
        Bars(from: "0:37.33", bpm: 140, music_beats: 3, number: 20),
    ],
),"#,
    fields: &[
        Field::needed("from", "a time on the track", "The first music beat that sounds.")
            .codes(&["bars-overlap"]),
        Field::needed("bpm", "music beats a minute, at least 1 and at most 1000", "The tempo."),
        Field::needed("music_beats", "a whole number from 1 to 100", "Music beats in a bar."),
        Field::needed(
            "number",
            "a whole number from -100000 to 100000",
            "The number of its first whole bar.",
        )
        .codes(&["bars-overlap"]),
        Field::open(
            "upbeat",
            "It begins with a whole bar.",
            "music beats, 1 to 99, fewer than a bar has",
            "Music beats before the first whole bar; they count as the last of the bar before, \
             bar 0 before bar 1. In a later stretch they may be the rest of a bar that has begun \
             before it.",
        ),
        Field::open(
            "to",
            "The tempo stays.",
            "music beats a minute, at least 1 and at most 1000",
            "The tempo at the end of a ramp, linear in music beats.",
        )
        .codes(&["bars-ramp"]),
        Field::open(
            "over",
            "The ramp lasts until the next stretch.",
            "music beats, 1 to 1000000",
            "How long the ramp takes; the tempo it comes to is then held.",
        )
        .codes(&["bars-ramp"]),
    ],
};

pub(super) const HOLD: Record = Record {
    name: "Hold",
    about: "The operator holds the track there until something is seen or heard: the track's \
            clock stands still, the show's goes on. The hold puts two Sound cues on the cue \
            sheet, one that holds the track and one that resumes it.",
    example: r#"music: Track(
    file: "quay.wav", length: "1:00", starts: Start("walk on"),
    marks: { "drum": "0:10", "stop": "0:20" },
    holds: {
        "freeze": Hold(at: Mark("stop"), lasts: Between("0:03", "0:08"), stops: Hear("the bell"),
            resumes: See("arms down"), numbers: [20, 25]),
        "breath": Hold(at: Shift(Mark("stop"), 4.5), lasts: Between("0:01", "0:02"),
            resumes: Hear("the breath")),
        "end": Hold(at: "0:50", lasts: Between("0:01", "0:20"), resumes: See("the nod")),
    },
),"#,
    fields: &[
        Field::needed(
            "at",
            "`Mark(\"stop\")` of that track, a time on it, or a `Shift` from one of them by \
             seconds, at most a day",
            "Where the track is held: after its start and before its end.",
        )
        .codes(&["holds-overlap"]),
        Field::needed(
            "lasts",
            "`Between(…)` two times",
            "How long it is held: the shortest and the longest.",
        )
        .words(&["length of a hold"])
        .codes(&["range-reversed"]),
        Field::needed(
            "resumes",
            "`See(\"…\")` or `Hear(\"…\")`",
            "How the operator knows that the track goes on.",
        )
        .words(&["way to take a cue"]),
        Field::open(
            "stops",
            "The operator goes by the track's counter.",
            "`See(\"…\")` or `Hear(\"…\")`",
            "How the operator knows where to hold it.",
        )
        .words(&["way to take a cue"]),
        Field::open(
            "numbers",
            "They have no numbers.",
            "a list of two cue numbers, `[20, 25]`",
            "The numbers of its two Sound cues.",
        )
        .codes(&["cue-number", "duplicate-cue-number"]),
    ],
};

pub(super) const LENGTH_OF_A_HOLD: Words = Words {
    what: "length of a hold",
    about: "",
    words: &[word(
        "Between",
        "Between(\"0:03\", \"0:08\")",
        "From the shortest to the longest, each at most a day. Times behind it are ranges.",
    )],
    example: "",
};
