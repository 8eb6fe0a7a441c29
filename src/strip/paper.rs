//! The paper: measures that every part of the drawing shares, in millimetres.

use super::millimetres::Mm;

/// A4 on its side.
pub(crate) const PAGE: (Mm, Mm) = (Mm(297.0), Mm(210.0));
/// White at the left and right of a sheet.
pub(crate) const MARGIN: Mm = Mm(10.0);
/// Where time begins in a row.
pub(super) const LEFT: Mm = Mm(24.0);
/// Where time ends in a row.
pub(super) const RIGHT: Mm = Mm(287.0);
/// Height of a lane of cue flags.
pub(super) const LANE: Mm = Mm(4.8);
/// Thickness of a prop on a rail.
pub(super) const BAR: Mm = Mm(1.25);
/// Radius of a bead.
pub(super) const BEAD: Mm = Mm(1.75);

/// White at the head and the foot of a sheet.
pub(super) const EDGE: Mm = Mm(8.0);
/// Height of a section's block.
pub(super) const BLOCK: Mm = Mm(9.2);
/// Height of the music's loudness where it is loudest.
pub(super) const LOUDEST: Mm = Mm(4.0);
