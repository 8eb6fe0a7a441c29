//! Standard output and error, colour, width, and files that are written whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use anstream::{AutoStream, ColorChoice};
use terminal_size::{Height, Width, terminal_size_of};
use throwbook::diagnostic::words::visible;
use throwbook::diagnostic::{Diagnostic, render};

use super::Failure;
use super::arguments::Color;

/// Tables are never wider.
const WIDEST: u16 = 120;
/// The width where nothing says another.
const WIDTH: usize = 80;

/// Prints what the arguments ask for (help, version) or what is wrong with them.
pub(crate) fn of_arguments(said: &clap::Error) -> ExitCode {
    let text = said.render().to_string();
    let printed = match text == visible_lines(&text) {
        true => said.print(),
        false => io::stderr().write_all(visible_lines(&text).as_bytes()),
    };
    let code = u8::try_from(said.exit_code()).unwrap_or(2);
    match printed.and_then(|()| io::stdout().flush()) {
        // A closed pipe wants no more of it.
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => ExitCode::from(2),
        _ => ExitCode::from(code),
    }
}

/// Where a command writes.
pub(crate) struct Output {
    color: Color,
    /// The pipe that reads the results was closed: nobody wants more of them.
    closed: bool,
}

impl Output {
    /// The program's streams.
    pub(crate) fn new(color: Color) -> Output {
        Output { color, closed: false }
    }

    /// Writes results. A closed pipe ends them quietly.
    pub(crate) fn results(&mut self, text: &str) -> Result<(), Failure> {
        self.bytes(text.as_bytes())
    }

    /// Writes results as they are, without looking for colour in them.
    pub(crate) fn bytes(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        if self.closed {
            return Ok(());
        }
        let mut stdout = io::stdout().lock();
        match stdout.write_all(bytes).and_then(|()| stdout.flush()) {
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => {
                self.closed = true;
                Ok(())
            }
            written => {
                written.map_err(|error| Failure::new(format!("cannot write the results: {error}")))
            }
        }
    }

    /// Draws diagnostics of a file on standard error.
    pub(crate) fn diagnostics(&self, diagnostics: &[Diagnostic], file_name: &str, text: &str) {
        let choice = self.choice(&io::stderr());
        let colour = choice != ColorChoice::Never;
        let drawn =
            render(diagnostics, file_name, text, width(terminal_size_of(io::stderr())), colour);
        let mut stderr = AutoStream::new(io::stderr().lock(), choice);
        // There is nowhere left to say that standard error cannot be written to.
        let _ = stderr.write_all(drawn.as_bytes()).and_then(|()| stderr.flush());
    }

    /// Writes lines to people on standard error.
    pub(crate) fn complaint(&self, text: &str) {
        // There is nowhere left to say that standard error cannot be written to.
        let _ = io::stderr().lock().write_all(visible_lines(text).as_bytes());
    }

    /// Says on standard error why a command could not run.
    pub(crate) fn failure(&self, failure: &Failure) {
        let _ = writeln!(io::stderr().lock(), "throwbook: {}", visible_lines(&failure.to_string()));
    }

    fn choice<S: anstream::stream::RawStream>(&self, stream: &S) -> ColorChoice {
        match self.color {
            Color::Auto => AutoStream::choice(stream),
            Color::Always => ColorChoice::Always,
            Color::Never => ColorChoice::Never,
        }
    }
}

/// A file's name as it is shown.
pub(crate) fn shown(path: &Path) -> String {
    visible(&path.display().to_string())
}

/// Lines with everything visible that would steer a terminal.
pub(crate) fn visible_lines(text: &str) -> String {
    text.split('\n').map(visible).collect::<Vec<_>>().join("\n")
}

/// The columns of standard output, for tables; no more than the eye can follow along a line.
pub(crate) fn width_of_results() -> u16 {
    u16::try_from(width(terminal_size_of(io::stdout()))).map_or(WIDEST, |width| width.min(WIDEST))
}

/// The columns to write: as COLUMNS says, else those of the terminal that a stream is, else 80.
fn width(terminal: Option<(Width, Height)>) -> usize {
    let stated = std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
    let stated = stated.filter(|&columns: &usize| columns > 0);
    stated.or(terminal.map(|(width, _)| usize::from(width.0))).unwrap_or(WIDTH)
}

/// Makes a folder, and those above it, where they are not there yet.
pub(crate) fn make_folder(folder: &Path) -> Result<(), Failure> {
    fs::create_dir_all(folder)
        .map_err(|error| Failure::with_file("make the folder", folder, &error))
}

/// Writes a whole file, or leaves what was there: into a neighbour first, which is then renamed.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |error: &io::Error| Failure::with_file("write", path, error);
    // A link is followed; what is no plain file (a pipe, a device) takes the bytes itself.
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    if let Ok(there) = fs::metadata(&target)
        && !there.is_file()
    {
        return fs::write(&target, bytes).map_err(|error| failed(&error));
    }
    // The new file takes the old one's place: what its owner allows stays so.
    let permissions = fs::metadata(&target).ok().map(|there| there.permissions());
    if permissions.as_ref().is_some_and(fs::Permissions::readonly) {
        return Err(Failure::new(format!("cannot write {}: it is read-only", path.display())));
    }
    let neighbour = neighbour(&target).ok_or_else(|| {
        Failure::new(format!("cannot write {}: it has no file name", path.display()))
    })?;
    // Only a run that was killed and had the same process number has left it.
    let _ = fs::remove_file(&neighbour);
    let written = write_new(&neighbour, bytes)
        .and_then(|()| permissions.map_or(Ok(()), |kept| fs::set_permissions(&neighbour, kept)))
        .and_then(|()| fs::rename(&neighbour, &target));
    written.map_err(|error| {
        // What is left of the neighbour is of no use; if it cannot go, the first error says why.
        let _ = fs::remove_file(&neighbour);
        failed(&error)
    })
}

/// A name beside a file that no other run of the program uses.
fn neighbour(path: &Path) -> Option<PathBuf> {
    let mut name = std::ffi::OsString::from(".");
    name.push(path.file_name()?);
    name.push(format!(".{}", std::process::id()));
    Some(path.with_file_name(name))
}

/// Writes a file that is not there yet.
fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = fs::OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Writes a file that must not be there yet; a half-written one is taken away again.
pub(crate) fn write_only_new(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    match write_new(path, bytes) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            Err(Failure::new(format!("{} is there already and is left as it is", path.display())))
        }
        Err(error) => {
            let _ = fs::remove_file(path);
            Err(Failure::with_file("write", path, &error))
        }
    }
}
