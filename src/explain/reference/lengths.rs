//! How long sections last, and what lands where they end.

use super::{Words, word};

pub(super) const LENGTH: Words = Words {
    what: "length",
    about: "How long a section lasts. `Beats` and `Cycles` count throws and stand in a `Juggle`; \
            `Between` stands in a `Pause`.",
    words: &[
        word("Beats", "Beats(26)", "So many beats of the pattern, 1 to 1000000."),
        word("Cycles", "Cycles(8)", "So many cycles of the pattern, 1 to 1000000."),
        word("For", "For(\"0:20\")", "A time, at most a day."),
        word("Bars", "Bars(8)", "So many bars of the music from where it starts, 1 to 1000000."),
        word(
            "Until",
            "Until(Mark(\"drum\"))",
            "Until a moment: the next section's own first throw comes on it, or before a pause the \
             end of the last beat.",
        ),
        word(
            "Lands",
            "Lands(Throw(\"wake\", 3), Bar(31))",
            "Until a throw or a catch lands on a moment: one of the next section, or the last of \
             the section's own.",
        ),
        word(
            "Between",
            "Between(\"0:04\", \"0:12\")",
            "As long as it takes, from the shortest to the longest: applause, talk. Every time \
             behind it is a range, `1:04.0–1:12.0`, until a `Pause(lasts: Until(…))` takes up what \
             is uncertain; a limit then has its worst and its best case. Juggling until a moment \
             behind such a length is an error: the number of throws would change. The strip is \
             drawn with every such length at its shortest, and the ruler says `≥` where what is \
             drawn comes then or later.",
        ),
    ],
    example: r#"score: [
    Pause(name: "walk on", lasts: Between("0:04", "0:12")),
    Pause(name: "stand", lasts: Until(Mark("drum"))),
    Juggle(name: "tide", set: "three", pattern: "3", lasts: For("0:06")),
    Juggle(name: "beam", pattern: "531", lasts: Cycles(8)),
    Juggle(name: "ebb", pattern: "3", lasts: Beats(12)),
    Pause(name: "pose", lasts: Bars(2)),
],
music: Track(
    file: "quay.wav", length: "1:00", starts: Start("walk on"), marks: { "drum": "0:16.8" },
    bars: [Bars(from: "0:00", bpm: 100, music_beats: 4, number: 1)],
),"#,
};

pub(super) const LANDS: Words = Words {
    what: "throw or catch that lands",
    about: "What comes on the moment, as the first of the two that `Lands` takes. Of a pause it is \
            a throw or a catch of the section after it.",
    words: &[
        word("Throw", "Throw(\"wake\", 3)", "That throw of the next section, from 1 to 10000000."),
        word("Catch", "Catch(\"wake\", 3)", "The catch of that throw."),
        word("LastThrow", "LastThrow(5)", "The section's own last throw of that value, 1 to 35."),
        word(
            "LastCatch",
            "LastCatch(5) or LastCatch",
            "The catch of it; or the last catch of all before the pause that follows.",
        ),
    ],
    example: r#"score: [
    Pause(name: "walk on", lasts: Lands(Throw("tide", 3), At("0:05"))),
    Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(12)),
    Juggle(name: "rise", pattern: "3", lasts: Lands(Catch("box", 1), At("0:14")), may_bend: 0.1),
    Juggle(name: "box", pattern: "531", lasts: Cycles(4)),
    Juggle(name: "beam", pattern: "531", lasts: Lands(LastThrow(5), At("0:24")), may_bend: 0.1),
    Pause(name: "breath", lasts: For("0:05")),
    Juggle(name: "wake", pattern: "531", lasts: Lands(LastCatch(5), At("0:38")), may_bend: 0.1),
    Pause(name: "stand", lasts: For("0:05")),
    Juggle(name: "ebb", pattern: "3", lasts: Lands(LastCatch, At("0:52")), may_bend: 0.1),
    Pause(name: "bow", lasts: For("0:05")),
],
zero: Start("walk on"),"#,
};
