//! `throwbook completions`: what a shell completes.

use clap::CommandFactory;

use super::arguments::{Arguments, Completions};
use super::output::Output;
use super::{Failure, Outcome};

/// Prints the completions for a shell.
pub(crate) fn run(arguments: &Completions, output: &mut Output) -> Result<Outcome, Failure> {
    let mut script = Vec::new();
    let mut command = Arguments::command();
    clap_complete::generate(arguments.shell, &mut command, "throwbook", &mut script);
    output.bytes(&script)?;
    Ok(Outcome::Fine)
}
