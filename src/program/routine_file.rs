//! Routine files: found in folders, read, and opened.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use throwbook::Opened;
use throwbook::diagnostic::{Diagnostic, Place};
use throwbook::lineup::Colours;
use throwbook::read::LARGEST_FILE;
use throwbook::routine::Routine;
use throwbook::timeline::Timeline;

use super::Failure;
use super::output::Output;

/// A routine file that was read.
pub(crate) struct RoutineFile {
    /// As it was named.
    pub(crate) name: String,
    /// Its text; where it is no UTF-8, with a mark in place of every wrong byte.
    pub(crate) text: String,
    /// What is wrong with its bytes, if anything.
    pub(crate) not_text: Option<Diagnostic>,
}

impl RoutineFile {
    /// Reads a file. Bytes that are no text are a fault of the routine, not a failure.
    pub(crate) fn read(path: &Path) -> Result<RoutineFile, Failure> {
        let failed = |error: io::Error| Failure::with_file("read", path, &error);
        let file = File::open(path).map_err(failed)?;
        if file.metadata().is_ok_and(|there| there.is_dir()) {
            return Err(failed(io::Error::from(io::ErrorKind::IsADirectory)));
        }
        // One byte more than is allowed, so that reading can say that it is too large.
        let most = u64::try_from(LARGEST_FILE).unwrap_or(u64::MAX).saturating_add(1);
        let mut bytes = Vec::new();
        file.take(most).read_to_end(&mut bytes).map_err(failed)?;
        let name = path.display().to_string();
        match String::from_utf8(bytes) {
            Ok(text) => Ok(RoutineFile { name, text, not_text: None }),
            Err(error) => {
                let start = error.utf8_error().valid_up_to();
                let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
                let at = Place { start, end: start + char::REPLACEMENT_CHARACTER.len_utf8() };
                let byte = error.as_bytes().get(start).copied().unwrap_or_default();
                let message =
                    format!("The file is no UTF-8 text: it has the byte {byte:#04x} here.");
                let fault = Diagnostic::error("not-utf-8", at, message)
                    .label("no character")
                    .help("Save the file as UTF-8.");
                Ok(RoutineFile { name, text, not_text: Some(fault) })
            }
        }
    }

    /// Everything that is wrong with the routine.
    pub(crate) fn diagnostics(&self) -> Vec<Diagnostic> {
        match &self.not_text {
            Some(fault) => vec![fault.clone()],
            None => throwbook::open(&self.text).diagnostics,
        }
    }

    /// Opens the routine and shows what is wrong with it; `None` when that includes an error, so
    /// that no sheet is made of it.
    pub(crate) fn ready(&self, output: &Output) -> Option<Ready> {
        if let Some(fault) = &self.not_text {
            self.show(std::slice::from_ref(fault), output);
            return None;
        }
        let Opened { routine, colours, timeline, diagnostics } = throwbook::open(&self.text);
        self.show(&diagnostics, output);
        Some(Ready { routine: routine?, timeline: timeline?, colours: colours? })
    }

    /// Opens the routine to see what fits; shows what is wrong with it, and gives nothing, where
    /// that includes an error.
    pub(crate) fn ready_to_fit(&self, output: &Output) -> Option<(Routine, Timeline)> {
        if let Some(fault) = &self.not_text {
            self.show(std::slice::from_ref(fault), output);
            return None;
        }
        let Opened { routine, timeline, diagnostics, .. } = throwbook::open_to_fit(&self.text);
        if timeline.is_none() {
            self.show(&diagnostics, output);
        }
        Some((routine?, timeline?))
    }

    /// Shows diagnostics.
    pub(crate) fn show(&self, diagnostics: &[Diagnostic], output: &Output) {
        output.diagnostics(diagnostics, &self.name, &self.text);
    }
}

/// A routine without errors, ready for its sheets.
pub(crate) struct Ready {
    /// As its user wrote it, with what the line-up chose written out in it.
    pub(crate) routine: Routine,
    /// Compiled.
    pub(crate) timeline: Timeline,
    /// What the line-up chose, and what of the colours comes about.
    pub(crate) colours: Colours,
}

/// The files themselves and, of folders, every `*.ron` file in them and below, in the order of
/// their names.
pub(crate) fn found(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let mut files = Vec::new();
    for path in paths {
        if path.is_dir() {
            let before = files.len();
            in_folder(path, &mut files)?;
            if files.len() == before {
                return Err(Failure::new(format!("no *.ron file in {}", path.display())));
            }
        } else {
            files.push(path.clone());
        }
    }
    Ok(files)
}

fn in_folder(folder: &Path, files: &mut Vec<PathBuf>) -> Result<(), Failure> {
    let failed = |error: io::Error| Failure::with_file("read", folder, &error);
    let mut entries = Vec::new();
    for entry in fs::read_dir(folder).map_err(failed)? {
        entries.push(entry.map_err(failed)?);
    }
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        let path = entry.path();
        let kind = entry.file_type().map_err(failed)?;
        let hidden = entry.file_name().to_string_lossy().starts_with('.');
        if kind.is_dir() {
            // A link to a folder is no folder here, so this ends.
            if !hidden {
                in_folder(&path, files)?;
            }
        } else if !hidden && path.extension().is_some_and(|extension| extension == "ron") {
            files.push(path);
        }
    }
    Ok(())
}
