//! What fits, before a juggler commits: the cycles that land each section on its end, and the
//! tempos that the music offers.
//!
//! Plain contents for the exporters; every figure comes from [`crate::measure::fit`]. The timeline
//! is that of a routine compiled to fit ([`crate::timeline::compile_to_fit`]).

use num_rational::BigRational;

use crate::act::Act;
use crate::diagnostic::words::counted;
use crate::measure::fit::{self, Fit, MusicTempo};
use crate::routine::{Length, Part};
use crate::time::{Pace, Seconds, Time, TimeRange};
use crate::timeline::Timeline;

use super::heading::Heading;
use super::words::{self, plain};

/// What fits.
#[derive(Clone, Debug, PartialEq)]
pub struct FitSheet {
    /// Its head.
    pub heading: Heading,
    /// The sections whose end is fixed, in order.
    pub sections: Vec<FitLine>,
    /// The others that were asked about, with why nothing is to be chosen.
    pub without: Vec<(String, &'static str)>,
    /// What each stretch of bars offers; empty where there are none, or one section was asked
    /// about.
    pub to_music: Vec<Stretch>,
    /// The room's clear height, in metres.
    pub clear_height_m: Option<f64>,
    /// What fits in the encore, on its own clock; `None` where one section was asked about.
    pub encore: Option<Box<FitSheet>>,
}

/// A section whose end is fixed.
#[derive(Clone, Debug, PartialEq)]
pub struct FitLine {
    /// Its name.
    pub name: String,
    /// Its pattern as written.
    pub pattern: String,
    /// Where it ends and how, in words.
    pub ends: String,
    /// What fits.
    pub fit: Fit,
}

/// A stretch of bars, and what is juggled to it; of a ramp either end.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// The number of its first bar, or of the one in which a ramp ends.
    pub bar: i64,
    /// When that begins, or the ramp ends, on the show clock.
    pub from: TimeRange,
    /// Music beats a minute.
    pub bpm: BigRational,
    /// Whether a ramp ends with it.
    pub reached: bool,
    /// Sections that are juggled to it; those of one pattern and one kind of prop together.
    pub sections: Vec<Vec<String>>,
    /// Their patterns as written.
    pub patterns: Vec<String>,
    /// The tempos; each has a figure for each of the above.
    pub tempos: Vec<MusicTempo>,
}

/// Composes what fits, of every section or of one, an index into the score.
#[must_use]
pub fn compose(act: &Act, only: Option<usize>) -> FitSheet {
    let Act { routine, timeline, .. } = act;
    let mut sheet = FitSheet {
        heading: Heading::of(act),
        sections: Vec::new(),
        without: Vec::new(),
        to_music: if only.is_none() { stretches(act) } else { Vec::new() },
        clear_height_m: routine.room.as_ref().map(|room| room.clear_height.value),
        encore: act
            .encore
            .as_deref()
            .filter(|_| only.is_none())
            .map(|encore| Box::new(compose(encore, None))),
    };
    let asked = |index: &usize| only.is_none_or(|only| only == *index);
    for index in (0..routine.score.len()).filter(asked) {
        let Some(entry) = routine.score.get(index) else { continue };
        let name = plain(&entry.name.value);
        let juggle = match &entry.part {
            Part::Juggle(juggle) => juggle,
            Part::Pause(_) | Part::Unread(_) => {
                if only.is_some() {
                    sheet.without.push((name, "a pause has no throws"));
                }
                continue;
            }
        };
        let Some(fit) = fit::of_section(act, index) else {
            sheet.without.push((name, why_without(timeline, index)));
            continue;
        };
        let ends = match (&fit.end.until, &juggle.lasts.value) {
            (Some(until), _) => words::lands(until),
            (None, Length::Bars(bars)) => {
                format!("ends {} after its start", counted(*bars, "bar"))
            }
            (None, _) => format!("ends {:.3} s after its start", length(&fit).to_f64()),
        };
        let pattern = plain(&juggle.pattern.text);
        sheet.sections.push(FitLine { name, pattern, ends, fit });
    }
    sheet
}

/// Why nothing is to be chosen of a juggled section.
fn why_without(timeline: &Timeline, index: usize) -> &'static str {
    let juggle = timeline.sections.get(index).and_then(|span| span.juggle.as_ref());
    let piece = juggle.and_then(|juggle| {
        let own = i64::from(juggle.own_first_beat).into();
        timeline.runs.get(juggle.run)?.tempo.piece_at(own)
    });
    match piece.map(|piece| &piece.pace) {
        Some(Pace::Ramp { .. }) => "a ramp does not bend",
        Some(Pace::Music { .. }) => "it goes as the music goes",
        Some(Pace::Steady(_)) | None => "no fixed end",
    }
}

/// How long a section lasts whose length is written as a time.
fn length(fit: &Fit) -> Seconds {
    fit.end.lasts.iter().flatten().next().cloned().unwrap_or_else(Seconds::zero)
}

fn stretches(act: &Act) -> Vec<Stretch> {
    let Act { routine, timeline, .. } = act;
    let (Some(track), Some(start)) = (routine.first_track(), timeline.track_start()) else {
        return Vec::new();
    };
    let Some(map) = track.music_map() else { return Vec::new() };
    let mut stretches = Vec::new();
    for (index, bars) in track.bars.iter().enumerate() {
        let next = track.bars.get(index + 1).map(|next| &next.from.value);
        let ends = next.unwrap_or(&track.length.value);
        let first = map.time_of(bars.number.into(), 1);
        let begins = Heard {
            bar: bars.number.into(),
            from: first.unwrap_or_else(|| bars.from.value.clone()),
            bpm: bars.bpm.clone(),
            reached: false,
        };
        let over = bars.over.and_then(|over| {
            let over = map.count(&bars.from.value)? + BigRational::from_integer(over.into());
            Some(map.time(&over)).filter(|over| over < ends)
        });
        let reached = bars.to.as_ref().map(|to| {
            let from = over.as_ref().unwrap_or(ends);
            // Where the track ends, its last bar has.
            let bar = map.bar_beat(from).unwrap_or_else(|| map.ends_of().1).bar;
            Heard { bar, from: from.clone(), bpm: to.clone(), reached: true }
        });
        // A ramp that is over is held.
        let ramp_ends = over.as_ref().unwrap_or(ends);
        let begins_to = if reached.is_some() { ramp_ends } else { ends };
        let (from, begins_to, ends) = (start + &bars.from.value, start + begins_to, start + ends);
        stretches.push(stretch(act, start, begins, [&from, &begins_to]));
        if let Some(reached) = reached {
            stretches.push(stretch(act, start, reached, [&from, &ends]));
        }
    }
    stretches
}

/// A tempo of the music, from a time of the track on.
struct Heard {
    bar: i64,
    from: Seconds,
    bpm: BigRational,
    reached: bool,
}

/// What is juggled to a tempo of the music from one time of the show clock to another.
fn stretch(act: &Act, start: &Time, music: Heard, [from, to]: [&Time; 2]) -> Stretch {
    let mut heard: Vec<usize> = Vec::new();
    let mut sections: Vec<Vec<String>> = Vec::new();
    let mut patterns = Vec::new();
    for (index, entry, span) in act.sections() {
        let Some(juggle) = entry.juggle() else { continue };
        if (&span.ends - from).most() <= Seconds::zero()
            || !(&span.starts - to).least().is_negative()
        {
            continue;
        }
        let name = plain(&entry.name.value);
        let alike = heard.iter().position(|&other| is_alike(act, other, index));
        match alike.and_then(|group| sections.get_mut(group)) {
            Some(group) => group.push(name),
            None => {
                heard.push(index);
                sections.push(vec![name]);
                patterns.push(plain(&juggle.pattern.text));
            }
        }
    }
    let Heard { bar, from, bpm, reached } = music;
    let tempos = fit::to_music(act, &bpm, &heard);
    Stretch { bar, from: (start + &from).range(), bpm, reached, sections, patterns, tempos }
}

/// Whether two juggled entries throw the same pattern with the same set.
fn is_alike(act: &Act, one: usize, other: usize) -> bool {
    let Act { routine, timeline, .. } = act;
    let of = |index: usize| {
        let juggle = routine.juggle(index)?;
        let run = timeline.sections.get(index)?.juggle.as_ref()?.run;
        Some((&juggle.pattern.text, juggle.twos, timeline.runs.get(run)?.set))
    };
    of(one) == of(other)
}
