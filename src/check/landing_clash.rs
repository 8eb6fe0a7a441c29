//! Two throws of one pattern that land together. Found while the file is read.

use super::{Check, Finds};

pub(super) const CHECK: Check = Check {
    code: "landing-clash",
    what: "No two throws of a pattern come to one hand on one beat, unless that hand throws as \
           many together there.",
    why: "A written pattern with a clash cannot be juggled by anybody.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "432", lasts: Cycles(4)),
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "423", lasts: Cycles(4)),
"#
    ),
    finds: Finds::Reading,
};
