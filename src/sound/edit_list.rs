//! The edit list of an M4A file: how many frames its encoder put before the music, and how many
//! frames of music there are.
//!
//! Boxes and their fields as in ISO/IEC 14496-12 (8.6.5 edit box, 8.6.6 edit list box, 8.2.2 movie
//! header, 8.4.2 media header); from memory of its users, tried on files of two encoders.

use std::io::{self, SeekFrom};
use std::ops::Range;

use super::source::{Source, bytes};

/// What the file says is music, at a sample rate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Edit {
    /// Frames of the decoder before it.
    pub(super) before: u64,
    /// Frames of it, if that is said.
    pub(super) frames: Option<u64>,
}

/// The first entry of an edit list that is no wait: ticks, and how many of them a second has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct EditList {
    before: (u64, u32),
    lasts: (u64, u32),
}

impl EditList {
    /// In frames, at so many a second.
    pub(super) fn at(&self, rate: u32) -> Option<Edit> {
        let rated = |(ticks, scale): (u64, u32)| {
            let frames = u128::from(ticks) * u128::from(rate) / u128::from(scale.max(1));
            u64::try_from(frames).ok()
        };
        let frames = rated(self.lasts).filter(|&frames| frames > 0);
        Some(Edit { before: rated(self.before)?, frames })
    }
}

/// Boxes side by side that are looked at, and bytes of a box: no file of music has more.
const MOST_BOXES: usize = 1_000;
const MOST_BYTES: u64 = 4_096;
/// Tracks that are looked at for sound.
const MOST_TRACKS: usize = 16;

/// The edit list of the first sound track of an M4A file; `None` where it has none.
pub(super) fn edit_list(source: &mut dyn Source) -> io::Result<Option<EditList>> {
    let end = source.seek(SeekFrom::End(0))?;
    let Some(movie) = child(source, 0..end, b"moov")? else { return Ok(None) };
    let header = body(source, &[b"mvhd"], movie.clone())?;
    for track in children(source, movie, b"trak", MOST_TRACKS)? {
        let handler = body(source, &[b"mdia", b"hdlr"], track.clone())?;
        if handler.get(8..12) == Some(b"soun") {
            let media = body(source, &[b"mdia", b"mdhd"], track.clone())?;
            let list = body(source, &[b"edts", b"elst"], track)?;
            return Ok(entry(&list, [scale(&header), scale(&media)]));
        }
    }
    Ok(None)
}

/// The first entry of an edit list that is no wait before the music, which no player of a single
/// track makes.
fn entry(list: &[u8], [movie, media]: [Option<u32>; 2]) -> Option<EditList> {
    let is_long = *list.first()? == 1;
    let size = if is_long { 20 } else { 12 };
    for entry in 0..u32_at(list, 4)?.min(64) {
        let at = 8 + size * usize::try_from(entry).ok()?;
        let (lasts, from) = if is_long {
            (u64_at(list, at)?, u64_at(list, at + 8)? as i64)
        } else {
            (u64::from(u32_at(list, at)?), i64::from(u32_at(list, at + 4)? as i32))
        };
        if let Ok(from) = u64::try_from(from) {
            return Some(EditList { before: (from, media?), lasts: (lasts, movie?) });
        }
    }
    None
}

/// The ticks a second of a movie or media header.
fn scale(header: &[u8]) -> Option<u32> {
    u32_at(header, if *header.first()? == 1 { 20 } else { 12 }).filter(|&scale| scale > 0)
}

/// The beginning of the body of a box inside of others; nothing where there is none.
fn body(source: &mut dyn Source, path: &[&[u8; 4]], within: Range<u64>) -> io::Result<Vec<u8>> {
    let mut found = within;
    for kind in path {
        match child(source, found, kind)? {
            Some(body) => found = body,
            None => return Ok(Vec::new()),
        }
    }
    bytes(source, found.start, (found.end - found.start).min(MOST_BYTES))
}

fn child(
    source: &mut dyn Source,
    within: Range<u64>,
    kind: &[u8; 4],
) -> io::Result<Option<Range<u64>>> {
    Ok(children(source, within, kind, 1)?.pop())
}

/// Where the bodies of the first boxes of a kind lie, of those side by side in a stretch.
fn children(
    source: &mut dyn Source,
    within: Range<u64>,
    kind: &[u8; 4],
    most: usize,
) -> io::Result<Vec<Range<u64>>> {
    let mut found = Vec::new();
    let mut at = within.start;
    for _ in 0..MOST_BOXES {
        let head = bytes(source, at, (within.end - at).min(16))?;
        let Some(size) = u32_at(&head, 0) else { break };
        let (skip, size) = match size {
            0 => (8, within.end - at),
            1 => (16, u64_at(&head, 8).unwrap_or(0)),
            size => (8, u64::from(size)),
        };
        let end = at.saturating_add(size).min(within.end);
        if at + skip > end {
            break;
        }
        if head.get(4..8) == Some(kind.as_slice()) {
            found.push(at + skip..end);
        }
        if found.len() == most {
            break;
        }
        at = end;
    }
    Ok(found)
}

fn u32_at(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(bytes.get(at..at.checked_add(4)?)?.try_into().ok()?))
}

fn u64_at(bytes: &[u8], at: usize) -> Option<u64> {
    Some(u64::from_be_bytes(bytes.get(at..at.checked_add(8)?)?.try_into().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_m4a_says_where_its_music_begins_and_how_long_it_is() {
        let edit = |bytes: &[u8]| {
            let list = edit_list(&mut std::io::Cursor::new(bytes)).unwrap();
            list.and_then(|list| list.at(16_000))
        };
        let bytes = include_bytes!("../../tests/data/sound/clicks.m4a");
        assert_eq!(edit(bytes), Some(Edit { before: 1024, frames: Some(96_000) }));
        assert_eq!(edit(b"RIFF"), None);
        for end in 0..bytes.len() {
            let _ = edit(&bytes[..end]);
        }
    }
}
