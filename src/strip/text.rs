//! Text on paper: what may stand in a drawing, how wide it runs, and how it is shortened.
//!
//! Widths are estimates for a sans serif of ordinary width, on the wide side: the reader's own
//! font decides in the end. Sizes in millimetres.

use unicode_width::UnicodeWidthChar;

use super::millimetres::Mm;

/// 8 pt, the smallest that is printed.
pub(crate) const SMALL: Mm = Mm(2.83);
/// 10 pt: names of sections.
pub(crate) const NAME: Mm = Mm(3.53);
/// 17 pt: the routine's title.
pub(crate) const TITLE: Mm = Mm(6.0);

/// The mark of what was left out.
const CUT: char = '…';

/// A user's text as it may stand in a drawing: line ends and tabs become spaces, control
/// characters and what XML cannot hold are dropped.
pub(crate) fn clean(text: &str) -> String {
    text.chars()
        .map(|character| if matches!(character, '\n' | '\r' | '\t') { ' ' } else { character })
        .filter(|&character| {
            !character.is_control() && !matches!(character, '\u{FEFF}' | '\u{FFFE}' | '\u{FFFF}')
        })
        .collect()
}

/// How wide a text runs.
pub(crate) fn width(text: &str, size: Mm, bold: bool) -> Mm {
    let ems: f64 = text.chars().map(ems).sum();
    size * (ems * if bold { 1.07 } else { 1.0 })
}

/// The text itself where it fits into `room`, else its beginning and `…`; `None` where not even
/// two letters fit.
pub(crate) fn shorten(text: &str, size: Mm, bold: bool, room: Mm) -> Option<String> {
    if width(text, size, bold) <= room {
        return Some(text.to_owned());
    }
    let mut left = room - width(&CUT.to_string(), size, bold);
    let mut short = String::new();
    for character in text.chars() {
        left = left - width(character.encode_utf8(&mut [0; 4]), size, bold);
        if left < Mm(0.0) {
            break;
        }
        short.push(character);
    }
    let kept = short.trim_end();
    (kept.chars().count() >= 2).then(|| format!("{kept}{CUT}"))
}

/// The text in lines no wider than `room`, broken between words; a word that is wider than that is
/// broken within itself. An empty text has no line.
pub(crate) fn wrap(text: &str, size: Mm, bold: bool, room: Mm) -> Vec<String> {
    wrap_by(text, |line| width(line, size, bold) <= room)
}

/// The same where `fits` says whether a line is narrow enough.
pub(crate) fn wrap_by(text: &str, fits: impl Fn(&str) -> bool) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        if let Some(line) = lines.last_mut() {
            let longer = format!("{line} {word}");
            if fits(&longer) {
                *line = longer;
                continue;
            }
        }
        let mut line = String::new();
        for character in word.chars() {
            line.push(character);
            if !fits(&line) && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(character);
            }
        }
        lines.push(line);
    }
    lines
}

/// The width of a character in parts of the font's size.
fn ems(character: char) -> f64 {
    match character {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' | '·' => 0.3,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '-' | '"' | '/' | '‹' | '›' => 0.4,
        'm' | 'w' | 'M' | 'W' | '@' | '%' | '…' | '→' => 0.92,
        'a'..='z' => 0.58,
        'A'..='Z' => 0.7,
        '0'..='9' => 0.63,
        other => match other.width() {
            Some(2) => 1.05,
            Some(0) | None => 0.0,
            Some(_) => 0.65,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_characters_never_reach_a_drawing() {
        assert_eq!(clean("a\u{0}b\u{1b}[31m\u{7f}\u{85}\u{ffff}\nc"), "ab[31m c");
        assert_eq!(clean("<\"&'>"), "<\"&'>");
    }

    #[test]
    fn a_text_is_broken_between_words_and_a_long_word_within_itself() {
        let lines = |text: &str| wrap(text, SMALL, false, Mm(12.0));
        assert_eq!(lines("a tide and an ebb"), ["a tide", "and an", "ebb"]);
        let lines = lines("neverendingnoise and");
        assert_eq!(lines.concat(), "neverendingnoise and");
        assert!(lines.iter().all(|line| width(line, SMALL, false) <= Mm(12.0)), "{lines:?}");
        assert!(wrap(" ", SMALL, false, Mm(12.0)).is_empty());
        assert_eq!(wrap("mm", SMALL, false, Mm(0.1)), ["m", "m"]);
    }

    #[test]
    fn a_text_that_fits_is_left_alone_and_a_long_one_keeps_its_beginning() {
        assert_eq!(shorten("ebb", SMALL, false, Mm(20.0)).as_deref(), Some("ebb"));
        let short = shorten("a very long name indeed", SMALL, false, Mm(12.0)).unwrap();
        assert!(short.starts_with("a ve") && short.ends_with('…'), "{short}");
        assert!(width(&short, SMALL, false) <= Mm(12.0));
        assert_eq!(shorten("a very long name", SMALL, false, Mm(3.0)), None);
    }
}
