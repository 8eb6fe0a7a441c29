//! What a cue sheet says, in words and in no layout: the terminal and the page say the same.

use crate::diagnostic::words::all_of;
use crate::issue::Told;
use crate::routine::CueOnPaper;
use crate::sheet::cue_line::{CueLine, TriggerKind};
use crate::sheet::cue_rows::labels;
use crate::sheet::cues::{CuePart, CueSheet, DARK_WHEN_A_PROP_DROPS, WHEN_A_PROP_DROPS};
use crate::sheet::flames::{FlamesChange, FlamesLine};
use crate::sheet::heading::UNISSUED;
use crate::sheet::music_list::MusicList;
use crate::sheet::stamp::Stamp;
use crate::sheet::time_signals::ON_DROP;
use crate::sheet::words::{count, plain};
use crate::sheet::{caution, words};

/// A piece of what stands above or under the cues.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Said {
    /// What the pieces behind it are about.
    Heading(String),
    /// A word and what it says.
    Labelled(String, String),
    /// Words alone.
    Words(String),
    /// Columns of the music list: the show clock, the track's clock, and what happens.
    Point([String; 3]),
}

/// What the sheet is, and whose.
pub(super) fn what(sheet: &CueSheet) -> String {
    match sheet.crew {
        Some(crew) => format!("cue sheet, {}", crew.label()),
        None => "cue sheet".to_owned(),
    }
}

/// Which clock its times are on.
pub(super) fn clock_line(sheet: &CueSheet) -> String {
    let mut line = format!(
        "Times are on the show clock: 0:00.0 is {}. Counts are seconds from GO.",
        sheet.act.zero
    );
    if sheet.all_lines().any(|line| line.go.range().uncertain().is_some()) {
        line += " A time with two ends is the earliest and the latest: go by what you see, hear or \
                 are called, not by the clock.";
    }
    if let Some(clock) = &sheet.act.timecode {
        line += &format!(" {}", clock.words());
    }
    line
}

/// A cue in words.
pub(super) struct CueWords<'a> {
    /// When it goes; `None` where the cue on whose GO it goes stands above it.
    pub(super) at: Option<&'a Stamp>,
    /// How it is taken, as in `SEE` …
    pub(super) trigger: String,
    /// … and on what.
    pub(super) when: String,
    /// What is done.
    pub(super) does: String,
    /// Seconds to completion; empty where it has no count.
    pub(super) count: String,
    /// Whether it is new or changed, and what may come before it.
    pub(super) marks: Vec<String>,
    /// What else is to be known.
    pub(super) notes: Vec<String>,
}

impl<'a> CueWords<'a> {
    /// `same_go` where the cue on whose GO it goes stands above it; `before` is what it may come
    /// before.
    pub(super) fn of(line: &'a CueLine, same_go: bool, before: Option<&str>) -> CueWords<'a> {
        let mut marks = Vec::new();
        match line.told {
            Told::Same => {}
            Told::New => marks.push("NEW".to_owned()),
            Told::Changed(_) => marks.push("CHANGED".to_owned()),
        }
        marks.extend(before.map(may_come_before));
        let mut notes = line.notes.clone();
        if line.on_drop_written {
            notes.push(format!("DROP: {}", line.on_drop.plain()));
        }
        let leader = line.with.as_ref().filter(|_| same_go);
        let when = match leader {
            Some(with) => format!("with {} {}", with.crew.label(), with.of),
            None => line.when.plain(),
        };
        CueWords {
            at: leader.is_none().then_some(&line.go),
            trigger: line.trigger.word().to_uppercase(),
            when,
            does: line.does.plain(),
            count: line.count.as_ref().map(count).unwrap_or_default(),
            marks,
            notes,
        }
    }
}

/// What stands above something on the sheet and may come after it.
pub(super) fn may_come_before(what: &str) -> String {
    format!("may come before {what}")
}

/// What a cue that was cut was called.
pub(super) fn cut_label(cue: &CueOnPaper) -> String {
    let number = cue.number.map(|number| cue.crew.cue(number));
    number.unwrap_or_else(|| cue.crew.label().to_owned())
}

/// What a cue that was cut was.
pub(super) fn cut(cue: &CueOnPaper) -> String {
    let trigger = cue.trigger.to_uppercase();
    plain(&format!("was {}, {trigger} {}: {}", cue.go, cue.when, cue.does))
}

/// Flames in words.
pub(super) fn flames(line: &FlamesLine) -> String {
    let (set, place) = (&line.set, &line.place);
    match line.what {
        FlamesChange::Alight => format!("FLAMES ALIGHT \"{set}\": {place}"),
        FlamesChange::Out => format!("FLAMES OUT \"{set}\": {place}"),
        FlamesChange::NotOut => {
            format!("FLAMES NOT OUT \"{set}\": nothing says that they are put out by the {place}")
        }
    }
}

/// A stand-by on a row of its own, as in `STAND BY LX 50 and SND 5 for GO at 0:32.0`.
pub(super) fn standby(lines: &[&CueLine]) -> String {
    let go = |line: &CueLine| line.go.range().clock();
    let first = lines.first().map(|line| go(line)).unwrap_or_default();
    let each = |line: &&CueLine| format!("{} for GO at {}", line.label, go(line));
    match lines.iter().all(|line| go(line) == first) {
        true => format!("STAND BY {} for GO at {first}", labels(lines)),
        false => format!("STAND BY {}", all_of(&lines.iter().map(each).collect::<Vec<_>>())),
    }
}

/// That a crew has nothing to do any more, or that nobody has.
pub(super) fn no_cues(sheet: &CueSheet) -> Option<String> {
    if let (Some(crew), Some(since), true) = (sheet.crew, sheet.since, sheet.all_cut()) {
        let cues = format!("Every cue of {} was cut since issue {since}", crew.label());
        return Some(format!("{cues}: {} has nothing to do now.", crew.label()));
    }
    sheet.act.lines.is_empty().then(|| "No cues in the act.".to_owned())
}

/// What stands over the encore.
pub(super) fn encore(encore: &CuePart) -> String {
    let zero = &encore.zero;
    let mut heading =
        format!("ENCORE · only if it is called for. Its own clock reads 0:00.0 at {zero}.");
    if let Some(clock) = &encore.timecode {
        heading += &format!(" {}", clock.words());
    }
    heading
}

/// What stands above the cues: the cautions.
pub(super) fn opening(sheet: &CueSheet) -> Vec<Said> {
    if sheet.cautions.is_empty() {
        return Vec::new();
    }
    let mut said = vec![Said::Heading("CAUTIONS".to_owned())];
    let labelled = |caution: &caution::Caution| {
        Said::Labelled(caution.heading().to_owned(), caution.text().to_owned())
    };
    said.extend(sheet.cautions.iter().map(labelled));
    said.push(Said::Words(caution::DEFERS.to_owned()));
    said
}

/// What stands under the cues: the music, what has changed, and what a drop means.
pub(super) fn closing(sheet: &CueSheet) -> Vec<Said> {
    let mut said = Vec::new();
    for (part, is_encore) in sheet.parts() {
        said.extend(music(&part.music, is_encore));
    }
    said.extend(changes(sheet));
    said.push(Said::Heading("WHEN A PROP DROPS".to_owned()));
    let mut labelled = |label: &str, means: &str| {
        said.push(Said::Labelled(label.to_owned(), means.to_owned()));
    };
    if sheet.all_lines().any(|line| line.on_drop_written) {
        labelled("DROP", "in a note is what becomes of that one cue; it comes before these.");
    }
    if sheet.all_lines().any(|line| line.dark) {
        labelled("DARK", DARK_WHEN_A_PROP_DROPS);
    }
    for (taken, means) in WHEN_A_PROP_DROPS {
        labelled(taken, means);
    }
    if sheet.all_lines().any(|line| line.trigger == TriggerKind::Clock) {
        labelled("CLOCK", &format!("{ON_DROP}."));
    }
    if sheet.cautions.is_empty() {
        said.push(Said::Words(caution::VENUE_FIRST.to_owned()));
    }
    said.push(Said::Words(words::PERFORMERS_SIDES.to_owned()));
    said
}

/// The music list; nothing where there is no music.
pub(super) fn music(list: &MusicList, is_encore: bool) -> Vec<Said> {
    if list.is_empty() {
        return Vec::new();
    }
    let heading = if is_encore { "MUSIC OF THE ENCORE, ON ITS OWN CLOCK" } else { "MUSIC" };
    let mut said = vec![Said::Heading(heading.to_owned())];
    for track in &list.tracks {
        said.push(Said::Words(track.words()));
        let headings = ["SHOW CLOCK", "TRACK", "WHAT"].map(str::to_owned);
        if said.iter().all(|piece| !matches!(piece, Said::Point(_))) {
            said.push(Said::Point(headings));
        }
        let point = |point: &crate::sheet::music_list::TrackPoint| {
            Said::Point([point.at.clock(), point.on_track.clock(), point.words()])
        };
        said.extend(track.points.iter().map(point));
    }
    said.extend(list.notes.iter().map(|note| Said::Words(note.clone())));
    said
}

/// What has changed since the issue before: nothing where there is none.
fn changes(sheet: &CueSheet) -> Vec<Said> {
    let Some(since) = sheet.since else { return Vec::new() };
    let heading = match sheet.heading.is_unissued() {
        true => format!("{UNISSUED}, HELD AGAINST ISSUE {since}"),
        false => format!("CHANGED SINCE ISSUE {since}"),
    };
    let mut said = vec![Said::Heading(heading)];
    for line in sheet.all_lines() {
        let what = match &line.told {
            Told::Same => continue,
            Told::New => format!("NEW: {}", line.does.plain()),
            Told::Changed(what) => plain(&what.join("; ")),
        };
        said.push(Said::Labelled(line.label.clone(), what));
    }
    for cue in &sheet.cut {
        let what = format!("CUT: {}, was at {}", plain(&cue.does), plain(&cue.go));
        said.push(Said::Labelled(cut_label(cue), what));
    }
    if said.len() == 1 {
        said.push(Said::Words("Nothing.".to_owned()));
    }
    said
}
