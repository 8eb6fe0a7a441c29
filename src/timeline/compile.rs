//! From a routine to its timeline.

use crate::routine::Routine;

use super::{Timeline, Trouble};

/// What came of compiling.
#[derive(Clone, Debug)]
pub struct Compiled {
    /// The timeline; `None` when a trouble leaves times or sections unknown.
    pub timeline: Option<Timeline>,
    /// Everything that could not be done.
    pub troubles: Vec<Trouble>,
}

/// Compiles a routine.
#[must_use]
pub fn compile(routine: &Routine) -> Compiled {
    let _ = routine;
    todo!()
}
