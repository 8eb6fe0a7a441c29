//! What codes mean, for people: one of them in full, or all of them in a list.

use unicode_width::UnicodeWidthStr;

use crate::diagnostic::{Explanation, Form};
use crate::explain::{Explained, topics};

use super::reference_text;
use super::table::{NARROWEST, labelled, shortened};

/// Columns before the lines of an example; a mark stands in them.
const INDENT: usize = 4;

/// One code: what is looked for, why, and both examples with what lies beside them.
#[must_use]
pub fn text(explained: &Explained, width: u16) -> String {
    let Explained { topic, explanation, also } = explained;
    let room = usize::from(width.max(NARROWEST)) - INDENT;
    let mut text = format!("{} · {}\n\n", explanation.code, topic.title());
    let said = [("what", explanation.what), ("why", explanation.why), ("also", &also.join(", "))];
    for (label, words) in said {
        text += &labelled(width, 4, label, words);
    }
    let times = match explanation.times {
        1 => String::new(),
        times => format!(", this {times} times over"),
    };
    text += &format!("\nRAISES IT · {}{times}\n", form(explanation));
    text += &example(explanation.raises, explanation.mended, room);
    text += &format!("\nMENDED{}\n", mended(explanation));
    text += &example(explanation.mended, explanation.raises, room);
    for beside in explanation.beside {
        text += &format!("\nBESIDE IT · {}: {}\n", beside.file, beside.what);
        text += &beside.text.map_or_else(String::new, |held| example(held, held, room));
    }
    text
}

/// Every code with what is looked for, one line each, under the headings of the topics; then the
/// records of the routine file.
#[must_use]
pub fn list(width: u16) -> String {
    let topics = topics();
    let codes = || topics.values().flatten().map(|explanation| explanation.code.width());
    let longest = codes().max().unwrap_or(0);
    let room = usize::from(width.max(NARROWEST)).saturating_sub(longest + 2).max(1);
    let count = codes().count();
    let mut text = format!("{count} codes · say one of them: throwbook explain CODE\n");
    for (topic, explanations) in topics {
        text += &format!("\n{}\n", topic.title().to_uppercase());
        for Explanation { code, what, .. } in explanations {
            text += &format!("{code:longest$}  {}\n", shortened(what, room));
        }
    }
    text + "\n" + &reference_text::list(width)
}

/// What an example is.
fn form(explanation: &Explanation) -> &'static str {
    match explanation.form {
        Form::Routine => "a routine file",
        Form::Latin1 => "a routine file, saved as Latin-1",
        Form::Record => "the record of what was handed out, act.issued.ron",
        Form::Pattern => "a pattern",
        Form::Transition => "behind `throwbook transition`",
    }
}

/// What is said of the mended example, where its text does not say it.
fn mended(explanation: &Explanation) -> &'static str {
    if explanation.form == Form::Latin1 { " · saved as UTF-8" } else { "" }
}

/// An example; the lines that the other one does not have are marked.
pub(super) fn example(text: &str, other: &str, room: usize) -> String {
    if text.is_empty() {
        return "    (nothing at all)\n".to_owned();
    }
    let mut told = String::new();
    for line in text.lines() {
        let mark = if other.lines().any(|same| same == line) { "    " } else { "  > " };
        for part in broken(line, room) {
            told += &format!("{mark}{part}\n");
        }
    }
    told
}

/// A line in parts that fit into so many columns, broken where RON allows it.
fn broken(line: &str, room: usize) -> Vec<String> {
    let indent = " ".repeat(line.len() - line.trim_start().len() + 4);
    let mut parts = Vec::new();
    let mut rest = line.to_owned();
    while rest.width() > room {
        let Some(at) = break_in(&rest, room) else { break };
        let further = format!("{indent}{}", rest[at..].trim_start());
        if further.width() >= rest.width() {
            break;
        }
        rest.truncate(at);
        parts.push(std::mem::replace(&mut rest, further));
    }
    parts.push(rest);
    parts
}

/// The space at which a line is best broken so that its beginning fits: one behind a comma, in as
/// few brackets as possible, as late as possible; never one in a text.
fn break_in(line: &str, room: usize) -> Option<usize> {
    let begins = line.len() - line.trim_start().len();
    let (mut in_text, mut brackets) = (false, 0_u32);
    let mut best: Option<((bool, u32), usize)> = None;
    for (byte, character) in line.char_indices() {
        match character {
            '"' => in_text = !in_text,
            '(' | '[' | '{' if !in_text => brackets += 1,
            ')' | ']' | '}' if !in_text => brackets = brackets.saturating_sub(1),
            ' ' if !in_text && byte > begins && line[..byte].width() <= room => {
                let costs = (!line[..byte].ends_with(','), brackets);
                if best.is_none_or(|(least, _)| costs <= least) {
                    best = Some((costs, byte));
                }
            }
            _ => {}
        }
    }
    best.map(|(_, byte)| byte)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::explain::code;

    #[test]
    fn a_code_is_told_with_what_changes_between_its_examples() {
        for named in ["odd-value-in-pair", "track-missing", "issues-out-of-order", "too-large"] {
            insta::assert_snapshot!(named, text(&code(named).unwrap(), 80));
        }
    }

    #[test]
    fn every_code_stands_in_the_list_on_one_line() {
        let list = list(80);
        let all = topics();
        for explanation in all.values().flatten() {
            let lines =
                list.lines().filter(|line| line.split(' ').next() == Some(explanation.code));
            assert_eq!(lines.count(), 1, "{}", explanation.code);
        }
        assert!(list.lines().all(|line| line.width() <= 80), "{list}");
    }

    #[test]
    fn no_line_is_wider_than_80_columns_and_an_example_loses_nothing_but_line_ends() {
        for explanation in topics().values().flatten() {
            let told = text(&code(explanation.code).unwrap(), 80);
            let widest = told.lines().max_by_key(|line| line.width()).unwrap_or_default();
            assert!(widest.width() <= 80, "{}: {widest}", explanation.code);
            for example in [explanation.raises, explanation.mended] {
                let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
                let parts: Vec<String> =
                    example.lines().flat_map(|line| broken(line, 76)).collect();
                assert_eq!(words(&parts.join("\n")), words(example));
                // A text of several lines is begun in one of them and ended in another.
                let is_odd = |line: &&str| line.matches('"').count() % 2 == 1;
                let of_texts = example.lines().filter(is_odd).count();
                let odd = parts.iter().filter(|part| is_odd(&part.as_str())).count();
                assert_eq!(odd, of_texts, "{}", explanation.code);
            }
        }
    }
}
