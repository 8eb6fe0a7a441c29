//! The rows of a cue sheet in order of time: sections, stand-bys, cues, flames, and cues that were
//! cut, where they stood.
//!
//! Where open lengths leave the order open, rows stand by their earliest time, and a row says what it
//! may come before. What comes before another on every night stands before it.

use std::cmp::Ordering;

use crate::diagnostic::words::{all_of, first_few};
use crate::routine::CueOnPaper;
use crate::time::{Seconds, Time, on_paper};

use super::cue_line::CueLine;
use super::cues::CuePart;
use super::flames::{FlamesChange, FlamesLine};
use super::section_row::SectionRow;
use super::stamp::Stamp;
use super::words::quoted;

/// A row of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Row<'a> {
    /// What stands in it.
    pub what: RowOf<'a>,
    /// What stands above it and may come after it on some night, as in `LX 20 and "bow"`; `None` for
    /// nothing.
    pub may_precede: Option<String>,
}

/// What stands in a row.
#[derive(Clone, Debug, PartialEq)]
pub enum RowOf<'a> {
    /// An entry of the score starts.
    Section(&'a SectionRow),
    /// Stand-bys that come together, where another cue goes between them and their GO.
    StandBy(Vec<&'a CueLine>, &'a Stamp),
    /// A cue and what goes on its GO, it first; with the stand-bys that have no row of their own,
    /// those that come together in one.
    Go(&'a [CueLine], Vec<Vec<&'a CueLine>>),
    /// Fire is lit or put out.
    Flames(&'a FlamesLine),
    /// A cue that was cut since the issue before.
    Cut(&'a CueOnPaper),
}

/// The stand-bys of a cue's row that stand beside one of the cues in it.
pub fn standbys_of<'r, 'a>(
    standbys: &'r [Vec<&'a CueLine>],
    line: &'r CueLine,
) -> impl Iterator<Item = &'r [&'a CueLine]> {
    let is_own = move |of: &&[&CueLine]| of.first().is_some_and(|first| std::ptr::eq(*first, line));
    standbys.iter().map(Vec::as_slice).filter(is_own)
}

/// Cues by their labels, as in `LX 50 and SND 5`.
#[must_use]
pub fn labels(lines: &[&CueLine]) -> String {
    all_of(&lines.iter().map(|line| line.label.clone()).collect::<Vec<_>>())
}

/// The rows of the act or of the encore on a sheet, with its cues that were cut. Where another cue
/// goes between a stand-by and its GO the stand-by has a row of its own, if `standbys_apart`.
#[must_use]
pub fn rows<'a>(
    part: &'a CuePart,
    cut: impl Iterator<Item = &'a CueOnPaper>,
    standbys_apart: bool,
) -> Vec<Row<'a>> {
    let groups: Vec<&[CueLine]> = part.lines.chunk_by(|one, next| next.goes_with(one)).collect();
    let mut others: Vec<RowOf<'a>> = part.sections.iter().map(RowOf::Section).collect();
    others.extend(part.flames.iter().map(RowOf::Flames));
    others.extend(cut.map(RowOf::Cut));
    let mut apart: Vec<&CueLine> = Vec::new();
    let mut gos: Vec<RowOf<'a>> = Vec::new();
    let of_groups: Vec<Option<(f64, f64)>> =
        groups.iter().map(|group| reach(&group.first()?.go)).collect();
    for (index, group) in groups.iter().enumerate() {
        let others = || {
            let all = groups.iter().zip(&of_groups).enumerate();
            all.filter(move |(other, _)| *other != index)
                .map(|(_, (other, reach))| (*other, *reach))
        };
        let (own, beside): (Vec<&CueLine>, Vec<&CueLine>) = group
            .iter()
            .filter(|line| line.standby.as_ref().is_some_and(|at| at.range().is_known()))
            .partition(|line| {
                standbys_apart && others().any(|(other, reach)| goes_between(line, other, reach))
            });
        apart.extend(own);
        gos.push(RowOf::Go(group, together(beside)));
    }
    others.extend(together(apart).into_iter().filter_map(|lines| {
        let at = lines.first()?.standby.as_ref()?;
        Some(RowOf::StandBy(lines, at))
    }));
    let mut others: Vec<Placed<'a>> = others.into_iter().map(Placed::of).collect();
    others.sort_by(Placed::order);
    let mut others = others.into_iter().peekable();
    let mut all: Vec<RowOf<'a>> = Vec::new();
    for go in gos.into_iter().map(Placed::of) {
        let is_nowhere = go.row.is_nowhere();
        let before = |other: &Placed<'a>| is_nowhere || other.order(&go).is_lt();
        all.extend(std::iter::from_fn(|| others.next_if(before)).map(|other| other.row));
        all.push(go.row);
    }
    all.extend(others.map(|other| other.row));
    let reaches: Vec<Option<(f64, f64)>> = all.iter().map(|row| reach(row.at()?)).collect();
    let may_precede: Vec<Option<String>> =
        (0..all.len()).map(|index| may_precede(&all, &reaches, index)).collect();
    let rows = all.into_iter().zip(may_precede);
    rows.map(|(what, may_precede)| Row { what, may_precede }).collect()
}

/// A row, and where it stands among the others.
struct Placed<'a> {
    row: RowOf<'a>,
    /// The earliest and the latest time.
    at: [f64; 2],
    rank: u8,
}

impl<'a> Placed<'a> {
    fn of(row: RowOf<'a>) -> Placed<'a> {
        let (at, rank) = (row.key(), row.rank());
        Placed { row, at, rank }
    }

    fn order(&self, other: &Placed<'_>) -> Ordering {
        let [earliest, latest] = [0, 1].map(|end| self.at[end].total_cmp(&other.at[end]));
        earliest.then(latest).then(self.rank.cmp(&other.rank))
    }
}

/// The earliest and the latest time, to sort out by; `None` where it is not known.
fn reach(at: &Stamp) -> Option<(f64, f64)> {
    at.range().is_known().then(|| (at.time.least().to_f64(), at.time.most().to_f64()))
}

/// Whether other cues go between a cue's stand-by and its GO on some night.
fn goes_between(line: &CueLine, other: &[CueLine], reach: Option<(f64, f64)>) -> bool {
    let (Some(standby), Some(other), Some((least, most))) = (&line.standby, other.first(), reach)
    else {
        return false;
    };
    let near = most >= standby.time.least().to_f64() && least <= line.go.time.most().to_f64();
    let may_follow = |one: &Time, other: &Time| (other - one).most() > Seconds::zero();
    near && may_follow(&standby.time, &other.go.time) && may_follow(&other.go.time, &line.go.time)
}

/// Stand-bys in their order, those that come together in one.
fn together(lines: Vec<&CueLine>) -> Vec<Vec<&CueLine>> {
    let mut groups: Vec<Vec<&CueLine>> = Vec::new();
    for line in lines {
        let at = |line: &CueLine| line.standby.as_ref().map(|standby| standby.time.clone());
        let same =
            |group: &&mut Vec<&CueLine>| group.first().is_some_and(|one| at(one) == at(line));
        match groups.iter_mut().find(same) {
            Some(group) => group.push(line),
            None => groups.push(vec![line]),
        }
    }
    groups
}

/// The earliest and the latest time, to sort by.
fn key(at: Option<&Stamp>) -> [f64; 2] {
    at.map_or([f64::INFINITY; 2], |at| [at.time.least().to_f64(), at.time.most().to_f64()])
}

impl RowOf<'_> {
    fn at(&self) -> Option<&Stamp> {
        match self {
            RowOf::Section(section) => Some(&section.starts),
            RowOf::StandBy(_, at) => Some(at),
            RowOf::Go(group, _) => group.first().map(|line| &line.go),
            RowOf::Flames(line) => Some(&line.at),
            RowOf::Cut(_) => None,
        }
    }

    fn key(&self) -> [f64; 2] {
        let RowOf::Cut(cue) = self else { return key(self.at()) };
        let go = on_paper(&cue.go);
        let end = |end: Option<&Seconds>| end.map_or(f64::INFINITY, Seconds::to_f64);
        [end(go.earliest()), end(go.latest())]
    }

    /// Its place among rows at one time: what is lit at a cue's GO stands before it, what is put out
    /// then behind it.
    fn rank(&self) -> u8 {
        match self {
            RowOf::Section(_) => 0,
            RowOf::StandBy(..) => 1,
            RowOf::Flames(line) if line.what == FlamesChange::Alight => 2,
            RowOf::Go(..) => 3,
            RowOf::Flames(_) => 4,
            RowOf::Cut(_) => 5,
        }
    }

    /// Whether it is a cue of a draft that cannot be called.
    fn is_nowhere(&self) -> bool {
        self.at().is_some_and(|at| *at == Stamp::unknown())
    }

    /// What another row calls it.
    fn name(&self) -> Option<String> {
        match self {
            RowOf::Section(section) => Some(quoted(&section.name)),
            RowOf::Go(group, _) => group.first().map(|line| line.label.clone()),
            RowOf::Flames(flames) => Some(format!("FLAMES {}", quoted(&flames.set))),
            RowOf::StandBy(..) | RowOf::Cut(_) => None,
        }
    }
}

/// Times that are further apart, in seconds, need not be told apart exactly.
const APART_S: f64 = 1e-3;

/// What stands above a row and may come after it on some night. `reaches` are the ends of all rows.
fn may_precede(rows: &[RowOf<'_>], reaches: &[Option<(f64, f64)>], index: usize) -> Option<String> {
    let at = &rows[index].at()?.time;
    let mut names = Vec::new();
    for (other, reach) in rows.iter().zip(reaches).take(index) {
        // A row that surely comes before may stand below one that may come after.
        if let (Some((earliest, _)), Some((_, latest))) = (reaches[index], reach)
            && latest + APART_S < earliest
        {
            continue;
        }
        let Some(other_at) = other.at().map(|at| &at.time) else { continue };
        let after = at - other_at;
        if !after.is_unknown() && after.least().is_negative() {
            names.extend(other.name());
        }
    }
    (!names.is_empty()).then(|| all_of(&first_few(names)))
}
