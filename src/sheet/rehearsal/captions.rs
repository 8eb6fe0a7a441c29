//! Captions for a rehearsal's video: the section that runs, and under it the cues that go.
//!
//! One caption at a time, none shorter than a second. The section's name stands on one line for as
//! long as it lasts, a cue on a line of its own from its GO for four seconds or until the next cue.
//! Changes less than a second apart share the caption of the first.

use crate::time::Seconds;

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
    /// To when; at least a second later.
    pub ends: Seconds,
    /// The sections that begin or go on, one as a rule; empty after the last.
    pub sections: Vec<String>,
    /// The cues, in order of GO.
    pub cues: Vec<String>,
}

/// What changes at one time, or at several less than a second apart.
#[derive(Clone, Debug)]
struct Change {
    at: Seconds,
    /// Sections that begin.
    sections: Vec<String>,
    /// Cues that go.
    cues: Vec<String>,
    /// The last section ends.
    act_ends: bool,
}

/// The shortest caption.
fn shortest() -> Seconds {
    Seconds::fraction(1, 1)
}

/// How long a cue is shown.
fn stay() -> Seconds {
    Seconds::fraction(4, 1)
}

/// Composes the captions.
///
/// # Errors
/// [`Refused::Nothing`] where nothing comes after the zero.
pub fn compose(media: Media) -> Result<Captions, Refused> {
    let changes = changes(&media);
    let captions = shown(&changes);
    if captions.is_empty() {
        return Err(Refused::Nothing);
    }
    let left_out = media.left_out();
    Ok(Captions { media, captions, left_out })
}

/// Every change from the zero on, those less than a second apart together.
fn changes(media: &Media) -> Vec<Change> {
    let one = |at: &Seconds| Change {
        at: at.clone(),
        sections: Vec::new(),
        cues: Vec::new(),
        act_ends: false,
    };
    let mut changes = Vec::new();
    for section in &media.sections {
        if let Some(at) = section.seen_from() {
            changes.push(Change { sections: vec![section.name.clone()], ..one(&at) });
        }
    }
    if let Some(last) = media.sections.last().filter(|last| !last.ends.is_negative()) {
        changes.push(Change { act_ends: true, ..one(&last.ends) });
    }
    for cue in media.cues.iter().filter(|cue| !cue.at.is_negative()) {
        changes.push(Change { cues: vec![cue.words.clone()], ..one(&cue.at) });
    }
    changes.sort_by(|a, b| a.at.to_f64().total_cmp(&b.at.to_f64()));
    let mut together: Vec<Change> = Vec::new();
    for change in changes {
        match together.last_mut() {
            Some(first) if &change.at - &first.at < shortest() => {
                first.sections.extend(change.sections);
                first.cues.extend(change.cues);
                first.act_ends |= change.act_ends;
            }
            _ => together.push(change),
        }
    }
    together
}

/// The captions of changes that are at least a second apart.
fn shown(changes: &[Change]) -> Vec<Caption> {
    let mut captions = Vec::new();
    let mut section: Option<String> = None;
    // The cues on show, and until when.
    let mut on_show: (Vec<String>, Seconds) = (Vec::new(), Seconds::zero());
    for (index, change) in changes.iter().enumerate() {
        let mut sections = match (change.sections.as_slice(), change.act_ends) {
            ([], true) => Vec::new(),
            ([], false) => section.clone().into_iter().collect(),
            (begun, _) => begun.to_vec(),
        };
        section = if change.act_ends { None } else { sections.last().cloned() };
        if !change.cues.is_empty() {
            on_show = (change.cues.clone(), &change.at + &stay());
        }
        let next = changes.get(index + 1).map(|next| next.at.clone());
        // After the last change a section is still named for as long as a caption must be.
        let ends = next.unwrap_or_else(|| {
            let named = &change.at + &shortest();
            if on_show.1 > named { on_show.1.clone() } else { named }
        });
        let mut starts = change.at.clone();
        if on_show.1 >= &starts + &shortest() {
            // What is left for the section alone may be too short for a caption of its own.
            let alone = &ends - &on_show.1 >= shortest() && !sections.is_empty();
            let until = if alone || (sections.is_empty() && on_show.1 < ends) {
                on_show.1.clone()
            } else {
                ends.clone()
            };
            let cues = on_show.0.clone();
            let (from, to) = (starts, until.clone());
            captions.push(Caption { starts: from, ends: to, sections: sections.clone(), cues });
            // Of several that begin together the last goes on.
            sections.drain(..sections.len().saturating_sub(1));
            starts = until;
        }
        if starts < ends && !sections.is_empty() {
            captions.push(Caption { starts, ends, sections, cues: Vec::new() });
        }
    }
    captions
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
        let cue = |&(words, at): &(&str, i64)| Go { cue: 0, at: ms(at), words: words.to_owned() };
        media.cues = cues.iter().map(cue).collect();
        media
    }

    /// Each caption as `starts-ends section+section/cue/cue`, in thousandths.
    fn lines(sections: &[(&str, i64, i64)], cues: &[(&str, i64)]) -> Vec<String> {
        let captions = compose(media(sections, cues)).unwrap().captions;
        let whole = |time: &Seconds| (time.to_f64() * 1000.0).round();
        let mut end = Seconds::zero();
        let line = |caption: Caption| {
            assert!(caption.starts >= end, "one over another");
            assert!(&caption.ends - &caption.starts >= shortest());
            end = caption.ends.clone();
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
    fn changes_less_than_a_second_apart_share_a_caption() {
        let short = [("tide", 0, 5_000), ("turn", 5_000, 5_400), ("ebb", 5_400, 12_000)];
        let lines = lines(&short, &[("a", 4_600), ("b", 5_590)]);
        assert_eq!(lines[0], "0-4600 tide");
        assert_eq!(lines[1], "4600-8600 turn+ebb/a/b");
        assert_eq!(lines[2], "8600-12000 ebb");
    }

    #[test]
    fn a_last_cue_outlasts_the_act_and_a_short_end_is_still_named() {
        let tide = [("tide", 0, 10_000)];
        let expected = ["0-9500 tide", "9500-13500 /LX 9"];
        assert_eq!(lines(&tide, &[("LX 9", 9_500)]), expected);
        let late = [("tide", 0, 9_500), ("bow", 9_500, 10_000)];
        assert_eq!(lines(&late, &[]), ["0-9500 tide", "9500-10500 bow"]);
        assert_eq!(lines(&tide, &[("a", 30_000)])[1..], ["30000-34000 /a"]);
        assert_eq!(compose(media(&[("tide", -9_000, -1)], &[])).unwrap_err(), Refused::Nothing);
    }
}
