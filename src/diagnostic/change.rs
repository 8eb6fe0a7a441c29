//! Changes of a file: made, and shown by the lines that they touch.

use super::{Edit, lines};

/// Lines of a file that a change touches.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lines {
    /// The first of them, from 1.
    pub line: usize,
    /// As they are, without their ends.
    pub old: Vec<String>,
    /// As they would be.
    pub new: Vec<String>,
}

/// A text with changes made; `None` where they do not fit it.
#[must_use]
pub fn changed(text: &str, edits: &[Edit]) -> Option<String> {
    let mut edits: Vec<&Edit> = edits.iter().collect();
    edits.sort_by_key(|edit| (edit.at.start, edit.at.end));
    let mut changed = String::with_capacity(text.len());
    let mut done = 0;
    for edit in edits {
        changed.push_str(text.get(done..edit.at.start)?);
        changed.push_str(&edit.insert);
        done = edit.at.end.max(edit.at.start);
    }
    changed.push_str(text.get(done..)?);
    Some(changed)
}

/// The lines that changes touch, those that touch each other together; `None` where the changes do not
/// fit the text.
#[must_use]
pub fn lines_changed(text: &str, edits: &[Edit]) -> Option<Vec<Lines>> {
    changed(text, edits)?;
    let lines = lines::Lines::new(text);
    let mut edits: Vec<&Edit> = edits.iter().collect();
    edits.sort_by_key(|edit| (edit.at.start, edit.at.end));
    let mut groups: Vec<(usize, usize, Vec<Edit>)> = Vec::new();
    for edit in edits {
        let (first, last) = (lines.line_of(edit.at.start), lines.line_of(edit.at.end));
        match groups.last_mut() {
            Some((_, end, together)) if first <= *end => {
                *end = last.max(*end);
                together.push(edit.clone());
            }
            _ => groups.push((first, last, vec![edit.clone()])),
        }
    }
    let shown = groups.into_iter().map(|(first, last, edits)| {
        let at = lines.bytes(first, last);
        let within = edits.into_iter().map(|edit| {
            let start = edit.at.start.saturating_sub(at.start);
            let end = edit.at.end.saturating_sub(at.start);
            Edit { at: (start..end).into(), insert: edit.insert }
        });
        let old = text.get(at.start..at.end)?;
        let new = changed(old, &within.collect::<Vec<_>>())?;
        let list = |text: &str| text.lines().map(str::to_owned).collect();
        Some(Lines { line: first + 1, old: list(old), new: list(&new) })
    });
    shown.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_are_made_in_the_order_of_their_places() {
        let edit = |start: usize, end: usize, insert: &str| Edit {
            at: (start..end).into(),
            insert: insert.to_owned(),
        };
        let text = "a: 1, é: 2";
        assert_eq!(changed(text, &[edit(9, 11, "3"), edit(0, 1, "b")]), Some("b: 1, é:3".into()));
        assert_eq!(changed(text, &[edit(4, 4, "x"), edit(4, 4, "y")]), Some("a: 1xy, é: 2".into()));
        assert_eq!(changed(text, &[edit(0, 3, ""), edit(2, 4, "")]), None, "they overlap");
        assert_eq!(changed(text, &[edit(7, 8, "")]), None, "within a character");
        assert_eq!(changed(text, &[edit(0, 99, "")]), None, "beyond the end");
    }

    #[test]
    fn a_change_is_shown_by_the_lines_that_it_touches() {
        let edit = |start: usize, end: usize, insert: &str| Edit {
            at: (start..end).into(),
            insert: insert.to_owned(),
        };
        let text = "one\r\ntwo\nthree\nfour";
        let shown = |edits: &[Edit]| lines_changed(text, edits).unwrap();
        let lines = |line: usize, old: &[&str], new: &[&str]| Lines {
            line,
            old: old.iter().map(|&line| line.to_owned()).collect(),
            new: new.iter().map(|&line| line.to_owned()).collect(),
        };
        assert_eq!(
            shown(&[edit(15, 19, "4"), edit(0, 1, "O")]),
            [lines(1, &["one"], &["One"]), lines(4, &["four"], &["4"])]
        );
        assert_eq!(shown(&[edit(5, 9, "")]), [lines(2, &["two", "three"], &["three"])]);
        assert_eq!(shown(&[edit(5, 8, "2\n2.5")]), [lines(2, &["two"], &["2", "2.5"])]);
        assert_eq!(shown(&[edit(5, 6, "T"), edit(7, 8, "O")]), [lines(2, &["two"], &["TwO"])]);
        assert_eq!(lines_changed(text, &[edit(0, 99, "")]), None);
    }
}
