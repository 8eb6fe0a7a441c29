//! What a music file says of itself outside of its packets: its kind, its length, and whether it is
//! there to its end, where its decoder would not notice.

use std::io::{self, BufReader, Read, SeekFrom};

use super::edit_list::{EditList, edit_list};
use super::source::{Source, bytes};

/// What a music file says of itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct Container {
    /// Whether it begins as a file of a known kind does.
    pub(super) is_known: bool,
    pub(super) is_m4a: bool,
    /// Whether it says how long its music is.
    pub(super) says_length: bool,
    /// Whether it is a WAV that says that its length was not known when it was written.
    pub(super) is_of_unknown_length: bool,
    /// Whether it is an Ogg file without its end.
    pub(super) ogg_is_cut_off: bool,
    /// Whether it is an M4A file without its end.
    pub(super) m4a_is_cut_off: bool,
    /// The edit list of an M4A file.
    pub(super) edits: Option<EditList>,
}

impl Container {
    /// Looks through a file, without its sound.
    pub(super) fn of(source: &mut dyn Source) -> io::Result<Container> {
        let head = bytes(source, 0, 12)?;
        let begins = |mark: &[u8]| head.starts_with(mark);
        let is_m4a = head.get(4..8) == Some(b"ftyp");
        let is_wav = begins(b"RIFF") && head.get(8..12) == Some(b"WAVE");
        let says_itself = begins(b"OggS") || begins(b"fLaC") || is_wav || is_m4a;
        let is_of_unknown_length = begins(b"RIFF")
            && matches!(head.get(4..8), Some([0xff, 0xff, 0xff, 0xff] | [0, 0, 0, 0]));
        Ok(Container {
            is_known: says_itself || begins(b"ID3"),
            is_m4a,
            says_length: says_itself || mp3_says_its_length(source)?,
            is_of_unknown_length,
            ogg_is_cut_off: begins(b"OggS") && ogg_is_cut_off(source)?,
            m4a_is_cut_off: is_m4a && m4a_is_cut_off(source)?,
            edits: if is_m4a { edit_list(source)? } else { None },
        })
    }
}

/// Whether an Ogg file ends in the middle of a page, or before the page that is marked as its last
/// (RFC 3533, section 6: header type flag 0x04).
fn ogg_is_cut_off(source: &mut dyn Source) -> io::Result<bool> {
    let length = source.seek(SeekFrom::End(0))?;
    source.rewind()?;
    let mut pages = BufReader::with_capacity(1 << 16, source);
    let (mut at, mut is_last) = (0_u64, false);
    loop {
        let mut head = [0; 27];
        if !is_filled(&mut pages, &mut head)? {
            // What is left is too short for a page: nothing, a tag, or the beginning of one.
            return Ok(!is_last || head.starts_with(b"OggS"));
        }
        if !head.starts_with(b"OggS") {
            // What is no page is a tag that something appended, or damage that the decoder will
            // find.
            return Ok(!is_last);
        }
        let mut lacing = [0; 255];
        let lacing = &mut lacing[..usize::from(head[26])];
        if !is_filled(&mut pages, lacing)? {
            return Ok(true);
        }
        let body: u64 = lacing.iter().map(|&bytes| u64::from(bytes)).sum();
        is_last = head[5] & 0x04 != 0;
        at += 27 + lacing.len() as u64 + body;
        if at > length {
            return Ok(true);
        }
        pages.seek_relative(i64::try_from(body).unwrap_or(i64::MAX))?;
    }
}

/// Boxes that are gone through from end to end: four hours in pieces of a second have fewer.
const MOST_BOXES: usize = 100_000;

/// Whether an M4A file ends in the middle of one of its boxes (ISO/IEC 14496-12, 4.2: a box begins
/// with its size and its kind).
fn m4a_is_cut_off(source: &mut dyn Source) -> io::Result<bool> {
    let length = source.seek(SeekFrom::End(0))?;
    source.rewind()?;
    let mut boxes = BufReader::with_capacity(1 << 12, source);
    let mut at = 0_u64;
    for _ in 0..MOST_BOXES {
        if at == length {
            return Ok(false);
        }
        let mut short = [0; 8];
        if length - at < 4 {
            return Ok(true);
        }
        // The last box may be four bytes that say that it goes to the end.
        let head = if length - at < 8 { &mut short[..4] } else { &mut short[..] };
        if !is_filled(&mut boxes, head)? {
            return Ok(true);
        }
        let mut read = head.len() as u64;
        let size = match u32::from_be_bytes([short[0], short[1], short[2], short[3]]) {
            0 => return Ok(false),
            1 => {
                let mut long = [0; 8];
                if !is_filled(&mut boxes, &mut long)? {
                    return Ok(true);
                }
                read += 8;
                u64::from_be_bytes(long)
            }
            size => u64::from(size),
        };
        let size = size.max(read).max(8);
        at = match at.checked_add(size) {
            Some(after) if after <= length => after,
            _ => return Ok(true),
        };
        boxes.seek_relative(i64::try_from(size - read).unwrap_or(i64::MAX))?;
    }
    Ok(false)
}

/// Fills a buffer; `false` where the source ends before that.
fn is_filled(source: &mut impl Read, buffer: &mut [u8]) -> io::Result<bool> {
    match source.read_exact(buffer) {
        Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => Ok(false),
        read => read.map(|()| true),
    }
}

/// Whether an MP3 says how long it is and what its encoder put before the music: in its first
/// frame, behind its tags, by the marks that encoders write there.
fn mp3_says_its_length(source: &mut dyn Source) -> io::Result<bool> {
    let tag = match bytes(source, 0, 10)?[..] {
        // ID3v2: four bytes of seven bits each say how long the tag is beyond its ten.
        [b'I', b'D', b'3', _, _, _, ref size @ ..] => {
            10 + size.iter().fold(0, |size, &byte| size << 7 | u64::from(byte & 0x7f))
        }
        _ => 0,
    };
    let first = bytes(source, tag, 4096)?;
    Ok(first.windows(4).any(|mark| matches!(mark, b"Xing" | b"Info" | b"VBRI")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(bytes: &[u8]) -> Container {
        Container::of(&mut io::Cursor::new(bytes)).unwrap()
    }

    #[test]
    fn an_ogg_is_whole_with_its_last_page_only() {
        let bytes = include_bytes!("../../tests/data/sound/clicks.ogg");
        assert!(!of(bytes).ogg_is_cut_off);
        assert!(!of(&[bytes.as_slice(), b"TAG of somebody"].concat()).ogg_is_cut_off);
        for end in 4..bytes.len() {
            assert!(of(&bytes[..end]).ogg_is_cut_off, "{end}");
        }
        assert!(!of(b"RIFF").ogg_is_cut_off);
    }

    #[test]
    fn an_m4a_is_whole_with_all_of_its_boxes_only() {
        let bytes = include_bytes!("../../tests/data/sound/clicks.m4a");
        assert!(!of(bytes).m4a_is_cut_off && !of(b"RIFF").m4a_is_cut_off);
        let ends = (100..bytes.len()).filter(|&end| !of(&bytes[..end]).m4a_is_cut_off).count();
        assert!(ends <= 2, "only between two boxes it looks whole");
        let long = [&bytes[..], &[0, 0, 0, 1], b"free", &u64::MAX.to_be_bytes()].concat();
        assert!(of(&long).m4a_is_cut_off);
        assert!(!of(&[&bytes[..], &[0, 0, 0, 0], b"free"].concat()).m4a_is_cut_off);
    }

    #[test]
    fn an_mp3_says_its_length_behind_its_tags() {
        let bytes = include_bytes!("../../tests/data/sound/clicks.mp3");
        assert!(of(bytes).says_length);
        let tag = [b"ID3\x04\0\0\0\0\x50\x00".as_slice(), &[0; 80 << 7]].concat();
        assert!(of(&[tag, bytes.to_vec()].concat()).says_length);
        assert!(!of(&bytes[1000..]).says_length);
    }
}
