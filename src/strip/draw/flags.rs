//! Cue flags: a pennant with crew and number, its staff running down through the row.

use svg::node::element::Group;

use super::super::flag::{Flag, Flown, TIP};
use super::super::layout::Row;
use super::super::millimetres::{Mm, PathData};
use super::super::paper::{LANE, MARGIN};
use super::super::scene::Scene;
use super::super::text;
use super::{path, titled, words};

/// Height of a flag.
const HEIGHT: Mm = Mm(3.9);

/// The staffs, which run behind everything else.
pub(in super::super) fn staffs(row: &Row) -> Group {
    let mut staffs = PathData::default();
    for flown in &row.flags.flags {
        let bands = &row.bands;
        staffs.go(flown.staff, top(row, flown.lane)).down(bands.rails[0] + Mm(0.6));
    }
    if staffs.is_empty() { Group::new() } else { Group::new().add(path(staffs, "j")) }
}

/// The flags.
pub(in super::super) fn flags(scene: &Scene, row: &Row) -> Group {
    let mut group = Group::new();
    for flown in &row.flags.flags {
        let flag = &scene.flags[flown.flag];
        group = group.add(pennant(flag, flown, top(row, flown.lane)));
    }
    if row.flags.left_out > 0 {
        let more = format!("+{} cues", row.flags.left_out);
        group = group.add(words(more, MARGIN, row.bands.flags - Mm(1.2), "b"));
    }
    group
}

/// The upper edge of a lane's flags.
fn top(row: &Row, lane: usize) -> Mm {
    row.bands.flags - LANE * (lane as f64 + 1.0)
}

/// What the crew does, as far as there is room for it beside its flag.
pub(super) fn does(flag: &Flag, flown: &Flown) -> Option<String> {
    let room = flown.room_to - flown.to - Mm(1.0);
    let has_room = !flown.flies_left();
    text::shorten(&flag.does, text::SMALL, false, room).filter(|_| has_room)
}

fn pennant(flag: &Flag, flown: &Flown, top: Mm) -> Group {
    let middle = top + HEIGHT / 2.0;
    let (shaft, tip) = if flown.flies_left() {
        (flown.from + TIP, flown.from)
    } else {
        (flown.to - TIP, flown.to)
    };
    let mut shape = PathData::default();
    shape.go(flown.staff, top).across(shaft).line(tip, middle).line(shaft, top + HEIGHT);
    shape.across(flown.staff).close();
    let (shape_class, label_class) = if flag.dark { ("i", "w") } else { ("v", "b") };
    let baseline = top + Mm(2.95);
    let label_x = if flown.flies_left() { shaft + Mm(0.2) } else { flown.staff + Mm(1.0) };
    let mut group = titled(flag.title.as_str()).add(path(shape, shape_class)).add(words(
        flag.label.as_str(),
        label_x,
        baseline,
        label_class,
    ));
    if let Some(does) = does(flag, flown) {
        group = group.add(words(does, flown.to + Mm(0.9), baseline, "q h"));
    }
    group
}
