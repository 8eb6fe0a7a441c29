//! Stretches in which something is on: the dark, a strobe, flames. All that is open is at its
//! shortest, as everything in the drawing is; what an error leaves without a place is not drawn.

use crate::act::Act;
use crate::measure::dark;
use crate::routine::Hazard;
use crate::time::Time;

use super::certainty::Certainty;

/// What is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum StretchOf {
    /// The stage is dark.
    Dark,
    /// A strobe flashes.
    Strobe,
    /// Flames are alight.
    Flames,
}

impl StretchOf {
    /// In words, for whoever cannot see it.
    pub(super) fn words(self) -> &'static str {
        match self {
            StretchOf::Dark => "the stage is dark",
            StretchOf::Strobe => "a strobe flashes",
            StretchOf::Flames => "flames are alight",
        }
    }
}

/// A stretch in which something is on, on the show clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    pub(super) of: StretchOf,
    pub(super) from: f64,
    pub(super) to: f64,
}

/// Every stretch, to `ends` where nothing ends it.
pub(super) fn stretches(act: &Act, certainty: &Certainty, ends: f64) -> Vec<Stretch> {
    let darks = dark::darks(act)
        .into_iter()
        .map(|dark| (StretchOf::Dark, dark.from, dark.until.map(|(_, go)| go)));
    // The next cue of its crew ends a strobe, whatever it does.
    let calls = &act.calls.calls;
    let strobes = calls.iter().enumerate().filter_map(|(place, call)| {
        let cue = act.routine.cues.get(call.cue)?;
        cue.flashes.as_ref().filter(|flashes| flashes.value > 0.0)?;
        let is_next = |other: &&crate::act::calls::Call| {
            let other = act.routine.cues.get(other.cue);
            other.is_some_and(|other| other.crew.value == cue.crew.value)
        };
        let next = calls.get(place + 1..).into_iter().flatten().find(is_next);
        Some((StretchOf::Strobe, call.go.clone(), next.map(|next| next.go.clone())))
    });
    let alight = act.in_use.iter().filter(|used| used.hazard == Hazard::Fire);
    // What is not put out burns to the end of the act and beyond.
    let flames = alight.map(|used| (StretchOf::Flames, used.from.clone(), Some(used.to.clone())));
    let placed = |time: &Time| certainty.places(time);
    let all = darks.chain(strobes).chain(flames);
    let all = all.filter(|(_, from, to)| placed(from) && to.as_ref().is_none_or(placed));
    let all = all.map(|(of, from, to)| Stretch {
        of,
        from: from.shortest().to_f64(),
        to: to.map_or(ends, |to| to.shortest().to_f64()),
    });
    all.filter(|stretch| stretch.from < stretch.to).collect()
}
