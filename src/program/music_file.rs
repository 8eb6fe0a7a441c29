//! Music files: found beside the routine file, and heard, or remembered from when they were.

#[cfg(feature = "audio")]
use std::fs::{self, File, Metadata};
use std::path::Path;

use throwbook::routine::Routine;
use throwbook::sound::Tracks;
#[cfg(feature = "audio")]
use throwbook::sound::{Found, Heard, Recording, Unheard, decode, hear};

#[cfg(feature = "audio")]
use super::music_cache::Entry;

/// A larger file is not read, in bytes: a gigabyte.
#[cfg(feature = "audio")]
const LARGEST: u64 = 1024 * 1024 * 1024;

/// What is found of the music files that a routine and its encore name, from the folder on in which
/// it lies.
#[cfg(feature = "audio")]
pub(crate) fn found(folder: &Path, routine: &Routine) -> Tracks {
    let mut tracks = Tracks::new();
    for (_, track) in routine.with_encore().flat_map(Routine::all_tracks) {
        if let Some(file) = track.file_name()
            && *tracks.found(file) == Found::NotLooked
        {
            tracks.note(file, look(&folder.join(file)));
        }
    }
    tracks
}

/// Without the feature `audio` nobody looks for any.
#[cfg(not(feature = "audio"))]
pub(crate) fn found(_folder: &Path, _routine: &Routine) -> Tracks {
    Tracks::new()
}

#[cfg(feature = "audio")]
fn look(path: &Path) -> Found {
    match fs::metadata(path) {
        Err(error) if error.kind() == std::io::ErrorKind::PermissionDenied => {
            Found::Unreadable(Unheard::Broken(error.to_string()))
        }
        Err(_) => Found::Missing,
        Ok(_) => match heard(path) {
            Ok(heard) => Found::Heard(heard),
            Err(why) => Found::Unreadable(why),
        },
    }
}

/// Hears a music file that is there, unless it was heard before.
#[cfg(feature = "audio")]
fn heard(path: &Path) -> Result<Heard, Unheard> {
    let (file, there) = opened(path)?;
    let entry = Entry::of(path, &there);
    if let Some(heard) = entry.as_ref().and_then(Entry::read) {
        return Ok(heard);
    }
    let heard = hear(&file)?;
    if let Some(entry) = entry {
        let now = file.metadata().ok().and_then(|there| Entry::of(path, &there));
        entry.write(&heard, now.as_ref());
    }
    Ok(heard)
}

/// Decodes a music file that is there, to listen to it.
#[cfg(feature = "audio")]
pub(crate) fn recording(path: &Path) -> Result<Recording, Unheard> {
    decode(&opened(path)?.0)
}

#[cfg(feature = "audio")]
fn opened(path: &Path) -> Result<(File, Metadata), Unheard> {
    let broken = |error: std::io::Error| Unheard::Broken(error.to_string());
    // Opening what is not a plain file may wait for ever.
    if !fs::metadata(path).map_err(broken)?.is_file() {
        return Err(Unheard::Broken("it is not a plain file".to_owned()));
    }
    let file = File::open(path).map_err(broken)?;
    let there = file.metadata().map_err(broken)?;
    if there.len() > LARGEST {
        return Err(Unheard::Broken("it is larger than a gigabyte".to_owned()));
    }
    Ok((file, there))
}
