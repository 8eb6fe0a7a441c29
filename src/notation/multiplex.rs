//! Reads a multiplex: the throws that one hand makes at once, in square brackets.

use std::ops::Range;

use super::read::{Reader, Within};
use super::{Fault, WrittenThrow};

/// The most props that one hand may throw at once; more is a slip of the keyboard.
const MOST_AT_ONCE: usize = 35;

impl Reader {
    /// Reads `[…]`, which stands next.
    pub(super) fn read_multiplex(&mut self, within: Within) -> Vec<WrittenThrow> {
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
}
