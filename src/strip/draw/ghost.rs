//! The sections of an older act under those of an overview, on the same scale of time: pale, with a
//! line from where a section was to where it is now.

use svg::node::element::{Group, Path, Title};

use crate::act::Act;
use crate::difference::ActDifference;

use super::super::layout::Row;
use super::super::millimetres::{Mm, PathData};
use super::super::paper::{LEFT, RIGHT};
use super::super::scene::Scene;
use super::super::section::{Section, sections};
use super::super::text::{self, SMALL};
use super::{path, titled, words};

/// The edge of what was: no act but one that is held against another has it.
const PALE: &str = "fill:none;stroke:#868e9a;stroke-width:.2;stroke-dasharray:.9 .6";
/// Between the sections and the older ones.
const GAP: Mm = Mm(4.0);
/// Height of an older section's block.
const HEIGHT: Mm = Mm(5.0);
/// How much lower everything stands that comes below.
pub(in super::super) const ROOM: Mm = Mm(11.0);

/// The older act's sections below the blocks, whose lower edge is at `below`.
pub(in super::super) fn ghost(scene: &Scene, row: &Row, below: Mm, old: &Act, new: &Act) -> Group {
    let layout = &scene.layout;
    let top = below + GAP;
    let mut group = titled("As it was");
    let difference = ActDifference::between(old, new);
    let was = sections(old);
    // Of several of one name the first of the one is the first of the other.
    let mut before: Vec<&Section> = was.iter().collect();
    let mut now: Vec<&Section> = scene.sections.iter().collect();
    for change in &difference.sections {
        let taken = take(&mut before, change.was.as_ref().unwrap_or(&change.name));
        if let Some((before, now)) = taken.zip(take(&mut now, &change.name)) {
            let (from, to) = (layout.x_inside(row, before.from), layout.x_inside(row, now.from));
            let mut line = PathData::default();
            line.go(from, top).line(to, below);
            group = group.add(path(line, "Y"));
        }
    }
    for section in &was {
        let (left, right) = (layout.x_inside(row, section.from), layout.x_inside(row, section.to));
        if right <= left {
            continue;
        }
        let mut shape = PathData::default();
        shape.rectangle(left, top, right, top + HEIGHT);
        let mut block = Group::new()
            .add(Title::new(format!("as it was: {}", section.title)))
            .add(Path::new().set("d", shape).set("style", PALE));
        let name = text::shorten(&section.name, SMALL, false, right - left - Mm(1.4));
        if let Some(name) = name {
            block = block.add(words(name, left + Mm(0.9), top + Mm(3.5), "q"));
        }
        group = group.add(block);
    }
    let label = if old.times_known { "was" } else { "was (draft)" };
    group = group.add(words(label, LEFT - Mm(1.5), top + Mm(3.5), "q r"));
    let ends = was.last().map_or(row.to, |section| section.to);
    if ends > row.to {
        let label = format!("went on to {}", super::ruler::label(ends));
        group = group.add(words(label, RIGHT, top + HEIGHT + Mm(2.6), "q r"));
    }
    group
}

/// The first section of that name, taken out of those that are left.
fn take<'s>(left: &mut Vec<&'s Section>, name: &str) -> Option<&'s Section> {
    let name = text::clean(name);
    let place = left.iter().position(|section| section.name == name)?;
    Some(left.remove(place))
}
