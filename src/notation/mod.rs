//! The notation: throws as a juggler writes them, and everything that can be wrong with them.
//!
//! *Vanilla* (`531`, digits and small letters), *multiplex* (`[54]24`) and *synchronous pairs*
//! (`(4,2x)*`). This folder reads text into a [`Sequence`] of steps, each throw keeping its place
//! in the text, and writes it back; [`spoken`] says it aloud. Whether a sequence can repeat for ever as a
//! [`crate::patterns::Pattern`] is a question of the mathematics one floor up.

mod fault;
mod multiplex;
mod pair;
mod read;
mod sequence;
pub mod spoken;
mod throw;

pub use fault::{Fault, Severity};
pub use read::LONGEST_TEXT;
pub use sequence::{Kind, Sequence, Step, WrittenThrow};
pub use throw::{HIGHEST_VALUE, Throw};
