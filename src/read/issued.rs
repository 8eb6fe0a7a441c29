//! The record of what was handed out, which lies beside a routine file.

use std::collections::BTreeMap;

use crate::diagnostic::{Diagnostic, Place};
use crate::routine::{CueOnPaper, Issue, Issued};

use super::cue::{CREWS, count};
use super::limit::truth;
use super::number::{Between, cue_number, whole};
use super::raw::Raw;
use super::reader::Reader;
use super::record::Record;
use super::text::{any_text, text};

const TRIGGERS: [&str; 4] = ["see", "hear", "called", "follow"];

/// Reads a record of what was handed out of the routine of this title.
///
/// # Errors
/// Everything that is wrong with it, by place in its own text.
pub fn issued(record: &str, title: &str) -> Result<Issued, Vec<Diagnostic>> {
    let mut reader = Reader::default();
    let issued = super::root_of(&mut reader, record, super::LARGEST_RECORD)
        .and_then(|root| whole_record(&mut reader, root, title));
    let Reader { mut diagnostics, .. } = reader;
    let damaged = || {
        let at = Place { start: 0, end: 0 };
        Diagnostic::error("wrong-shape", at, "This is not a record of what was handed out.")
    };
    match issued {
        Some(issued) if diagnostics.is_empty() => Ok(issued),
        _ => {
            if diagnostics.is_empty() {
                diagnostics.push(damaged());
            }
            crate::diagnostic::sort(&mut diagnostics);
            Err(diagnostics.into_iter().map(with_way_out).collect())
        }
    }
}

/// What to do about a record that cannot be read; the program alone writes it.
fn with_way_out(fault: Diagnostic) -> Diagnostic {
    fault.help(
        "restore this file from a copy: it alone knows which numbers were handed out, so move it \
         away only if nothing was handed out yet",
    )
}

fn whole_record<'a>(reader: &mut Reader, raw: Raw<'a>, of: &str) -> Option<Issued> {
    let mut record = Record::open(reader, raw, "Issued")?;
    let title = record.need(reader, "title", any_text);
    if let Some(title) = &title
        && title.value != of
    {
        let message = format!(
            "This was handed out of \"{}\"; the routine beside it is \"{of}\".",
            title.value
        );
        let new = format!("{of:?}");
        let fault = Diagnostic::error("issued-of-another", title.at.clone(), message)
            .label("another routine")
            .help_edit("If the act has a new title, write it here too.", title.at.clone(), new);
        reader.report(fault);
    }
    let issues = record.need(reader, "issues", |reader, raw| Some(reader.list(raw, issue)));
    record.close(reader);
    let (title, issues) = (title?, issues?);
    if issues.is_empty() {
        reader.error("empty-list", raw.place(), "Nothing was handed out.");
    }
    for pair in issues.windows(2) {
        if let [first, second] = pair
            && second.number <= first.number
        {
            let message = "Issues go up: this one does not.";
            let fault = Diagnostic::error("issues-out-of-order", second.at.clone(), message)
                .label("not higher")
                .note_at(first.at.clone(), "The one before it is this.");
            reader.report(fault);
        }
    }
    Some(Issued { title, issues })
}

fn issue<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<Issue> {
    let mut record = Record::open(reader, raw, "Issue")?;
    let number = record.need(reader, "number", |reader, raw| {
        whole(reader, raw, Between::from("the issue", 1.0, 1_000_000.0, ""))
    });
    let cues = record.need(reader, "cues", |reader, raw| {
        let mut first_of = BTreeMap::new();
        Some(
            reader
                .items(raw)
                .into_iter()
                .filter_map(|item| {
                    let cue = cue(reader, item)?;
                    if let Some(number) = cue.number
                        && let Some(first) = first_of.insert((cue.crew, number), item.place())
                    {
                        let message = format!("Two {:?} cues {number} in one issue.", cue.crew);
                        let fault =
                            Diagnostic::error("duplicate-cue-number", item.place(), message)
                                .label("used again")
                                .note_at(first, "It is used here already.");
                        reader.report(fault);
                    }
                    Some(cue)
                })
                .collect(),
        )
    });
    let text = record.may(reader, "text", any_text).map(|text| text.value);
    let at = record.head();
    record.close(reader);
    Some(Issue { at, number: number?.value, cues: cues?, text })
}

fn cue<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<CueOnPaper> {
    let mut record = Record::open(reader, raw, "Cue")?;
    let crew = record.need(reader, "crew", |reader, raw| reader.choice(raw, "crew", &CREWS));
    let number = record.may(reader, "number", cue_number);
    let encore = record.may(reader, "encore", truth).unwrap_or(false);
    let go = record.need(reader, "go", clock);
    let standby = record.may(reader, "standby", clock);
    let trigger = record.need(reader, "trigger", |reader, raw| {
        let trigger = text(reader, raw)?.value;
        if !TRIGGERS.contains(&trigger.as_str()) {
            let message = format!("`{trigger}` is not a way to take a cue.");
            reader.error("unknown-word", raw.place(), message);
        }
        Some(trigger)
    });
    let mut words =
        |record: &mut Record<'a>, name| record.need(reader, name, any_text).map(|text| text.value);
    let (when, does) = (words(&mut record, "when"), words(&mut record, "does"));
    let seconds = record.may(reader, "count", count);
    let on_drop = record.may(reader, "on_drop", any_text).map(|text| text.value);
    let dark = record.may(reader, "dark", truth).unwrap_or(false);
    record.close(reader);
    Some(CueOnPaper {
        crew: crew?,
        number: number.map(|number| number.value),
        encore,
        go: go?,
        standby,
        trigger: trigger?,
        when: when?,
        does: does?,
        count: seconds.map(|count| count.value.to_f64().to_string()),
        on_drop,
        dark,
    })
}

/// A printed time, as in `0:31.1`, or both its ends, as in `0:29.0–0:34.0`.
fn clock<'a>(reader: &mut Reader, raw: Raw<'a>) -> Option<String> {
    let clock = text(reader, raw)?.value;
    if !clock.splitn(2, '–').all(is_printed) {
        let message = format!("`{clock}` is not a time as it is printed, such as \"0:31.1\".");
        reader.error("bad-time", raw.place(), message);
        return None;
    }
    Some(clock)
}

/// Whether it stands on paper as one time. No act is too long for it.
fn is_printed(clock: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let unsigned = clock.strip_prefix('-').unwrap_or(clock);
    unsigned.split_once(':').is_some_and(|(minutes, rest)| {
        let (seconds, tenth) = rest.split_once('.').unwrap_or((rest, ""));
        digits(minutes)
            && digits(seconds)
            && digits(tenth)
            && (seconds.len(), tenth.len()) == (2, 1)
    })
}
