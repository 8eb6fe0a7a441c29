//! Captions as WebVTT (W3C) and as SubRip, which has no standard.
//!
//! Stamps are thousandths, half away from zero. WebVTT's `&`, `<` and `>` are escaped, so that no
//! text is taken for markup or for an arrow. SubRip has no escapes: `<` and `>` are written as the
//! single quotation marks `‹` and `›` there.

use crate::sheet::rehearsal::captions::{Caption, Captions};
use crate::time::{Seconds, nearest, per_second};

/// The captions as WebVTT.
#[must_use]
pub fn vtt(captions: &Captions) -> String {
    let media = &captions.media;
    let note = format!("{}, {}. 0:00 is {}.", media.title, media.issue, media.zero);
    let mut text = format!("WEBVTT\n\nNOTE {}\n", escaped(&note));
    if let Some(earliest) = media.earliest_words() {
        text += &format!("\nNOTE {}\n", escaped(&earliest));
    }
    for caption in &captions.captions {
        let [starts, ends] = [&caption.starts, &caption.ends].map(|time| stamp(time, '.'));
        text += &format!("\n{starts} --> {ends}\n");
        for line in lines(caption) {
            text += &format!("{}\n", escaped(&line));
        }
    }
    text
}

/// The captions as SubRip.
#[must_use]
pub fn srt(captions: &Captions) -> String {
    let mut text = String::new();
    for (index, caption) in captions.captions.iter().enumerate() {
        let [starts, ends] = [&caption.starts, &caption.ends].map(|time| stamp(time, ','));
        text += &format!("{}\n{starts} --> {ends}\n", index + 1);
        for line in lines(caption) {
            text += &format!("{}\n", line.replace('<', "‹").replace('>', "›"));
        }
        text.push('\n');
    }
    text
}

/// The sections on one line, each cue on its own. An empty line would end a caption.
fn lines(caption: &Caption) -> Vec<String> {
    let mut lines = vec![caption.sections.join(" / ")];
    lines.extend(caption.cues.iter().cloned());
    let lines = lines.iter().map(|line| line.trim().to_owned());
    let lines: Vec<String> = lines.filter(|line| !line.is_empty()).collect();
    // A section may be called nothing that prints.
    if lines.is_empty() { vec!["–".to_owned()] } else { lines }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// `hh:mm:ss.mmm`, hours always written.
fn stamp(time: &Seconds, point: char) -> String {
    let thousandths = nearest(time, &per_second(1_000)).max(0);
    let (seconds, thousandths) = (thousandths / 1_000, thousandths % 1_000);
    let (hours, minutes, seconds) = (seconds / 3_600, seconds / 60 % 60, seconds % 60);
    format!("{hours:02}:{minutes:02}:{seconds:02}{point}{thousandths:03}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay, ms};
    use crate::sheet::rehearsal::{Media, captions};

    fn quay() -> Captions {
        let quay = lantern_quay();
        captions::compose(Media::new(&compiled(&quay), None).unwrap()).unwrap()
    }

    #[test]
    fn stamps_are_those_of_the_published_examples() {
        // Source: WebVTT (W3C), examples and timestamp syntax; SubRip's convention, as the PyPI
        // package srt has it.
        let mut checked = [0, 0];
        for row in csv::Reader::from_path("tests/data/caption_stamps.csv").unwrap().records() {
            let row = row.unwrap();
            let is_vtt = &row[0] == "vtt";
            let ours = stamp(&ms(row[1].parse().unwrap()), if is_vtt { '.' } else { ',' });
            // WebVTT's hours may be left out where they are zero; ours never are.
            let text =
                if row[2].len() == 9 { format!("00:{}", &row[2]) } else { row[2].to_owned() };
            assert_eq!(ours, text, "{} ms", &row[1]);
            checked[usize::from(is_vtt)] += 1;
        }
        assert_eq!(checked, [5, 10]);
        assert_eq!(stamp(&Seconds::fraction(1, 2_000), '.'), "00:00:00.001");
    }

    #[test]
    fn the_captions_of_the_worked_example() {
        insta::assert_snapshot!(vtt(&quay()));
        let srt = srt(&quay());
        assert!(srt.starts_with("1\n00:00:00,000 --> 00:00:07,500\nstillness\n\n2\n"), "{srt}");
        assert!(srt.ends_with("bow\n\n"), "{srt}");
    }

    #[test]
    fn no_text_is_markup_or_an_arrow() {
        let mut captions = quay();
        captions.captions.truncate(1);
        captions.captions[0].sections = vec!["<b>R & B</b> --> ".to_owned()];
        captions.captions[0].cues = vec![" ".to_owned(), "a".to_owned()];
        let payload = "&lt;b&gt;R &amp; B&lt;/b&gt; --&gt;\na\n";
        assert!(vtt(&captions).ends_with(payload), "{}", vtt(&captions));
        assert!(srt(&captions).ends_with("\n‹b›R & B‹/b› --›\na\n\n"), "{}", srt(&captions));
        captions.captions[0] =
            Caption { sections: Vec::new(), cues: Vec::new(), ..captions.captions[0].clone() };
        assert!(srt(&captions).ends_with("\n–\n\n"));
    }
}
