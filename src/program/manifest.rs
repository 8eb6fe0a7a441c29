//! What a build has written: kept beside the documents, so that a folder in which a build was broken
//! off, or something was changed later, is told from one that is whole.

use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::Failure;

/// What a build has written, and from what. It is written last.
#[derive(Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Manifest {
    /// The routine file.
    pub(crate) routine: Entry,
    /// The errors of the routine: above 0 the documents are drafts.
    pub(crate) draft: usize,
    /// Whether the cues are no longer what was handed out under the issue's number; `None` where an
    /// error hides it.
    pub(crate) unissued_changes: Option<bool>,
    /// The documents.
    pub(crate) documents: Vec<Entry>,
}

/// A file as it was.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Entry {
    /// Its name, without its folder.
    pub(crate) name: String,
    /// Its size in bytes.
    pub(crate) size: usize,
    /// The SHA-256 of its bytes, in hexadecimal (FIPS 180-4).
    pub(crate) sha256: String,
    /// The issue of the routine.
    pub(crate) issue: u32,
}

/// How a file of the folder stands against what the last whole build wrote.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stands {
    /// As it was written.
    AsWritten,
    /// Changed later, or by a build that was broken off.
    Changed,
    /// Not there any more.
    Gone,
}

/// The SHA-256 of bytes, in hexadecimal.
pub(crate) fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The same of a file, read piece by piece: a click track of an hour is 350 MB.
fn digest_of_file(path: &Path) -> io::Result<String> {
    let mut file = fs::File::open(path)?;
    let mut digest = Sha256::new();
    let mut piece = vec![0; 1 << 16];
    loop {
        match file.read(&mut piece)? {
            0 => break,
            read => digest.update(&piece[..read]),
        }
    }
    Ok(digest.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
}

impl Entry {
    /// A file with these bytes.
    pub(crate) fn of(path: &Path, bytes: &[u8], issue: u32) -> Entry {
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
        Entry { name: name.unwrap_or_default(), size: bytes.len(), sha256: digest(bytes), issue }
    }

    /// How the file of this name in a folder stands.
    pub(crate) fn stands(&self, folder: &Path) -> Result<Stands, Failure> {
        let path = folder.join(&self.name);
        let failed = |error: io::Error| Failure::with_file("read", &path, &error);
        match fs::metadata(&path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Stands::Gone),
            there => match there.map_err(failed)? {
                there if !there.is_file() || there.len() != self.size as u64 => {
                    return Ok(Stands::Changed);
                }
                _ => {}
            },
        }
        let sha256 = digest_of_file(&path).map_err(failed)?;
        Ok(if sha256 == self.sha256 { Stands::AsWritten } else { Stands::Changed })
    }
}

impl Manifest {
    /// Where that of a routine lies in the folder of its documents.
    pub(crate) fn path(folder: &Path, stem: &str) -> PathBuf {
        folder.join(format!("{stem}-build.json"))
    }

    /// The last one that was written; `None` where there is none.
    pub(crate) fn read(folder: &Path, stem: &str) -> Result<Option<Manifest>, Failure> {
        let path = Manifest::path(folder, stem);
        let bytes = match fs::read(&path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
            bytes => bytes.map_err(|error| Failure::with_file("read", &path, &error))?,
        };
        serde_json::from_slice(&bytes).map(Some).map_err(|error| {
            Failure::new(format!(
                "{} is not a list of what a build wrote ({error}); move it away and build again",
                path.display()
            ))
        })
    }

    /// As it is written.
    pub(crate) fn text(&self) -> String {
        let text = serde_json::to_string(self);
        text.unwrap_or_else(|_| unreachable!("names and numbers are always written")) + "\n"
    }

    /// The document that lies there, if it is one of them.
    pub(crate) fn document(&self, path: &Path) -> Option<&Entry> {
        let name = path.file_name()?.to_string_lossy();
        self.documents.iter().find(|document| document.name == name)
    }

    /// The documents that do not stand as this build wrote them.
    pub(crate) fn off(&self, folder: &Path) -> Result<Vec<(PathBuf, Stands)>, Failure> {
        let mut off = Vec::new();
        for document in &self.documents {
            let stands = document.stands(folder)?;
            if stands != Stands::AsWritten {
                off.push((folder.join(&document.name), stands));
            }
        }
        Ok(off)
    }
}
