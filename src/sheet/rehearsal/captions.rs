//! Captions for a rehearsal's video: the section that runs, and under it the cues that go.
//!
//! One caption at a time. The section's name stands on one line for as long as it lasts, a cue on a
//! line of its own from its GO for four seconds or until the next cue. Nothing is shown before it
//! begins, and what runs is always named. Each stands for a second at least: what is over sooner
//! goes on beside what follows, so a caption may be shorter while none of its lines is.

use std::collections::BTreeSet;

use crate::time::{Seconds, nearest, per_second};

use super::{LeftOut, Media, Refused};

/// The captions.
#[derive(Clone, Debug, PartialEq)]
pub struct Captions {
    /// Their clock.
    pub media: Media,
    /// In order of time, none over another.
    pub captions: Vec<Caption>,
    /// What comes before the zero.
    pub left_out: Vec<LeftOut>,
}

/// What is shown at one time.
#[derive(Clone, Debug, PartialEq)]
pub struct Caption {
    /// From when.
    pub starts: Seconds,
    /// To when.
    pub ends: Seconds,
    /// The section that runs, behind what was over within a second of its start; empty after the
    /// last.
    pub sections: Vec<String>,
    /// The cues, in order of GO.
    pub cues: Vec<String>,
}

/// A line of captions, in thousandths of a second.
struct Line {
    from: i64,
    to: i64,
    words: String,
    is_cue: bool,
}

/// The least that a line is shown, in thousandths.
const LEAST: i64 = 1_000;
/// How long a cue is shown, in thousandths.
const STAY: i64 = 4_000;

/// Composes the captions.
///
/// # Errors
/// [`Refused::Nothing`] where nothing comes after the zero.
pub fn compose(media: Media) -> Result<Captions, Refused> {
    let captions = captions_of(&lines(&media));
    if captions.is_empty() {
        return Err(Refused::Nothing);
    }
    let left_out = media.left_out();
    Ok(Captions { media, captions, left_out })
}

/// Every line from the zero on: the sections in their order, then the cues in theirs.
fn lines(media: &Media) -> Vec<Line> {
    let ms = |time: &Seconds| nearest(time, &per_second(1_000));
    let section = |section: &super::Stretch| {
        let from = ms(&section.seen_from()?);
        let to = ms(&section.ends).max(from + LEAST);
        Some(Line { from, to, words: section.name.clone(), is_cue: false })
    };
    let going: Vec<_> = media.cues.iter().filter(|cue| !cue.at.is_negative()).collect();
    let cue = |(index, cue): (usize, &&super::Go)| {
        let from = ms(&cue.at);
        let next = going[index..].iter().map(|later| ms(&later.at)).find(|later| *later > from);
        let to = next.map_or(from + STAY, |next| next.clamp(from + LEAST, from + STAY));
        Line { from, to, words: cue.words.clone(), is_cue: true }
    };
    let sections = media.sections.iter().filter_map(section);
    sections.chain(going.iter().enumerate().map(cue)).collect()
}

/// A caption for every stretch of time in which the same lines are shown.
fn captions_of(lines: &[Line]) -> Vec<Caption> {
    let changes: BTreeSet<i64> = lines.iter().flat_map(|line| [line.from, line.to]).collect();
    let shown = |(&from, &to): (&i64, &i64)| {
        let here = lines.iter().filter(|line| line.from <= from && to <= line.to);
        let (cues, sections): (Vec<&Line>, Vec<&Line>) = here.partition(|line| line.is_cue);
        let words = |lines: Vec<&Line>| lines.into_iter().map(|line| line.words.clone()).collect();
        let seconds = |ms| Seconds::fraction(ms, 1_000);
        let is_empty = cues.is_empty() && sections.is_empty();
        (!is_empty).then(|| Caption {
            starts: seconds(from),
            ends: seconds(to),
            sections: words(sections),
            cues: words(cues),
        })
    };
    changes.iter().zip(changes.iter().skip(1)).filter_map(shown).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms};
    use crate::sheet::rehearsal::{Go, Stretch};

    fn media(sections: &[(&str, i64, i64)], cues: &[(&str, i64)]) -> Media {
        let quay = lantern_quay();
        let mut media = Media::new(&compiled(&quay), None).unwrap();
        let section = |&(name, starts, ends): &(&str, i64, i64)| Stretch {
            name: name.to_owned(),
            starts: ms(starts),
            ends: ms(ends),
            is_juggled: true,
        };
        media.sections = sections.iter().map(section).collect();
        let cue = |&(words, at): &(&str, i64)| Go {
            cue: 0,
            at: ms(at),
            is_certain: true,
            words: words.to_owned(),
        };
        media.cues = cues.iter().map(cue).collect();
        media
    }

    /// Each caption as `starts-ends section+section/cue/cue`, in thousandths.
    fn lines(sections: &[(&str, i64, i64)], cues: &[(&str, i64)]) -> Vec<String> {
        let captions = compose(media(sections, cues)).unwrap().captions;
        let whole = |time: &Seconds| (time.to_f64() * 1000.0).round();
        let line = |caption: Caption| {
            let mut lines = vec![caption.sections.join("+")];
            lines.extend(caption.cues);
            let text = lines.join("/");
            format!("{}-{} {text}", whole(&caption.starts), whole(&caption.ends))
        };
        captions.into_iter().map(line).collect()
    }

    #[test]
    fn a_cue_stands_under_its_section_for_four_seconds() {
        let tide = [("tide", 0, 10_000), ("ebb", 10_000, 20_000)];
        let expected = ["0-3000 tide", "3000-7000 tide/LX 1", "7000-10000 tide", "10000-20000 ebb"];
        assert_eq!(lines(&tide, &[("LX 1", 3_000)])[..4], expected);
        // It goes on into the next section, and gives way to the next cue.
        let expected = ["0-8000 tide", "8000-10000 tide/a", "10000-11000 ebb/a"];
        let lines = lines(&tide, &[("a", 8_000), ("b", 11_000)]);
        assert_eq!(lines[..3], expected);
        assert_eq!(lines[3], "11000-15000 ebb/b");
    }

    #[test]
    fn nothing_is_named_early_and_what_runs_always_is() {
        // A cue shortly before a section does not name it, nor leave out the one that runs.
        let tide = [("tide", 0, 5_000), ("ebb", 5_000, 12_000)];
        let expected = ["0-4050 tide", "4050-5000 tide/a", "5000-8050 ebb/a", "8050-12000 ebb"];
        assert_eq!(lines(&tide, &[("a", 4_050)]), expected);
        // What is shorter than a second stands beside the next until it is over.
        let short = [("tide", 0, 5_000), ("turn", 5_000, 5_400), ("ebb", 5_400, 12_000)];
        let lines = lines(&short, &[("a", 4_600), ("b", 5_590)]);
        let expected = [
            "0-4600 tide",
            "4600-5000 tide/a",
            "5000-5400 turn/a",
            "5400-5590 turn+ebb/a",
            "5590-5600 turn+ebb/a/b",
            "5600-6000 turn+ebb/b",
            "6000-9590 ebb/b",
            "9590-12000 ebb",
        ];
        assert_eq!(lines, expected);
    }

    #[test]
    fn a_last_cue_outlasts_the_act_and_a_short_end_is_still_named() {
        let tide = [("tide", 0, 10_000)];
        let expected = ["0-9500 tide", "9500-10000 tide/LX 9", "10000-13500 /LX 9"];
        assert_eq!(lines(&tide, &[("LX 9", 9_500)]), expected);
        let late = [("tide", 0, 9_500), ("bow", 9_500, 10_000)];
        assert_eq!(lines(&late, &[]), ["0-9500 tide", "9500-10500 bow"]);
        assert_eq!(lines(&tide, &[("a", 30_000)])[1..], ["30000-34000 /a"]);
        assert_eq!(compose(media(&[("tide", -9_000, -1)], &[])).unwrap_err(), Refused::Nothing);
    }
}
