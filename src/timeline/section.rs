//! Where each entry of the score lies in time, and what was put before it.

use std::ops::Range;

use crate::hand::Hand;
use crate::notation::Sequence;
use crate::time::Time;

use super::{Bend, Face, FixedEnd, Regrip};

/// An entry of the score in time.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionSpan {
    /// Its first beat (transition and wait included) or the pause's start, on the show clock.
    pub starts: Time,
    /// Where the next `Juggle` starts, be it one that could not be read; at a run's end the later of
    /// its last beat's end and the run's last catch; a pause's end.
    pub ends: Time,
    /// What is juggled; `None` for a pause.
    pub juggle: Option<JuggleSpan>,
    /// How a pause loads the hands anew.
    pub regrip: Option<Regrip>,
    /// Whether it could not be read and may be juggled: then nobody knows what is thrown in it.
    pub hides_throws: bool,
}

/// A juggled section in its run.
#[derive(Clone, Debug, PartialEq)]
pub struct JuggleSpan {
    /// Index of its run in the timeline.
    pub run: usize,
    /// The run's beat on which it starts, its transition and wait included.
    pub first_beat: u32,
    /// The run's beat of its own first throw.
    pub own_first_beat: u32,
    /// Its own beats, the transition left out.
    pub beats: u32,
    /// Whether that number is known; where an error leaves it open, some are assumed.
    pub beats_known: bool,
    /// Whether it is known what is put before it; where an error leaves it open, nothing is.
    pub way_known: bool,
    /// Whether it is known which hand does what in it.
    pub hands_known: bool,
    /// Whether its pace is known; where an error leaves it open, one is assumed.
    pub pace_known: bool,
    /// Whole cycles, and beats of a cut one at its end.
    pub cycles: (u32, u32),
    /// The hand of its own first throw; `None` for pairs.
    pub lead: Option<Hand>,
    /// Whether its props come as it needs them.
    pub joining: Joining,
    /// What was put before it; `None` for a direct join without a wait.
    pub transition: Option<TakenTransition>,
    /// Its actions in the run, the transition's included.
    pub actions: Range<usize>,
    /// The face that the props show in its own throws; `None` where they have but one.
    pub face: Option<Face>,
    /// Whether its own first throw begins to show another face than before.
    pub other_face: bool,
    /// Whether it is known which face they show.
    pub face_known: bool,
    /// Whether it ends its run.
    pub ends_run: bool,
    /// The tempo that lands it on its end, where it may bend.
    pub bend: Option<Bend>,
    /// Its end, where that is fixed; known only of a routine that is compiled to fit.
    pub fixed_end: Option<FixedEnd>,
}

impl JuggleSpan {
    /// How often it goes round, in words: `×8`, `×8 + 2 beats`, and where a cycle is one beat or
    /// not even one is whole, `×30 beats`; `None` where an error leaves that unknown.
    #[must_use]
    pub fn how_often(&self) -> Option<String> {
        let beats = |number: u32| if number == 1 { "beat" } else { "beats" };
        let (whole, cut) = self.cycles;
        self.beats_known.then(|| match (whole, cut) {
            (0, _) => format!("×{} {}", self.beats, beats(self.beats)),
            (whole, 0) if whole == self.beats => format!("×{whole} {}", beats(whole)),
            (whole, 0) => format!("×{whole}"),
            (whole, cut) => format!("×{whole} + {cut} {}", beats(cut)),
        })
    }

    /// The run's beat on which its cycle of that number begins, from 1, of so many beats each;
    /// `None` where it has no such cycle.
    #[must_use]
    pub fn cycle_begins(&self, number: u32, period: u32) -> Option<u32> {
        let (whole, cut) = self.cycles;
        let has = whole + u32::from(cut > 0);
        (1..=has).contains(&number).then(|| self.own_first_beat + (number - 1) * period)
    }
}

/// How the props of a section come to where it needs them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joining {
    /// As it needs them.
    Fits,
    /// Otherwise, which is an error: from there on it goes as if the hands had been put right.
    Torn,
    /// Nobody knows, for what comes before could not be read, or its beats are not known: the same.
    Unknown,
}

/// The throws, or the wait, before a section's own first throw.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenTransition {
    /// The throws; empty where only a hand waits.
    pub throws: Sequence,
    /// Beats it takes, that of an async-to-sync wait included.
    pub beats: u32,
    /// The hand that waits.
    pub waits: Option<Hand>,
}

impl From<Time> for SectionSpan {
    /// An entry whose start is known and nothing else yet.
    fn from(starts: Time) -> SectionSpan {
        SectionSpan {
            ends: starts.clone(),
            starts,
            juggle: None,
            regrip: None,
            hides_throws: false,
        }
    }
}

#[cfg(test)]
mod tests {
    /// How often a section of a pattern goes round that lasts so long.
    fn how_often(pattern: &str, lasts: &str) -> Option<String> {
        let text = format!(
            "Routine(title: \"T\", tempo: PerMinute(200), zero: Start(\"a\"), colours: {{ \"a\": \
             \"red\" }}, sets: {{ \"three\": Set(kind: Ball, colours: [\"a\", \"a\", \"a\"]) }}, \
             score: [Juggle(name: \"a\", set: \"three\", pattern: \"{pattern}\", lasts: {lasts})])"
        );
        let opened = crate::open(&text);
        let act = opened.act.unwrap_or_else(|| panic!("{:?}", opened.diagnostics));
        act.timeline.sections[0].juggle.as_ref().unwrap().how_often()
    }

    #[test]
    fn a_section_goes_round_in_cycles_and_a_shower_of_one_throw_in_beats() {
        for (pattern, lasts, words) in [
            ("531", "Cycles(8)", "×8"),
            ("531", "Beats(26)", "×8 + 2 beats"),
            ("531", "Beats(25)", "×8 + 1 beat"),
            ("531", "Beats(2)", "×2 beats"),
            ("3", "Beats(30)", "×30 beats"),
            ("3", "Cycles(1)", "×1 beat"),
            ("(4,2x)(2x,4)", "Cycles(5)", "×5"),
        ] {
            assert_eq!(how_often(pattern, lasts).as_deref(), Some(words), "{pattern} {lasts}");
        }
        assert_eq!(how_often("531", "Until(Start(\"nowhere\"))"), None);
    }
}
