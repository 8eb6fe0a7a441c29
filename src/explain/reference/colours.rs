//! Catches that must show a colour, and what may be chosen for the colours.

use super::{Field, Record, Words, word};

pub(super) const CAUGHT: Record = Record {
    name: "Caught",
    about: "A colour that must be caught at a moment. It is written without its name.",
    example: r#"Juggle(name: "beam", pattern: "531", lasts: Cycles(8),
    caught: [(colour: "teal", at: Catch("beam", 2), hand: Left)]),"#,
    fields: &[
        Field::needed("colour", "the name of a colour", "Which colour."),
        Field::needed("at", "a moment", "When it is caught.").words(&["moment"]),
        Field::open(
            "hand",
            "Whichever hand catches then; needed where both do.",
            "a hand",
            "The hand that catches it.",
        )
        .words(&["hand"]),
    ],
};

pub(super) const FREEDOM: Words = Words {
    what: "freedom",
    about: "",
    words: &[
        word(
            "StartingThrow",
            "StartingThrow",
            "The throw with which the pattern begins, and the colour with which each list of \
             `shows` begins.",
        ),
        word(
            "MultiplexOrder",
            "MultiplexOrder",
            "The order of the values in a multiplex, by which its props go different ways. As \
             written, the values go to the props in the order in which they came due in that \
             hand; of those that came together, the one thrown earlier goes first. This holds for \
             the pattern and for what `transition: Auto` puts before it; `Throws(\"[13]\")` stays \
             as written, and without this freedom `Auto` writes a multiplex highest first.",
        ),
        word(
            "Transition",
            "Transition",
            "Which way a `transition: Auto` takes, direct or not, within the routine's \
             `transitions`.",
        ),
    ],
    example: "",
};
