//! What the head of each sheet says: title, issue, clock; on the first one the legend as well.

use crate::act::Act;
use crate::routine::{Arms, Made};
use crate::sheet::heading::Heading;

use super::arm;
use super::millimetres::Mm;
use super::paper::{MARGIN, PAGE};
use super::prop_mark::PropMark;
use super::scene::{self, Seen};
use super::stretch::StretchOf;
use super::text::{self, SMALL};

/// From one line of the legend to the next.
pub(super) const LINE: Mm = Mm(5.2);
/// From the upper edge to the first line of the legend.
pub(super) const LEGEND: Mm = Mm(16.6);
/// The most lines that notes may take, each.
const NOTE_LINES: usize = 3;
/// Between a sign of the legend and its words, and between two entries.
pub(super) const BESIDE: (Mm, Mm) = (Mm(1.4), Mm(5.5));

/// A sign that the legend explains.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    /// A colour, and whether it is light.
    Colour(usize, bool),
    Flight,
    Handed,
    Rest,
    Value,
    Made(Made),
    Arms(Arms),
    Quiet,
    Transition,
    Torn,
    Unread,
    Unknown,
    Pause,
    Open,
    Cue,
    On(StretchOf),
}

/// The heads of all sheets.
#[derive(Clone, Debug)]
pub(super) struct Head {
    /// The mark of a draft, or of changes that were not handed out.
    pub(super) draft: Option<String>,
    pub(super) title: String,
    pub(super) under_title: String,
    /// Lines of entries: where each begins, its sign, its words.
    pub(super) legend: Vec<Vec<(Mm, Sign, String)>>,
    pub(super) notes: Vec<String>,
}

impl Head {
    /// A head with the legend entries that the drawing needs.
    pub(super) fn new(act: &Act, marks: &[PropMark], seen: &Seen) -> Head {
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
        for &made in &seen.made {
            add(true, Sign::Made(made), made.words());
        }
        add(true, Sign::Quiet, "held, or hand empty");
        for &arms in &seen.arms {
            add(true, Sign::Arms(arms), arm::words(arms));
        }
        add(true, Sign::Pause, "pause");
        add(seen.open, Sign::Open, "pause of open length");
        add(seen.transitions, Sign::Transition, "transition or wait");
        add(seen.torn, Sign::Torn, "torn junction: the props do not come as it needs them");
        add(seen.unread, Sign::Unread, "section that could not be read");
        add(seen.unknown, Sign::Unknown, "from here on the times are not known");
        add(seen.cues, Sign::Cue, "cue; the upright line marks GO");
        add(seen.dark, Sign::On(StretchOf::Dark), "stage dark");
        add(seen.strobe, Sign::On(StretchOf::Strobe), "strobe");
        add(seen.flames, Sign::On(StretchOf::Flames), "flames alight");
        let mut head = Head {
            draft: Heading::of(act).mark(),
            title: scene::title(&act.routine),
            under_title: scene::under_title(&act.routine),
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

    /// The marks of the legend, and what each means.
    pub(super) fn signs(&self) -> impl Iterator<Item = (Sign, &str)> {
        self.legend.iter().flatten().map(|(_, sign, words)| (*sign, words.as_str()))
    }

    /// Adds a note below the legend, broken into lines.
    pub(super) fn note(&mut self, note: Option<String>) {
        let Some(note) = note else { return };
        let room = PAGE.0 - MARGIN * 2.0;
        let lines = text::wrap(&note, SMALL, false, room);
        let rest = lines.get(NOTE_LINES - 1..).map(|rest| rest.join(" "));
        self.notes.extend(lines.into_iter().take(NOTE_LINES - 1));
        let rest = rest.filter(|rest| !rest.is_empty());
        self.notes.extend(rest.and_then(|rest| text::shorten(&rest, SMALL, false, room)));
    }

    /// Height of the first sheet's head and of the others'.
    pub(super) fn heights(&self) -> (Mm, Mm) {
        let lines = self.legend.len() + self.notes.len();
        (LEGEND + LINE * (lines as f64 - 1.0) + Mm(4.5), Mm(10.0))
    }
}

impl Sign {
    /// Its width.
    pub(super) fn width(self) -> Mm {
        match self {
            Sign::Colour(..) => Mm(8.0),
            Sign::Flight | Sign::Rest | Sign::Pause | Sign::Open | Sign::Transition => Mm(6.0),
            Sign::Torn | Sign::Unknown => Mm(2.6),
            Sign::Unread => Mm(6.0),
            Sign::Cue => Mm(6.5),
            Sign::On(_) => Mm(6.0),
            Sign::Handed => Mm(4.0),
            Sign::Made(made) => text::width(arm::short(made), SMALL, false),
            Sign::Arms(_) => Mm(4.0),
            Sign::Value | Sign::Quiet => Mm(2.0),
        }
    }
}
