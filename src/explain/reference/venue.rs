//! What a venue asks before the act arrives.

use super::{Field, Record, Words, word};

pub(super) const VENUE: Record = Record {
    name: "Venue",
    about: "What a venue asks before the act arrives, and the rest of the file does not say. The \
            venue page has it beside what is computed: lengths, heights, music, props, flames. \
            What you leave out is a blank on that page, to be filled in by hand; nothing is \
            guessed.",
    example: r#"venue: Venue(
    performers: 1, helpers: 1,
    width: 6.0, depth: 5.0,
    floor: "flat and dry, no carpet",
    light: "from both sides and from behind; front low and soft",
    sound: "a monitor up left",
    power: "one socket of 230 V, up left, for the lantern",
    plan: [("up left", "table with the props"), ("down centre", "sand tray"),
        ("left wing", "helper")],
    haze: Nothing,
    low_room: "Clubs stay out: two minutes shorter.",
    no_blackout: "Ends in full light.",
    rehearsal: "20:00",
    contact: "act@lantern-quay.example",
    intro: "From the river: Lantern Quay.",
),"#,
    fields: &[
        Field::open("performers", BLANK, "a number, 1 to 100", "How many perform."),
        Field::open(
            "helpers",
            BLANK,
            "a number, 0 to 100",
            "How many come with you and work beside the stage.",
        ),
        Field::open(
            "width",
            BLANK,
            "metres, above 0 and at most 100",
            "How wide the stage should be, from side to side.",
        ),
        Field::open(
            "depth",
            BLANK,
            "metres, above 0 and at most 100",
            "How deep it should be, from the audience to the back.",
        ),
        Field::open("floor", BLANK, "a text", "What the floor should be like."),
        Field::open("light", BLANK, "a text", "From which sides the light should come."),
        Field::open("sound", BLANK, "a text", "What you need of the sound beside its tracks."),
        Field::open("power", BLANK, "a text", "Which power you need, and where."),
        Field::open(
            "plan",
            "The plan is empty, to be drawn on.",
            "a list of pairs, a place and what is there, at most 100; a place on stage is `up`, \
             `centre` or `down` with `right`, `centre` or `left`, as in `down left`, or `centre` \
             alone; other words are a place beside it",
            "What stands where. Right and left are the performer's, down is next to the audience. \
             The page draws the stage and lists the other places beside it.",
        )
        .codes(&["not-on-stage"]),
        Field::open(
            "fuel",
            "A blank where anything burns.",
            "a text",
            "What burns, how much of it you bring, and where it is kept.",
        )
        .example(FIRE),
        Field::open(
            "spotter",
            "A blank where anything burns.",
            "a text",
            "Who watches the flames.",
        )
        .example(FIRE),
        Field::open(
            "blanket",
            "A blank where anything burns.",
            "a text",
            "The fire blanket: which, and where it lies.",
        )
        .example(FIRE),
        Field::open(
            "extinguisher",
            "A blank where anything burns.",
            "a text",
            "The extinguisher: which, and where it stands.",
        )
        .example(FIRE),
        Field::open("haze", BLANK, "`Nothing` or `Made(…)`", "Whether you make haze, and which.")
            .words(&["haze"]),
        Field::open("low_room", BLANK, "a text", "What you change where the room is too low."),
        Field::open("no_blackout", BLANK, "a text", "What you change where it cannot be dark."),
        Field::open(
            "rehearsal",
            BLANK,
            "a time, at most a day",
            "How long you want the stage in show light before the show.",
        ),
        Field::open("contact", BLANK, "a text", "Whom the venue asks, and how."),
        Field::open(
            "intro",
            BLANK,
            "a text",
            "What the host says before you. It stands on the running order slip.",
        ),
    ],
};

/// What stands on the page where nothing is written.
const BLANK: &str = "A blank on the page.";

/// An example with fire.
const FIRE: &str = r#"venue: Venue(
    fuel: "one litre of lamp oil, in its steel can outside the house",
    spotter: "a trained one, at the right wing",
    blanket: "one, on the tray",
    extinguisher: "foam, at the right wing",
),"#;

pub(super) const HAZE: Words = Words {
    what: "haze",
    about: "",
    words: &[
        word("Nothing", "Nothing", "You make no haze."),
        word(
            "Made",
            "Made(\"a little, from water\")",
            "You make haze, and this is which. The sheets caution of it.",
        ),
    ],
    example: "venue: Venue(haze: Made(\"a little, from water\")),",
};
