//! Keeps what is wrong with the file while its values are read, and goes on after each fault.

use crate::diagnostic::{Diagnostic, Place, Placed, Severity};

use super::names::Names;
use super::nearest::{nearest, one_of};
use super::old_names::new_word;
use super::raw::Raw;

/// What has been found so far.
#[derive(Default)]
pub(super) struct Reader {
    /// Everything that is wrong with the file.
    pub(super) diagnostics: Vec<Diagnostic>,
    /// The names that it gives and those that it speaks of.
    pub(super) names: Names,
    /// Codes whose findings only follow from what could not be read, each from a byte on.
    pub(super) consequences: Vec<(&'static str, usize)>,
    errors: usize,
    /// What was asked for so far.
    #[cfg(test)]
    pub(super) known: super::known::Known,
}

/// A known way to write something: its word and an example of it.
pub(super) type Form = (&'static str, &'static str);

impl Reader {
    /// Keeps a diagnostic.
    pub(super) fn report(&mut self, diagnostic: Diagnostic) {
        if diagnostic.severity == Severity::Error {
            self.errors += 1;
        }
        self.diagnostics.push(diagnostic);
    }

    /// Keeps an error of one sentence.
    pub(super) fn error(&mut self, code: &'static str, at: Place, message: impl Into<String>) {
        self.report(Diagnostic::error(code, at, message));
    }

    /// From this byte on, findings of this code only follow from what could not be read.
    pub(super) fn consequence(&mut self, code: &'static str, from: usize) {
        self.consequences.push((code, from));
    }

    /// How many errors there are so far. A value whose reading added some is not to be used.
    pub(super) fn errors(&self) -> usize {
        self.errors
    }

    /// Reports that something else is expected, and has nothing to give.
    pub(super) fn shape<'a, T>(&mut self, raw: Raw<'a>, expected: &str) -> Option<T> {
        let message = format!("Here stands {}, but {expected} is expected.", seen(raw));
        let label = format!("not {}", expected.trim_end_matches(','));
        self.report(Diagnostic::error("wrong-shape", raw.place(), message).label(label));
        None
    }

    /// Reports a word that is none of the known forms, with the nearest.
    pub(super) fn unknown_word(&mut self, what: &str, word: &Placed<&str>, known: &[Form]) {
        let is_known = |new: &&str| known.iter().any(|(word, _)| word == new);
        if let Some(new) = new_word(word.value).filter(is_known) {
            let message = format!("`{}` is called `{new}`.", word.value);
            let fault = Diagnostic::error("unknown-word", word.at.clone(), message);
            let fault = fault.label("an old name");
            self.report(fault.help_edit(format!("Write `{new}`."), word.at.clone(), new));
            return;
        }
        let message = format!("`{}` is no {what}.", word.value);
        let mut diagnostic =
            Diagnostic::error("unknown-word", word.at.clone(), message).label("not known");
        if let Some(near) = nearest(word.value, known.iter().map(|&(word, _)| word)) {
            diagnostic = diagnostic.help_edit(format!("Write `{near}`."), word.at.clone(), near);
        } else {
            let forms: Vec<&str> = known.iter().map(|&(_, example)| example).collect();
            diagnostic = diagnostic.help(format!("A {what} is written {}.", one_of(&forms)));
        }
        self.report(diagnostic);
    }

    /// The word of a value and what follows it; reports a value that has none.
    pub(super) fn word<'a>(
        &mut self,
        raw: Raw<'a>,
        what: &str,
        known: &[Form],
    ) -> Option<(Placed<&'a str>, Raw<'a>)> {
        let word = raw.word();
        #[cfg(test)]
        self.known.word(what, word.as_ref().map(|(word, _)| word.value), known);
        if word.is_none() {
            let forms: Vec<&str> = known.iter().map(|&(_, example)| example).collect();
            return self.shape(raw, &format!("a {what} ({})", one_of(&forms)));
        }
        word
    }

    /// One of a few plain words.
    pub(super) fn choice<'a, T: Copy>(
        &mut self,
        raw: Raw<'a>,
        what: &str,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        let forms: Vec<Form> = choices.iter().map(|&(word, _)| (word, word)).collect();
        let (word, rest) = self.word(raw, what, &forms)?;
        let Some(&(_, choice)) = choices.iter().find(|(known, _)| *known == word.value) else {
            self.unknown_word(what, &word, &forms);
            return None;
        };
        self.alone(&word, rest).then_some(choice)
    }

    /// Whether a word stands alone, as it must.
    pub(super) fn alone<'a>(&mut self, word: &Placed<&str>, rest: Raw<'a>) -> bool {
        if !rest.is_blank() {
            let message = format!("`{}` stands alone, without brackets.", word.value);
            let diagnostic = Diagnostic::error("wrong-shape", rest.place(), message)
                .label("too much")
                .help_edit("Leave the brackets out.", rest.place(), "");
            self.report(diagnostic);
        }
        rest.is_blank()
    }

    /// The values in brackets after a word, as many as `counts` allows; `example` shows how the
    /// whole is written.
    pub(super) fn arguments<'a>(
        &mut self,
        word: &Placed<&str>,
        rest: Raw<'a>,
        counts: std::ops::RangeInclusive<usize>,
        example: &str,
    ) -> Option<Vec<Raw<'a>>> {
        let arguments = rest.arguments().filter(|given| counts.contains(&given.len()));
        if arguments.is_none() {
            let at = Place { start: word.at.start, end: rest.place().end.max(word.at.end) };
            let message = format!("`{}` is written {example}.", word.value);
            self.report(Diagnostic::error("wrong-shape", at, message).label("not so"));
        }
        arguments
    }

    /// The value in brackets after a word.
    pub(super) fn argument<'a>(
        &mut self,
        word: &Placed<&str>,
        rest: Raw<'a>,
        example: &str,
    ) -> Option<Raw<'a>> {
        self.arguments(word, rest, 1..=1, example)?.pop()
    }

    /// The items of a list; reports a value that is none.
    pub(super) fn items<'a>(&mut self, raw: Raw<'a>) -> Vec<Raw<'a>> {
        raw.items().or_else(|| self.shape(raw, "a list in square brackets")).unwrap_or_default()
    }

    /// A list; keeps every item that it can read.
    pub(super) fn list<'a, T>(
        &mut self,
        raw: Raw<'a>,
        read: impl Fn(&mut Reader, Raw<'a>) -> Option<T>,
    ) -> Vec<T> {
        self.items(raw).into_iter().filter_map(|item| read(self, item)).collect()
    }

    /// The same, of at most 100 items.
    pub(super) fn short_list<'a, T>(
        &mut self,
        raw: Raw<'a>,
        what: &str,
        read: impl Fn(&mut Reader, Raw<'a>) -> Option<T>,
    ) -> Vec<T> {
        const MOST: usize = 100;
        let number = raw.items().map_or(0, |items| items.len());
        if number > MOST {
            let message = format!("There are at most {MOST} {what}, and here are {number}.");
            self.error("out-of-range", raw.place(), message);
            return Vec::new();
        }
        self.list(raw, read)
    }

    /// The entries of a map; reports a value that is none.
    pub(super) fn entries<'a>(&mut self, raw: Raw<'a>) -> Vec<(Raw<'a>, Raw<'a>)> {
        raw.entries()
            .or_else(|| self.shape(raw, "a map in braces, such as { \"name\": … },"))
            .unwrap_or_default()
    }
}

/// What a value looks like, in words.
fn seen(raw: Raw<'_>) -> String {
    match raw.text.chars().next() {
        Some('[') => "a list".to_owned(),
        Some('{') => "a map".to_owned(),
        Some('(') => "something in brackets".to_owned(),
        Some('"') => "a text".to_owned(),
        Some('\'') => "a character".to_owned(),
        Some('0'..='9' | '-' | '+' | '.') => "a number".to_owned(),
        _ => match raw.word() {
            Some((word, _)) => format!("`{}`", word.value),
            None => "something else".to_owned(),
        },
    }
}
