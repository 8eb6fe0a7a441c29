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
}
