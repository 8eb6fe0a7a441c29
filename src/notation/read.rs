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
const MOST_FAULTS: usize = 100;

/// The most props that one hand may throw at once; more is a slip of the keyboard.
const MOST_AT_ONCE: usize = 35;

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
enum Within {
    /// Where the hands alternate.
    Alternating,
    /// In a synchronous pair.
    Pair,
}

/// Half-read text.
struct Reader {
    text: Vec<char>,
    next: usize,
    number: u32,
    steps: Vec<Step>,
    star: Option<usize>,
    faults: Vec<Fault>,
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
        }
    }

    fn say(&mut self, fault: Fault) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(fault);
        } else if self.faults.len() == MOST_FAULTS {
            let message = format!("After {MOST_FAULTS} faults the rest of the text is not listed.");
            let end = self.text.len();
            self.faults.push(Fault::error("more-faults", fault.at.start..end, message));
        }
    }

    /// The next character that is no space, without taking it.
    fn peek(&mut self) -> Option<char> {
        while matches!(self.text.get(self.next), Some(' ' | '\t' | '\n' | '\r')) {
            self.next += 1;
        }
        self.text.get(self.next).copied()
    }

    /// The characters as written.
    fn written(&self, range: Range<usize>) -> String {
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

    fn say_unopened_bracket(&mut self) {
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
    fn read_throw(&mut self, within: Within) -> Option<WrittenThrow> {
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
                    "Throws above 9 are written with small letters, so {character} is no throw; \
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
    fn end_of_throw(&self, start: usize) -> usize {
        let mut end = self.next;
        while end > start + 1 && matches!(self.text.get(end - 1), Some(' ' | '\t' | '\n' | '\r')) {
            end -= 1;
        }
        end
    }

    fn ask_whether_a_pair_was_meant(&mut self, start: usize, character: char) {
        let Some(before) = start.checked_sub(1) else { return };
        if character == 'x' && self.text[before].is_ascii_digit() {
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

    /// Reads `[…]`, which stands next.
    fn read_multiplex(&mut self, within: Within) -> Vec<WrittenThrow> {
        let start = self.next;
        self.next += 1;
        let mut throws: Vec<WrittenThrow> = Vec::new();
        let mut nested = 0_usize;
        let mut spoiled = false;
        loop {
            match self.peek() {
                Some(']') if nested > 0 => {
                    nested -= 1;
                    self.next += 1;
                }
                Some(']') => {
                    self.next += 1;
                    break;
                }
                Some('[') => {
                    let here = self.next;
                    let message = "A multiplex cannot stand inside another one; all the throws \
                                   that a hand makes at once share one pair of square brackets.";
                    self.say(Fault::error("nested-bracket", here..here + 1, message));
                    nested += 1;
                    self.next += 1;
                }
                None | Some('(' | ')' | ',') => {
                    let message = "This square bracket opens a multiplex that is never closed.";
                    self.say(
                        Fault::error("unclosed-bracket", start..start + 1, message)
                            .help("Write ] after the multiplex's last throw."),
                    );
                    spoiled = true;
                    break;
                }
                Some(_) => {
                    let faults = self.faults.len();
                    throws.extend(self.read_throw(within));
                    spoiled |= self.faults.len() > faults;
                }
            }
        }
        self.judge_multiplex(start..self.next, &throws, spoiled);
        throws
    }

    fn judge_multiplex(&mut self, at: Range<usize>, throws: &[WrittenThrow], spoiled: bool) {
        if throws.is_empty() && !spoiled {
            let message = "This multiplex has no throws; an empty hand is written 0.";
            self.say(
                Fault::error("empty-multiplex", at.clone(), message).help_write("Write 0.", "0"),
            );
        }
        if throws.len() > MOST_AT_ONCE {
            let message = format!(
                "A multiplex of {} throws is more than a hand can hold; {MOST_AT_ONCE} are read \
                 at most.",
                throws.len()
            );
            self.say(Fault::error("multiplex-too-large", at, message));
        }
        if throws.len() > 1 {
            for empty in throws.iter().filter(|written| written.throw.value == 0) {
                let message = "A 0 is an empty hand, so it cannot be one of several throws that \
                               a hand makes at once.";
                self.say(
                    Fault::error("empty-hand-in-multiplex", empty.at.clone(), message)
                        .help_write("Leave the 0 out.", ""),
                );
            }
        }
    }

    /// Reads `(…)`, which stands next.
    fn read_pair(&mut self) {
        let start = self.next;
        self.next += 1;
        let mut hands: Vec<Vec<Vec<WrittenThrow>>> = vec![Vec::new()];
        let mut commas = 0;
        let mut nested = 0_usize;
        let faults = self.faults.len();
        let closed = loop {
            let Some(character) = self.peek() else { break false };
            let here = self.next;
            let untouched = hands.len() == 1 && hands[0].is_empty();
            match character {
                ')' if nested > 0 => {
                    nested -= 1;
                    self.next += 1;
                }
                ')' => {
                    self.next += 1;
                    break true;
                }
                '(' if untouched && self.faults.len() < MOST_FAULTS => {
                    let message = "A pair cannot stand inside another one.";
                    self.say(
                        Fault::error("nested-parenthesis", here..here + 1, message).help_write(
                            "Leave this parenthesis and the one that closes it out.",
                            "",
                        ),
                    );
                    nested += 1;
                    self.next += 1;
                }
                '(' => break false,
                ',' => {
                    commas += 1;
                    self.next += 1;
                    if commas == 2 {
                        let message = "A pair has two hands: one comma, the left hand's throw \
                                       before it and the right hand's after it.";
                        self.say(
                            Fault::error("third-hand-in-pair", here..here + 1, message)
                                .help("Write what one hand throws at once in square brackets."),
                        );
                    }
                    hands.push(Vec::new());
                }
                '[' => {
                    let throws = self.read_multiplex(Within::Pair);
                    if let Some(hand) = hands.last_mut() {
                        hand.push(throws);
                    }
                }
                ']' => self.say_unopened_bracket(),
                _ => {
                    let throw = self.read_throw(Within::Pair);
                    if let (Some(throw), Some(hand)) = (throw, hands.last_mut()) {
                        hand.push(vec![throw]);
                    }
                }
            }
        };
        if !closed {
            let message = "This parenthesis opens a pair that is never closed.";
            self.say(
                Fault::error("unclosed-parenthesis", start..start + 1, message)
                    .help("Write ) after the right hand's throw."),
            );
        }
        let spoiled = self.faults.len() > faults;
        self.judge_pair(start..self.end_of_throw(start), &hands, closed, spoiled);
        let mut hands = hands.into_iter().map(|hand| hand.concat());
        let left = hands.next().unwrap_or_default();
        let right = hands.next().unwrap_or_default();
        self.steps.push(Step::Pair([left, right]));
    }

    /// Says what is missing from a pair, or stands too often in it. `spoiled`: something else is
    /// wrong inside, which may be why a hand seems to be missing.
    fn judge_pair(
        &mut self,
        at: Range<usize>,
        hands: &[Vec<Vec<WrittenThrow>>],
        closed: bool,
        spoiled: bool,
    ) {
        let faulty_inside = spoiled && closed;
        match hands {
            [only] if only.len() == 2 => {
                let between = only[0].last().map_or(at.start, |written| written.at.end);
                let message = "A comma is missing between the left hand's throw and the right \
                               hand's.";
                let mut fault = Fault::error("missing-comma", at.clone(), message);
                if !spoiled {
                    let between = self.text[between..at.end]
                        .iter()
                        .position(|&character| character != ' ' && character != ']')
                        .map_or(between, |further| between + further);
                    let write = format!(
                        "{},{}",
                        self.written(at.start..between).trim_end(),
                        self.written(between..at.end)
                    );
                    fault = fault.help_write(format!("Write {write}."), write);
                }
                self.say(fault);
            }
            [only] if !faulty_inside || !only.is_empty() => {
                let message = "A pair says what both hands throw: the left hand's throw, a comma, \
                               the right hand's throw.";
                let mut fault = Fault::error("missing-hand", at.clone(), message);
                if let ([_], false) = (only.as_slice(), spoiled) {
                    let one = self.written(at.start + 1..at.end - 1);
                    let write = format!("({},0)", one.trim());
                    let text = format!("Write {write} if the right hand is empty.");
                    fault = fault.help_write(text, write);
                }
                self.say(fault);
            }
            _ => {
                for (hand, throws) in ["left", "right"].into_iter().zip(hands) {
                    if throws.is_empty() && !spoiled {
                        let message = format!(
                            "This pair does not say what the {hand} hand throws; an empty hand is \
                             written 0."
                        );
                        self.say(Fault::error("missing-hand", at.clone(), message));
                    }
                    if throws.len() > 1 {
                        self.say_several(hand, throws);
                    }
                }
            }
        }
    }

    fn say_several(&mut self, hand: &str, throws: &[Vec<WrittenThrow>]) {
        let all = throws.concat();
        let (Some(first), Some(last)) = (all.first(), all.last()) else { return };
        let written: String = all.iter().map(|written| written.throw.to_string()).collect();
        let message = format!(
            "The {hand} hand has several throws in this pair; throws that a hand makes at once \
             stand in square brackets."
        );
        self.say(
            Fault::error("missing-bracket", first.at.start..last.at.end, message)
                .help_write(format!("Write [{written}]."), format!("[{written}]")),
        );
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
