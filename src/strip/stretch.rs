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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strobe_ends_with_the_next_cue_of_its_crew_and_flames_where_they_are_put_out() {
        let text = r##"Routine(
            title: "T", tempo: PerMinute(200), colours: { "coral": "#ec6a5c" },
            sets: {
                "three": Set(kind: Ball, length: 0.07, colours: ["coral", "coral", "coral"]),
                "torches": Set(kind: Torch, length: 0.6, colours: ["coral", "coral", "coral"]),
            },
            score: [
                Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(30)),
                Pause(name: "light", lasts: For("0:04"), lit: "torches"),
                Juggle(name: "burn", set: "torches", pattern: "3", lasts: Beats(30)),
                Pause(name: "out", lasts: For("0:05"), put_out: "torches"),
                Pause(name: "bow", lasts: For("0:05")),
            ],
            cues: [
                Cue(crew: Light, number: 1, at: At("0:01"), trigger: Called, does: "strobe",
                    count: 0, flashes: 2.0),
                Cue(crew: Sound, number: 1, at: At("0:02"), trigger: Called, does: "bell"),
                Cue(crew: Light, number: 2, at: At("0:03.5"), trigger: Called, does: "full",
                    count: 0),
            ],
        )"##;
        let opened = crate::open(text);
        let act = opened.finished().unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
        let found = stretches(act, &Certainty::of(act), 99.0);
        let [strobe, flames] = &found[..] else { panic!("{found:?}") };
        assert_eq!(*strobe, Stretch { of: StretchOf::Strobe, from: 1.0, to: 3.5 });
        assert_eq!(flames.of, StretchOf::Flames);
        let [light, out] = ["light", "out"].map(|name| act.routine.section(name).unwrap());
        let spans = &act.timeline.sections;
        assert!((flames.from - spans[light].starts.shortest().to_f64()).abs() < 1e-9);
        assert!((flames.to - spans[out].ends.shortest().to_f64()).abs() < 1e-9);
        // A strobe that no cue ends goes on to the end of the drawing.
        let alone = crate::open(&text.replace("crew: Light, number: 2", "crew: Deck, number: 2"));
        let act = alone.finished().unwrap_or_else(|| panic!("{:?}", alone.diagnostics));
        let found = stretches(act, &Certainty::of(act), 99.0);
        assert!(found.contains(&Stretch { of: StretchOf::Strobe, from: 1.0, to: 99.0 }));
    }
}
