//! What is said at the head of the strip of props at rest: the loadings and gathers that no row has
//! room to tell at the hands.

use crate::act::Act;
use crate::sheet::loading::{AtRest, cold_starts, gathers};

use super::draw::hands::is_told;
use super::layout::Layout;
use super::text;
use super::thread::{Gathered, Threads};

/// Times closer than this are one, in seconds.
const SAME_S: f64 = 1e-6;

/// Those loadings and gathers in words, in the order of the act.
pub(super) fn note(act: &Act, threads: &Threads, layout: &Layout) -> Option<String> {
    let told = |is_its: &dyn Fn(&Gathered) -> bool, at_rest: &AtRest| {
        let hands = at_rest.hands.iter().filter(|props| !props.is_empty()).count();
        let shown = threads.gathered.iter().filter(|one| is_its(one) && is_told(layout, one));
        shown.count() >= hands
    };
    let mut notes = Vec::new();
    let starts = cold_starts(act, &[]);
    for (start, gather) in starts.iter().zip(gathers(act, &[])) {
        let (starts, ends) = (start.starts.shortest().to_f64(), gather.ends.shortest().to_f64());
        if let Some(at_rest) = &start.at_rest
            && !told(&|one| (one.until - starts).abs() < SAME_S, at_rest)
        {
            notes.push(format!("Before {}: {}", start.before, at_rest.in_words()));
        }
        if let Some(at_rest) = &gather.at_rest
            && !told(&|one| (one.from - ends).abs() < SAME_S, at_rest)
        {
            notes.push(format!("After {}: {}", gather.after, at_rest.in_words()));
        }
    }
    (!notes.is_empty()).then(|| text::clean(&format!("{}.", notes.join(". "))))
}
