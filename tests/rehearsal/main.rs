//! What an act is rehearsed by, read back by readers of the tests' own.
#![allow(missing_docs)]

mod bars;
mod captions;
mod click;
#[path = "../folder/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;
mod midi;
mod open;
mod program;
mod smf;

use throwbook::act::Act;
use throwbook::read::read_moment;
use throwbook::sheet::rehearsal::Media;

const LANTERN: &str = include_str!("../routines/lantern.ron");

/// The acts that ship, and the worked example.
const ACTS: [&str; 4] = [
    LANTERN,
    include_str!("../../routines/night-ferry.ron"),
    include_str!("../../routines/paper-boats.ron"),
    include_str!("../../routines/salt-flat.ron"),
];

fn opened(text: &str) -> Act {
    throwbook::open(text).finished().expect("an act without errors").clone()
}

/// The clock of a file that begins at a moment, if one is given.
fn media(act: &Act, from: Option<&str>) -> Media {
    let from = from.map(|text| read_moment(&act.routine, text).expect("a moment"));
    Media::new(act, from.as_ref()).expect("it comes")
}
