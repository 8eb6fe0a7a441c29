//! The arm lane of a row: two lines side by side where the arms are open; on a beat on which they
//! are crossed the two lines cross, the one above unbroken, the one below broken. The right arm is
//! the thick line, so that nothing hangs on colour.

use svg::node::element::Group;

use crate::routine::Arms;

use super::super::arm::{self, ArmMark};
use super::super::layout::Row;
use super::super::millimetres::{Mm, PathData};
use super::super::scene::Scene;
use super::{path, titled, words};

/// Half the height of the lane.
const HALF: Mm = Mm(1.35);
/// The widest that a crossing is drawn.
const WIDEST: Mm = Mm(4.0);
/// Between two marks.
const BETWEEN: Mm = Mm(0.7);
/// How much of the line below is left out on each side of the middle, in parts of it.
const GAP: f64 = 0.2;

/// The lane, where the row has one.
pub(in super::super) fn lane(scene: &Scene, row: &Row) -> Option<Group> {
    let middle = row.bands.arms?;
    let mut group =
        titled("arms").add(words("arms", scene.layout.labels(row), middle + Mm(0.95), "q r"));
    let first = scene.arms.partition_point(|mark| mark.until <= row.from);
    let here = scene.arms[first..].iter().take_while(|mark| mark.at < row.to);
    let here: Vec<&ArmMark> = here.collect();
    let goes_on = |one: &&ArmMark, next: &&ArmMark| {
        one.arms == Arms::Open && next.arms == Arms::Open && next.at - one.until < 1e-9
    };
    for stretch in here.chunk_by(goes_on) {
        let (Some(first), Some(last)) = (stretch.first(), stretch.last()) else { continue };
        let x = scene.layout.x_inside(row, first.at) + BETWEEN / 2.0;
        let end = scene.layout.x_inside(row, last.until) - BETWEEN / 2.0;
        let starts_here = first.at >= row.from;
        if first.arms == Arms::Open {
            group = group.add(sign(Arms::Open, x, end, middle, arm::words(Arms::Open)));
        } else if starts_here {
            let right = (scene.layout.x(row, first.until) - BETWEEN / 2.0).min(x + WIDEST);
            group = group.add(sign(first.arms, x, right, middle, &first.title));
        }
    }
    Some(group)
}

/// Two arms from `x` to `right`, with their words.
fn sign(arms: Arms, x: Mm, right: Mm, middle: Mm, title: &str) -> Group {
    let group = titled(title);
    if right <= x {
        return group;
    }
    let (top, bottom) = (middle - HALF, middle + HALF);
    // The right arm comes from above, as the right hand's rail lies above the left's.
    let mut right_arm = PathData::default();
    let mut left_arm = PathData::default();
    match arms {
        Arms::Open => {
            right_arm.go(x, middle - HALF * 0.6).across(right);
            left_arm.go(x, middle + HALF * 0.6).across(right);
        }
        Arms::RightOver => {
            right_arm.go(x, top).line(right, bottom);
            broken(&mut left_arm, x, bottom, right, top);
        }
        Arms::LeftOver => {
            broken(&mut right_arm, x, top, right, bottom);
            left_arm.go(x, bottom).line(right, top);
        }
    }
    group.add(path(right_arm, "K")).add(path(left_arm, "k"))
}

/// The sign of a position as the legend shows it.
pub(in super::super) fn legend(arms: Arms, x: Mm, right: Mm, middle: Mm) -> Group {
    sign(arms, x, right, middle, arm::words(arms))
}

/// A line with its middle left out.
fn broken(data: &mut PathData, x: Mm, y: Mm, right: Mm, end: Mm) {
    let at = |part: f64| (x + (right - x) * part, y + (end - y) * part);
    let (first, second) = (at(0.5 - GAP), at(0.5 + GAP));
    data.go(x, y).line(first.0, first.1).go(second.0, second.1).line(right, end);
}
