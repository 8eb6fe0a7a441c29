//! Where the times on the ruler are certain, and where they are known at all: the drawing has every
//! open length at its shortest, so what stands behind one comes then or later; behind a length that
//! an error leaves unknown it has no place on the clock.

use crate::act::Act;
use crate::time::Time;
use crate::timeline::{HoldSpan, SectionSpan};

/// What an instant of the drawing hangs on, from each place on.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Certainty {
    /// In order of time, on the show clock as it is drawn; `None` where nothing is known.
    from: Vec<(f64, Option<Time>)>,
}

/// What is drawn within an entry of which nothing is known begins right behind its start.
const BEHIND_S: f64 = 1e-5;

impl Certainty {
    /// Of an act; empty where every time is certain.
    pub(super) fn of(act: &Act) -> Certainty {
        if !act.is_open() && act.times_known {
            return Certainty::default();
        }
        let place = |time: &Time| (time.shortest().to_f64(), Some(time.clone()));
        let sections = &act.timeline.sections;
        let edges = sections.iter().map(|span| &span.starts);
        let edges = edges.chain(sections.last().map(|span| &span.ends)).map(place);
        let hidden = sections.iter().filter(|span| is_hidden(act, span));
        let hidden = hidden.map(|span| (span.starts.shortest().to_f64() + BEHIND_S, None));
        // Behind a hold the track is where the show clock does not say.
        let holds = act.timeline.tracks.iter().flat_map(|track| {
            let of = |hold: &HoldSpan| Some(&track.at(&hold.from)? + &hold.lasts);
            track.holds.iter().filter_map(of).collect::<Vec<_>>()
        });
        let holds = holds.map(|ends| place(&ends));
        let mut from: Vec<_> = edges.chain(hidden).chain(holds).collect();
        from.sort_by(|a, b| a.0.total_cmp(&b.0));
        // What is before the first section is as certain as its start.
        if let Some(first) = from.first_mut() {
            first.0 = f64::NEG_INFINITY;
        }
        Certainty { from }
    }

    /// The ruler's time there as it is written: with a sign where it is not certain, `?` where it
    /// is not known.
    pub(super) fn written(&self, time: f64, clock: &str) -> String {
        let before = self.from.iter().rev().find(|(from, _)| *from <= time + 1e-6);
        match before {
            None => clock.to_owned(),
            Some((_, Some(base))) if !base.is_unknown() => format!("{}{clock}", sign(base)),
            Some(_) => "?".to_owned(),
        }
    }

    /// Whether a time may be drawn where it lies: one that is known where the ruler's times are,
    /// one that is not where they are not.
    pub(super) fn places(&self, time: &Time) -> bool {
        let at = time.shortest().to_f64();
        let is_known = self.known(&Time::zero(), at, at).next().is_some();
        is_known != time.is_unknown()
    }

    /// The parts of a stretch of the drawing where it is known how long after `origin` they come.
    pub(super) fn known(
        &self,
        origin: &Time,
        from: f64,
        to: f64,
    ) -> impl Iterator<Item = (f64, f64)> {
        let mut parts: Vec<(f64, f64)> = Vec::new();
        if self.from.is_empty() {
            parts.push((from, to));
        }
        for (index, (begins, base)) in self.from.iter().enumerate() {
            let ends = self.from.get(index + 1).map_or(f64::INFINITY, |next| next.0);
            let is_known = base.as_ref().is_some_and(|base| !(base - origin).is_unknown());
            let (first, last) = (begins.max(from), ends.min(to));
            let is_within = first < last || from == to && *begins <= from + 1e-6 && from < ends;
            if !is_known || !is_within {
                continue;
            }
            match parts.last_mut() {
                Some(before) if before.1 >= first => before.1 = last,
                _ => parts.push((first, last)),
            }
        }
        parts.into_iter()
    }

    /// Where the ruler's times end being known.
    pub(super) fn ends(&self) -> Vec<f64> {
        let known = |base: &Option<Time>| base.as_ref().is_some_and(|base| !base.is_unknown());
        let pairs = self.from.windows(2).filter_map(|pair| match pair {
            [(_, before), (at, after)] if known(before) && !known(after) => Some(*at),
            _ => None,
        });
        pairs.collect()
    }
}

/// Whether nothing is known of what is drawn within an entry.
fn is_hidden(act: &Act, span: &SectionSpan) -> bool {
    match &span.juggle {
        Some(juggle) => {
            let run = act.timeline.runs.get(juggle.run);
            let first = run.map(|run| run.tempo.at_beat(juggle.first_beat));
            first.is_some_and(|first| (&first - &span.starts).is_unknown())
        }
        None => (&span.ends - &span.starts).is_unknown(),
    }
}

/// What stands before a time that is not certain.
fn sign(time: &Time) -> &'static str {
    match (time.least() < *time.shortest(), time.most() > *time.shortest()) {
        (false, false) => "",
        (false, true) => "≥",
        (true, false) => "≤",
        (true, true) => "~",
    }
}
