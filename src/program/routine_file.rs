//! Routine files: found in folders, read, and opened; each with the record beside it of what was
//! handed out.

use std::fs::{self, File, TryLockError};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use throwbook::Opened;
use throwbook::act::Act;
use throwbook::diagnostic::{Diagnostic, Place};
use throwbook::lineup::Colours;
use throwbook::read::{LARGEST_FILE, LARGEST_RECORD};
use throwbook::routine::Routine;

use super::Outcome;
use super::manifest::Entry;
use super::output::{Output, shown};
use super::{Failure, music_file};

/// Why there is no cue sheet of an act that is not safe.
pub(crate) const UNSAFE: &str = "fire or blades may be in the dark, and until the errors are mended \
                                 nobody can rule it out";

/// The end of the name of a record of what was handed out: `act.issued.ron` beside `act.ron`.
const RECORD: &str = "issued.ron";

/// A file that was read.
pub(crate) struct TextFile {
    /// As it was named.
    pub(crate) name: String,
    /// Its text; where it is no UTF-8, with a mark in place of every wrong byte.
    pub(crate) text: String,
    /// What is wrong with its bytes, if anything.
    not_text: Option<Diagnostic>,
}

/// A routine file that was read.
pub(crate) struct RoutineFile {
    /// The file itself.
    pub(crate) file: TextFile,
    /// Where it lies: its music files are looked for from there.
    pub(crate) folder: PathBuf,
    /// The record beside it of what was handed out, if there is one.
    pub(crate) record: Option<TextFile>,
}

/// What came of checking a routine file.
pub(crate) struct Checked<'f> {
    /// What was found in the file, and in the record beside it.
    pub(crate) found: Vec<(&'f TextFile, Vec<Diagnostic>)>,
    /// The act, where nothing is an error.
    pub(crate) act: Option<Act>,
}

/// Where the record of what was handed out of a routine file lies.
pub(crate) fn record_path(routine: &Path) -> PathBuf {
    routine.with_extension(RECORD)
}

/// Whether the record of a routine file has a name that no other file's record has.
pub(crate) fn has_record(routine: &Path) -> bool {
    routine.extension().is_some_and(|ending| ending == "ron")
}

impl TextFile {
    /// Reads a file. Bytes that are no text are a fault of the routine, not a failure.
    fn read(path: &Path, largest: usize) -> Result<TextFile, Failure> {
        let failed = |error: io::Error| Failure::with_file("read", path, &error);
        let file = File::open(path).map_err(failed)?;
        if file.metadata().is_ok_and(|there| there.is_dir()) {
            return Err(failed(io::Error::from(io::ErrorKind::IsADirectory)));
        }
        // One byte more than is allowed, so that reading can say that it is too large.
        let most = u64::try_from(largest).unwrap_or(u64::MAX).saturating_add(1);
        let mut bytes = Vec::new();
        file.take(most).read_to_end(&mut bytes).map_err(failed)?;
        Ok(TextFile::of(path.display().to_string(), bytes))
    }

    /// A file of these bytes.
    pub(crate) fn of(name: String, bytes: Vec<u8>) -> TextFile {
        match String::from_utf8(bytes) {
            Ok(text) => TextFile { name, text, not_text: None },
            Err(error) => {
                let start = error.utf8_error().valid_up_to();
                let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
                let at = Place { start, end: start + char::REPLACEMENT_CHARACTER.len_utf8() };
                let byte = error.as_bytes().get(start).copied().unwrap_or_default();
                let message =
                    format!("The file is not UTF-8 text: it has the byte {byte:#04x} here.");
                let fault = Diagnostic::error("not-utf-8", at, message)
                    .label("no character")
                    .help("Save the file as UTF-8.");
                TextFile { name, text, not_text: Some(fault) }
            }
        }
    }

    /// What was read, for the list of what a build wrote.
    pub(crate) fn entry(&self, issue: u32) -> Entry {
        Entry::of(Path::new(&self.name), self.text.as_bytes(), issue)
    }

    /// Shows diagnostics of this file.
    pub(crate) fn show(&self, diagnostics: &[Diagnostic], output: &Output) {
        output.diagnostics(diagnostics, &self.name, &self.text);
    }
}

impl RoutineFile {
    /// Reads a routine file, and the record beside it.
    pub(crate) fn read(path: &Path) -> Result<RoutineFile, Failure> {
        let file = TextFile::read(path, LARGEST_FILE)?;
        let record = read_record(path)?;
        let folder = path.parent().map(Path::to_owned).unwrap_or_default();
        Ok(RoutineFile { file, folder, record })
    }

    /// A file that is not there now, as if it lay in that folder.
    pub(crate) fn of_another_time(file: TextFile, folder: &Path) -> RoutineFile {
        RoutineFile { file, folder: folder.to_owned(), record: None }
    }

    /// Opens the text of the routine, or another text as if it lay there, to hold it against another
    /// act; its record is left out of it.
    pub(crate) fn open_to_compare(&self, text: &str) -> Opened {
        throwbook::open_to_compare(text, None, |routine| music_file::found(&self.folder, routine))
    }

    /// Opens another text as if it lay there, with the record beside it.
    pub(crate) fn reopen(&self, text: &str) -> Opened {
        let record = self.record.as_ref().map(|record| record.text.as_str());
        throwbook::open_to_compare(text, record, |routine| music_file::found(&self.folder, routine))
    }

    /// Whether the file is still what it was when it was read.
    pub(crate) fn is_as_read(&self, path: &Path) -> Result<bool, Failure> {
        Ok(TextFile::read(path, LARGEST_FILE)?.text == self.file.text)
    }

    /// The act to compare; where there is none, what is wrong is shown.
    pub(crate) fn to_compare(&self, output: &Output) -> Result<Opened, Failure> {
        let opened = match &self.file.not_text {
            Some(fault) => Opened::default().with_faults(vec![fault.clone()]),
            None => self.open_to_compare(&self.file.text),
        };
        if opened.act.is_none() {
            self.file.show(&opened.diagnostics, output);
            let name = shown(Path::new(&self.file.name));
            return Err(Failure::new(format!("cannot compare {name}: there is no act in it")));
        }
        Ok(opened)
    }

    /// Whether the record is still what it was when it was read.
    pub(crate) fn record_is_as_read(&self, path: &Path) -> Result<bool, Failure> {
        let text = |record: &TextFile| record.text.clone();
        Ok(read_record(path)?.as_ref().map(text) == self.record.as_ref().map(text))
    }

    /// Everything that is wrong, file by file, and the act.
    pub(crate) fn checked(&self) -> Checked<'_> {
        let opened = self.open(true);
        let act = opened.act.filter(|act| act.errors == 0);
        let mut found = vec![(&self.file, opened.diagnostics)];
        found.extend(self.record.as_ref().map(|record| (record, opened.in_record)));
        Checked { found, act }
    }

    /// Opens the routine with its record; it may be explained why colour requests are not met.
    pub(crate) fn open(&self, explained: bool) -> Opened {
        let bytes = |file: &TextFile| file.not_text.clone();
        if let Some(fault) = bytes(&self.file) {
            return Opened::default().with_faults(vec![fault]);
        }
        let look = |routine: &Routine| music_file::found(&self.folder, routine);
        let open = |record: Option<&str>| match explained {
            true => throwbook::open_with(&self.file.text, record, look),
            false => throwbook::open_for_sheet(&self.file.text, record, look),
        };
        match &self.record {
            Some(record) if record.not_text.is_some() => {
                let fault = bytes(record).into_iter().collect();
                open(None).with_record_faults(fault)
            }
            record => open(record.as_ref().map(|record| record.text.as_str())),
        }
    }

    /// Opens the routine and shows what is wrong with it.
    fn shown(&self, explained: bool, output: &Output) -> Opened {
        let opened = self.open(explained);
        self.file.show(&opened.diagnostics, output);
        if let Some(record) = &self.record {
            record.show(&opened.in_record, output);
        }
        opened
    }

    /// Opens the routine and shows what is wrong with it; `None` when that includes an error, so
    /// that nothing final is made of it.
    pub(crate) fn ready(&self, output: &Output) -> Option<Ready> {
        self.draft(output).filter(|ready| ready.act.errors == 0)
    }

    /// The same with what is known of an act that has errors; `None` where its text gives no act.
    pub(crate) fn draft(&self, output: &Output) -> Option<Ready> {
        self.draft_of(false, output)
    }

    /// The same with what stands in the way of colour requests, and what would help.
    pub(crate) fn draft_explained(&self, output: &Output) -> Option<Ready> {
        self.draft_of(true, output)
    }

    fn draft_of(&self, explained: bool, output: &Output) -> Option<Ready> {
        let opened = self.shown(explained, output);
        let is_unsafe = opened.is_unsafe();
        Some(Ready { act: opened.act?, colours: opened.colours?, is_unsafe })
    }

    /// Opens the routine to see what fits; shows what is wrong with it, and gives nothing, where
    /// that includes an error.
    pub(crate) fn ready_to_fit(&self, output: &Output) -> Option<Act> {
        let record = self.record.as_ref();
        let files = [Some(&self.file), record].into_iter().flatten();
        let not_text: Vec<_> = files.filter(|file| file.not_text.is_some()).collect();
        for file in &not_text {
            file.show(file.not_text.as_slice(), output);
        }
        if !not_text.is_empty() {
            return None;
        }
        let opened =
            throwbook::open_to_fit(&self.file.text, record.map(|record| record.text.as_str()));
        if opened.finished().is_none() {
            self.file.show(&opened.diagnostics, output);
        }
        if let Some(record) = record {
            record.show(&opened.in_record, output);
        }
        opened.act.filter(|act| act.errors == 0)
    }
}

/// Keeps other runs from writing anything of a routine file until this is dropped.
pub(crate) fn alone(routine: &Path) -> Result<File, Failure> {
    let file = File::open(routine).map_err(|error| Failure::with_file("read", routine, &error))?;
    match file.try_lock() {
        Err(TryLockError::WouldBlock) => Err(Failure::new(format!(
            "another run is writing what belongs to {} now; nothing was written, so run it again",
            routine.display()
        ))),
        // Many shared folders have no locks, or none for who only reads.
        _ => Ok(file),
    }
}

/// The record beside a routine file, if there is one. What is there and is no plain file is an error:
/// a link that leads nowhere, taken for none, would be written over.
fn read_record(routine: &Path) -> Result<Option<TextFile>, Failure> {
    if !has_record(routine) {
        return Ok(None);
    }
    let path = record_path(routine);
    let failed = |error: io::Error| Failure::with_file("read", &path, &error);
    match fs::symlink_metadata(&path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        there => there.map_err(failed)?,
    };
    if !fs::metadata(&path).map_err(failed)?.is_file() {
        let path = path.display();
        return Err(Failure::new(format!("cannot read {path}: it is not a plain file")));
    }
    TextFile::read(&path, LARGEST_RECORD).map(Some)
}

/// An act, ready for its sheets.
pub(crate) struct Ready {
    /// As its user wrote it, with what the line-up chose written out in it.
    pub(crate) act: Act,
    /// What the line-up chose, and which colour requests are met.
    pub(crate) colours: Colours,
    /// Whether fire or blades may be in the dark: then there is no cue sheet.
    pub(crate) is_unsafe: bool,
}

impl Ready {
    /// What a command that shows a draft ends with.
    pub(crate) fn outcome(&self) -> Outcome {
        if self.act.errors == 0 { Outcome::Fine } else { Outcome::Faulty }
    }
}

/// The files themselves and, of folders, every routine (`*.ron`) in them and below, in the order of
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
    // `*.ron` names a record too; it is read with its routine.
    let named = files.clone();
    let of_another = |file: &PathBuf| named.iter().any(|one| record_path(one) == *file);
    files.retain(|file| !of_another(file));
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
        } else if !hidden && is_routine(&path) {
            files.push(path);
        }
    }
    Ok(())
}

/// Whether a file of a folder is a routine, and not the record of what was handed out of one.
fn is_routine(path: &Path) -> bool {
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
    name.is_some_and(|name| name.ends_with(".ron") && !name.ends_with(&format!(".{RECORD}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_has_changed_since_it_was_read_is_noticed() {
        let path = std::env::temp_dir().join(format!("throwbook-read-{}.ron", std::process::id()));
        fs::write(&path, "Routine(title: \"a\")").unwrap();
        let file = RoutineFile::read(&path).unwrap();
        assert!(file.is_as_read(&path).unwrap());
        fs::write(&path, "Routine(title: \"b\")").unwrap();
        assert!(!file.is_as_read(&path).unwrap());
        fs::remove_file(&path).unwrap();
        assert!(file.is_as_read(&path).is_err());
    }
}
