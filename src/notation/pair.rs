//! Reads a synchronous pair: what the left hand throws, a comma, what the right hand throws.

use std::ops::Range;

use super::read::{MOST_FAULTS, Reader, Within};
use super::{Fault, Step, WrittenThrow};

impl Reader {
    /// Reads `(…)`, which stands next.
    pub(super) fn read_pair(&mut self) {
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
                    let write = write.replace(['\t', '\n', '\r'], " ");
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
