//! The bytes of a music file, read as they are needed: never more of them at once than music asks
//! for, so that no file fills the memory.

use std::io::{self, Read, Seek, SeekFrom};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use symphonia::core::io::MediaSource;

/// What a music file can be read from: an open file, or a cursor over bytes.
pub trait Source: Read + Seek + Send + Sync {}

impl<S: Read + Seek + Send + Sync> Source for S {}

/// Bytes that may be read for one packet, and for everything before the first: 16 MB each.
const MOST_AT_ONCE: u64 = 16 * 1024 * 1024;

/// How many bytes were read.
#[derive(Clone, Debug, Default)]
pub(super) struct Meter(Arc<Counts>);

#[derive(Debug, Default)]
struct Counts {
    /// In all.
    read: AtomicU64,
    /// At so many in all the packet that is read now has had its share.
    most: AtomicU64,
}

impl Meter {
    /// A new packet begins.
    pub(super) fn next(&self) {
        self.0.most.store(self.read() + MOST_AT_ONCE, Ordering::Relaxed);
    }

    /// The bytes read in all.
    pub(super) fn read(&self) -> u64 {
        self.0.read.load(Ordering::Relaxed)
    }
}

/// A source whose bytes are counted.
pub(super) struct Metered<'s> {
    source: &'s mut dyn Source,
    length: u64,
    meter: Meter,
}

impl<'s> Metered<'s> {
    /// The whole source, from its first byte on.
    pub(super) fn new(source: &'s mut dyn Source, meter: Meter) -> io::Result<Metered<'s>> {
        let length = source.seek(SeekFrom::End(0))?;
        source.rewind()?;
        meter.next();
        Ok(Metered { source, length, meter })
    }

    /// Whether there is nothing in it.
    pub(super) fn is_empty(&self) -> bool {
        self.length == 0
    }
}

impl Read for Metered<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.meter.read() > self.meter.0.most.load(Ordering::Relaxed) {
            return Err(io::Error::other(
                "a piece of it is larger than 16 MB, as none of music is",
            ));
        }
        let read = self.source.read(buffer)?;
        self.meter.0.read.fetch_add(read as u64, Ordering::Relaxed);
        Ok(read)
    }
}

impl Seek for Metered<'_> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.source.seek(to)
    }
}

impl MediaSource for Metered<'_> {
    fn is_seekable(&self) -> bool {
        true
    }

    fn byte_len(&self) -> Option<u64> {
        Some(self.length)
    }
}

/// At most so many bytes from a place on; fewer where the source ends.
pub(super) fn bytes(source: &mut dyn Source, at: u64, most: u64) -> io::Result<Vec<u8>> {
    source.seek(SeekFrom::Start(at))?;
    let mut bytes = Vec::new();
    source.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_piece_that_is_larger_than_music_has_is_not_read_to_its_end() {
        let meter = Meter::default();
        let mut zeros = io::Cursor::new(vec![0; 40 << 20]);
        let mut metered = Metered::new(&mut zeros, meter.clone()).unwrap();
        let mut megabyte = vec![0; 1 << 20];
        let mut read = |count| (0..count).try_for_each(|_| metered.read_exact(&mut megabyte));
        assert!(read(16).is_ok());
        meter.next();
        assert!(read(16).is_ok());
        assert!(read(2).is_err());
        assert!((32 << 20..=34 << 20).contains(&meter.read()));
    }
}
