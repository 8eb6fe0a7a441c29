//! The longest that each limit allows: a line through the row, and its grace as a band behind it.

use svg::node::element::{Group, Path};

use super::super::layout::Row;
use super::super::limit_mark::LimitMark;
use super::super::millimetres::{Mm, PathData};
use super::super::paper::RIGHT;
use super::super::scene::Scene;
use super::super::text::{self, SMALL};
use super::{path, titled, words};

/// Between the labels of two lines.
const STEP: Mm = Mm(3.2);
/// So many labels stand below each other; a line further down has its words in its title.
const MOST_LABELS: usize = 4;

/// A grace, light enough to read through.
pub(super) fn band(left: Mm, top: Mm, right: Mm, bottom: Mm) -> Path {
    let mut shape = PathData::default();
    shape.rectangle(left, top, right, bottom);
    path(shape, "d").set("style", "fill-opacity:.08")
}

/// The lines of a row and the bands, which run behind everything else.
pub(in super::super) fn lines(scene: &Scene, row: &Row) -> Option<Group> {
    let mut marks = scene.limits.iter().filter(|mark| is_seen(row, mark)).peekable();
    marks.peek()?;
    let layout = &scene.layout;
    let (top, bottom) = (row.bands.field, row.bands.rails[0] + Mm(0.6));
    let mut group = Group::new();
    for mark in marks {
        let mut drawn = titled(mark.title.as_str());
        if let Some(to) = mark.forgiven_to {
            let (left, right) = (layout.x_inside(row, mark.at), layout.x_inside(row, to));
            drawn = drawn.add(band(left, top, right, bottom));
        }
        if is_in(row, mark) {
            let mut line = PathData::default();
            line.go(layout.x(row, mark.at), top).down(bottom);
            drawn = drawn.add(path(line, "c"));
        }
        group = group.add(drawn);
    }
    Some(group)
}

/// What stands beside the lines, in front of the flights.
pub(in super::super) fn labels(scene: &Scene, row: &Row) -> Option<Group> {
    let mut group = Group::new();
    let mut marks = scene.limits.iter().filter(|mark| is_in(row, mark)).peekable();
    marks.peek()?;
    for (place, mark) in marks.take(MOST_LABELS).enumerate() {
        let x = scene.layout.x(row, mark.at);
        let y = row.bands.field + Mm(2.6) + STEP * place as f64;
        let fits = text::width(&mark.label, SMALL, false) <= RIGHT - x - Mm(0.8);
        group = group.add(match fits {
            true => words(mark.label.as_str(), x + Mm(0.8), y, "h"),
            false => words(mark.label.as_str(), x - Mm(0.8), y, "r h"),
        });
    }
    Some(group)
}

/// Whether the line or the grace of a limit lies in a row.
fn is_seen(row: &Row, mark: &LimitMark) -> bool {
    let forgiven = mark.forgiven_to.is_some_and(|to| to > row.from && mark.at < row.to);
    forgiven || is_in(row, mark)
}

fn is_in(row: &Row, mark: &LimitMark) -> bool {
    row.from <= mark.at && mark.at <= row.to
}
