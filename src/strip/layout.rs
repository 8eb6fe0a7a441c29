//! Where everything lies on the sheets: the scales, the rows and their bands, the pages.
//!
//! Time runs along a row and wraps into rows that begin at whole multiples of their length, so
//! that the clock is found where the eye expects it; what is folded is whole rows long. One scale
//! of time and one of height hold for the whole drawing; a row is only as tall as its own flights
//! need. Places in millimetres, times in seconds on the show clock, heights in metres.

use super::arm;
use super::flag::Lanes;
use super::fold::Fold;
use super::matter::{CEILING_WITHIN, Detail, Matter};
use super::millimetres::Mm;
use super::paper::{BAR, BEAD, BLOCK, EDGE, LANE, LEFT, LOUDEST, PAGE, RIGHT};
use super::text::{self, SMALL};

/// Between two rows, at least and, to fill a page, at most.
const BETWEEN_ROWS: (Mm, Mm) = (Mm(5.0), Mm(12.0));
/// Room for the tallest flight: the greatest that wastes no sheet.
const TALLEST: [Mm; 5] = [Mm(26.0), Mm(24.0), Mm(22.0), Mm(20.0), Mm(18.0)];
/// No metre is drawn longer, or small throws would look like tall ones.
const LONGEST_METRE: Mm = Mm(36.0);
/// Room for the tallest flight in the overview.
const OVERVIEW_TALLEST: Mm = Mm(20.0);
/// From one line of what is folded to the next.
pub(super) const FOLDED_LINE: Mm = Mm(3.8);
/// How far beyond the performance's ends, in parts of its length, the overview may reach to hold
/// all cues and limits: what lies further off would press the routine together.
const OVERVIEW_BEYOND: f64 = 0.35;

/// The heights of a row's parts on paper.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Bands {
    /// Its upper edge.
    pub(super) top: Mm,
    /// The line of the clock ruler.
    pub(super) ruler: Mm,
    /// The lower edge of the lowest lane of flags.
    pub(super) flags: Mm,
    /// The line that the sections' names stand on.
    pub(super) names: Mm,
    /// The upper edge of the flights' field.
    pub(super) field: Mm,
    /// The height of the hands: its lower edge.
    pub(super) hands: Mm,
    /// The line that the values of each hand's throws stand on, left then right.
    pub(super) values: [Mm; 2],
    /// The rails, left then right: props stack above them.
    pub(super) rails: [Mm; 2],
    /// The lines that the ways of each hand's throws stand on, left then right, where they have
    /// no room beside the values.
    pub(super) ways: Option<[Mm; 2]>,
    /// The middle of the lane of the arms, where the row has one.
    pub(super) arms: Option<Mm>,
    /// The line that the music's loudness stands on, where it has room.
    pub(super) loudness: Option<Mm>,
    /// Its lower edge.
    pub(super) bottom: Mm,
    /// The lower edge of the lines below it that say what is folded.
    pub(super) end: Mm,
}

/// A row of the drawing.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    /// The times at its two ends.
    pub(super) from: f64,
    /// See `from`.
    pub(super) to: f64,
    /// The stretches that are left out of it.
    pub(super) folds: Vec<Fold>,
    /// What happens in them, in lines.
    pub(super) folded: Vec<String>,
    /// The part of it that is drawn: the first and the last row may be short.
    pub(super) shown: (f64, f64),
    /// Where its parts lie.
    pub(super) bands: Bands,
    /// The sheet it stands on, from 0.
    pub(super) page: usize,
    /// Its flights, by index.
    pub(super) flights: Vec<usize>,
    /// Its rests, by index.
    pub(super) rests: Vec<usize>,
    /// Its cue flags.
    pub(super) flags: Lanes,
    /// Whether the clear height is drawn in it.
    pub(super) shows_ceiling: bool,
}

/// The whole drawing.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Layout {
    /// Seconds in a row.
    pub(super) row_s: f64,
    /// A second on paper.
    pub(super) second: Mm,
    /// A metre on paper.
    pub(super) metre: Mm,
    /// From one prop on a rail to the next above it.
    pub(super) pitch: Mm,
    /// The clear height above the hands in metres, where it is drawn.
    pub(super) ceiling: Option<f64>,
    /// How much is written.
    pub(super) detail: Detail,
    /// In order of time.
    pub(super) rows: Vec<Row>,
    /// How high a sheet is.
    pub(super) high: Mm,
    /// How many sheets.
    pub(super) pages: usize,
}

impl Layout {
    /// Lays everything out on sheets so high.
    pub(super) fn new(matter: &Matter<'_>, high: Mm) -> Layout {
        let detail = matter.detail();
        let row_s = matter.row_s();
        let highest = matter.highest();
        let ceiling = matter.near_ceiling();
        let tallest = ceiling.map_or(highest, |ceiling| ceiling.max(highest));
        let lanes = matter.threads.lanes.max(1);
        let pitch = Mm(1.7).min(Mm(8.5) / lanes as f64);
        let mut layout = Layout {
            row_s,
            second: (RIGHT - LEFT) / row_s,
            metre: LONGEST_METRE,
            pitch,
            ceiling,
            detail,
            rows: Vec::new(),
            high,
            pages: 1,
        };
        layout.make_rows(matter);
        let tried = TALLEST.map(|room| {
            let metre = if tallest > 0.0 { room / tallest } else { LONGEST_METRE };
            let metre = metre.min(LONGEST_METRE);
            (metre, layout.set_bands(matter, metre))
        });
        let fewest = tried.iter().map(|&(_, pages)| pages).min();
        if let Some(&(metre, _)) = tried.iter().find(|&&(_, pages)| Some(pages) == fewest) {
            layout.pages = layout.set_bands(matter, metre);
        }
        layout
    }

    /// Lays the whole routine out in one row, whose names stand below the flights.
    /// It holds times of something else too, if it can.
    pub(super) fn overview(matter: &Matter<'_>, also: &[f64]) -> Layout {
        let (begins, ends) = matter.span;
        let beyond = (ends - begins) * OVERVIEW_BEYOND;
        let near = |at: &&f64| (begins - beyond..=ends + beyond).contains(*at);
        let (from, to) = matter
            .reach
            .iter()
            .chain(also)
            .filter(near)
            .fold(matter.span, |(first, last), &at| (first.min(at), last.max(at)));
        let to = to.max(from + 1.0);
        let second = (RIGHT - LEFT) / (to - from);
        let highest = matter.highest();
        let ceiling = matter.near_ceiling();
        let tallest = ceiling.map_or(highest, |ceiling| ceiling.max(highest));
        let metre = if tallest > 0.0 { OVERVIEW_TALLEST / tallest } else { LONGEST_METRE };
        let mut layout = Layout {
            row_s: to - from,
            second,
            metre,
            pitch: BAR,
            ceiling,
            detail: Detail::Lines,
            rows: Vec::new(),
            high: PAGE.1,
            pages: 1,
        };
        let row = Row {
            from,
            to,
            folds: Vec::new(),
            folded: Vec::new(),
            shown: (from, to),
            bands: Bands::default(),
            page: 0,
            flights: (0..matter.threads.flights.len()).collect(),
            rests: Vec::new(),
            flags: Lanes::default(),
            shows_ceiling: ceiling.is_some(),
        };
        let mine =
            matter.flags.iter().enumerate().filter(|(_, flag)| (from..=to).contains(&flag.go));
        let mine = mine.map(|(index, flag)| {
            (index, layout.x(&row, flag.go), flag.width(), flag.words_width())
        });
        let mut lanes = Lanes::assign(mine.collect());
        lanes.left_out = matter.flags.len() - lanes.flags.len();
        let ruler = Mm(11.0) + if matter.music { Mm(9.2) } else { Mm(4.6) };
        let flags = ruler + Mm(1.4) + LANE * (lanes.count as f64);
        let field = flags + Mm(0.8);
        let hands = field + Mm(1.0) + if tallest > 0.0 { OVERVIEW_TALLEST } else { Mm(2.0) };
        let bottom = hands + BLOCK;
        let bands = Bands {
            top: Mm(0.0),
            ruler,
            flags,
            names: hands,
            field,
            hands,
            values: [bottom; 2],
            rails: [hands - Mm(0.6); 2],
            ways: None,
            arms: None,
            loudness: None,
            bottom,
            end: bottom,
        };
        layout.rows.push(Row { bands, flags: lanes, ..row });
        layout
    }

    /// Where a time lies in a row.
    pub(super) fn x(&self, row: &Row, time: f64) -> Mm {
        LEFT + self.second * (time - row.from - row.folded_before(time))
    }

    /// Where the labels of a row end: left of its first time that is drawn.
    pub(super) fn labels(&self, row: &Row) -> Mm {
        self.x(row, row.shown.0) - Mm(1.5)
    }

    /// As [`Layout::x`], kept between the row's two ends.
    pub(super) fn x_inside(&self, row: &Row, time: f64) -> Mm {
        self.x(row, time.clamp(row.from, row.to))
    }

    /// Where a height above the hands lies in a row.
    pub(super) fn y(&self, row: &Row, height_m: f64) -> Mm {
        row.bands.hands - self.metre * height_m
    }

    /// The middle of a prop on a rail.
    pub(super) fn on_rail(&self, row: &Row, hand: crate::hand::Hand, lane: usize) -> Mm {
        row.bands.rails[hand.index()] - BAR / 2.0 - self.pitch * (lane as f64) - Mm(0.15)
    }

    /// Which rows a stretch of time touches.
    fn rows_of(&self, from: f64, until: f64) -> std::ops::Range<usize> {
        let first = self.rows.partition_point(|row| row.to <= from);
        let after = self.rows.partition_point(|row| row.from < until);
        first..after.max(first)
    }

    fn make_rows(&mut self, matter: &Matter<'_>) {
        let (begins, ends) = matter.span;
        let (first, count) = matter.rows(self.row_s);
        let mut folds = matter.folds(self.row_s).into_iter().peekable();
        let mut from = first * self.row_s;
        for _ in 0..count {
            let mut to = from + self.row_s;
            let mut mine = Vec::new();
            while let Some(fold) = folds.next_if(|fold| fold.from < to) {
                to += fold.to - fold.from;
                mine.push(fold);
            }
            let folded = mine.iter().filter(|fold| !fold.inside.is_empty()).flat_map(|fold| {
                let inside = format!("{}: {}.", fold.words(), fold.inside.join("; "));
                text::wrap(&inside, SMALL, false, RIGHT - LEFT)
            });
            self.rows.push(Row {
                from,
                to,
                folded: folded.collect(),
                folds: mine,
                shown: (from.max(begins), to.min(ends)),
                bands: Bands::default(),
                page: 0,
                flights: Vec::new(),
                rests: Vec::new(),
                flags: Lanes::default(),
                shows_ceiling: false,
            });
            from = to;
        }
        for (index, flight) in matter.threads.flights.iter().enumerate() {
            for row in self.rows_of(flight.leaves, flight.lands) {
                self.rows[row].flights.push(index);
            }
        }
        for (index, rest) in matter.threads.rests.iter().enumerate() {
            for row in self.rows_of(rest.from, rest.until) {
                self.rows[row].rests.push(index);
            }
        }
        for index in 0..self.rows.len() {
            let row = &self.rows[index];
            let is_last = index + 1 == self.rows.len();
            let mine = matter.flags.iter().enumerate().filter(|(_, flag)| {
                flag.go >= row.from && (flag.go < row.to || is_last && flag.go <= row.to)
            });
            let mine =
                mine.map(|(index, flag)| (index, self.x(row, flag.go), flag.width(), Mm(0.0)));
            let lanes = Lanes::assign(mine.collect());
            let times = lanes.flags.iter().map(|flown| matter.flags[flown.flag].go);
            let shown = times.fold(row.shown, |(first, last), go| (first.min(go), last.max(go)));
            let row = &mut self.rows[index];
            (row.shown, row.flags) = (shown, lanes);
        }
    }

    /// Gives every row its bands and its sheet at some scale of height; gives how many sheets.
    fn set_bands(&mut self, matter: &Matter<'_>, metre: Mm) -> usize {
        self.metre = metre;
        let lane_height = self.pitch * (matter.threads.lanes.max(1) as f64 - 1.0) + BAR;
        let ceiling = self.ceiling.unwrap_or(0.0);
        for row in &mut self.rows {
            let flights = row.flights.iter().map(|&flight| &matter.threads.flights[flight]);
            let highest = flights
                .filter(|flight| !flight.handed)
                .fold(0.0, |highest: f64, flight| highest.max(flight.height_m));
            row.shows_ceiling = ceiling > 0.0 && ceiling <= highest * CEILING_WITHIN;
            let tallest = if row.shows_ceiling { highest.max(ceiling) } else { highest };
            let field = if highest > 0.0 { metre * tallest + BEAD + Mm(1.4) } else { Mm(2.0) };
            let ruler = if matter.music { Mm(9.2) } else { Mm(4.6) };
            let flags = ruler + Mm(1.4) + LANE * (row.flags.count as f64);
            let names = flags + Mm(3.8);
            let field_top = names + Mm(1.6);
            let hands = field_top + field;
            let right_values = hands + Mm(3.4);
            let (ways, lane) = arm::rooms(matter, self.detail, (row.from, row.to), self.second);
            let right_rail = right_values + ways + Mm(1.2) + lane_height;
            let left_rail = right_rail + Mm(2.0) + lane_height;
            let left_values = left_rail + Mm(3.4);
            let last = left_values + ways;
            let bottom = last + Mm(0.8) + lane;
            let (from, to) = row.shown;
            let heard = matter.heard.is_some_and(|(starts, ends)| starts < to && ends > from);
            let loudness = heard.then_some(bottom + Mm(0.4) + LOUDEST);
            row.bands = Bands {
                top: Mm(0.0),
                ruler,
                flags,
                names,
                field: field_top,
                hands,
                values: [left_values, right_values],
                rails: [left_rail, right_rail],
                ways: (ways > Mm(0.0)).then(|| [last, right_values + ways]),
                arms: (lane > Mm(0.0)).then(|| bottom - lane / 2.0),
                loudness,
                bottom: loudness.unwrap_or(bottom),
                end: loudness.unwrap_or(bottom) + FOLDED_LINE * row.folded.len() as f64,
            };
        }
        self.put_on_pages(matter.heads)
    }

    /// Fills sheet after sheet; no row straddles two. Gives how many sheets.
    fn put_on_pages(&mut self, heads: (Mm, Mm)) -> usize {
        let mut first = 0;
        let mut page = 0;
        while first < self.rows.len() {
            let head = EDGE + if page == 0 { heads.0 } else { heads.1 };
            let room = self.high - head - EDGE;
            let mut used = self.rows[first].bands.end;
            let mut after = first + 1;
            while let Some(row) = self.rows.get(after) {
                let with_it = used + BETWEEN_ROWS.0 + row.bands.end;
                if with_it > room {
                    break;
                }
                used = with_it;
                after += 1;
            }
            let is_last = after == self.rows.len();
            let gaps = (after - first).saturating_sub(1).max(1) as f64;
            let spread = if is_last { Mm(2.0) } else { BETWEEN_ROWS.1 - BETWEEN_ROWS.0 };
            let more = ((room - used) / gaps).max(Mm(0.0)).min(spread);
            let mut top = self.high * page as f64 + head;
            for row in &mut self.rows[first..after] {
                row.bands.lower_by(top);
                row.page = page;
                top = row.bands.end + BETWEEN_ROWS.0 + more;
            }
            first = after;
            page += 1;
        }
        page.max(1)
    }
}

impl Row {
    /// The parts from a time to another that are not folded.
    pub(super) fn parts(&self, (from, to): (f64, f64)) -> Vec<(f64, f64)> {
        let starts = [from].into_iter().chain(self.folds.iter().map(|fold| fold.to.max(from)));
        let ends = self.folds.iter().map(|fold| fold.from.min(to)).chain([to]);
        starts.zip(ends).filter(|(from, to)| from < to).collect()
    }

    /// How much is folded before a time, in seconds.
    fn folded_before(&self, time: f64) -> f64 {
        self.folds.iter().map(|fold| time.clamp(fold.from, fold.to) - fold.from).sum()
    }
}

impl Bands {
    fn lower_by(&mut self, by: Mm) {
        let Bands { top, ruler, flags, names, field, hands, values, rails, .. } = self;
        let Bands { ways, arms, loudness, bottom, end, .. } = self;
        let [left_values, right_values] = values;
        let [left_rail, right_rail] = rails;
        for place in [
            top,
            ruler,
            flags,
            names,
            field,
            hands,
            left_values,
            right_values,
            left_rail,
            right_rail,
            bottom,
            end,
        ]
        .into_iter()
        .chain(ways.iter_mut().flatten())
        .chain(arms)
        .chain(loudness)
        {
            *place += by;
        }
    }
}
