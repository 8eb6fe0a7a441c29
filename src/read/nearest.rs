//! The known name that a mistyped one is nearest to.

use crate::diagnostic::words::either;

/// The nearest of the names, if one is near enough to be offered: the same but for capitals, or
/// about a third of its letters away. Of equally near ones the first.
pub(crate) fn nearest<'n>(word: &str, names: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    let small = word.to_lowercase();
    let mut best: Option<(usize, &str)> = None;
    // Long texts are no slips of a name, and comparing them takes time.
    if word.len() > 200 {
        return None;
    }
    for name in names {
        let far = match strsim::damerau_levenshtein(&small, &name.to_lowercase()) {
            0 if word == name => continue,
            far => far,
        };
        let allowed = name.chars().count().max(word.chars().count()).div_ceil(3);
        if far <= allowed && best.is_none_or(|(least, _)| far < least) {
            best = Some((far, name));
        }
    }
    best.map(|(_, name)| name)
}

/// `a`, `b` or `c`, each as code.
pub(super) fn one_of(words: &[&str]) -> String {
    if words.is_empty() {
        return "nothing".to_owned();
    }
    either(&words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_name_and_another_word_finds_none() {
        let names = ["pattern", "place", "lasts", "lead"];
        for (word, found) in [
            ("patern", Some("pattern")),
            ("Lasts", Some("lasts")),
            ("last", Some("lasts")),
            ("colour", None),
            ("", None),
            ("lead", None),
        ] {
            assert_eq!(nearest(word, names), found, "{word}");
        }
    }
}
