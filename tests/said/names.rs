//! Names of the routine file and of its documents that these tests write and read, each once.

/// Who takes a cue.
pub(crate) const CREW: &str = "crew";
/// How a cue is taken.
pub(crate) const TRIGGER: &str = "trigger";
/// How much a tempo may bend.
pub(crate) const MAY_BEND: &str = "may_bend";

/// What is written in a cue for its moment, so many thousandths of a second later.
pub(crate) fn at(moment: &str, shift: i64) -> String {
    match shift {
        0 => format!("at: {moment}"),
        _ => format!("at: Shift({moment}, {})", seconds(shift)),
    }
}

/// Thousandths as seconds without quotes.
pub(crate) fn seconds(thousandths: i64) -> String {
    let sign = if thousandths < 0 { "-" } else { "" };
    let size = thousandths.abs();
    format!("{sign}{}.{:03}", size / 1000, size % 1000)
}

/// Thousandths as a time in quotes.
pub(crate) fn clock(thousandths: i64) -> String {
    let sign = if thousandths < 0 { "-" } else { "" };
    let size = thousandths.abs();
    format!("\"{sign}{}:{:02}.{:03}\"", size / 60_000, size / 1000 % 60, size % 1000)
}
