//! What was heard of music files before: kept in the user's cache folder, so that a track is decoded
//! once and not at every command.
//!
//! Each music file has one entry, named after its path. The entry holds the stamp of the file as it
//! was heard (size, times, version of the program), what was heard, and a digest of it all: an entry
//! of another file, of another version, or damaged, counts as none. Nothing that goes wrong here is
//! an error, for the file can always be heard again.

use std::fs::{self, Metadata};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::time::{Duration, SystemTime};

use num_traits::ToPrimitive;
use sha2::{Digest, Sha256};
use throwbook::sound::{Heard, Loudness};
use throwbook::time::Seconds;

use super::manifest::digest;

/// How an entry begins. The number goes up with whatever changes what is heard of the same file.
const MARK: &[u8; 16] = b"throwbook heard1";
/// The end of the name of an entry.
const ENDING: &str = ".heard";
/// So many entries are kept, the last ones written: 7 kB for a track of four minutes.
const MOST_ENTRIES: usize = 256;
/// No entry is larger, in bytes: four hours are 0.5 MB.
const LARGEST: u64 = 1 << 20;
/// A file that was changed a moment ago may change again without another time of change: some
/// file systems count them in steps of two seconds.
const SETTLED: Duration = Duration::from_secs(3);
/// Bytes of a digest.
const DIGEST: usize = 32;

/// Where the entries lie; `None` where none are kept.
static FOLDER: OnceLock<Option<PathBuf>> = OnceLock::new();

/// Says once, before the first file is heard, that no cache is wanted.
pub(crate) fn leave_out() {
    let _ = FOLDER.set(None);
}

fn folder() -> Option<&'static Path> {
    let found = || {
        let folders = directories::ProjectDirs::from("", "", "throwbook")?;
        Some(folders.cache_dir().to_owned())
    };
    FOLDER.get_or_init(found).as_deref()
}

/// A place for what is heard of one music file as it is now.
pub(crate) struct Entry {
    path: PathBuf,
    stamp: [u8; DIGEST],
    /// Whether the file has its time of change for good.
    is_settled: bool,
}

impl Entry {
    /// The place of a file; `None` where nothing is kept.
    pub(crate) fn of(file: &Path, there: &Metadata) -> Option<Entry> {
        let folder = folder()?;
        let file = fs::canonicalize(file).ok()?;
        let file = file.as_os_str().as_encoded_bytes();
        let modified = there.modified().ok()?;
        let age = SystemTime::now().duration_since(modified);
        Some(Entry {
            path: folder.join(digest(file) + ENDING),
            stamp: stamp(file, there, modified)?,
            is_settled: age.is_ok_and(|age| age > SETTLED),
        })
    }

    /// What was heard of the file.
    pub(crate) fn read(&self) -> Option<Heard> {
        let there = fs::metadata(&self.path).ok()?;
        if !there.is_file() || there.len() > LARGEST {
            return None;
        }
        heard(&fs::read(&self.path).ok()?, &self.stamp)
    }

    /// Keeps what was heard of the file, if it is still the same.
    pub(crate) fn write(&self, heard: &Heard, now: Option<&Entry>) {
        let is_same = now.is_some_and(|now| now.stamp == self.stamp);
        if !is_same || !self.is_settled {
            return;
        }
        let (Some(folder), Some(bytes)) = (self.path.parent(), bytes(heard, &self.stamp)) else {
            return;
        };
        // Whoever reads meanwhile finds the old entry or the new one, each whole.
        let beside = self.path.with_extension(format!("{}.new", std::process::id()));
        let written = fs::create_dir_all(folder)
            .and_then(|()| fs::write(&beside, bytes))
            .and_then(|()| fs::rename(&beside, &self.path));
        if written.is_err() {
            let _ = fs::remove_file(&beside);
        }
        let _ = thin_out(folder);
    }
}

/// What tells a file from itself at another time, and one version of the program from another.
fn stamp(file: &[u8], there: &Metadata, modified: SystemTime) -> Option<[u8; DIGEST]> {
    let modified = modified.duration_since(SystemTime::UNIX_EPOCH).ok()?;
    let mut stamp = Sha256::new();
    stamp.update(env!("CARGO_PKG_VERSION"));
    stamp.update([0]);
    stamp.update(there.len().to_le_bytes());
    stamp.update(modified.as_nanos().to_le_bytes());
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        // A copy that keeps its time of change is another file still.
        stamp.update(there.ctime().to_le_bytes());
        stamp.update(there.ctime_nsec().to_le_bytes());
        stamp.update(there.ino().to_le_bytes());
    }
    stamp.update(file);
    Some(stamp.finalize().into())
}

/// An entry: its mark, the stamp, the length and the silence as fractions, the number of windows of
/// loudness and their levels, twelve bits each, and a digest of all that.
fn bytes(heard: &Heard, stamp: &[u8; DIGEST]) -> Option<Vec<u8>> {
    let mut bytes = MARK.to_vec();
    bytes.extend(stamp);
    for seconds in [&heard.length, &heard.silence] {
        let exact = seconds.exact();
        bytes.extend(exact.numer().to_u64()?.to_le_bytes());
        bytes.extend(exact.denom().to_u64()?.to_le_bytes());
    }
    let levels: Vec<u16> = heard.loudness.levels().collect();
    bytes.extend(u32::try_from(levels.len()).ok()?.to_le_bytes());
    for pair in levels.chunks(2) {
        let (one, other) = (pair[0], pair.get(1).copied().unwrap_or(0));
        let pair = u32::from(one) | u32::from(other) << 12;
        bytes.extend(&pair.to_le_bytes()[..3]);
    }
    let digest = Sha256::digest(&bytes);
    bytes.extend(digest);
    Some(bytes)
}

/// What an entry with this stamp holds; `None` of any other bytes.
fn heard(bytes: &[u8], stamp: &[u8; DIGEST]) -> Option<Heard> {
    let (body, digest) = bytes.split_last_chunk::<DIGEST>()?;
    if Sha256::digest(body)[..] != digest[..] {
        return None;
    }
    let mut rest = body.strip_prefix(MARK)?.strip_prefix(stamp)?;
    let mut seconds = || {
        let [numerator, denominator] = [number(&mut rest)?, number(&mut rest)?];
        (denominator > 0).then(|| Seconds::fraction(numerator, denominator))
    };
    let (length, silence) = (seconds()?, seconds()?);
    let (count, levels) = rest.split_first_chunk()?;
    let count = usize::try_from(u32::from_le_bytes(*count)).ok()?;
    if levels.len() != 3 * count.div_ceil(2) {
        return None;
    }
    let levels = levels.chunks_exact(3).flat_map(|three| {
        let pair = u32::from_le_bytes([three[0], three[1], three[2], 0]);
        [(pair & 0xfff) as u16, (pair >> 12) as u16]
    });
    let loudness = Loudness::of_levels(levels.take(count));
    Some(Heard { length, silence, loudness })
}

/// The next number of some bytes.
fn number(rest: &mut &[u8]) -> Option<i64> {
    let (number, after) = rest.split_first_chunk()?;
    *rest = after;
    i64::try_from(u64::from_le_bytes(*number)).ok()
}

/// Takes away the oldest entries where there are too many, and with them what runs that were killed
/// left half-written.
fn thin_out(folder: &Path) -> io::Result<()> {
    let mut entries = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name();
        let name = name.to_string_lossy();
        if name.ends_with(ENDING) || name.ends_with(".new") {
            entries.push((entry.metadata()?.modified()?, entry.path()));
        }
    }
    entries.sort();
    for (_, path) in entries.iter().take(entries.len().saturating_sub(MOST_ENTRIES)) {
        // What cannot go keeps nothing else from going.
        let _ = fs::remove_file(path);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entry_holds_what_was_heard_and_nothing_else_passes_for_one() {
        let stamp = [7; DIGEST];
        for windows in [vec![], vec![0.5], vec![0.0, 1.0, 0.001, 0.25, 7.0]] {
            let loudness = Loudness { windows };
            let heard_now = Heard {
                length: Seconds::fraction(10_584_001, 44_100),
                silence: Seconds::fraction(217, 1000),
                loudness: Loudness::of_levels(loudness.levels()),
            };
            let entry = bytes(&heard_now, &stamp).unwrap();
            assert_eq!(heard(&entry, &stamp), Some(heard_now));
            assert_eq!(heard(&entry, &[8; DIGEST]), None);
            for place in 0..entry.len() {
                assert_eq!(heard(&entry[..place], &stamp), None);
                let mut damaged = entry.clone();
                damaged[place] ^= 1;
                assert_eq!(heard(&damaged, &stamp), None);
            }
        }
    }

    #[test]
    fn four_minutes_are_seven_kilobytes() {
        let loudness = Loudness { windows: vec![0.1; 4 * 60 * 20] };
        let length = Seconds::fraction(240, 1);
        let heard = Heard { silence: length.clone(), length, loudness };
        let size = bytes(&heard, &[0; DIGEST]).unwrap().len();
        assert!((7_200..7_400).contains(&size), "{size}");
    }
}
