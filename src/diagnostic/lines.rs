//! Lines and columns of a text, both from 1; columns count characters, a tab is one.
//!
//! A byte-order mark at the beginning of the text is no character of its first line.

use super::Place;

/// How many bytes lie between two counts of characters that are kept.
const STRIDE: usize = 1024;

/// Where the lines of a text begin.
pub(super) struct Lines<'t> {
    text: &'t str,
    /// The first byte of each line.
    starts: Vec<usize>,
    /// How many characters begin before each multiple of [`STRIDE`] bytes.
    counts: Vec<usize>,
}

/// A line and a column, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Position {
    /// The line.
    pub(super) line: usize,
    /// The column, in characters.
    pub(super) column: usize,
}

impl<'t> Lines<'t> {
    /// The lines of a text; line ends are `\n` or `\r\n`.
    pub(super) fn new(text: &'t str) -> Lines<'t> {
        let ends = text.bytes().enumerate().filter(|&(_, byte)| byte == b'\n');
        let starts = std::iter::once(0).chain(ends.map(|(end, _)| end + 1)).collect();
        let mut counts = vec![0];
        let mut count = 0;
        for stride in text.as_bytes().chunks(STRIDE) {
            count += characters(stride);
            counts.push(count);
        }
        Lines { text, starts, counts }
    }

    /// A place inside the text and on its characters, whatever was asked for.
    pub(super) fn clamp(&self, place: &Place) -> Place {
        let start = self.text.floor_char_boundary(place.start.min(place.end));
        let end = self.text.ceil_char_boundary(place.end.max(place.start).min(self.text.len()));
        Place { start, end: end.max(start) }
    }

    /// The line of a byte, from 0.
    pub(super) fn line_of(&self, byte: usize) -> usize {
        self.starts.partition_point(|&start| start <= byte).saturating_sub(1)
    }

    /// The bytes of some lines, from 0, without the end of the last.
    pub(super) fn bytes(&self, first: usize, last: usize) -> Place {
        let start = self.starts.get(first).copied().unwrap_or(self.text.len()).max(self.mark());
        let end = self.starts.get(last + 1).map_or(self.text.len(), |&next| next - 1);
        let line = self.text.get(start..end).unwrap_or_default();
        let end = if line.ends_with('\r') { end - 1 } else { end };
        Place { start: start.min(end), end }
    }

    /// Line and column of a byte.
    pub(super) fn position(&self, byte: usize) -> Position {
        let byte = self.clamp(&Place { start: byte, end: byte }).start;
        let line = self.line_of(byte);
        let start = self.starts.get(line).copied().unwrap_or(0).max(self.mark());
        let column = self.before(byte).saturating_sub(self.before(start)) + 1;
        Position { line: line + 1, column }
    }

    /// The length of the byte-order mark, if there is one.
    fn mark(&self) -> usize {
        self.text.len() - self.text.trim_start_matches('\u{feff}').len()
    }

    /// How many characters begin before a byte.
    fn before(&self, byte: usize) -> usize {
        let stride = byte / STRIDE;
        let rest = self.text.as_bytes().get(stride * STRIDE..byte).unwrap_or_default();
        self.counts.get(stride).copied().unwrap_or(0) + characters(rest)
    }
}

/// How many characters begin in some bytes of a text.
fn characters(bytes: &[u8]) -> usize {
    bytes.iter().filter(|&&byte| byte & 0b1100_0000 != 0b1000_0000).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let text = "\u{feff}a\té☂b\r\n\r\nnext";
        let lines = Lines::new(text);
        for (sought, line, column) in
            [("a", 1, 1), ("é", 1, 3), ("b", 1, 5), ("\r\n\r", 1, 6), ("next", 3, 1), ("t", 3, 4)]
        {
            let byte = text.find(sought).unwrap();
            assert_eq!(lines.position(byte), Position { line, column }, "{sought:?}");
        }
        assert_eq!(lines.position(0), Position { line: 1, column: 1 });
        assert_eq!(lines.position(999), Position { line: 3, column: 5 });
        let first = lines.bytes(0, 0);
        assert_eq!(&text[first.start..first.end], "a\té☂b");
        assert_eq!(Lines::new("").position(5), Position { line: 1, column: 1 });
    }

    #[test]
    fn columns_of_a_very_long_line_are_counted_over_its_strides() {
        let text = "é".repeat(5000);
        let lines = Lines::new(&text);
        for character in [0, 511, 512, 513, 4999] {
            let found = lines.position(character * 2);
            assert_eq!(found, Position { line: 1, column: character + 1 });
        }
    }

    #[test]
    fn any_place_is_brought_into_the_text() {
        let lines = Lines::new("é☂");
        for (place, clamped) in [((1, 3), (0, 5)), ((9, 12), (5, 5)), ((4, 2), (2, 5))] {
            let place = Place { start: place.0, end: place.1 };
            assert_eq!(lines.clamp(&place), Place { start: clamped.0, end: clamped.1 });
        }
    }
}
