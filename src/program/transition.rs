//! `throwbook transition`: the shortest ways between two patterns.

use super::arguments::Transition;
use super::output::Output;
use super::{Failure, Outcome};

/// Finds the ways and prints them in their order.
pub(crate) fn run(arguments: &Transition, output: &mut Output) -> Result<Outcome, Failure> {
    // CALL SITE: read, compute and export here.
    let _ = (arguments, output);
    Err(Failure::new("`transition` is not joined to the library yet"))
}
