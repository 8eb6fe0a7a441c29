//! Markers in a WAV file, with labels that an audio editor shows: the chunks `cue ` and `LIST adtl`
//! of RIFF (IBM and Microsoft, Multimedia Programming Interface and Data Specifications 1.0, 1991,
//! "Cue-Points Chunk" and "Associated Data Chunk"; from memory).
//!
//! Worked: a marker "a" at sample 3 is `cue `, 28, 1, and 1, 3, `data`, 0, 0, 3; then `LIST`, 18,
//! `adtl`, `labl`, 6, 1, and `a` with its zero byte. Chunks of odd length are followed by a zero.

/// A marker.
pub(super) struct Marker {
    /// The sample on which it stands.
    pub(super) sample: u32,
    /// What an editor shows.
    pub(super) label: String,
}

/// Puts markers behind the samples of a WAV file. A file that could not count its bytes any more
/// stays without.
pub(super) fn with_markers(mut wav: Vec<u8>, markers: &[Marker]) -> Vec<u8> {
    let chunks = chunks(markers).unwrap_or_default();
    let all = u32::try_from(wav.len() + chunks.len() - 8);
    if let (Ok(all), false) = (all, chunks.is_empty()) {
        wav.extend(chunks);
        // The length of the whole file, less these eight bytes.
        wav[4..8].copy_from_slice(&all.to_le_bytes());
    }
    wav
}

/// Both chunks; `None` for no markers, and for too many to count.
fn chunks(markers: &[Marker]) -> Option<Vec<u8>> {
    let count = u32::try_from(markers.len()).ok().filter(|count| *count > 0)?;
    let (mut points, mut labels) = (count.to_le_bytes().to_vec(), b"adtl".to_vec());
    for (name, marker) in (1_u32..).zip(markers) {
        let name = name.to_le_bytes();
        let at = marker.sample.to_le_bytes();
        for part in [&name, &at, b"data", &[0; 4], &[0; 4], &at] {
            points.extend(part);
        }
        let mut label = name.to_vec();
        label.extend(marker.label.bytes().filter(|byte| *byte != 0));
        label.push(0);
        labels.extend(chunk(b"labl", &label)?);
    }
    let mut chunks = chunk(b"cue ", &points)?;
    chunks.extend(chunk(b"LIST", &labels)?);
    Some(chunks)
}

fn chunk(name: &[u8; 4], body: &[u8]) -> Option<Vec<u8>> {
    let mut chunk = name.to_vec();
    chunk.extend(u32::try_from(body.len()).ok()?.to_le_bytes());
    chunk.extend(body);
    chunk.extend(std::iter::repeat_n(0, body.len() % 2));
    Some(chunk)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worked_example_is_written_byte_for_byte() {
        let marker = Marker { sample: 3, label: "a".to_owned() };
        let chunks = chunks(&[marker]).unwrap();
        let worked: Vec<u8> = [
            b"cue ".as_slice(),
            &[28, 0, 0, 0, 1, 0, 0, 0],
            &[1, 0, 0, 0, 3, 0, 0, 0],
            b"data",
            &[0, 0, 0, 0, 0, 0, 0, 0, 3, 0, 0, 0],
            b"LIST",
            &[18, 0, 0, 0],
            b"adtllabl",
            &[6, 0, 0, 0, 1, 0, 0, 0],
            b"a\0",
        ]
        .concat();
        assert_eq!(chunks, worked);
    }

    #[test]
    fn without_markers_nothing_is_added() {
        assert_eq!(with_markers(vec![0; 44], &[]), vec![0; 44]);
    }
}
