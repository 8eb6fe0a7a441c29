//! What an act is rehearsed by, read back by readers of the tests' own.
#![allow(missing_docs)]

mod captions;
mod click;
mod midi;
mod program;
mod smf;

use throwbook::read::read_moment;
use throwbook::routine::Routine;
use throwbook::sheet::rehearsal::Media;
use throwbook::timeline::Timeline;

const LANTERN: &str = include_str!("../routines/lantern.ron");

/// The acts that ship, and the worked example.
const ACTS: [&str; 4] = [
    LANTERN,
    include_str!("../../routines/night-ferry.ron"),
    include_str!("../../routines/paper-boats.ron"),
    include_str!("../../routines/salt-flat.ron"),
];

fn opened(text: &str) -> (Routine, Timeline) {
    let opened = throwbook::open(text);
    (opened.routine.expect("a routine"), opened.timeline.expect("a timeline"))
}

/// The clock of a file that begins at a moment, if one is given.
fn media(routine: &Routine, timeline: &Timeline, from: Option<&str>) -> Media {
    let from = from.map(|text| read_moment(routine, text).expect("a moment"));
    Media::new(routine, timeline, from.as_ref()).expect("it comes")
}
