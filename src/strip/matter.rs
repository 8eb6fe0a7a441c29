//! What is to be laid out, how much of it is written, and how many seconds a row holds.

use super::arm::ArmMark;
use super::flag::Flag;
use super::fold::{self, Fold, Happening};
use super::millimetres::Mm;
use super::paper::{LEFT, RIGHT};
use super::thread::Threads;

/// The clear height is drawn where it is no further above the highest flight than this.
pub(super) const CEILING_WITHIN: f64 = 1.3;
/// A beat is at least this long where that is possible.
const BEAT: Mm = Mm(4.3);
/// Lengths of a row in seconds that wrap well at whole minutes.
const ROW_S: [f64; 9] = [5.0, 6.0, 10.0, 12.0, 15.0, 20.0, 30.0, 60.0, 120.0];
/// The lengths that a juggler's tempo can choose.
const ROW_S_BY_TEMPO: std::ops::Range<usize> = 0..5;
/// More rows than these make nobody wiser.
const MOST_ROWS: f64 = 800.0;

/// How much is written into a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Detail {
    /// Lines only: no values and no beads.
    Lines,
    /// All but the words for each throw.
    Marks,
    /// Everything.
    Words,
}

impl Detail {
    /// What so many flights allow.
    fn of(flights: usize) -> Detail {
        match flights {
            0..=4_000 => Detail::Words,
            4_001..=20_000 => Detail::Marks,
            _ => Detail::Lines,
        }
    }
}

/// What the layout is made from.
pub(super) struct Matter<'a> {
    /// When the performance begins and ends.
    pub(super) span: (f64, f64),
    /// Throws a minute where they are fastest.
    pub(super) fastest: f64,
    /// Seconds in a row, where they are asked for.
    pub(super) asked_s: Option<f64>,
    /// The clear height above the hands, in metres.
    pub(super) ceiling: Option<f64>,
    /// What is drawn.
    pub(super) threads: &'a Threads,
    /// The cues, in order of GO.
    pub(super) flags: &'a [Flag],
    /// When nothing is thrown or in the air.
    pub(super) quiet: Vec<(f64, f64)>,
    /// What a fold must not hide, in order of time.
    pub(super) happenings: Vec<Happening>,
    /// Times beyond the performance that an overview should hold if it can.
    pub(super) reach: Vec<f64>,
    /// Where the arms are, in order of time.
    pub(super) arms: &'a [ArmMark],
    /// Whether there is music to draw.
    pub(super) music: bool,
    /// From when to when the loudness of the music is known.
    pub(super) heard: Option<(f64, f64)>,
    /// Heights of the first sheet's head and of the others'.
    pub(super) heads: (Mm, Mm),
}

impl Matter<'_> {
    /// How much is written.
    pub(super) fn detail(&self) -> Detail {
        Detail::of(self.threads.flights.len())
    }

    /// What is left out of rows of so many seconds.
    pub(super) fn folds(&self, row_s: f64) -> Vec<Fold> {
        fold::folds(&self.quiet, &self.happenings, row_s)
    }

    fn folded_s(&self, row_s: f64) -> f64 {
        self.folds(row_s).iter().map(|fold| fold.to - fold.from).sum()
    }

    /// Whether rows of so many seconds are few enough.
    fn are_few(&self, row_s: f64) -> bool {
        (self.span.1 - self.span.0 - self.folded_s(row_s)) / row_s <= MOST_ROWS / 2.0
    }

    /// Seconds in a row.
    pub(super) fn row_s(&self) -> f64 {
        let asked = self.asked_s.filter(|&asked| self.are_few(asked));
        asked.unwrap_or_else(|| row_s(self.fastest, self.detail(), |row_s| self.are_few(row_s)))
    }

    /// Where the rows are longer than was asked: that they are.
    pub(super) fn rows_note(&self) -> Option<String> {
        let (asked, row_s) = (self.asked_s?, self.row_s());
        (asked < row_s).then(|| {
            format!("A row holds {row_s} s, for rows of {asked} s would be too many to read.")
        })
    }

    /// How high the highest throw flies, in metres.
    pub(super) fn highest(&self) -> f64 {
        let flown = self.threads.flights.iter().filter(|flight| !flight.handed);
        flown.map(|flight| flight.height_m).fold(0.0, f64::max)
    }

    /// The clear height, where it is near enough to the flights to be drawn.
    pub(super) fn near_ceiling(&self) -> Option<f64> {
        let highest = self.highest();
        self.ceiling.filter(|&ceiling| ceiling > 0.0 && ceiling <= highest * CEILING_WITHIN)
    }

    /// Whether the clear height is drawn as a line.
    pub(super) fn shows_ceiling(&self) -> bool {
        self.near_ceiling().is_some()
    }

    /// What a drawing of so many throws leaves out, said to its reader.
    pub(super) fn detail_note(&self) -> Option<&'static str> {
        (self.detail() == Detail::Lines)
            .then_some("So many throws are drawn as lines only, without letters and values.")
    }

    /// Where the first row begins and the last one ends.
    pub(super) fn ends_of_rows(&self) -> (f64, f64) {
        let row_s = self.row_s();
        let (first, count) = self.rows(row_s);
        (first * row_s, (first + count as f64) * row_s + self.folded_s(row_s))
    }

    /// Which multiple of its length the first row begins at, and how many rows there are.
    pub(super) fn rows(&self, row_s: f64) -> (f64, usize) {
        let first = (self.span.0 / row_s).floor();
        let last = ((self.span.1 - self.folded_s(row_s)) / row_s).ceil();
        (first, (last - first).clamp(1.0, MOST_ROWS) as usize)
    }
}

/// How many seconds a row holds: few enough for the fastest beat, `enough` for the routine.
fn row_s(fastest: f64, detail: Detail, enough: impl Fn(f64) -> bool) -> f64 {
    let longest = (RIGHT - LEFT) / BEAT * 60.0 / fastest.max(1.0);
    let by_tempo = &ROW_S[ROW_S_BY_TEMPO];
    let fitting = by_tempo.iter().rev().find(|&&seconds| seconds <= longest);
    let mut chosen = *fitting.unwrap_or(&ROW_S[0]);
    if detail == Detail::Lines {
        chosen = chosen.max(60.0);
    }
    let known = ROW_S.iter().copied().find(|&seconds| seconds >= chosen && enough(seconds));
    known.unwrap_or_else(|| {
        // Hours on end: minutes enough, doubled until they do.
        let mut seconds = 300.0;
        while !enough(seconds) && seconds < 1e12 {
            seconds *= 2.0;
        }
        seconds
    })
}
