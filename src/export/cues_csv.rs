//! The cue sheet as CSV (RFC 4180): a heading row, then one row for each cue in order of GO, those
//! of the encore on their own clock, then those that were cut since the issue before, when flames
//! are alight and out, and last where each section starts.
//!
//! A user's text that begins with `=`, `+`, `-`, `@`, a tab or a return gets an apostrophe before
//! it, so that a spreadsheet shows it and never runs it. Times are on the show clock, as `m:ss.s`
//! and, for arithmetic, in seconds: the earliest, and in the last two columns the latest, which is
//! the same where the time is certain. Where the sheet has time codes, columns of them follow the
//! times, and where the music has bars, columns of bars and music beats. In a draft, and where
//! changes were not handed out, the first column says so in every row; a time that is not known is
//! left empty. [`for_spreadsheet`] puts a byte-order mark before it all.

use csv::{Terminator, WriterBuilder};

use crate::act::Act;
use crate::issue::Told;
use crate::routine::{Crew, CueOnPaper};
use crate::sheet::cue_line::CueLine;
use crate::sheet::cues::{CueSheet, compose};
use crate::sheet::flames::{FlamesChange, FlamesLine};
use crate::sheet::heading::UNISSUED;
use crate::sheet::section_row::SectionRow;
use crate::sheet::stamp::{Stamp, figures};
use crate::sheet::words::{Text, count};
use crate::time::{Seconds, TimeRange, clock, on_paper};

use super::stamped_json::timecode;

/// The heading row, without time codes and bars.
const HEADINGS: [&str; 16] = [
    "time",
    "time_s",
    "standby",
    "crew",
    "number",
    "trigger",
    "when",
    "does",
    "count_s",
    "note",
    "on_drop",
    "part",
    "changed",
    "time_latest",
    "time_latest_s",
    "standby_latest",
];

/// The cue sheet of all crews, or of one, as CSV with CRLF line ends.
#[must_use]
pub fn csv(act: &Act, crew: Option<Crew>) -> String {
    of_sheet(&compose(act, crew))
}

/// A CSV text with the byte-order mark by which a spreadsheet that guesses takes it for UTF-8.
#[must_use]
pub fn for_spreadsheet(csv: &str) -> String {
    format!("\u{feff}{csv}")
}

/// The column of the time codes, where a sheet has them, and then of bars and music beats.
const AFTER_TIME: usize = 2;

/// A composed cue sheet as CSV with CRLF line ends.
#[must_use]
pub fn of_sheet(sheet: &CueSheet) -> String {
    let mut all: Vec<(Option<&Stamp>, Vec<String>)> = Vec::new();
    for (part, encore) in sheet.parts() {
        all.extend(part.lines.iter().map(|line| (Some(&line.go), row(line, encore))));
    }
    all.extend(sheet.cut.iter().map(|cue| (None, cut(cue))));
    for (part, encore) in sheet.parts() {
        all.extend(part.flames.iter().map(|line| (Some(&line.at), flames(line, encore))));
    }
    for (part, encore) in sheet.parts() {
        let sections = part.sections.iter();
        all.extend(sections.map(|one| (Some(&one.starts), section_row(one, encore))));
    }
    let (stamps, mut rows): (Vec<Option<&Stamp>>, Vec<Vec<String>>) = all.into_iter().unzip();
    rows.insert(0, HEADINGS.map(str::to_owned).to_vec());
    // What is cut has no bar and no time code.
    if sheet.any_bars() {
        insert(
            &mut rows,
            ["bar", "music_beat", "bar_latest", "music_beat_latest"],
            &stamps,
            |stamp| {
                let bar = stamp.bar.as_ref();
                let ends = [bar.map(|bar| &bar.earliest), bar.and_then(|bar| bar.latest.as_ref())];
                let [one, latest] = ends.map(|end| match end.map(figures) {
                    Some((bar, beat)) => {
                        [bar.to_string(), beat.map(|beat| beat.to_string()).unwrap_or_default()]
                    }
                    None => [String::new(), String::new()],
                });
                one.into_iter().chain(latest).collect()
            },
        );
    }
    if sheet.act.timecode.is_some() {
        insert(&mut rows, ["timecode", "timecode_latest"], &stamps, |stamp| {
            let (one, latest) = timecode(stamp);
            vec![one.unwrap_or_default(), latest.unwrap_or_default()]
        });
    }
    let unissued = sheet.heading.is_unissued().then(|| ("unissued", UNISSUED.to_owned()));
    let draft = sheet.heading.draft().map(|mark| ("draft", mark));
    if let Some((name, mark)) = draft.or(unissued) {
        for (index, row) in rows.iter_mut().enumerate() {
            row.insert(0, if index == 0 { name.to_owned() } else { mark.clone() });
        }
    }
    written(&rows)
}

/// Puts columns behind the time, with what they say of the time of each row.
fn insert<const N: usize>(
    rows: &mut [Vec<String>],
    names: [&str; N],
    stamps: &[Option<&Stamp>],
    cells: impl Fn(&Stamp) -> Vec<String>,
) {
    let heading = names.map(str::to_owned).to_vec();
    let of = |stamp: &Option<&Stamp>| stamp.map_or_else(|| vec![String::new(); N], &cells);
    let all = std::iter::once(heading).chain(stamps.iter().map(of));
    for (row, cells) in rows.iter_mut().zip(all) {
        row.splice(AFTER_TIME..AFTER_TIME, cells);
    }
}

/// A time as `m:ss.s`; empty where it is not known.
fn on_clock(time: Option<&Seconds>) -> String {
    time.map(clock).unwrap_or_default()
}

/// The same in seconds.
fn seconds(time: Option<&Seconds>) -> String {
    time.map(|time| time.to_f64().to_string()).unwrap_or_default()
}

/// A row that is no cue, below the cues: a spreadsheet sorts by time.
fn of_crew(at: &Stamp, crew: &str, encore: bool, rest: [(&str, String); 2]) -> Vec<String> {
    let at = at.range();
    let mut row = vec![String::new(); HEADINGS.len()];
    let cells = [
        ("time", on_clock(at.earliest())),
        ("time_s", seconds(at.earliest())),
        ("crew", crew.to_owned()),
        ("part", if encore { "encore" } else { "act" }.to_owned()),
        ("time_latest", on_clock(at.latest())),
        ("time_latest_s", seconds(at.latest())),
    ];
    for (heading, cell) in cells.into_iter().chain(rest) {
        if let Some(column) = HEADINGS.iter().position(|one| *one == heading) {
            row[column] = cell;
        }
    }
    row
}

fn flames(line: &FlamesLine, encore: bool) -> Vec<String> {
    let does = match line.what {
        FlamesChange::Alight | FlamesChange::Out => {
            format!("flames {}: {}", line.what.word(), line.set)
        }
        FlamesChange::NotOut => {
            format!("flames not out: nothing says that {} is put out", line.set)
        }
    };
    let does = guarded(&Text::new(does));
    let rest = [("when", guarded(&Text::new(&line.place))), ("does", does)];
    of_crew(&line.at, "FIRE", encore, rest)
}

fn section_row(section: &SectionRow, encore: bool) -> Vec<String> {
    let when = format!("start of \"{}\"", section.name);
    let rest =
        [("when", guarded(&Text::new(when))), ("note", guarded(&Text::new(section.words())))];
    of_crew(&section.starts, "SECTION", encore, rest)
}

fn row(line: &CueLine, encore: bool) -> Vec<String> {
    let go = line.go.range();
    let standby = line.standby.as_ref().map(Stamp::range);
    vec![
        on_clock(go.earliest()),
        seconds(go.earliest()),
        on_clock(standby.as_ref().and_then(TimeRange::earliest)),
        line.crew.label().to_owned(),
        line.number.clone().unwrap_or_default(),
        line.trigger.word().to_owned(),
        guarded(&line.when),
        guarded(&line.does),
        line.count.as_ref().map(count).unwrap_or_default(),
        line.notes.join("; "),
        guarded(&line.on_drop),
        if encore { "encore" } else { "act" }.to_owned(),
        told(&line.told),
        // Where the time is certain, both are the same.
        on_clock(go.latest()),
        seconds(go.latest()),
        on_clock(standby.as_ref().and_then(TimeRange::latest)),
    ]
}

/// A cue of the issue before that is gone, as it stood there.
fn cut(cue: &CueOnPaper) -> Vec<String> {
    let go = on_paper(&cue.go);
    let standby = cue.standby.as_deref().map(on_paper);
    let standby = |of: fn(&TimeRange) -> Option<&Seconds>| on_clock(standby.as_ref().and_then(of));
    let may = |text: &Option<String>| text.clone().unwrap_or_default();
    vec![
        on_clock(go.earliest()),
        seconds(go.earliest()),
        standby(TimeRange::earliest),
        cue.crew.label().to_owned(),
        cue.number.map(|number| number.to_string()).unwrap_or_default(),
        cue.trigger.clone(),
        guarded(&Text::new(&cue.when)),
        guarded(&Text::new(&cue.does)),
        may(&cue.count),
        String::new(),
        guarded(&Text::new(may(&cue.on_drop))),
        if cue.encore { "encore" } else { "act" }.to_owned(),
        "cut".to_owned(),
        on_clock(go.latest()),
        seconds(go.latest()),
        standby(TimeRange::latest),
    ]
}

/// What has become of a cue since the issue before; our own words come first, so no spreadsheet
/// runs it.
fn told(told: &Told) -> String {
    match told {
        Told::Same => String::new(),
        Told::New => "new".to_owned(),
        Told::Changed(what) => what.join("; "),
    }
}

/// A user's text that no spreadsheet takes for a formula. Line ends and tabs stay, quoted; other
/// control characters are dropped.
fn guarded(text: &Text) -> String {
    let is_layout = |character: char| matches!(character, '\t' | '\r' | '\n');
    let kept: String = text
        .as_written()
        .chars()
        .filter(|&character| !character.is_control() || is_layout(character))
        .collect();
    let runs = |character: char| matches!(character, '=' | '+' | '-' | '@') || is_layout(character);
    if kept.starts_with(runs) { format!("'{kept}") } else { kept }
}

fn written(rows: &[Vec<String>]) -> String {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    for row in rows {
        writer.write_record(row).unwrap_or_else(|_| {
            unreachable!("memory takes every write, and rows are of one length")
        });
    }
    let bytes = writer.into_inner().unwrap_or_else(|_| unreachable!("memory takes every write"));
    String::from_utf8(bytes).unwrap_or_else(|_| unreachable!("every field is text"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{compiled, lantern_quay};

    /// Rows of a CSV text without headings.
    fn read_back(text: &str) -> Vec<Vec<String>> {
        csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(text.as_bytes())
            .records()
            .map(|row| row.unwrap().iter().map(str::to_owned).collect())
            .collect()
    }

    #[test]
    fn rows_of_the_published_examples_are_written_so_that_they_read_back() {
        // Source: RFC 4180 §2, its examples of line ends and quoting.
        let mut examples = csv::Reader::from_path("tests/data/rfc4180.csv").unwrap();
        let mut checked = 0;
        for example in examples.records() {
            let example = example.unwrap();
            let text: String = serde_json::from_str(&example[0]).unwrap();
            let rows: Vec<Vec<String>> = serde_json::from_str(&example[1]).unwrap();
            assert_eq!(read_back(&text), rows, "the example itself");
            let ours = written(&rows);
            assert_eq!(read_back(&ours), rows, "{ours:?}");
            assert!(ours.ends_with("\r\n"), "{ours:?}");
            checked += 1;
        }
        assert_eq!(checked, 5);
    }

    #[test]
    fn a_text_that_a_spreadsheet_would_run_gets_an_apostrophe() {
        for (text, field) in [
            ("=SUM(A1)", "'=SUM(A1)"),
            ("+1", "'+1"),
            ("-1", "'-1"),
            ("@x", "'@x"),
            ("\tx", "'\tx"),
            ("\rx", "'\rx"),
            ("\u{1}=1", "'=1"),
            ("blackout", "blackout"),
            ("a=1", "a=1"),
            ("fade\nout\u{1b}", "fade\nout"),
            ("", ""),
        ] {
            assert_eq!(guarded(&Text::new(text)), field, "{text:?}");
            let rows = vec![vec![guarded(&Text::new(text)), "b\"c,".to_owned()]];
            assert_eq!(read_back(&written(&rows)), rows, "{text:?}");
        }
    }

    #[test]
    fn the_worked_example_is_a_row_for_each_cue_under_its_headings() {
        let mut quay = lantern_quay();
        quay.cues[3].does.value = crate::routine::Does::Written("=sides, \"back\"".to_owned());
        let mut sheet = compose(&compiled(&quay), None);
        sheet.act.has_bars = false;
        let plain = of_sheet(&sheet);
        assert_eq!(read_back(&plain)[0], HEADINGS);
        let text = csv(&compiled(&quay), None);
        // The cues, and the sections under them.
        assert_eq!(text.matches("\r\n").count(), 5 + quay.score.len(), "{text}");
        let rows = read_back(&text);
        assert_eq!(rows[8][1..10], ["15.3", "8", "1.9", "", "", "", "SECTION", "", ""]);
        assert_eq!(rows[8][13], "\"beam\": 3 balls, pattern 531; throws go higher");
        let with_bars =
            ["time", "time_s", "bar", "music_beat", "bar_latest", "music_beat_latest", "standby"];
        assert_eq!(rows[0][..7], with_bars);
        let on_drop = "waits until no prop is in the air; then taken by eye when it is seen, not by the clock";
        assert_eq!(
            rows[3],
            [
                "0:31.1",
                "31.1",
                "16",
                "1.5",
                "",
                "",
                "0:26.1",
                "LX",
                "20",
                "see",
                "all balls in hands",
                "blackout",
                "0",
                "DARK until LX 25 at 0:34.6",
                on_drop,
                "act",
                "",
                "0:31.1",
                "31.1",
                "0:26.1",
            ]
        );
        assert_eq!((rows[1][1].as_str(), rows[1][2].as_str()), ("-20", ""));
        assert_eq!(rows[4][11], "'=sides, \"back\"");
        assert_eq!(read_back(&csv(&compiled(&quay), Some(Crew::Fly))).len(), 1 + quay.score.len());
    }

    #[test]
    fn a_mark_before_it_tells_a_spreadsheet_that_it_is_utf_8() {
        let text = csv(&compiled(&lantern_quay()), None);
        let marked = for_spreadsheet(&text);
        assert_eq!(marked.as_bytes()[..3], [0xEF, 0xBB, 0xBF]);
        assert_eq!(marked[3..], text);
    }
}
