//! Offers: changes of the file that a message proposes, each tried before it is made.
//!
//! The change is made, the changed act is opened, and what the offer says of itself is read from the
//! difference of the two acts ([`crate::difference`]). An offer that does not mend its fault is not
//! made; one that brings another fault says so and stands last. The changed act is opened by a way
//! that tries no offers of its own.

mod mend;
mod repair;
mod trial;

pub use mend::{Mended, Offer, mend, mend_safely, offers};

use crate::Opened;
use crate::diagnostic::{Effects, Help, Severity};
use crate::difference::Difference;
use crate::routine::Routine;

use repair::Asking;
use trial::{Bench, Mends, Outcome};

/// So many offers of a file are tried; what is beyond is told in words, without a change.
const MOST_TRIED: usize = 40;

/// Tries every offer of a file that was opened from `text` and keeps those that do what they are
/// for; `written` is the routine as it was read. What would bring colours about is looked for where
/// they are to be `explained`. `reopen` opens a changed text and tries nothing; it is told whether
/// the change can make no difference to the line-up.
pub(crate) fn tried(
    mut opened: Opened,
    written: Option<&Routine>,
    text: &str,
    explained: bool,
    reopen: impl Fn(&str, bool) -> Opened,
) -> Opened {
    let asking = Asking::of(&opened, written.filter(|_| explained));
    let mut helps = opened.diagnostics.iter().flat_map(|one| &one.helps);
    if helps.all(|help| help.edits.is_empty()) && asking.is_empty() {
        return opened;
    }
    let mut bench = Bench::new(&opened, text, &reopen, MOST_TRIED);
    let mut order: Vec<usize> = (0..opened.diagnostics.len()).collect();
    order.sort_by_key(|&index| opened.diagnostics[index].severity != Severity::Error);
    let mut made: Vec<(usize, Vec<Help>)> = Vec::new();
    let mut repairs = repair::Made::default();
    for index in order {
        let mut helps = kept(&mut bench, index);
        helps.extend(repairs.take(&mut bench, &asking, index));
        // What brings another fault stands last.
        helps.sort_by_key(|(_, brings)| *brings);
        made.push((index, helps.into_iter().map(|(help, _)| help).collect()));
    }
    for (index, helps) in made {
        opened.diagnostics[index].helps = helps;
    }
    repairs.tell(&mut opened);
    opened
}

/// The ways out of a fault that are left once they are tried, each with whether it brings another
/// fault.
fn kept(bench: &mut Bench<'_>, index: usize) -> Vec<(Help, bool)> {
    let mut kept = Vec::new();
    for help in &bench.before.diagnostics[index].helps {
        if help.edits.is_empty() {
            kept.push((help.clone(), false));
            continue;
        }
        match bench.trial(index, &help.edits) {
            Outcome::NotTried => kept.push((Help::new(help.text.clone(), Vec::new()), false)),
            Outcome::Fails => {}
            Outcome::Mends(mends) => {
                let help = said(help, &mends);
                kept.push((help, mends.brings_a_fault()));
            }
        }
    }
    kept
}

/// An offer with what the difference of the two acts tells of it.
fn said(help: &Help, mends: &Mends) -> Help {
    let difference = &mends.difference;
    let mut text = help.text.trim_end_matches('.').to_owned();
    if let Some(encore) = difference.encore.as_ref().and_then(|encore| encore.lasts.as_ref())
        && encore.is_moved()
    {
        let how = if encore.shortest.is_negative() { "shorter" } else { "longer" };
        let by = crate::time::seconds_text(&encore.shortest.abs());
        text += &format!("; the encore is {by} {how}");
    }
    text += &mends.brings();
    let mut said = Help::new(text, help.edits.clone());
    said.effects = Some(effects(difference, mends.is_safe()));
    said
}

/// The side effects of a change.
fn effects(difference: &Difference, is_safe: bool) -> Effects {
    let lasts = difference.act.as_ref().and_then(|act| act.lasts.as_ref());
    Effects {
        adds_s: lasts.map(|later| later.shortest_s()),
        flips_lead: difference.flips_lead(),
        moves_colours: difference.moves_colours(),
        is_safe,
    }
}
