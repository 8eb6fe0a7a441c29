//! What fits as JSON: a contract, read by other programs.
//!
//! Times are seconds, heights metres, tempos throws a minute, bends parts of the written tempo.

use num_rational::{BigRational, Ratio};
use num_traits::ToPrimitive;
use serde::Serialize;

use crate::measure::fit::{AtTempo, MusicTempo};
use crate::sheet::fit::{FitLine, FitSheet, Stretch};

use super::json::written;
use super::stamped_json::Ranged;

#[derive(Serialize)]
struct Document<'a> {
    sections: Vec<Section<'a>>,
    to_music: Vec<Bars<'a>>,
    encore: Option<Box<Document<'a>>>,
}

#[derive(Serialize)]
struct Lone<'a> {
    #[serde(flatten)]
    section: Section<'a>,
    to_music: Vec<Bars<'a>>,
    encore: Option<Box<Document<'a>>>,
}

#[derive(Serialize)]
struct Section<'a> {
    section: &'a str,
    choices: Vec<Choice>,
}

#[derive(Serialize)]
struct Choice {
    cycles: u32,
    per_minute: f64,
    bend: f64,
    seconds: f64,
    highest_m: Option<f64>,
    feasible: bool,
}

#[derive(Serialize)]
struct Bars<'a> {
    bar: i64,
    #[serde(flatten)]
    from: Ranged,
    bpm: f64,
    tempos: Vec<Tempo<'a>>,
}

#[derive(Serialize)]
struct Tempo<'a> {
    throws_per_music_beat: f64,
    per_minute: f64,
    dwell_s: f64,
    patterns: Vec<AtTempoEntry<'a>>,
}

#[derive(Serialize)]
struct AtTempoEntry<'a> {
    sections: &'a [String],
    pattern: &'a str,
    highest_m: Option<f64>,
    needs_m: Option<f64>,
    feasible: bool,
}

/// What fits, of every section that lands somewhere: a list, or where there is only one, that one.
#[must_use]
pub fn of_sheet(sheet: &FitSheet) -> String {
    let Document { mut sections, to_music, encore } = document(sheet);
    match sections.pop() {
        Some(section) if sections.is_empty() => written(&Lone { section, to_music, encore }),
        last => {
            sections.extend(last);
            written(&Document { sections, to_music, encore })
        }
    }
}

fn document(sheet: &FitSheet) -> Document<'_> {
    Document {
        sections: sheet.sections.iter().map(section).collect(),
        to_music: sheet.to_music.iter().map(bars).collect(),
        encore: sheet.encore.as_deref().map(|encore| Box::new(document(encore))),
    }
}

/// What fits of the one section that was asked about.
#[must_use]
pub fn of_one(sheet: &FitSheet) -> String {
    let without = || sheet.without.first().map_or("", |(name, _)| name.as_str());
    let one = sheet.sections.first().map(section);
    written(&one.unwrap_or_else(|| Section { section: without(), choices: Vec::new() }))
}

fn section(line: &FitLine) -> Section<'_> {
    let choices = line.fit.choices.iter().map(|choice| Choice {
        cycles: choice.bend.cycles,
        per_minute: double(&choice.bend.per_minute),
        bend: double(&choice.bend.bend()),
        seconds: choice.bend.lasts.to_f64(),
        highest_m: choice.reach.map(|reach| reach.above_hand_m),
        feasible: choice.why_not.is_empty(),
    });
    Section { section: &line.name, choices: choices.collect() }
}

fn bars(stretch: &Stretch) -> Bars<'_> {
    Bars {
        bar: stretch.bar,
        from: Ranged("from", Some(stretch.from.clone())),
        bpm: double(&stretch.bpm),
        tempos: stretch.tempos.iter().map(|one| tempo(stretch, one)).collect(),
    }
}

fn tempo<'a>(stretch: &'a Stretch, tempo: &MusicTempo) -> Tempo<'a> {
    let named = stretch.sections.iter().zip(&stretch.patterns).zip(&tempo.sections);
    let entry =
        |((sections, pattern), at_tempo): ((&'a Vec<String>, &'a String), &AtTempo)| AtTempoEntry {
            sections,
            pattern,
            highest_m: at_tempo.reach.map(|reach| reach.above_hand_m),
            needs_m: at_tempo.reach.and_then(|reach| reach.needs_m),
            feasible: at_tempo.why_not.is_empty(),
        };
    let throws: Ratio<i64> = tempo.throws_per_music_beat;
    Tempo {
        throws_per_music_beat: throws.to_f64().unwrap_or(f64::NAN),
        per_minute: double(&tempo.per_minute),
        dwell_s: tempo.dwell.to_f64(),
        patterns: named.map(entry).collect(),
    }
}

fn double(value: &BigRational) -> f64 {
    value.to_f64().unwrap_or(f64::NAN)
}
