//! How patterns are written: throws, multiplexes and pairs.

use crate::diagnostic::Explanation;

pub(super) const THROWS: &[Explanation] = &[
    Explanation {
        code: "capital-letter",
        what: "Throws above 9, and the x of a crossing throw, are small letters.",
        why: "A capital B may be a slip for b, the throw 11, or for 8: a pattern is not guessed.",
        raises: "5B5",
        mended: "5b5",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "empty-pattern",
        what: "A pattern has at least one throw.",
        why: "There is nothing to juggle in an empty text.",
        raises: "",
        mended: "3",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "mixed-notation",
        what: "A pattern has alternating throws or pairs, not both.",
        why: "In a pair both hands throw on one beat, in alternating throws each has a beat of \
              its own: only a transition changes from one to the other.",
        raises: "3(4,4)",
        mended: "3",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "more-faults",
        what: "A text has at most 100 faults.",
        why: "The hundred that are listed are enough to see what is wrong; the rest would bury \
              them.",
        times: 101,
        raises: "B",
        mended: "b",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "pattern-too-long",
        what: "A pattern has at most 200000 characters.",
        why: "No pattern needs that many: it is probably another text.",
        times: 200_001,
        raises: "3",
        mended: "3",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "star-not-last",
        what: "A star stands once, at the very end of a pattern.",
        why: "It repeats all the pairs before it with the hands exchanged: pairs behind it would \
              stand in neither half.",
        raises: "(4,2x)*(2,4x)",
        mended: "(4,2x)(2x,4)",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "star-without-pairs",
        what: "A star follows pairs.",
        why: "It exchanges the hands, and where the hands alternate they exchange by themselves.",
        raises: "531*",
        mended: "531",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "unexpected-character",
        what: "A pattern has digits, small letters, brackets, commas, stars and spaces only.",
        why: "Nothing else writes a throw, and what writes none may hide a slip.",
        raises: "5;31",
        mended: "531",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "x-outside-pair",
        what: "An x behind a digit stands in a pair; the throw 33 has a space before it.",
        why: "Outside a pair an x is the throw 33, which nobody makes: usually a crossing throw \
              of a pair is meant.",
        raises: "4x4x",
        mended: "(4x,4x)",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "x-without-value",
        what: "In a pair an x stands right behind a value, once.",
        why: "It says that the throw before it crosses; alone it says nothing.",
        raises: "(4,x2)",
        mended: "(4,2x)*",
        ..Explanation::OF_PATTERNS
    },
];

pub(super) const MULTIPLEXES: &[Explanation] = &[
    Explanation {
        code: "empty-hand-in-multiplex",
        what: "No 0 stands among the throws of a multiplex.",
        why: "A 0 is an empty hand, and a hand that throws something is not empty.",
        raises: "[430]23",
        mended: "[43]23",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "empty-multiplex",
        what: "A multiplex has throws.",
        why: "An empty hand is written 0.",
        raises: "[]",
        mended: "0",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "missing-bracket",
        what: "What one hand of a pair throws at once stands in square brackets.",
        why: "Without them `44` may be a multiplex or a comma that was left out.",
        raises: "(4,44)",
        mended: "(4,[44])",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "multiplex-too-large",
        what: "A multiplex has at most 35 throws.",
        why: "That is more than a hand can hold: it is probably a slip.",
        raises: "[222222222222222222222222222222222222]",
        mended: "[22]",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "nested-bracket",
        what: "No multiplex stands inside another one.",
        why: "All that a hand throws at once is one multiplex; a second bracket adds nothing.",
        raises: "[[54]]24",
        mended: "[54]24",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "unclosed-bracket",
        what: "Every square bracket that is opened is closed.",
        why: "Otherwise nothing says where the multiplex ends.",
        raises: "[54 24",
        mended: "[54]24",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "unopened-bracket",
        what: "Every square bracket that is closed was opened.",
        why: "Otherwise nothing says where the multiplex begins.",
        raises: "54]24",
        mended: "[54]24",
        ..Explanation::OF_PATTERNS
    },
];

pub(super) const PAIRS: &[Explanation] = &[
    Explanation {
        code: "empty-hand-crosses",
        what: "A 0 in a pair has no x.",
        why: "An empty hand has nothing to send across.",
        raises: "(4,0x)",
        mended: "(4,0)",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "missing-comma",
        what: "A comma stands between what the left hand throws and what the right hand throws.",
        why: "It is the comma that says which hand throws what.",
        raises: "(4 2x)(2x,4)",
        mended: "(4,2x)(2x,4)",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "missing-hand",
        what: "A pair says what both hands throw; an empty hand is written 0.",
        why: "A hand about which nothing is said may be empty or forgotten.",
        raises: "(4)",
        mended: "(4,0)",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "nested-parenthesis",
        what: "No pair stands inside another one.",
        why: "A pair is what both hands throw on one beat; there is no third hand.",
        raises: "((4,2x))(2x,4)",
        mended: "(4,2x)(2x,4)",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "odd-value-in-pair",
        what: "In a pair every value is even.",
        why: "A pair fills two beats, so a prop that is thrown in one can be thrown again only \
              after an even number of beats.",
        raises: "(4,3x)(3x,4)",
        mended: "(4,2x)(2x,4)",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "stray-comma",
        what: "A comma stands inside a pair only.",
        why: "Between throws of alternating hands it separates nothing, so a pair may have been \
              meant.",
        raises: "4,2",
        mended: "42",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "third-hand-in-pair",
        what: "A pair has one comma.",
        why: "A juggler has two hands; what one of them throws at once stands in square brackets.",
        raises: "(4,4,2)",
        mended: "(4,[42])",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "unclosed-parenthesis",
        what: "Every round bracket that is opened is closed.",
        why: "Otherwise nothing says where the pair ends.",
        raises: "(4,2x(2x,4)",
        mended: "(4,2x)(2x,4)",
        ..Explanation::OF_PATTERNS
    },
    Explanation {
        code: "unopened-parenthesis",
        what: "Every round bracket that is closed was opened.",
        why: "Otherwise nothing says where the pair begins.",
        raises: "4,2x)(2x,4)",
        mended: "(4,2x)(2x,4)",
        ..Explanation::OF_PATTERNS
    },
];
