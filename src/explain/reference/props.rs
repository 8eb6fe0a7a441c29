//! Prop sets, and which prop is in which hand.

use super::{Field, Record, Words, word};

pub(super) const SET: Record = Record {
    name: "Set",
    about: "Props that are juggled together.",
    example: r##"colours: {
    "coral": "#ec6a5c", "teal": "#0f8b8d", "pearl": "#f4f1e6", "ink": "#22223b",
},
sets: {
    "three": Set(kind: Ball, length: 0.07, colours: ["coral", "teal", "pearl"]),
    "discs": Set(kind: Ring, length: 0.32, colours: ["coral", "teal", "pearl"],
        backs: ["ink", "ink", "ink"]),
    "torches": Set(kind: Torch, length: 0.6, colours: ["coral"], burn: [95.0, 102.0]),
    "knives": Set(kind: Knife, length: 0.5, colours: ["teal"]),
    "clubs": Set(kind: Club, length: 0.52, colours: ["pearl"]),
    "staves": Set(kind: Other("staff"), length: 1.2, colours: ["ink"], danger: Fire),
},"##,
    fields: &[
        Field::needed("kind", "a kind of prop", "What the props are.").words(&["kind of prop"]),
        Field::needed(
            "length",
            "metres, above 0 and at most 5",
            "How long one prop is; of a ball or a ring, its diameter. The height that a throw \
             needs follows from it.",
        ),
        Field::needed(
            "colours",
            "a list of names of the routine's `colours`, one for each prop, 1 to 35 props",
            "The props. Without a `loading`, the usual one holds: the first is thrown first, and \
             so on in the order in which they leave.",
        )
        .codes(&["prop-count", "unknown-colour"]),
        Field::open(
            "backs",
            "The props look the same from both sides.",
            "a list of names of colours, as many as in `colours` and in their order",
            "The colour of each prop's other face. `other_face` of a section shows it.",
        )
        .codes(&["backs-count"]),
        Field::open(
            "burn",
            "No time alight is checked.",
            "a list of seconds, each above 0 and at most a day",
            "How long they burnt when you tested them. The shortest counts: an act in which the \
             set is alight for longer, with the longest open lengths and the slowest logged \
             pick-ups, is an error. A set with a tested `burn` is fire, whatever its kind.",
        )
        .codes(&["burn-too-short"]),
        Field::open(
            "danger",
            "A `Torch` and a set with a `burn` are fire, a `Knife` is a blade; a set of another \
             kind is asked for it where it is lit or picked up.",
            "`Fire`, `Blades`, a list of both, or `Nothing`",
            "Whether it can hurt somebody. Fire and blades need light for as long as they are in \
             use; a dark then is an error, and no cue sheet is written. Fire is alight from the \
             start of the pause that lights it to the end of the pause that puts it out, also \
             while something else is juggled; without `lit`, from the start of the pause before \
             its first section; without `put_out`, to the end of the act and on into the encore. \
             Blades are in use from where they are picked up, or else from the pause before their \
             first section, until they are put down or another set is juggled. Light counts as \
             light when its count is over. The cue sheet has rows for flames alight and flames \
             out. These are cautions, not a clearance: local codes, the venue and licensed \
             practice decide.",
        )
        .words(&["danger"])
        .codes(&["danger-in-dark", "danger-unsaid", "danger-out-of-order"])
        .example(
            r#"sets: {
    "three": Set(kind: Ball, length: 0.07, colours: ["coral", "teal", "pearl"]),
    "hoops": Set(kind: Other("hoop"), length: 0.9, colours: ["coral"], danger: Nothing),
    "axes": Set(kind: Other("axe"), length: 0.6, colours: ["teal"], danger: Blades),
    "lances": Set(kind: Other("lance"), length: 1.1, colours: ["pearl"], danger: [Fire, Blades]),
},"#,
        ),
    ],
};

pub(super) const HANDS: Record = Record {
    name: "Hands",
    about: "Which prop is in which hand, each hand's in the order in which they leave it. Props \
            go by the colour of their front, whichever face they show; by both, \"ivory/ink\", \
            where two differ by their backs only. A plain \"ivory\" then is the first of them in \
            the set; of those that the hand holds already, the one that leaves first.",
    example: r#"Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(12),
    loading: Hands(right: ["pearl", "teal"], left: ["coral"])),"#,
    fields: &[
        Field::open(
            "right",
            "The right hand is empty.",
            "a list of names of colours, the prop that leaves first in front",
            "What the right hand holds.",
        )
        .codes(&["loading-mismatch"]),
        Field::open(
            "left",
            "The left hand is empty.",
            "a list of names of colours, the prop that leaves first in front",
            "What the left hand holds.",
        )
        .codes(&["loading-mismatch"]),
    ],
};

pub(super) const KIND: Words = Words {
    what: "kind of prop",
    about: "",
    words: &[
        word("Ball", "Ball", "A ball."),
        word("Club", "Club", "A club."),
        word("Ring", "Ring", "A ring."),
        word("Torch", "Torch", "A torch: it is fire."),
        word("Knife", "Knife", "A knife: it is a blade."),
        word("Other", "Other(\"scarf\")", "Something else, in your word."),
    ],
    example: "",
};

pub(super) const DANGER: Words = Words {
    what: "danger",
    about: "",
    words: &[
        word("Fire", "Fire", "It burns."),
        word("Blades", "Blades", "It cuts."),
        word("Nothing", "Nothing", "It does neither; no `Torch` and no `Knife` can say so."),
    ],
    example: "",
};

pub(super) const LOADING: Words = Words {
    what: "loading",
    about: "",
    words: &[
        word("Hands", "Hands(right: [\"coral\", \"pearl\"], left: [\"teal\"])", "As you write it."),
        word(
            "Found",
            "Found",
            "Left open: it is chosen so that all colour requests are met. See `juggle.free`.",
        ),
    ],
    example: "",
};

pub(super) const REGRIP: Words = Words {
    what: "regrip",
    about: "",
    words: &[word(
        "Hands",
        "Hands(right: [\"coral\", \"pearl\"], left: [\"teal\"])",
        "Every prop of the set in use, in the hand and in the order that you write.",
    )],
    example: "",
};
