//! Whether a file is there to its end, where its decoder would not notice.

/// Whether an Ogg file ends in the middle of a page, or before the page that is marked as its last
/// (RFC 3533, section 6: header type flag 0x04). Anything else is never cut off here.
pub(super) fn ogg_is_cut_off(bytes: &[u8]) -> bool {
    if !bytes.starts_with(b"OggS") {
        return false;
    }
    let mut rest = bytes;
    let mut is_last = false;
    while rest.starts_with(b"OggS") {
        let (Some(&flags), Some(&segments)) = (rest.get(5), rest.get(26)) else { return true };
        let head = 27 + usize::from(segments);
        let Some(lacing) = rest.get(27..head) else { return true };
        let body: usize = lacing.iter().map(|&bytes| usize::from(bytes)).sum();
        is_last = flags & 0x04 != 0;
        let Some(after) = rest.get(head + body..) else { return true };
        rest = after;
    }
    // What is no page is a tag that something appended, or damage that the decoder will find.
    !is_last
}

/// Whether an M4A file ends in the middle of one of its boxes (ISO/IEC 14496-12, 4.2: a box begins
/// with its size and its kind). Anything else is never cut off here.
pub(super) fn m4a_is_cut_off(bytes: &[u8]) -> bool {
    if bytes.get(4..8) != Some(b"ftyp") {
        return false;
    }
    let mut rest = bytes;
    while !rest.is_empty() {
        let Some(size) = rest.get(..4).and_then(|size| size.try_into().ok()) else { return true };
        let long = rest.get(8..16).and_then(|size| size.try_into().ok());
        let size = match u32::from_be_bytes(size) {
            // The last box may say that it goes to the end.
            0 => return false,
            1 => long.map_or(u64::MAX, u64::from_be_bytes),
            size => u64::from(size),
        };
        let Ok(size) = usize::try_from(size) else { return true };
        match rest.get(size.max(8)..) {
            Some(after) => rest = after,
            None => return true,
        }
    }
    false
}

/// Whether an MP3 says how long it is and what its encoder put before the music: in its first
/// frame, behind its tags, by the marks that encoders write there.
pub(super) fn mp3_says_its_length(bytes: &[u8]) -> bool {
    let tag = match bytes.get(..10) {
        // ID3v2: four bytes of seven bits each say how long the tag is beyond its ten.
        Some([b'I', b'D', b'3', _, _, _, size @ ..]) => {
            10 + size.iter().fold(0, |size, &byte| size << 7 | usize::from(byte & 0x7f))
        }
        _ => 0,
    };
    let rest = bytes.get(tag..).unwrap_or_default();
    let first = rest.get(..rest.len().min(4096)).unwrap_or_default();
    first.windows(4).any(|mark| matches!(mark, b"Xing" | b"Info" | b"VBRI"))
}

/// Whether the header of a WAV says that its length was not known when it was written.
pub(super) fn wav_of_unknown_length(bytes: &[u8]) -> bool {
    bytes.starts_with(b"RIFF")
        && matches!(bytes.get(4..8), Some([0xff, 0xff, 0xff, 0xff] | [0, 0, 0, 0]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_ogg_is_whole_with_its_last_page_only() {
        let bytes = include_bytes!("../../tests/data/sound/clicks.ogg");
        assert!(!ogg_is_cut_off(bytes));
        for end in 4..bytes.len() {
            assert!(ogg_is_cut_off(&bytes[..end]), "{end}");
        }
        assert!(!ogg_is_cut_off(b"RIFF"));
    }

    #[test]
    fn an_m4a_is_whole_with_all_of_its_boxes_only() {
        let bytes = include_bytes!("../../tests/data/sound/clicks.m4a");
        assert!(!m4a_is_cut_off(bytes) && !m4a_is_cut_off(b"RIFF"));
        let ends = (100..bytes.len()).filter(|&end| !m4a_is_cut_off(&bytes[..end])).count();
        assert!(ends <= 2, "only between two boxes it looks whole");
    }

    #[test]
    fn an_mp3_says_its_length_behind_its_tags() {
        let bytes = include_bytes!("../../tests/data/sound/clicks.mp3");
        assert!(mp3_says_its_length(bytes));
        let tag = [b"ID3\x04\0\0\0\0\x50\x00".as_slice(), &[0; 80 << 7]].concat();
        assert!(mp3_says_its_length(&[tag, bytes.to_vec()].concat()));
        assert!(!mp3_says_its_length(&bytes[1000..]));
    }
}
