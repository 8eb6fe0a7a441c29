//! A fault of written throws for a terminal, the throws shown with a mark below.
//!
//! For patterns that stand alone, on a command line; in a routine file the same faults are
//! diagnostics with a place in the file.

use unicode_width::UnicodeWidthChar;

use crate::notation::{Fault, Severity};

use super::table::paragraph;

/// Spaces before the throws.
const INDENT: usize = 4;

/// A fault with the throws that it is in, if there are any, and its ways out.
pub(super) fn fault(throws: &str, fault: &Fault, width: u16) -> String {
    let kind = if fault.severity == Severity::Error { "Error" } else { "Question" };
    let mut text = paragraph(width, 0, &format!("{kind}: {}", fault.message));
    if !throws.is_empty() {
        text += &marked(throws, fault.at.clone(), usize::from(width).max(2 * INDENT));
    }
    for (help, _) in &fault.helps {
        text += &paragraph(width, 2, &format!("Fix: {help}"));
    }
    text + &format!("throwbook explain {}\n", fault.code)
}

/// The throws in one line, cut to the width around the marked characters.
fn marked(throws: &str, at: std::ops::Range<usize>, width: usize) -> String {
    // A control character would move the marks, or worse.
    let safe = |character: char| if character.is_control() { '\u{fffd}' } else { character };
    let columns = |characters: &[char]| -> usize {
        characters.iter().map(|character| character.width().unwrap_or(1)).sum()
    };
    let characters: Vec<char> = throws.chars().map(safe).collect();
    // Room for a mark of what is left out at either end; no character is wider than two columns.
    let room = width - INDENT - 2;
    let fits = columns(&characters) <= room;
    let most = if fits { characters.len() } else { (room / 2).max(1) };
    let from = if at.end <= most { 0 } else { at.start.saturating_sub(most / 3) };
    let to = characters.len().min(from + most);
    let left_out = |some: bool| if some { "…" } else { "" };
    let before = columns(characters.get(from..at.start).unwrap_or_default());
    let marks = columns(characters.get(at.start..at.end.min(to)).unwrap_or_default()).max(1);
    let shown: String = characters.get(from..to).unwrap_or_default().iter().collect();
    let indent = " ".repeat(INDENT);
    let (cut, more) = (left_out(from > 0), left_out(to < characters.len()));
    let space = " ".repeat(before + usize::from(from > 0));
    format!("{indent}{cut}{shown}{more}\n{indent}{space}{}\n", "━".repeat(marks))
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;
    use crate::patterns::Pattern;

    fn told(throws: &str) -> String {
        let faults = match Pattern::read(throws) {
            Ok((_, questions)) => questions,
            Err(faults) => faults,
        };
        faults.iter().map(|one| fault(throws, one, 80)).collect()
    }

    #[test]
    fn a_fault_stands_under_its_throw_with_its_ways_out() {
        insta::assert_snapshot!(told("432"), @r"
        Error: The 4 (throw 1), the 3 (throw 2) and the 2 (throw 3) all land in the
        right hand on beat 5, where that hand throws only one prop.
            432
              ━
          Fix: Write 342, 423, 333 or 522 instead.
        throwbook explain landing-clash
        ");
    }

    #[test]
    fn a_question_is_told_as_one() {
        insta::assert_snapshot!(told("[4x2]"), @r"
        Question: Outside a pair this x is the throw 33; was a crossing throw of a pair
        meant?
            [4x2]
              ━
          Fix: Write crossing throws in a pair, such as (4x,4x).
          Fix: To keep the throw 33 without this question, write a space before it.
        throwbook explain x-outside-pair
        ");
    }

    #[test]
    fn long_throws_are_cut_around_the_fault() {
        let long = format!("{}B{}", "531".repeat(100), "531".repeat(100));
        insta::assert_snapshot!(told(&long), @r"
        Error: Throws above 9 are written with small letters, so B is not a throw; b is
        the throw 11.
            …531531531531B531531531531531531531531…
                         ━
          Fix: Write b.
        throwbook explain capital-letter
        ");
    }

    #[test]
    fn no_line_is_wider_than_the_terminal_and_no_control_character_is_printed() {
        for throws in ["\u{1b}[31m", "手手手手3", "", "é", "54", "(4,2"] {
            for throws in [throws.to_owned(), throws.repeat(40), "3".repeat(90) + throws] {
                let told = told(&throws);
                assert!(told.lines().all(|line| line.width() <= 80), "{told}");
                assert!(!told.contains('\u{1b}'), "{told}");
            }
        }
    }
}
