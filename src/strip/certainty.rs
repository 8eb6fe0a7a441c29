//! Where the times on the ruler are not certain: the drawing has every open length at its
//! shortest, so what stands behind one comes then or later.

use crate::time::{Seconds, TimeRange};
use crate::timeline::Timeline;

/// What stands before a time of the ruler, from each place on.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Certainty {
    /// In order of time, on the show clock as it is drawn.
    from: Vec<(f64, &'static str)>,
}

impl Certainty {
    /// Of a timeline; empty where every time is certain.
    pub(super) fn of(timeline: &Timeline) -> Certainty {
        if !timeline.is_uncertain() {
            return Certainty::default();
        }
        let sign = |drawn: &Seconds, range: &TimeRange| match (
            range.earliest < *drawn,
            range.latest > *drawn,
        ) {
            (false, false) => "",
            (false, true) => "≥",
            (true, false) => "≤",
            (true, true) => "~",
        };
        let sections = timeline.sections.iter().enumerate().map(|(index, span)| {
            let range = timeline
                .range(|timeline| timeline.sections.get(index).unwrap_or(span).starts.clone());
            (span.starts.to_f64(), sign(&span.starts, &range))
        });
        let end = timeline.sections.last().map(|span| {
            let range =
                timeline.range(|timeline| timeline.sections.last().unwrap_or(span).ends.clone());
            (span.ends.to_f64(), sign(&span.ends, &range))
        });
        let mut from: Vec<_> = sections.chain(end).collect();
        // What is before the first section is as certain as its start.
        if let Some(first) = from.first_mut() {
            first.0 = f64::NEG_INFINITY;
        }
        Certainty { from }
    }

    /// What stands before the ruler's time there.
    pub(super) fn at(&self, time: f64) -> &'static str {
        let before = self.from.iter().rev().find(|(from, _)| *from <= time + 1e-6);
        before.map_or("", |(_, sign)| sign)
    }
}
