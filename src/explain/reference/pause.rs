//! Pauses: what happens between two runs.

use super::{Field, Record};

pub(super) const PAUSE: Record = Record {
    name: "Pause",
    about: "No throws: walk, pose, talk, bow, pick up. The props are gathered; each hand keeps \
            what it caught, and what it caught last leaves first.",
    example: r#"sets: {
    "torches": Set(kind: Torch, length: 0.6, colours: ["coral", "teal", "pearl"], burn: [90.0]),
    "knives": Set(kind: Knife, length: 0.5, colours: ["coral", "teal", "pearl"]),
},
score: [
    Pause(name: "light up", lasts: For("0:08"), lit: "torches"),
    Juggle(name: "blaze", set: "torches", pattern: "3", lasts: Beats(40)),
    Pause(name: "change", lasts: For("0:12"), pick_up: [2.9, 3.4], place: "left",
        put_out: ["torches"], picked_up: "knives"),
    Juggle(name: "edge", set: "knives", pattern: "3", lasts: Beats(40)),
    Pause(name: "bow", lasts: For("0:06"), put_down: "knives"),
],
music: Track(file: "kiln.wav", length: "0:20", starts: Start("blaze")),"#,
    fields: &[
        Field::needed(
            "name",
            "a text; no two sections have the same one",
            "What the pause is called. Moments call it by that name.",
        )
        .codes(&["duplicate-name"]),
        Field::needed(
            "lasts",
            "a length, but not `Beats` or `Cycles`",
            "How long it takes, from the end of the last beat before it.",
        )
        .words(&["length", "throw or catch that lands"])
        .codes(&[
            "beats-of-pause",
            "pause-too-short",
            "times-contradict",
            "range-reversed",
        ]),
        Field::open(
            "pick_up",
            "No pick-up is checked.",
            "a list of seconds, each 0 to a day",
            "How long the pick-up took whenever you tried it. The slowest must fit into the pause.",
        )
        .codes(&["pause-too-short"]),
        Field::open(
            "regrip",
            "Each hand keeps what it caught.",
            "`Hands(…)` with every prop of the set in use",
            "The props are put into the hands as written; where props are equal, as few as possible \
             change hands. The timing sheet and the strip say what to move where. How a set is \
             loaded when it comes into use is the `loading` of its first `Juggle`.",
        )
        .words(&["regrip"])
        .codes(&["regrip-mismatch"])
        .example(
            r#"Pause(name: "gather", lasts: For("0:05"),
    regrip: Hands(right: ["teal", "coral"], left: ["pearl"])),
Juggle(name: "again", pattern: "3", lasts: Beats(12)),"#,
        ),
        Field::open(
            "lit",
            "Fire is alight from the start of the pause before its first section.",
            "the name of a set, or a list of names",
            "These props are lit in this pause: they are alight from its start.",
        )
        .codes(&["danger-in-dark", "danger-unsaid", "danger-out-of-order"]),
        Field::open(
            "put_out",
            "Fire is alight to the end of the act, and on into the encore.",
            "the name of a set, or a list of names",
            "These props are put out in this pause: they are alight until its end.",
        )
        .codes(&["burn-too-short", "danger-out-of-order"]),
        Field::open(
            "picked_up",
            "Blades are in use from the pause before their first section.",
            "the name of a set, or a list of names",
            "These props are picked up in this pause.",
        )
        .codes(&["danger-in-dark", "danger-out-of-order"]),
        Field::open(
            "put_down",
            "Blades are in use until another set is juggled.",
            "the name of a set, or a list of names",
            "These props are put down in this pause.",
        )
        .codes(&["danger-in-dark", "danger-out-of-order"]),
        Field::open("place", "No place is given.", "a text", "Where on the stage it happens."),
    ],
};
