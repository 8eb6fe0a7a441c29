//! `throwbook new`: a commented routine file to start from.

use super::arguments::New;
use super::output::{Output, shown, write_only_new};
use super::{Failure, Outcome};

/// The routine to start from. It compiles clean.
const STARTER: &str = include_str!("starter.ron");

/// Writes the starter; never overwrites, makes no folders.
pub(crate) fn run(arguments: &New, output: &mut Output) -> Result<Outcome, Failure> {
    write_only_new(&arguments.file, STARTER.as_bytes())?;
    let file = shown(&arguments.file);
    output.results(&format!("wrote {file}\nnext: throwbook check {file}\n"))?;
    Ok(Outcome::Fine)
}
