//! The search for shortest transitions.

use super::{Bounds, Goal, Origin, Way};

/// All ways of least length in their order, at most `at_most` of them; none when no way lies
/// within the bounds.
#[must_use]
pub fn ways(origin: &Origin, goal: Goal<'_>, bounds: Bounds, at_most: usize) -> Vec<Way> {
    let _ = (origin, goal, bounds, at_most);
    todo!()
}
