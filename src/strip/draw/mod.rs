//! Draws a strip that is laid out: each file one of its parts.

pub(super) mod arms;
pub(super) mod flags;
pub(super) mod flights;
pub(super) mod folds;
pub(super) mod ghost;
pub(super) mod hands;
pub(super) mod head;
pub(super) mod limits;
pub(super) mod loudness;
pub(super) mod overview;
pub(super) mod ruler;
pub(super) mod sections;
pub(super) mod style;

use svg::node::element::{Group, Path, Text, Title};

use super::millimetres::{Mm, PathData};

/// A piece of text that stands at a place.
pub(super) fn words(text: impl Into<String>, x: Mm, y: Mm, class: &str) -> Text {
    Text::new(text).set("x", x).set("y", y).set("class", class)
}

/// A path of a class.
pub(super) fn path(data: PathData, class: &str) -> Path {
    Path::new().set("d", data).set("class", class)
}

/// A group that says what it is.
pub(super) fn titled(title: impl Into<String>) -> Group {
    Group::new().add(Title::new(title))
}
