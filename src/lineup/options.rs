//! What a section leaves open: where its pattern begins, in which order a multiplex's values go,
//! where its colour lists start.

use crate::patterns::Pattern;
use crate::routine::{Freedom, Juggle, WrittenPattern};

/// More variants of one section than this are not tried.
pub const MOST_VARIANTS: usize = 40_320;

/// A section as it may be juggled.
#[derive(Clone, Debug)]
pub(super) struct Variant {
    /// The section, its pattern begun and written so.
    pub(super) juggle: Juggle,
    /// The step of the written pattern with which it begins, from 0.
    pub(super) begins: usize,
    /// Whether a multiplex's values go in another order than written.
    pub(super) is_reordered: bool,
}

impl Variant {
    /// How many things are otherwise than written.
    pub(super) fn changes(&self) -> u32 {
        u32::from(self.begins > 0) + u32::from(self.is_reordered)
    }
}

/// Every way in which a section may be juggled, as written first. `None`: more than are tried.
pub(super) fn variants(juggle: &Juggle) -> Option<Vec<Variant>> {
    let written = &juggle.pattern.pattern;
    let orders = match juggle.is_free(Freedom::MultiplexOrder) {
        true => written.multiplex_orders(MOST_VARIANTS + 1),
        false => vec![written.clone()],
    };
    let steps =
        if juggle.is_free(Freedom::StartingThrow) { written.sequence().steps.len() } else { 1 };
    if orders.len().saturating_mul(steps) > MOST_VARIANTS {
        return None;
    }
    let mut variants = Vec::new();
    for (order, pattern) in orders.iter().enumerate() {
        for (begins, begun) in pattern.rotations().take(steps) {
            let is_reordered = order > 0;
            let mut juggle = juggle.clone();
            if begins > 0 || is_reordered {
                juggle.pattern = rewritten(&juggle.pattern, begun);
            }
            variants.push(Variant { juggle, begins, is_reordered });
        }
    }
    // What changes least comes first.
    variants.sort_by_key(Variant::changes);
    Some(variants)
}

/// A pattern otherwise begun or ordered than its file writes it; its throws keep their places there.
fn rewritten(written: &WrittenPattern, pattern: Pattern) -> WrittenPattern {
    let text = pattern.sequence().to_string();
    WrittenPattern { pattern, text, ..written.clone() }
}

/// Every combination of colours with which a section's lists may start, as written first.
pub(super) fn starts(juggle: &Juggle) -> Option<Vec<Vec<usize>>> {
    let lists = &juggle.seen.shows;
    let mut all = vec![vec![0; lists.len()]];
    if !juggle.is_free(Freedom::StartingThrow) {
        return Some(all);
    }
    for (place, list) in lists.iter().enumerate() {
        let longer = all.iter().flat_map(|starts| {
            (0..list.colours.len().max(1)).map(move |start| {
                let mut starts = starts.clone();
                starts[place] = start;
                starts
            })
        });
        all = longer.take(MOST_VARIANTS + 1).collect();
        if all.len() > MOST_VARIANTS {
            return None;
        }
    }
    all.sort_by_key(|starts| starts.iter().filter(|&&start| start > 0).count());
    Some(all)
}
