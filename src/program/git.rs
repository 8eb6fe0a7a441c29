//! A file as it was at a revision of the git checkout in which it lies, by the git program.

use std::io::{self, Read};
use std::path::Path;
use std::process::{Command, Stdio};

use throwbook::read::LARGEST_FILE;

use super::Failure;

/// The bytes of the file then; of a larger file than is ever read, one more than is read.
pub(crate) fn file_at(path: &Path, revision: &str) -> Result<Vec<u8>, Failure> {
    let shown = path.display();
    let is_name = !revision.is_empty()
        && !revision.starts_with('-')
        && !revision.contains(|c: char| c == ':' || c.is_control());
    if !is_name {
        return Err(Failure::new(format!(
            "{revision:?} names no revision; write one as git does, such as HEAD~1"
        )));
    }
    let Some(name) = path.file_name().and_then(|name| name.to_str()) else {
        return Err(Failure::new(format!("cannot ask git for {shown}: its name is no text")));
    };
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let failed = |error: &io::Error| match error.kind() {
        io::ErrorKind::NotFound => Failure::new(
            "there is no git program here to ask for what the file was; compare two files instead",
        ),
        _ => Failure::new(format!("cannot run git: {error}")),
    };
    let mut git = Command::new("git")
        .arg("-C")
        .arg(folder.unwrap_or(Path::new(".")))
        .args(["cat-file", "blob", &format!("{revision}:./{name}")])
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(|error| failed(&error))?;
    let most = u64::try_from(LARGEST_FILE).unwrap_or(u64::MAX).saturating_add(1);
    let mut bytes = Vec::new();
    let read = match git.stdout.take() {
        Some(stdout) => stdout.take(most).read_to_end(&mut bytes).map(|_| ()),
        None => Ok(()),
    };
    let is_cut = bytes.len() > LARGEST_FILE;
    // The pipe is closed by now: what still writes into it ends.
    let ended = git.wait_with_output().map_err(|error| failed(&error))?;
    read.map_err(|error| failed(&error))?;
    if !ended.status.success() && !is_cut {
        let says = String::from_utf8_lossy(&ended.stderr);
        let says = says.lines().next().unwrap_or("it does not say why").trim();
        return Err(Failure::new(format!(
            "git has no {shown} at {revision}: {}",
            says.trim_start_matches("fatal: ")
        )));
    }
    Ok(bytes)
}
