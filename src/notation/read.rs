//! Reads written throws, character by character, and goes on after a fault so that all are found.
//!
//! Places are counted in characters of the text as it came, spaces included. What a fault leaves
//! unclear is read as what the juggler most likely meant, so that one slip raises one fault.
//! Whether the throws can repeat for ever is not asked here: see [`crate::patterns::Pattern`].

use std::ops::Range;

use super::{Fault, Sequence, Severity, Step, Throw, WrittenThrow};

/// The most characters that are read at all.
pub const LONGEST_TEXT: usize = 200_000;

/// After so many faults the rest of a text is not worth reporting on.
pub(super) const MOST_FAULTS: usize = 100;

/// A question that comes up at every other throw need not be asked more often.
const MOST_QUESTIONS: usize = 5;

impl Sequence {
    /// Reads throws that may mix the two notations, as a written transition may. An empty text is
    /// an empty sequence.
    ///
    /// # Errors
    /// Every fault of the text, warnings among them; `Ok` carries the warnings.
    pub fn read(text: &str) -> Result<(Sequence, Vec<Fault>), Vec<Fault>> {
        if text.len() > LONGEST_TEXT && text.chars().nth(LONGEST_TEXT).is_some() {
            let message = format!(
                "This text is longer than {LONGEST_TEXT} characters, which is more than any \
                 pattern needs; nothing of it was read."
            );
            return Err(vec![Fault::error("pattern-too-long", 0..LONGEST_TEXT, message)]);
        }
        let mut reader = Reader::new(text);
        reader.read_steps();
        let Reader { steps, star, faults, .. } = reader;
        if faults.iter().any(|fault| fault.severity == Severity::Error) {
            return Err(faults);
        }
        let steps = if star.is_some() { with_hands_exchanged(steps) } else { steps };
        Ok((Sequence { steps, starred: star.is_some() }, faults))
    }
}

/// The written half and then the same with the hands exchanged, which goes on counting in the same
/// written order.
fn with_hands_exchanged(mut steps: Vec<Step>) -> Vec<Step> {
    let written = steps.iter().map(|step| step.throws().count()).sum::<usize>();
    let written = u32::try_from(written)
        .unwrap_or_else(|_| unreachable!("a text has at most {LONGEST_TEXT} characters"));
    let second: Vec<Step> = steps
        .iter()
        .map(|step| {
            let mut step = step.mirrored();
            for throw in step.throws_mut() {
                throw.number += written;
            }
            step
        })
        .collect();
    steps.extend(second);
    steps
}

/// Where a throw stands, which decides what an `x` means and which values are possible.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Within {
    /// Where the hands alternate.
    Alternating,
    /// In a synchronous pair.
    Pair,
}

/// Half-read text.
pub(super) struct Reader {
    pub(super) text: Vec<char>,
    pub(super) next: usize,
    number: u32,
    pub(super) steps: Vec<Step>,
    star: Option<usize>,
    pub(super) faults: Vec<Fault>,
    questions: usize,
}

impl Reader {
    fn new(text: &str) -> Reader {
        Reader {
            text: text.chars().collect(),
            next: 0,
            number: 0,
            steps: Vec::new(),
            star: None,
            faults: Vec::new(),
            questions: 0,
        }
    }

    pub(super) fn say(&mut self, fault: Fault) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(fault);
        } else if self.faults.len() == MOST_FAULTS {
            let message = format!("After {MOST_FAULTS} faults the rest of the text is not listed.");
            let end = self.text.len();
            self.faults.push(Fault::error("more-faults", fault.at.start..end, message));
        }
    }

    /// The next character that is no space, without taking it.
    pub(super) fn peek(&mut self) -> Option<char> {
        while matches!(self.text.get(self.next), Some(' ' | '\t' | '\n' | '\r')) {
            self.next += 1;
        }
        self.text.get(self.next).copied()
    }

    /// The characters as written.
    pub(super) fn written(&self, range: Range<usize>) -> String {
        self.text.get(range).unwrap_or_default().iter().collect()
    }

    fn read_steps(&mut self) {
        while let Some(character) = self.peek() {
            let here = self.next;
            if self.star.is_some() {
                self.say_star_not_last();
                self.star = None;
            }
            match character {
                '(' => self.read_pair(),
                '[' => {
                    let throws = self.read_multiplex(Within::Alternating);
                    self.push_alternating(throws);
                }
                '*' => {
                    self.next += 1;
                    self.star = Some(here);
                }
                ')' => self.say_unopened_parenthesis(),
                ']' => self.say_unopened_bracket(),
                ',' => {
                    self.next += 1;
                    let message = "A comma stands only inside a pair, between the left hand's \
                                   throw and the right hand's.";
                    self.say(
                        Fault::error("stray-comma", here..here + 1, message)
                            .help_write("Leave the comma out.", ""),
                    );
                }
                _ => {
                    let throw = self.read_throw(Within::Alternating);
                    self.push_alternating(throw.into_iter().collect());
                }
            }
        }
        if let Some(star) = self.star
            && (self.steps.is_empty()
                || self.steps.iter().any(|step| matches!(step, Step::Alternating(_))))
            && !self.has_error()
        {
            let message = "The star repeats pairs with the hands exchanged, so it can follow \
                           pairs only; where the hands alternate they exchange by themselves.";
            self.say(
                Fault::error("star-without-pairs", star..star + 1, message)
                    .help_write("Leave the star out.", ""),
            );
        }
    }

    fn has_error(&self) -> bool {
        self.faults.iter().any(|fault| fault.severity == Severity::Error)
    }

    fn push_alternating(&mut self, throws: Vec<WrittenThrow>) {
        if !throws.is_empty() {
            self.steps.push(Step::Alternating(throws));
        }
    }

    fn say_star_not_last(&mut self) {
        let Some(star) = self.star else { return };
        let message = "A star stands once, at the very end, and repeats all the pairs before it \
                       with the hands exchanged.";
        self.say(
            Fault::error("star-not-last", star..star + 1, message)
                .help_write("Leave this star out.", ""),
        );
    }

    pub(super) fn say_unopened_bracket(&mut self) {
        let here = self.next;
        self.next += 1;
        let message = "This square bracket closes a multiplex that was never opened.";
        self.say(
            Fault::error("unopened-bracket", here..here + 1, message)
                .help("Write [ before the multiplex's first throw, or leave this ] out."),
        );
    }

    fn say_unopened_parenthesis(&mut self) {
        let here = self.next;
        self.next += 1;
        let message = "This parenthesis closes a pair that was never opened.";
        self.say(
            Fault::error("unopened-parenthesis", here..here + 1, message)
                .help("Write ( before the pair's first throw, or leave this ) out."),
        );
    }

    /// Reads one throw, or says what stands in its place; takes at least one character.
    pub(super) fn read_throw(&mut self, within: Within) -> Option<WrittenThrow> {
        let start = self.next;
        let character = self.text.get(start).copied()?;
        let value = match character {
            'x' | 'X' if within == Within::Pair => {
                self.next += 1;
                let message = "In a pair an x says that a throw crosses, so it stands once and \
                               right after a value, as in 4x.";
                self.say(Fault::error("x-without-value", start..start + 1, message));
                return None;
            }
            '0'..='9' | 'a'..='z' => value_of(character)?,
            'A'..='Z' => {
                let small = character.to_ascii_lowercase();
                let value = value_of(small)?;
                let message = format!(
                    "Throws above 9 are written with small letters, so {character} is not a throw; \
                     {small} is the throw {value}."
                );
                self.say(
                    Fault::error("capital-letter", start..start + 1, message)
                        .help_write(format!("Write {small}."), small.to_string()),
                );
                value
            }
            _ => {
                self.say_unexpected();
                return None;
            }
        };
        self.next += 1;
        let throw = match within {
            Within::Alternating => {
                self.ask_whether_a_pair_was_meant(start, character);
                Throw::straight(value)
            }
            Within::Pair => self.read_crossing(start, value),
        };
        self.number += 1;
        Some(WrittenThrow { throw, number: self.number, at: start..self.end_of_throw(start) })
    }

    /// Where the throw that began at `start` ends: spaces that were looked past do not belong.
    pub(super) fn end_of_throw(&self, start: usize) -> usize {
        let mut end = self.next;
        while end > start + 1 && matches!(self.text.get(end - 1), Some(' ' | '\t' | '\n' | '\r')) {
            end -= 1;
        }
        end
    }

    fn ask_whether_a_pair_was_meant(&mut self, start: usize, character: char) {
        let Some(before) = start.checked_sub(1) else { return };
        if self.questions < MOST_QUESTIONS && character == 'x' && self.text[before].is_ascii_digit()
        {
            self.questions += 1;
            let message = "Outside a pair this x is the throw 33; was a crossing throw of a pair \
                           meant?";
            self.say(
                Fault::warning("x-outside-pair", start..start + 1, message)
                    .help("Write crossing throws in a pair, such as (4x,4x).")
                    .help("To keep the throw 33 without this question, write a space before it."),
            );
        }
    }

    /// Reads the `x` after a value in a pair, and judges the value.
    fn read_crossing(&mut self, start: usize, value: u8) -> Throw {
        let crossing = match self.peek() {
            Some('x') => true,
            Some('X') => {
                let here = self.next;
                let message = "A crossing throw is written with a small x.";
                self.say(
                    Fault::error("capital-letter", here..here + 1, message)
                        .help_write("Write x.", "x"),
                );
                true
            }
            _ => false,
        };
        self.next += usize::from(crossing);
        let throw = Throw { value, crossing };
        let at = start..self.end_of_throw(start);
        if value == 0 && crossing {
            let message = "A 0 is an empty hand, and an empty hand has nothing to send across.";
            self.say(Fault::error("empty-hand-crosses", at, message).help_write("Write 0.", "0"));
        } else if value % 2 == 1 {
            let message = format!(
                "In a pair every throw fills an even number of beats, so {throw} cannot stand here."
            );
            let mut fault = Fault::error("odd-value-in-pair", at, message);
            for value in [value - 1, value + 1] {
                if value <= super::HIGHEST_VALUE {
                    let even = Throw { value, crossing: crossing && value > 0 };
                    fault = fault.help_write(format!("Write {even}."), even.to_string());
                }
            }
            self.say(fault);
        }
        throw
    }

    /// Says that what stands here is no part of the notation; a row of such characters at once.
    fn say_unexpected(&mut self) {
        let start = self.next;
        while self.text.get(self.next).is_some_and(|&character| is_foreign(character)) {
            self.next += 1;
        }
        // A star is part of the notation, but not where a throw stands.
        self.next = self.next.max(start + 1);
        let at = start..self.next;
        let shown: String = self
            .written(at.clone())
            .chars()
            .take(12)
            .map(|character| if character.is_control() { '\u{fffd}' } else { character })
            .collect();
        let more = if at.len() > 12 { "…" } else { "" };
        let message = format!(
            "\u{201c}{shown}{more}\u{201d} writes no throw; throws are the digits 0 to 9 and the \
             small letters a to z."
        );
        self.say(Fault::error("unexpected-character", at, message));
    }
}

/// The value that a digit or small letter writes.
fn value_of(character: char) -> Option<u8> {
    character.to_digit(36).and_then(|value| u8::try_from(value).ok())
}

/// Whether a character is no part of the notation at all.
fn is_foreign(character: char) -> bool {
    !(character.is_ascii_alphanumeric()
        || matches!(character, '(' | ')' | '[' | ']' | ',' | '*' | ' ' | '\t' | '\n' | '\r'))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Sequence {
        Sequence::read(text).unwrap_or_else(|faults| panic!("{text}: {faults:?}")).0
    }

    /// Every fault: its code, its place, and what its helps would write.
    fn faults(text: &str) -> Vec<(&'static str, Range<usize>, Vec<String>)> {
        let found = match Sequence::read(text) {
            Ok((_, warnings)) => warnings,
            Err(faults) => faults,
        };
        let helps = |fault: &Fault| fault.helps.iter().filter_map(|help| help.1.clone()).collect();
        found.iter().map(|fault| (fault.code, fault.at.clone(), helps(fault))).collect()
    }

    #[test]
    fn throws_are_written_back_as_they_are_read() {
        for (text, written) in [
            ("", ""),
            ("5 3 1", "531"),
            ("0az", "0az"),
            ("[54]24", "[54]24"),
            ("[5]", "5"),
            ("[ 5 4 ] 2", "[54]2"),
            ("[0]3", "03"),
            ("(4,2x)(2x,4)", "(4,2x)(2x,4)"),
            (" ( 4 , 2 x ) * ", "(4,2x)*"),
            ("([44],[2])", "([44],2)"),
            ("([4x2],2)", "([4x2],2)"),
            ("3\t4\r\n2", "342"),
            ("34(4,4)3", "34(4,4)3"),
            ("x3", "x3"),
        ] {
            assert_eq!(read(text).to_string(), written, "{text}");
            assert_eq!(faults(text), [], "{text}");
        }
    }

    #[test]
    fn each_throw_keeps_its_place_in_the_text() {
        let sequence = read(" 5[ 4 3](4, 2 x )");
        let places: Vec<_> = sequence.throws().map(|throw| throw.at.clone()).collect();
        assert_eq!(places, [1..2, 4..5, 6..7, 9..10, 12..15]);
    }

    #[test]
    fn the_second_half_of_a_starred_pattern_goes_on_counting_as_written() {
        let sequence = read("([46x],2)(8,0)*");
        let numbers = |hand: &[WrittenThrow]| -> Vec<(String, u32, usize)> {
            hand.iter()
                .map(|throw| (throw.throw.to_string(), throw.number, throw.at.start))
                .collect()
        };
        let Some(Step::Pair([left, right])) = sequence.steps.get(2) else {
            panic!("{sequence:?}");
        };
        assert_eq!(sequence.steps.len(), 4);
        assert_eq!(numbers(left), [("2".into(), 8, 7)]);
        assert_eq!(numbers(right), [("4".into(), 6, 2), ("6x".into(), 7, 3)]);
    }

    #[test]
    fn every_slip_is_named_at_its_place() {
        type Expected<'a> = (&'a str, &'static str, Range<usize>, &'a [&'a str]);
        let table: [Expected; 30] = [
            ("5B", "capital-letter", 1..2, &["b"]),
            ("(4X,2)", "capital-letter", 2..3, &["x"]),
            ("3é;3", "unexpected-character", 1..3, &[]),
            ("4x4", "x-outside-pair", 1..2, &[]),
            ("[4x]", "x-outside-pair", 2..3, &[]),
            ("[54", "unclosed-bracket", 0..1, &[]),
            ("54]", "unopened-bracket", 2..3, &[]),
            ("[]3", "empty-multiplex", 0..2, &["0"]),
            ("[50]", "empty-hand-in-multiplex", 2..3, &[""]),
            ("[[54]2]", "nested-bracket", 1..2, &[]),
            ("(4,2", "unclosed-parenthesis", 0..1, &[]),
            ("(4,2(4,2)", "unclosed-parenthesis", 0..1, &[]),
            ("4,2", "stray-comma", 1..2, &[""]),
            ("2)", "unopened-parenthesis", 1..2, &[]),
            ("((4,2))", "nested-parenthesis", 1..2, &[""]),
            ("(4 2)", "missing-comma", 0..5, &["(4,2)"]),
            ("([44]2)", "missing-comma", 0..7, &["([44],2)"]),
            ("(4x2)", "missing-comma", 0..5, &["(4x,2)"]),
            ("(4)", "missing-hand", 0..3, &["(4,0)"]),
            ("()", "missing-hand", 0..2, &[]),
            ("(4,)", "missing-hand", 0..4, &[]),
            ("(,4)", "missing-hand", 0..4, &[]),
            ("(4,44)", "missing-bracket", 3..5, &["[44]"]),
            ("(4,4,2)", "third-hand-in-pair", 4..5, &[]),
            ("(3x,2)", "odd-value-in-pair", 1..3, &["2x", "4x"]),
            ("(1x,z)", "odd-value-in-pair", 1..3, &["0", "2x"]),
            ("(0x,2)", "empty-hand-crosses", 1..3, &["0"]),
            ("(x,2)", "x-without-value", 1..2, &[]),
            ("(4,2)*(4,2)", "star-not-last", 5..6, &[""]),
            ("3*", "star-without-pairs", 1..2, &[""]),
        ];
        for (text, code, at, helps) in table {
            let found = faults(text);
            let helps = helps.iter().map(|&help| help.to_owned()).collect();
            assert_eq!(found.first(), Some(&(code, at, helps)), "{text}");
            assert!(found.len() == 1 || text == "(1x,z)", "{text}: {found:?}");
        }
    }

    #[test]
    fn all_slips_of_a_text_are_reported() {
        let codes: Vec<_> = faults("[50]3B(4,3)(4x").into_iter().map(|fault| fault.0).collect();
        assert_eq!(
            codes,
            [
                "empty-hand-in-multiplex",
                "capital-letter",
                "odd-value-in-pair",
                "unclosed-parenthesis",
                "missing-hand"
            ]
        );
    }

    #[test]
    fn a_text_that_is_far_too_long_is_refused_at_once() {
        let longest = "3".repeat(LONGEST_TEXT);
        assert_eq!(read(&longest).steps.len(), LONGEST_TEXT);
        for text in ["3".repeat(10_000_000), "é".repeat(LONGEST_TEXT + 1)] {
            let started = std::time::Instant::now();
            let codes: Vec<_> = faults(&text).into_iter().map(|fault| fault.0).collect();
            assert_eq!(codes, ["pattern-too-long"]);
            assert!(started.elapsed().as_millis() < 200, "{:?}", started.elapsed());
        }
    }

    #[test]
    fn many_faults_are_cut_short() {
        assert_eq!(faults(&"4x".repeat(5_000)).len(), MOST_QUESTIONS);
        for text in ["A", "(", "[", "(,", "]", "é1"] {
            let count = faults(&text.repeat(5_000)).len();
            assert!(count > 0 && count <= MOST_FAULTS + 1, "{text}: {count}");
        }
    }
}
