//! Cautions: pointers for whoever runs the room, never a clearance.
//!
//! Every caution defers to local codes, the venue and licensed practice. Strobes: no more than
//! three flashes in any one second is WCAG 2.2, SC 2.3.1, used as a conservative line; the rest is
//! common practice, no source.

use crate::act::Act;
use crate::routine::{Arms, Crew, Hazard, Haze, Made, PropSet};

/// What calls for a caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Caution {
    /// Props that burn.
    Fire,
    /// Props with blades.
    Blades,
    /// Props that burn or cut, thrown close to the body.
    Close,
    /// Flashing light.
    Strobe,
    /// A blackout.
    Dark,
    /// Haze.
    Haze,
}

impl Caution {
    /// The word that stands before it.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Caution::Fire => "FIRE",
            Caution::Blades => "BLADES",
            Caution::Close => "CLOSE",
            Caution::Strobe => "STROBE",
            Caution::Dark => "DARK",
            Caution::Haze => "HAZE",
        }
    }

    /// What whoever runs the room should know.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Caution::Fire => {
                "Burning props in this act. Permit, trained spotter and extinguishers in place; \
                 rehearsed unlit, then lit. The fire code that applies and the local fire authority \
                 decide."
            }
            Caution::Blades => {
                "Blades in this act. Never take light away while one is out of the hands; keep \
                 everyone clear of the drop zone."
            }
            Caution::Close => {
                "Burning props or blades are thrown behind the back, under the leg or with crossed \
                 arms. Rehearsed with plain props, then unlit or blunt, before the real ones; mind \
                 hair, sleeves and skin."
            }
            Caution::Strobe => {
                "Flashing light in this act. More than three flashes in any one second goes past \
                 the conservative line of WCAG 2.2, SC 2.3.1; announce it at the door."
            }
            Caution::Dark => {
                "The stage goes dark in this act. Nothing may be in the air then: if a catch is \
                 late, the dark waits for it."
            }
            Caution::Haze => {
                "Haze in this act. It can leave the floor slippery and set off a fire alarm: agree \
                 on it with the venue, and try the floor as it is then."
            }
        }
    }
}

/// The line that stands under every list of cautions.
pub const DEFERS: &str = "These are pointers, not a clearance: local codes, the venue's rules and \
                          licensed practice decide.";

/// What stands there where no caution is called for.
pub const VENUE_FIRST: &str = "The venue's and local rules come before anything on this sheet.";

/// Whether props that burn or cut are thrown behind the back, under the leg or with crossed arms.
fn close_to_the_body(act: &Act) -> bool {
    let Act { routine, timeline, .. } = act;
    let unseen = |made| matches!(made, Made::BehindBack | Made::UnderLeg);
    timeline.runs.iter().enumerate().any(|(index, run)| {
        let set = routine.sets.get(run.set);
        let made = || run.actions.iter().filter_map(|action| action.made(routine)).any(unseen);
        let arms = || timeline.arms(routine, index);
        let crossed = || arms().into_iter().flatten().any(|arms| arms != Arms::Open);
        set.is_some_and(PropSet::is_dangerous) && (made() || crossed())
    })
}

/// The cautions that a routine calls for, in a fixed order.
#[must_use]
pub fn cautions(act: &Act) -> Vec<Caution> {
    let Act { routine, in_use, .. } = act;
    let uses = |is: fn(&PropSet) -> bool| {
        in_use.iter().filter_map(|used| routine.sets.get(used.set)).any(is)
    };
    let flashes = routine
        .cues
        .iter()
        .any(|cue| cue.flashes.as_ref().is_some_and(|flashes| flashes.value > 0.0));
    let haze = routine.venue.as_ref().and_then(|venue| venue.haze.as_ref());
    let dark = routine.cues.iter().any(|cue| cue.dark && cue.crew.value == Crew::Light);
    [
        (Caution::Fire, uses(PropSet::is_fire)),
        (Caution::Blades, uses(|set| set.is(Hazard::Blades))),
        (Caution::Close, close_to_the_body(act)),
        (Caution::Strobe, flashes),
        (Caution::Dark, dark),
        (Caution::Haze, matches!(haze, Some(Haze::Made(_)))),
    ]
    .into_iter()
    .filter_map(|(caution, holds)| holds.then_some(caution))
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The cautions of an act with that kind of prop and a section that says so much.
    fn of(kind: &str, says: &str) -> Vec<Caution> {
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), colours: {{ \"a\": \"red\" }}, sets: {{ \
             \"3\": Set(kind: {kind}, length: 0.5, colours: [\"a\", \"a\", \"a\"]) }}, score: [\
             Juggle(name: \"a\", set: \"3\", pattern: \"3\", lasts: Beats(4), {says})])"
        );
        cautions(crate::open(&text).finished().unwrap())
    }

    #[test]
    fn fire_and_blades_close_to_the_body_call_for_a_caution_of_their_own() {
        for (kind, says, expected) in [
            ("Torch", "", vec![Caution::Fire]),
            ("Torch", "made: { 1: BehindBack }", vec![Caution::Fire, Caution::Close]),
            ("Torch", "made: { 1: Outside }", vec![Caution::Fire]),
            ("Knife", "made: { 1: UnderLeg }", vec![Caution::Blades, Caution::Close]),
            ("Knife", "arms: [Open, LeftOver]", vec![Caution::Blades, Caution::Close]),
            ("Knife", "arms: [Open]", vec![Caution::Blades]),
            ("Club", "arms: [RightOver], made: { 1: UnderLeg }", vec![]),
        ] {
            assert_eq!(of(kind, says), expected, "{kind} {says}");
        }
    }
}
