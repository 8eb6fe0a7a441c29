//! The folds of a row: a tear through all of it with how long it is, and below the row what happens
//! in it.

use svg::node::element::Group;

use super::super::layout::{FOLDED_LINE, Row};
use super::super::millimetres::Mm;
use super::super::paper::{LEFT, RIGHT};
use super::super::scene::Scene;
use super::super::text::{self, SMALL};
use super::{sections, titled, words};

/// The tears and their words, where the row has any.
pub(in super::super) fn folds(scene: &Scene, row: &Row) -> Option<Group> {
    let bands = &row.bands;
    let mut group = (!row.folds.is_empty()).then(Group::new)?;
    for fold in &row.folds {
        let x = scene.layout.x(row, fold.from);
        let label = fold.words();
        let width = text::width(&label, SMALL, true) + Mm(2.0);
        let before = fold.room_before && x - width > LEFT || x + width > RIGHT;
        let (beside, class) = if before { (x - Mm(2.0), "r b h") } else { (x + Mm(2.0), "b h") };
        group = group.add(
            titled(label.as_str())
                .add(sections::tear(x, bands.ruler - Mm(1.7), bands.bottom))
                .add(words(label, beside, bands.field + Mm(2.6), class)),
        );
    }
    for (place, line) in row.folded.iter().enumerate() {
        let y = bands.bottom + FOLDED_LINE * (place as f64 + 1.0) - Mm(0.6);
        group = group.add(words(line.as_str(), LEFT, y, "q"));
    }
    Some(group)
}
