//! The program's side: arguments, files, the terminal and the exit status. Everything that is
//! computed or composed comes from the library.
//!
//! One file for each command; `arguments` says how they are called, `output` how they write,
//! `routine_file` and `music_file` how they read.

mod arguments;
mod build;
mod captions;
mod check;
mod click;
mod colours;
mod compare;
mod completions;
mod cues;
mod explain;
mod fit;
mod git;
mod issue;
mod listen;
mod man;
mod manifest;
mod mend;
mod midi;
#[cfg(feature = "audio")]
mod music_cache;
mod music_file;
mod new;
mod output;
mod paper;
mod pattern;
mod print;
mod rehearsal;
mod routine_file;
mod strip;
mod time;
mod timecode;
mod transition;

use std::fmt;
use std::path::Path;
use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Command};
use output::Output;

/// How a command that could do its work ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// Nothing is wrong.
    Fine,
    /// The routine, or the pattern, has errors; they have been shown. Of two acts: they differ.
    Faulty,
}

/// Why a command could not do its work.
#[derive(Debug)]
pub(crate) struct Failure(String);

impl Failure {
    /// Something could not be done with a file.
    pub(crate) fn with_file(doing: &str, path: &Path, error: &std::io::Error) -> Failure {
        Failure(format!("cannot {doing} {}: {error}", path.display()))
    }

    /// A failure in one sentence, without the point.
    pub(crate) fn new(message: impl Into<String>) -> Failure {
        Failure(message.into())
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Runs the command that the arguments name.
pub(crate) fn run() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(said) => return output::of_arguments(&said),
    };
    #[cfg(feature = "audio")]
    if arguments.no_cache {
        music_cache::leave_out();
    }
    let mut output = Output::new(arguments.color);
    let outcome = match arguments.command {
        Command::New(command) => new::run(&command, &mut output),
        Command::Check(command) => check::run(&command, &mut output),
        Command::Mend(command) => mend::run(&command, &mut output),
        Command::Time(command) => time::run(&command, &mut output),
        Command::Colours(command) => colours::run(&command, &mut output),
        Command::Fit(command) => fit::run(&command, &mut output),
        Command::Cues(command) => cues::run(&command, &mut output),
        Command::Issue(command) => issue::run(&command, &mut output),
        Command::Compare(command) => compare::run(&command, &mut output),
        Command::Strip(command) => strip::run(&command, &mut output),
        Command::Click(command) => click::run(&command, &mut output),
        Command::Midi(command) => midi::run(&command, &mut output),
        Command::Captions(command) => captions::run(&command, &mut output),
        Command::Build(command) => build::run(&command, &mut output),
        Command::Print(command) => print::run(&command, &mut output),
        Command::Listen(command) => listen::run(&command, &mut output),
        Command::Pattern(command) => pattern::run(&command, &mut output),
        Command::Transition(command) => transition::run(&command, &mut output),
        Command::Explain(command) => explain::run(&command, &mut output),
        Command::Completions(command) => completions::run(&command, &mut output),
        Command::Man(command) => man::run(&command, &mut output),
    };
    match outcome {
        Ok(Outcome::Fine) => ExitCode::SUCCESS,
        Ok(Outcome::Faulty) => ExitCode::from(1),
        Err(failure) => {
            output.failure(&failure);
            ExitCode::from(2)
        }
    }
}
