//! Offers that are taken: made on the file's text together, and looked at before anything is written.

use std::ops::Range;

use crate::Opened;
use crate::diagnostic::{Edit, Help, changed};
use crate::difference::{Difference, Fault};
use crate::issue::NOT_RAISED;

/// An offer of a file.
#[derive(Clone, Debug)]
pub struct Offer<'o> {
    /// Its number, from 1, in the order of the messages.
    pub number: usize,
    /// The message that makes it, as an index into [`Opened::diagnostics`].
    pub diagnostic: usize,
    /// What to do, the change of the file, and what else it does.
    pub help: &'o Help,
}

/// What comes of taking offers.
#[derive(Clone, Debug)]
pub enum Mended {
    /// The file's text with them.
    Done {
        /// The text.
        text: String,
        /// The numbers of the offers that it has.
        taken: Vec<usize>,
        /// What came of opening it.
        opened: Box<Opened>,
        /// The codes of faults that it has and the file had not, or had unseen.
        brings: Vec<&'static str>,
    },
    /// These two change the same place, or mend the same fault: only one can be taken.
    Clash(usize, usize),
    /// Made together, the fault of this one is still there.
    Stays(usize),
}

impl Offer<'_> {
    /// Whether nothing else is different after it.
    #[must_use]
    pub fn is_safe(&self) -> bool {
        self.help.effects.as_ref().is_some_and(|effects| effects.is_safe)
    }
}

/// Every offer of a file as it was opened, in the order of its messages.
#[must_use]
pub fn offers(opened: &Opened) -> Vec<Offer<'_>> {
    let all = opened.diagnostics.iter().enumerate().flat_map(|(diagnostic, one)| {
        let changes = one.helps.iter().filter(|help| !help.edits.is_empty());
        changes.map(move |help| (diagnostic, help))
    });
    let numbered = all.zip(1..);
    numbered.map(|((diagnostic, help), number)| Offer { number, diagnostic, help }).collect()
}

/// Takes some offers of a file together. `reopen` opens a changed text and tries nothing.
#[must_use]
pub fn mend(
    text: &str,
    before: &Opened,
    chosen: &[&Offer<'_>],
    reopen: impl Fn(&str) -> Opened,
) -> Mended {
    let mut edits: Vec<Edit> = Vec::new();
    for (index, offer) in chosen.iter().enumerate() {
        let earlier = &chosen[..index];
        if let Some(other) = earlier.iter().find(|other| clash(other, offer)) {
            return Mended::Clash(other.number, offer.number);
        }
        edits.extend(offer.help.edits.iter().cloned());
    }
    let Some(mended) = changed(text, &edits) else {
        unreachable!("each was tried on this text, and no two touch the same place")
    };
    let after = reopen(&mended);
    let difference = Difference::between(before, &after);
    let mut gone = difference.faults.gone.clone();
    for offer in chosen {
        let fault = Fault::of(before, &before.diagnostics[offer.diagnostic]);
        match gone.iter().position(|one| *one == fault) {
            Some(place) => drop(gone.remove(place)),
            None => return Mended::Stays(offer.number),
        }
    }
    let come = difference.faults.come.iter().map(|fault| fault.code);
    Mended::Done {
        text: mended,
        taken: chosen.iter().map(|offer| offer.number).collect(),
        brings: come.filter(|code| *code != NOT_RAISED.code).collect(),
        opened: Box::new(after),
    }
}

/// Takes as many offers that do nothing else as go together, the first of each message.
#[must_use]
pub fn mend_safely(text: &str, before: &Opened, reopen: impl Fn(&str) -> Opened) -> Mended {
    let all = offers(before);
    let mut chosen: Vec<&Offer<'_>> = Vec::new();
    let mut best = Mended::Done {
        text: text.to_owned(),
        taken: Vec::new(),
        opened: Box::new(before.clone()),
        brings: Vec::new(),
    };
    for offer in all.iter().filter(|offer| offer.is_safe()) {
        if chosen.iter().any(|other| clash(other, offer)) {
            continue;
        }
        chosen.push(offer);
        match mend(text, before, &chosen, &reopen) {
            Mended::Done { brings, opened, text, taken } if brings.is_empty() => {
                best = Mended::Done { brings, opened, text, taken };
            }
            _ => drop(chosen.pop()),
        }
    }
    best
}

/// Whether only one of two can be taken.
fn clash(one: &Offer<'_>, other: &Offer<'_>) -> bool {
    let range = |edit: &Edit| -> Range<usize> { edit.at.start..edit.at.end };
    let touch = |a: Range<usize>, b: Range<usize>| a.start <= b.end && b.start <= a.end;
    one.diagnostic == other.diagnostic
        || one
            .help
            .edits
            .iter()
            .any(|edit| other.help.edits.iter().any(|beside| touch(range(edit), range(beside))))
}
