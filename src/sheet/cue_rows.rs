//! The rows of a cue sheet in order of time: cues, stand-bys that come long before, and flames.

use crate::time::Seconds;

use super::cues::CueLine;
use super::flames::{FlamesChange, FlamesLine};
use super::stamp::Stamp;

/// A row of the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Row<'a> {
    /// A stand-by that is far ahead of its GO.
    StandBy(&'a CueLine, &'a Stamp),
    /// A cue and what goes on its GO, it first.
    Go(&'a [CueLine]),
    /// Fire is lit or put out.
    Flames(&'a FlamesLine),
}

/// The rows of a sheet's lines and flames, in order of time.
#[must_use]
pub fn rows<'a>(lines: &'a [CueLine], flames: &'a [FlamesLine]) -> Vec<Row<'a>> {
    let mut standbys: Vec<(&CueLine, &Stamp)> =
        lines.iter().filter_map(|line| Some((line, line.far_standby()?))).collect();
    standbys.sort_by(|(_, a), (_, b)| a.time.least().to_f64().total_cmp(&b.time.least().to_f64()));
    let mut standbys = standbys.into_iter().peekable();
    let mut flames = flames.iter().peekable();
    let mut rows = Vec::new();
    for together in lines.chunk_by(|_, next| next.with.is_some()) {
        let Some(first) = together.first() else { continue };
        let go = first.go.time.least();
        while let Some((line, standby)) = standbys.next_if(|(_, at)| at.time.least() <= go) {
            let before = |lit: &&FlamesLine| lit.at.time.least() <= standby.time.least();
            rows.extend(std::iter::from_fn(|| flames.next_if(before)).map(Row::Flames));
            rows.push(Row::StandBy(line, standby));
        }
        // What is lit at a cue's GO stands before it, what is put out then behind it.
        let before = |lit: &&FlamesLine| {
            let at = lit.at.time.least();
            at < go || at == go && lit.what == FlamesChange::Alight
        };
        rows.extend(std::iter::from_fn(|| flames.next_if(before)).map(Row::Flames));
        rows.push(Row::Go(together));
    }
    rows.extend(flames.map(Row::Flames));
    rows
}

/// Stand-bys further ahead than this have a row of their own: by GO they are long forgotten
/// (common practice, no source).
const FAR_STANDBY_S: i64 = 10;

impl CueLine {
    /// Its stand-by, where that is so far ahead that it is a row of its own.
    #[must_use]
    pub fn far_standby(&self) -> Option<&Stamp> {
        let far = Seconds::fraction(FAR_STANDBY_S, 1);
        self.standby.as_ref().filter(|standby| (&self.go.time - &standby.time).least() > far)
    }
}
