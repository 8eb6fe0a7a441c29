//! The paper that pages are made for, as the command line asks for it.

use std::collections::BTreeSet;
use std::fs;

use chrono::{Datelike, NaiveDate};
use throwbook::paper::{Fonts, Paper, Size};

use super::Failure;
use super::arguments::{PaperChoice, PaperName};
use super::output::{Output, shown};

/// The largest typeface that is read, in bytes.
const LARGEST_FONT: u64 = 32 << 20;

/// The paper that is asked for.
pub(crate) fn paper(choice: &PaperChoice) -> Result<Paper, Failure> {
    let mut fonts = Fonts::default();
    for path in &choice.font {
        let failed = |error: std::io::Error| Failure::with_file("read", path, &error);
        let there = fs::metadata(path).map_err(failed)?;
        let is_small = there.is_file() && there.len() <= LARGEST_FONT;
        let bytes = if is_small { fs::read(path).map_err(failed)? } else { Vec::new() };
        fonts = fonts.with(bytes).ok_or_else(|| {
            let why = "is no TrueType or OpenType typeface of at most 32 MB";
            Failure::new(format!("{} {why}", shown(path)))
        })?;
    }
    let size = match choice.paper {
        PaperName::A4 => Size::A4,
        PaperName::Letter => Size::Letter,
    };
    let dated = choice.date.as_deref().map(date).transpose()?;
    Ok(Paper { size, fonts, dated })
}

/// A date as it stands on paper, as in `4 December 2026`.
fn date(written: &str) -> Result<String, Failure> {
    let day = NaiveDate::parse_from_str(written, "%Y-%m-%d").map_err(|_| {
        Failure::new(format!("{written:?} is no date; write year, month and day: 2026-12-04"))
    })?;
    let months = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let month = months.get(day.month0() as usize).copied().unwrap_or_default();
    Ok(format!("{} {month} {}", day.day(), day.year()))
}

/// Says which characters stand in boxes, because no typeface has them.
pub(crate) fn say_missing(missing: &BTreeSet<char>, output: &Output) {
    if missing.is_empty() {
        return;
    }
    let named: Vec<String> =
        missing.iter().take(8).map(|&one| format!("{one} (U+{:04X})", u32::from(one))).collect();
    let more = match missing.len().saturating_sub(8) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    output.complaint(&format!(
        "no typeface has {}{more}: a box with the code point stands there; --font FILE names a \
         typeface that has it\n",
        named.join(", ")
    ));
}
