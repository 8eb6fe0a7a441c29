//! Small words that keep messages grammatical where they are written.

/// Text as a sentence: a capital in front, a full stop at the end.
#[must_use]
pub fn sentence(text: &str) -> String {
    let mut characters = text.chars();
    let Some(first) = characters.next() else { return String::new() };
    let mut sentence: String = first.to_uppercase().chain(characters).collect();
    if !sentence.ends_with(['.', '?', '!']) {
        sentence.push('.');
    }
    sentence
}

/// A number and its noun: `1 throw`, `3 throws`.
#[must_use]
pub fn counted(number: impl TryInto<u64> + std::fmt::Display + Copy, noun: &str) -> String {
    counted_as(number, noun, &format!("{noun}s"))
}

/// A number and its noun, whose plural is no plain s: `1 catch`, `3 catches`.
#[must_use]
pub fn counted_as(
    number: impl TryInto<u64> + std::fmt::Display + Copy,
    one: &str,
    many: &str,
) -> String {
    let single = number.try_into().is_ok_and(|number| number == 1);
    format!("{number} {}", if single { one } else { many })
}

/// Choices in words: `a`, `a or b`, `a, b or c`.
#[must_use]
pub fn either(choices: &[String]) -> String {
    joined(choices, "or")
}

/// Things in words: `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn all_of(things: &[String]) -> String {
    joined(things, "and")
}

/// The first few of many things, the rest counted: `a`, `b`, `195 more`.
#[must_use]
pub fn first_few(mut things: Vec<String>) -> Vec<String> {
    const FEW: usize = 5;
    let rest = things.len().saturating_sub(FEW);
    things.truncate(FEW);
    things.extend((rest > 0).then(|| format!("{rest} more")));
    things
}

/// A text with every character visible that would move a terminal's cursor, start an escape of its own
/// or turn the direction of what stands around it: `\\u{202e}`.
#[must_use]
pub fn visible(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for character in text.chars() {
        match character.is_control() || turns(character) {
            true => shown.extend(character.escape_unicode()),
            false => shown.push(character),
        }
    }
    shown
}

/// Whether a character sets the direction of the text around it (Unicode Standard Annex #9, table of
/// explicit directional formatting characters).
#[must_use]
pub fn turns(character: char) -> bool {
    matches!(
        character,
        '\u{200e}' | '\u{200f}' | '\u{061c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
    )
}

fn joined(items: &[String], word: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} {word} {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_steer_a_terminal_is_made_visible() {
        assert_eq!(visible("act é 531.ron"), "act é 531.ron");
        assert_eq!(visible("a\u{1b}[2J\n"), "a\\u{1b}[2J\\u{a}");
        assert_eq!(visible("a\u{9b}2J"), "a\\u{9b}2J");
        assert_eq!(visible("nor.\u{202e}tca"), "nor.\\u{202e}tca");
    }

    #[test]
    fn nouns_and_lists_read_as_sentences() {
        assert_eq!(sentence("this 3 lands"), "This 3 lands.");
        assert_eq!(sentence("`51` joins?"), "`51` joins?");
        assert_eq!(sentence(""), "");
        assert_eq!(counted(1, "throw"), "1 throw");
        assert_eq!(counted(0, "beat"), "0 beats");
        let words: Vec<String> = ["a", "b", "c"].map(str::to_owned).into();
        assert_eq!(either(&words[..1]), "a");
        assert_eq!(either(&words[..2]), "a or b");
        assert_eq!(all_of(&words), "a, b and c");
        assert_eq!(either(&[]), "");
        let many = |number: usize| vec!["a".to_owned(); number];
        assert_eq!(first_few(many(5)), many(5));
        assert_eq!(all_of(&first_few(many(7))), "a, a, a, a, a and 2 more");
    }
}
