//! The head of each sheet: title, issue, clock, page; on the first one the legend as well.

use svg::node::element::{Group, Rectangle};

use super::super::layout::{BAR, EDGE, MARGIN, PAGE};
use super::super::millimetres::{Mm, PathData};
use super::super::prop_mark::PropMark;
use super::super::scene::Seen;
use super::super::text::{self, NAME, SMALL, TITLE};
use super::{flights, path, titled, words};

/// From one line of the legend to the next.
const LINE: Mm = Mm(5.2);
/// From the upper edge to the first line of the legend.
const LEGEND: Mm = Mm(16.6);
/// The most lines that notes may take, each.
const NOTE_LINES: usize = 3;
/// Between a sign of the legend and its words, and between two entries.
const BESIDE: (Mm, Mm) = (Mm(1.4), Mm(5.5));

/// A sign that the legend explains.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sign {
    /// A colour, and whether it is light.
    Colour(usize, bool),
    Flight,
    Handed,
    Rest,
    Value,
    Quiet,
    Transition,
    Pause,
    Cue,
    Dark,
}

/// The heads of all sheets.
#[derive(Clone, Debug)]
pub(in super::super) struct Head {
    title: String,
    under_title: String,
    /// Lines of entries: where each begins, its sign, its words.
    legend: Vec<Vec<(Mm, Sign, String)>>,
    notes: Vec<String>,
}

impl Head {
    /// A head with the legend entries that the drawing needs.
    pub(in super::super) fn new(
        title: &str,
        under_title: &str,
        marks: &[PropMark],
        seen: &Seen,
    ) -> Head {
        let mut entries: Vec<(Sign, String)> = seen
            .colours
            .iter()
            .map(|&colour| {
                let mark = &marks[colour];
                (Sign::Colour(colour, mark.is_light()), mark.name.clone())
            })
            .collect();
        let mut add = |needed: bool, sign: Sign, words: &str| {
            if needed {
                entries.push((sign, words.to_owned()));
            }
        };
        add(true, Sign::Flight, "flight, to scale");
        add(true, Sign::Rest, "prop in the hand");
        add(seen.handed, Sign::Handed, "handed across");
        add(true, Sign::Value, "throw value at its release");
        add(true, Sign::Quiet, "held, or hand empty");
        add(true, Sign::Pause, "pause");
        add(seen.transitions, Sign::Transition, "transition or wait");
        add(seen.cues, Sign::Cue, "cue, staff at its GO");
        add(seen.dark, Sign::Dark, "stage dark");
        let mut head = Head {
            title: title.to_owned(),
            under_title: under_title.to_owned(),
            legend: Vec::new(),
            notes: Vec::new(),
        };
        let mut x = MARGIN;
        let mut line = Vec::new();
        for (sign, words) in entries {
            let room = PAGE.0 - MARGIN * 2.0 - sign.width() - BESIDE.0;
            let words = text::shorten(&words, SMALL, false, room).unwrap_or_default();
            let width = sign.width() + BESIDE.0 + text::width(&words, SMALL, false);
            if x + width > PAGE.0 - MARGIN && !line.is_empty() {
                head.legend.push(std::mem::take(&mut line));
                x = MARGIN;
            }
            line.push((x, sign, words));
            x += width + BESIDE.1;
        }
        head.legend.push(line);
        head
    }

    /// Adds a note below the legend, broken into lines.
    pub(in super::super) fn note(&mut self, note: Option<String>) {
        let Some(note) = note else { return };
        let room = PAGE.0 - MARGIN * 2.0;
        let mut lines = vec![String::new()];
        for word in note.split(' ').filter(|word| !word.is_empty()) {
            let count = lines.len();
            let Some(line) = lines.last_mut() else { continue };
            let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if text::width(&longer, SMALL, false) <= room || line.is_empty() {
                *line = longer;
            } else if count == NOTE_LINES {
                *line = text::shorten(&longer, SMALL, false, room).unwrap_or_default();
                break;
            } else {
                lines.push(word.to_owned());
            }
        }
        for line in lines {
            self.notes.extend(text::shorten(&line, SMALL, false, room));
        }
    }

    /// Height of the first sheet's head and of the others'.
    pub(in super::super) fn heights(&self) -> (Mm, Mm) {
        let lines = self.legend.len() + self.notes.len();
        (LEGEND + LINE * (lines as f64 - 1.0) + Mm(4.5), Mm(10.0))
    }

    /// The sheet itself, white, and its head.
    pub(in super::super) fn draw(&self, page: usize, pages: usize) -> Group {
        let top = PAGE.1 * page as f64;
        let place = format!("page {} of {pages}", page + 1);
        let sheet = Rectangle::new()
            .set("x", Mm(0.0))
            .set("y", top)
            .set("width", PAGE.0)
            .set("height", PAGE.1)
            .set("class", "sheet");
        let mut head = titled(place.as_str()).add(sheet);
        let right = PAGE.0 - MARGIN;
        let top = top + EDGE;
        if page > 0 {
            let room = right - MARGIN - text::width(&place, SMALL, false) - Mm(4.0);
            let under_width = text::width(&self.under_title, SMALL, false) + Mm(3.0);
            let title =
                text::shorten(&self.title, NAME, true, (room - under_width).max(room / 2.0));
            let title = title.unwrap_or_default();
            let x = MARGIN + text::width(&title, NAME, true) + Mm(3.0);
            head = head.add(words(title, MARGIN, top + Mm(3.0), "n"));
            let under = text::shorten(&self.under_title, SMALL, false, MARGIN + room - x);
            if let Some(under) = under {
                head = head.add(words(under, x, top + Mm(3.0), "q"));
            }
            return head.add(words(place, right, top + Mm(3.0), "q r"));
        }
        let room = right - MARGIN - Mm(30.0);
        let title = text::shorten(&self.title, TITLE, true, room).unwrap_or_default();
        let under =
            text::shorten(&self.under_title, SMALL, false, right - MARGIN).unwrap_or_default();
        head = head
            .add(words(title, MARGIN, top + Mm(4.8), "t"))
            .add(words(place, right, top + Mm(4.8), "q r"))
            .add(words(under, MARGIN, top + Mm(10.2), "q"));
        let mut y = top + LEGEND;
        for line in &self.legend {
            for (x, sign, entry) in line {
                let beside = *x + sign.width() + BESIDE.0;
                head = head.add(sign.draw(*x, y)).add(words(entry.as_str(), beside, y, ""));
            }
            y += LINE;
        }
        for note in &self.notes {
            head = head.add(words(note.as_str(), MARGIN, y, "q"));
            y += LINE;
        }
        head
    }
}

impl Sign {
    fn width(self) -> Mm {
        match self {
            Sign::Colour(..) => Mm(8.0),
            Sign::Flight | Sign::Rest | Sign::Pause | Sign::Transition => Mm(6.0),
            Sign::Cue => Mm(6.5),
            Sign::Dark => Mm(6.0),
            Sign::Handed => Mm(4.0),
            Sign::Value | Sign::Quiet => Mm(2.0),
        }
    }

    /// Draws it from `x` on, its words standing on the line `y`.
    fn draw(self, x: Mm, y: Mm) -> Group {
        let right = x + self.width();
        let (top, bottom) = (y - Mm(2.8), y + Mm(0.6));
        let mut data = PathData::default();
        let group = Group::new();
        match self {
            Sign::Colour(colour, is_light) => {
                let middle = y - Mm(1.0);
                let mut line = PathData::default();
                line.go(x, middle).across(right);
                let edge = if is_light { line.clone() } else { PathData::default() };
                group
                    .add(path(edge, &format!("e{colour}")))
                    .add(path(line, &format!("f p{colour}")))
                    .add(flights::bead(colour, x + Mm(4.0), middle))
            }
            Sign::Flight => {
                data.go(x, bottom).arc((x + right) / 2.0, top * 2.0 - bottom, right, bottom);
                group.add(path(data, "K"))
            }
            Sign::Rest => {
                let middle = y - Mm(1.0);
                data.rectangle(x, middle - BAR / 2.0, right, middle + BAR / 2.0);
                group.add(path(data, "i"))
            }
            Sign::Handed => {
                data.go(x, top).line(right, bottom);
                group.add(path(data, "K"))
            }
            Sign::Value => group.add(words("5", x, y, "b")),
            Sign::Quiet => group.add(words("2", x, y, "q")),
            Sign::Pause | Sign::Transition => {
                data.rectangle(x, top, right, bottom);
                let mut edge = PathData::default();
                edge.go(x, top).down(bottom).go(right, top).down(bottom);
                let class = if self == Sign::Pause { "z" } else { "x" };
                group.add(path(data, class)).add(path(edge, "Y"))
            }
            Sign::Cue => {
                let (middle, shaft) = ((top + bottom) / 2.0, right - Mm(1.5));
                data.go(x, bottom + Mm(1.0)).down(top).across(shaft).line(right, middle);
                data.line(shaft, bottom).across(x);
                group.add(path(data, "v"))
            }
            Sign::Dark => {
                let mut tint = PathData::default();
                tint.rectangle(x, top, right, bottom);
                data.rectangle(x, top, right, top + Mm(1.0));
                group.add(path(tint, "d")).add(path(data, "i"))
            }
        }
    }
}
