//! Captions under the published rules, and against the times of the sheets.

use proptest::prelude::*;
use throwbook::act::Act;
use throwbook::export::captions::{srt, vtt};
use throwbook::sheet::rehearsal::captions::{Captions, compose};
use throwbook::sheet::rehearsal::{Go, Stretch};
use throwbook::time::Seconds;

use super::{ACTS, LANTERN, media, opened};

/// A caption: from and to in thousandths, and its lines.
type Shown = (u64, u64, Vec<String>);

/// A stamp of WebVTT in thousandths; `None` where an author may not write it so.
fn stamp(text: &str, point: char) -> Option<u64> {
    let (clock, thousandths) = text.split_once(point)?;
    let parts: Vec<&str> = clock.split(':').collect();
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    let (hours, minutes, seconds) = match parts[..] {
        [minutes, seconds] if point == '.' => ("00", minutes, seconds),
        [hours, minutes, seconds] => (hours, minutes, seconds),
        _ => return None,
    };
    let shaped = hours.len() >= 2 && minutes.len() == 2 && seconds.len() == 2;
    if !shaped
        || thousandths.len() != 3
        || ![hours, minutes, seconds, thousandths].iter().all(|part| digits(part))
    {
        return None;
    }
    let number = |part: &str| part.parse::<u64>().ok();
    let (minutes, seconds) = (number(minutes)?, number(seconds)?);
    let whole = (number(hours)? * 60 + minutes) * 60 + seconds;
    (minutes < 60 && seconds < 60).then_some(whole * 1000 + number(thousandths)?)
}

/// From when to when.
fn timing(line: &str, point: char) -> Option<(u64, u64)> {
    let (from, to) = line.split_once(" --> ")?;
    let (from, to) = (stamp(from, point)?, stamp(to, point)?);
    (from < to).then_some((from, to))
}

fn is_payload(line: &str) -> bool {
    !line.contains("-->")
}

/// A WebVTT file's captions; `None` where it breaks a rule.
fn read_vtt(text: &str) -> Option<Vec<Shown>> {
    let mut blocks = text.strip_suffix('\n')?.split("\n\n");
    if blocks.next()? != "WEBVTT" {
        return None;
    }
    let mut captions = Vec::new();
    for block in blocks {
        if block.starts_with("NOTE ") {
            if !is_payload(block) {
                return None;
            }
            continue;
        }
        let (first, lines) = block.split_once('\n')?;
        let (from, to) = timing(first, '.')?;
        let plain =
            |line: &str| line.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
        let fine = |line: &str| is_payload(line) && !line.contains(['<', '>']) && !line.is_empty();
        if !lines.lines().all(fine) {
            return None;
        }
        captions.push((from, to, lines.lines().map(plain).collect()));
    }
    Some(captions)
}

fn read_srt(text: &str) -> Option<Vec<Shown>> {
    let mut captions = Vec::new();
    for (index, block) in text.split_terminator("\n\n").enumerate() {
        let mut lines = block.lines();
        if lines.next()? != (index + 1).to_string() {
            return None;
        }
        let (from, to) = timing(lines.next()?, ',')?;
        captions.push((from, to, lines.map(str::to_owned).collect()));
    }
    Some(captions)
}

#[test]
fn the_published_rules_are_those_that_the_files_are_read_by() {
    // Source: WebVTT (W3C), syntax for authors.
    let mut checked = 0;
    for row in csv::Reader::from_path("tests/data/caption_rules.csv").unwrap().records() {
        let row = row.unwrap();
        let fine = match &row[1] {
            "payload holds -->" => is_payload(&row[1]),
            line => timing(line, '.').is_some(),
        };
        assert_eq!(fine, &row[2] == "yes", "{}: {}", &row[1], &row[3]);
        checked += 1;
    }
    assert_eq!(checked, 10);
}

fn captions(act: &Act) -> Captions {
    compose(media(act, None)).unwrap()
}

/// From when to when a line is on show, in thousandths: one stretch without a gap.
fn on_show(shown: &[Shown], is_it: impl Fn(&str) -> bool) -> (u64, u64) {
    let has = |(_, _, lines): &&Shown| lines.iter().any(|line| line.split(" / ").any(&is_it));
    let mut with = shown.iter().filter(has).map(|&(from, to, _)| (from, to));
    let first = with.next().expect("it is shown");
    with.fold(first, |(from, to), (next, ends)| {
        assert_eq!(to, next, "it is shown twice");
        (from, ends)
    })
}

#[test]
fn every_act_is_captioned_section_by_section_and_cue_by_cue() {
    for text in ACTS {
        let act = opened(text);
        let captions = captions(&act);
        let shown = read_vtt(&vtt(&captions)).expect("valid WebVTT");
        assert_eq!(read_srt(&srt(&captions)).expect("valid SubRip"), shown);
        for pair in shown.windows(2) {
            assert!(pair[0].1 <= pair[1].0, "one over another: {pair:?}");
        }
        let thousandths = |time: &throwbook::time::Seconds| (time.to_f64() * 1000.0).round() as u64;
        for section in captions.media.sections.iter().filter(|one| !one.starts.is_negative()) {
            let (from, to) = on_show(&shown, |line| line == section.name);
            let (starts, ends) = (thousandths(&section.starts), thousandths(&section.ends));
            assert_eq!((from, to), (starts, ends.max(starts + 1000)), "{}", section.name);
        }
        for cue in captions.media.cues.iter().filter(|one| !one.at.is_negative()) {
            let (from, to) = on_show(&shown, |line| line == cue.words);
            assert_eq!(from, thousandths(&cue.at), "{}", cue.words);
            assert!((1000..=4000).contains(&(to - from)), "{}", cue.words);
        }
    }
}

#[test]
fn what_a_name_or_a_cue_holds_never_breaks_a_file() {
    let hostile = LANTERN
        .replace("\"tide\"", "\"a --> b <i>&amp;\"")
        .replace("\"beam\"", "\"\\u{7}\"")
        .replace("\"sides up, front low\"", "\"one\\n\\ntwo --> 00:01.000\"");
    let act = opened(&hostile);
    let captions = captions(&act);
    let shown = read_vtt(&vtt(&captions)).expect("valid WebVTT");
    assert_eq!(shown[2].2, ["a --> b <i>&amp;", "LX 15: one two --> 00:01.000"]);
    assert_eq!(shown[4].2, ["–"]);
    let shown = read_srt(&srt(&captions)).expect("valid SubRip");
    assert_eq!(shown[2].2, ["a --› b ‹i›&amp;", "LX 15: one two --› 00:01.000"]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_act_is_shown_whole_and_one_thing_at_a_time(
        starts in -20_000_i64..5_000,
        lengths in prop::collection::vec(prop_oneof![0_i64..1_500, 1_000_i64..30_000], 1..12),
        gos in prop::collection::vec(-10_000_i64..120_000, 0..20),
    ) {
        let act = opened(LANTERN);
        let mut media = media(&act, None);
        let ms = |thousandths| Seconds::fraction(thousandths, 1000);
        let mut now = starts;
        media.sections.clear();
        for (index, length) in lengths.iter().enumerate() {
            let (name, is_juggled) = (format!("section {index}."), true);
            let ends = ms(now + length);
            media.sections.push(Stretch { name, starts: ms(now), ends, is_juggled });
            now += length;
        }
        let mut gos = gos;
        gos.sort_unstable();
        media.cues = gos
            .iter()
            .enumerate()
            .map(|(cue, &go)| Go { cue, at: ms(go), is_certain: true, words: format!("cue {cue}.") })
            .collect();
        let Ok(captions) = compose(media.clone()) else {
            prop_assert!(now <= 0 && gos.iter().all(|&go| go < 0));
            return Ok(());
        };
        let shown = read_vtt(&vtt(&captions)).expect("valid WebVTT");
        prop_assert_eq!(read_srt(&srt(&captions)).expect("valid SubRip"), shown.clone());
        for pair in shown.windows(2) {
            prop_assert!(pair[0].1 <= pair[1].0, "one over another: {:?}", pair);
            prop_assert!(pair[0].2 != pair[1].2 || pair[0].1 < pair[1].0, "one thing twice: {:?}", pair);
        }
        // Nothing is named before it begins, what runs always is, and each for a second at least.
        for section in &media.sections {
            let Some(from) = section.seen_from() else { continue };
            let from = (from.to_f64() * 1000.0).round() as u64;
            let ends = ((section.ends.to_f64() * 1000.0).round() as u64).max(from + 1000);
            prop_assert_eq!(on_show(&shown, |line| line == section.name), (from, ends), "{}", section.name);
        }
        let mut going = media.cues.iter().filter(|cue| !cue.at.is_negative()).peekable();
        while let Some(cue) = going.next() {
            let from = (cue.at.to_f64() * 1000.0).round() as u64;
            let mut later = going.clone().map(|next| (next.at.to_f64() * 1000.0).round() as u64);
            let next = later.find(|next| *next > from).unwrap_or(u64::MAX);
            let until = (from + 4000).min(next.max(from + 1000));
            prop_assert_eq!(on_show(&shown, |line| line == cue.words), (from, until), "{}", cue.words);
        }
    }
}
