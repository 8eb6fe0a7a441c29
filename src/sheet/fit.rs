//! What fits, before a juggler commits: the cycles that land each section on its end, and the
//! tempos that the music offers.
//!
//! Plain contents for the exporters; every figure comes from [`crate::measure::fit`]. The timeline
//! is that of a routine compiled to fit ([`crate::timeline::compile_to_fit`]).

use num_rational::BigRational;

use crate::measure::fit::{self, Fit, MusicTempo};
use crate::routine::{Part, Routine};
use crate::time::Seconds;
use crate::timeline::Timeline;

use super::words::{self, plain};

/// What fits.
#[derive(Clone, Debug, PartialEq)]
pub struct FitSheet {
    /// The routine's title.
    pub title: String,
    /// Its issue.
    pub issue: u32,
    /// The sections whose end is fixed, in order.
    pub sections: Vec<FitLine>,
    /// The others that were asked about, with why nothing is to be chosen.
    pub without: Vec<(String, &'static str)>,
    /// What each stretch of bars offers; empty where there are none, or one section was asked
    /// about.
    pub to_music: Vec<Stretch>,
    /// The room's clear height, in metres.
    pub clear_height_m: Option<f64>,
}

/// A section whose end is fixed.
#[derive(Clone, Debug, PartialEq)]
pub struct FitLine {
    /// Its name.
    pub name: String,
    /// Its pattern as written.
    pub pattern: String,
    /// Where it ends, in words.
    pub ends: String,
    /// What fits.
    pub fit: Fit,
}

/// A stretch of bars, and what is juggled to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// The number of its first bar.
    pub bar: i32,
    /// When that begins, on the show clock.
    pub from: Seconds,
    /// Music beats a minute.
    pub bpm: BigRational,
    /// Sections that are juggled to it; those of one pattern and one kind of prop together.
    pub sections: Vec<Vec<String>>,
    /// Their patterns as written.
    pub patterns: Vec<String>,
    /// The tempos; each has a figure for each of the above.
    pub tempos: Vec<MusicTempo>,
}

/// Composes what fits, of every section or of one, an index into the score.
#[must_use]
pub fn compose(routine: &Routine, timeline: &Timeline, only: Option<usize>) -> FitSheet {
    let mut sheet = FitSheet {
        title: plain(&routine.title.value),
        issue: routine.issue,
        sections: Vec::new(),
        without: Vec::new(),
        to_music: if only.is_none() { stretches(routine, timeline) } else { Vec::new() },
        clear_height_m: routine.room.as_ref().map(|room| room.clear_height.value),
    };
    let asked = |index: &usize| only.is_none_or(|only| only == *index);
    for index in (0..routine.score.len()).filter(asked) {
        let Some(entry) = routine.score.get(index) else { continue };
        let name = plain(&entry.name.value);
        let juggle = match &entry.part {
            Part::Juggle(juggle) => juggle,
            Part::Pause(_) | Part::Unread => {
                if only.is_some() {
                    sheet.without.push((name, "a pause has no throws"));
                }
                continue;
            }
        };
        let Some(fit) = fit::of_section(routine, timeline, index) else {
            let on_a_ramp = crate::measure::bend::per_minute(timeline, index).is_none();
            let why = if on_a_ramp { "a ramp does not bend" } else { "no fixed end" };
            sheet.without.push((name, why));
            continue;
        };
        let ends = fit.end.moment.as_ref().map_or_else(
            || format!("{:.3} s after its start", length(&fit).to_f64()),
            words::moment,
        );
        let pattern = plain(&juggle.pattern.text);
        sheet.sections.push(FitLine { name, pattern, ends, fit });
    }
    sheet
}

/// How long a section lasts whose length is written as a time.
fn length(fit: &Fit) -> Seconds {
    fit.end.lasts.iter().flatten().next().cloned().unwrap_or_else(Seconds::zero)
}

fn stretches(routine: &Routine, timeline: &Timeline) -> Vec<Stretch> {
    let (Some(track), Some(start)) = (routine.first_track(), timeline.track_start()) else {
        return Vec::new();
    };
    let mut stretches = Vec::new();
    for (index, bars) in track.bars.iter().enumerate() {
        let from = start + &bars.from.value;
        let next = track.bars.get(index + 1).map(|next| &next.from.value);
        let to = start + next.unwrap_or(&track.length.value);
        let mut heard: Vec<usize> = Vec::new();
        let mut sections: Vec<Vec<String>> = Vec::new();
        let mut patterns = Vec::new();
        for (index, (entry, span)) in routine.score.iter().zip(&timeline.sections).enumerate() {
            let Part::Juggle(juggle) = &entry.part else { continue };
            if span.ends <= from || span.starts >= to {
                continue;
            }
            let name = plain(&entry.name.value);
            let alike = heard.iter().position(|&other| is_alike(routine, timeline, other, index));
            match alike.and_then(|group| sections.get_mut(group)) {
                Some(group) => group.push(name),
                None => {
                    heard.push(index);
                    sections.push(vec![name]);
                    patterns.push(plain(&juggle.pattern.text));
                }
            }
        }
        let tempos = fit::to_music(routine, timeline, &bars.bpm, &heard);
        let bpm = bars.bpm.clone();
        stretches.push(Stretch { bar: bars.number, from, bpm, sections, patterns, tempos });
    }
    stretches
}

/// Whether two juggled entries throw the same pattern with the same set.
fn is_alike(routine: &Routine, timeline: &Timeline, one: usize, other: usize) -> bool {
    let of = |index: usize| {
        let Part::Juggle(juggle) = &routine.score.get(index)?.part else { return None };
        let run = timeline.sections.get(index)?.juggle.as_ref()?.run;
        Some((&juggle.pattern.text, juggle.twos, timeline.runs.get(run)?.set))
    };
    of(one) == of(other)
}
