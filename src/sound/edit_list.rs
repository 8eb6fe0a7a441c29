//! The edit list of an M4A file: how many frames its encoder put before the music, and how many
//! frames of music there are.
//!
//! Boxes and their fields as in ISO/IEC 14496-12 (8.6.5 edit box, 8.6.6 edit list box, 8.2.2 movie
//! header, 8.4.2 media header); from memory of its users, tried on files of two encoders.

/// What the file says is music.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Edit {
    /// Frames of the decoder before it.
    pub(super) before: u64,
    /// Frames of it, if that is said.
    pub(super) frames: Option<u64>,
}

/// The edit of the first sound track of an M4A file at a sample rate; `None` where the file has
/// none or is no such file.
pub(super) fn edit(bytes: &[u8], rate: u32) -> Option<Edit> {
    let movie = child(bytes, b"moov")?;
    let movie_scale = scale(child(movie, b"mvhd")?)?;
    let track = boxes(movie).filter(|(kind, _)| kind == b"trak").find_map(|(_, track)| {
        let media = child(track, b"mdia")?;
        (child(media, b"hdlr")?.get(8..12)? == b"soun").then_some((track, media))
    });
    let (track, media) = track?;
    let media_scale = scale(child(media, b"mdhd")?)?;
    let list = child(child(track, b"edts")?, b"elst")?;
    let is_long = *list.first()? == 1;
    let entries = u32_at(list, 4)?;
    let size = if is_long { 20 } else { 12 };
    let rated = |ticks: u64, scale: u32| {
        let frames = u128::from(ticks) * u128::from(rate) / u128::from(scale.max(1));
        u64::try_from(frames).ok()
    };
    for entry in 0..entries.min(64) {
        let at = 8 + size * usize::try_from(entry).ok()?;
        let (lasts, from) = if is_long {
            (u64_at(list, at)?, u64_at(list, at + 8)? as i64)
        } else {
            (u64::from(u32_at(list, at)?), i64::from(u32_at(list, at + 4)? as i32))
        };
        // A negative one is a wait before the music, which no player of a single track makes.
        if let Ok(from) = u64::try_from(from) {
            let frames = rated(lasts, movie_scale).filter(|&frames| frames > 0);
            return Some(Edit { before: rated(from, media_scale)?, frames });
        }
    }
    None
}

/// The ticks a second of a movie or media header.
fn scale(header: &[u8]) -> Option<u32> {
    u32_at(header, if *header.first()? == 1 { 20 } else { 12 }).filter(|&scale| scale > 0)
}

fn child<'a>(bytes: &'a [u8], kind: &[u8; 4]) -> Option<&'a [u8]> {
    boxes(bytes).find(|(found, _)| found == kind).map(|(_, body)| body)
}

/// The boxes side by side in some bytes: the kind and the body of each.
fn boxes(bytes: &[u8]) -> impl Iterator<Item = ([u8; 4], &[u8])> {
    let mut rest = bytes;
    std::iter::from_fn(move || {
        let kind: [u8; 4] = rest.get(4..8)?.try_into().ok()?;
        let (head, size) = match u32_at(rest, 0)? {
            0 => (8, rest.len()),
            1 => (16, usize::try_from(u64_at(rest, 8)?).ok()?),
            size => (8, usize::try_from(size).ok()?),
        };
        let body = rest.get(head..size.min(rest.len()))?;
        rest = rest.get(size..).unwrap_or_default();
        Some((kind, body))
    })
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
        let bytes = include_bytes!("../../tests/data/sound/clicks.m4a");
        assert_eq!(edit(bytes, 16_000), Some(Edit { before: 1024, frames: Some(96_000) }));
        assert_eq!(edit(b"RIFF", 16_000), None);
        for end in 0..bytes.len() {
            let _ = edit(&bytes[..end], 16_000);
        }
    }
}
