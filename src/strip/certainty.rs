//! Where the times on the ruler are not certain: the drawing has every open length at its
//! shortest, so what stands behind one comes then or later.

use crate::act::Act;
use crate::time::Time;
use crate::timeline::HoldSpan;

/// What stands before a time of the ruler, from each place on.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Certainty {
    /// In order of time, on the show clock as it is drawn.
    from: Vec<(f64, &'static str)>,
}

impl Certainty {
    /// Of an act; empty where every time is certain.
    pub(super) fn of(act: &Act) -> Certainty {
        if !act.is_open() {
            return Certainty::default();
        }
        let sign =
            |time: &Time| match (time.least() < *time.shortest(), time.most() > *time.shortest()) {
                (false, false) => "",
                (false, true) => "≥",
                (true, false) => "≤",
                (true, true) => "~",
            };
        let place = |time: &Time| (time.shortest().to_f64(), sign(time));
        let sections = &act.timeline.sections;
        let edges = sections.iter().map(|span| &span.starts);
        let edges = edges.chain(sections.last().map(|span| &span.ends)).map(place);
        // Behind a hold the track is where the show clock does not say.
        let holds = act.timeline.tracks.iter().flat_map(|track| {
            let of = |hold: &HoldSpan| Some(&track.at(&hold.from)? + &hold.lasts);
            track.holds.iter().filter_map(of).collect::<Vec<_>>()
        });
        let mut from: Vec<_> = edges.chain(holds.map(|ends| place(&ends))).collect();
        from.sort_by(|a, b| a.0.total_cmp(&b.0));
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
