//! The overview: the whole routine in one row, for a look at its shape.
//!
//! From the top: the clock, the cues, a skyline of the highest prop at each time, the sections as
//! blocks, the props of each run, and every limit as a measure from its start to its stop.

use svg::node::element::{Group, Title};

use crate::act::Act;
use crate::measure::contest_clock::enclosed;
use crate::measure::limit_range::{JudgedRange, counted_range, judged_range};
use crate::routine::{Moment, Routine};
use crate::time;
use crate::timeline::Timeline;

use super::super::flag::Flag;
use super::super::head::{BESIDE, LINE, Sign};
use super::super::layout::Row;
use super::super::limit_mark::LimitMark;
use super::super::millimetres::{Mm, PathData};
use super::super::paper::{BEAD, BLOCK, LEFT, MARGIN, PAGE, RIGHT};
use super::super::scene::Scene;
use super::super::section::Section;
use super::super::text::{self, NAME, SMALL};
use super::{flags, flights, head, limits, path, sections, titled, words};

/// Height of the props' row.
const PROPS: Mm = Mm(5.0);
/// Height of a limit's row.
const LIMIT: Mm = Mm(7.6);
/// The most limits that are drawn.
const MOST_LIMITS: usize = 12;
/// Width of a column of the skyline.
const COLUMN: Mm = Mm(0.35);

/// How high the whole drawing is.
pub(in super::super) fn height(routine: &Routine, row: &Row, in_full: &[String]) -> Mm {
    below_limits(routine, row) + LINE * in_full.len() as f64 + Mm(4.0)
}

fn below_limits(routine: &Routine, row: &Row) -> Mm {
    let limits = routine.limits.len();
    let rows = limits.min(MOST_LIMITS) as f64;
    let more = if limits > MOST_LIMITS { LIMIT } else { Mm(0.0) };
    row.bands.bottom + PROPS + LIMIT * rows + more
}

/// What has no room to stand whole where it belongs, in lines.
pub(in super::super) fn in_full(scene: &Scene, row: &Row) -> Vec<String> {
    let is_whole = |index: usize, flag: &Flag| {
        let flown = row.flags.flags.iter().find(|flown| flown.flag == index);
        flown.is_some_and(|flown| flags::does(flag, flown).as_ref() == Some(&flag.does))
    };
    let cues = scene.flags.iter().enumerate().filter(|(index, flag)| !is_whole(*index, flag));
    let sections = scene.sections.iter().filter(|section| {
        let written = Block::of(scene, row, section);
        written.name.as_ref() != Some(&section.name)
            || section.pattern.is_some() && written.below != Some(section.juggled())
    });
    let of = |what: &str, titles: Vec<&str>| match titles.is_empty() {
        true => Vec::new(),
        false => {
            let all = format!("{what}: {}.", titles.join("; "));
            text::wrap(&all, SMALL, false, RIGHT - MARGIN)
        }
    };
    let cues = of("Cues in full", cues.map(|(_, flag)| flag.title.as_str()).collect());
    let sections: Vec<String> =
        sections.map(|section| format!("{} {}", section.name, section.juggled())).collect();
    let sections = sections.iter().map(|section| section.trim_end()).collect();
    [cues, of("Sections in full", sections)].concat()
}

/// These lines, below everything else.
pub(in super::super) fn full_texts(routine: &Routine, row: &Row, in_full: &[String]) -> Group {
    let mut group = Group::new();
    for (place, line) in in_full.iter().enumerate() {
        let y = below_limits(routine, row) + LINE * (place as f64 + 1.0);
        group = group.add(words(line.as_str(), MARGIN, y, "q"));
    }
    group
}

/// What is written in a section's block: where it begins, its name, its pattern and how often it
/// goes round.
struct Block {
    x: Mm,
    name: Option<String>,
    below: Option<String>,
}

impl Block {
    fn of(scene: &Scene, row: &Row, section: &Section) -> Block {
        let layout = &scene.layout;
        let (left, right) = (layout.x_inside(row, section.from), layout.x_inside(row, section.to));
        let beside_rent = if section.torn { Mm(1.2) } else { Mm(0.0) };
        let tear = if section.is_open { Mm(3.0) } else { Mm(0.0) };
        let room = right - left - Mm(1.4) - beside_rent - tear;
        let is_pause = section.pattern.is_none();
        let without = if section.unread { "not read" } else { "pause" };
        let below = section.pattern.as_deref().unwrap_or(without);
        let often = section.juggled();
        let has_room = !is_pause && text::width(&often, SMALL, false) <= room;
        let below = if has_room { &often } else { below };
        let below = text::shorten(below, SMALL, false, room);
        Block {
            x: left + Mm(0.9) + beside_rent,
            name: text::shorten(&section.name, SMALL, !is_pause, room),
            below: below.filter(|below| !is_pause || below == without),
        }
    }
}

/// Title, issue and clock, and what the letters on the props mean.
pub(in super::super) fn head(scene: &Scene, title: &str, under_title: &str) -> Group {
    let y = Mm(7.0);
    let mut right = PAGE.0 - MARGIN;
    let mut head = Group::new();
    if let Some(mark) = &scene.head.draft {
        let (mark, left) = head::draft(mark, right, Mm(1.2));
        head = head.add(mark);
        right = left - Mm(4.0);
    }
    let room = right - MARGIN;
    let title = text::shorten(title, NAME, true, room * 0.5).unwrap_or_default();
    let mut x = MARGIN + text::width(&title, NAME, true) + Mm(3.0);
    let under = text::shorten(under_title, SMALL, false, MARGIN + room - x).unwrap_or_default();
    head = head.add(words(title, MARGIN, y, "n"));
    let width = text::width(&under, SMALL, false);
    head = head.add(words(under, x, y, "q"));
    x += width + Mm(6.0);
    // The marks first, from the right: a colour has its letter at its prop too.
    for (sign, meaning) in scene.head.signs().filter(|(sign, _)| is_drawn(*sign)) {
        let left = right - sign.width() - BESIDE.0 - text::width(meaning, SMALL, false);
        if left < x {
            break;
        }
        let meaning = words(meaning, left + sign.width() + BESIDE.0, y, "");
        head = head.add(head::draw_sign(sign, left, y)).add(meaning);
        right = left - Mm(4.0);
    }
    for &colour in &scene.seen {
        let name = scene.marks[colour].name.as_str();
        let after = x + BEAD * 2.0 + Mm(1.0) + text::width(name, SMALL, false) + Mm(4.0);
        if after > right {
            break;
        }
        head = head.add(flights::bead(colour, x + BEAD, y - Mm(1.0))).add(words(
            name,
            x + BEAD * 2.0 + Mm(1.0),
            y,
            "",
        ));
        x = after;
    }
    head
}

/// Whether a mark of the strip is drawn on the overview too.
fn is_drawn(sign: Sign) -> bool {
    matches!(sign, Sign::On(_) | Sign::Open | Sign::Torn | Sign::Unread)
}

/// The highest prop at each time.
pub(in super::super) fn skyline(scene: &Scene, row: &Row) -> Group {
    let layout = &scene.layout;
    let columns = ((RIGHT - LEFT) / COLUMN).ceil() as usize;
    let mut highest = vec![0.0_f64; columns + 1];
    for flight in scene.threads.flights.iter().filter(|flight| !flight.handed) {
        let lasts = flight.lands - flight.leaves;
        let column = |time: f64| (layout.x(row, time) - LEFT) / COLUMN;
        let (first, last) = (column(flight.leaves), column(flight.lands));
        let middle = ((first + last) / 2.0).round();
        for place in (first.ceil().max(0.0) as usize)..=(last.floor().max(0.0) as usize) {
            let Some(column) = highest.get_mut(place) else { break };
            let part = (place as f64 - first) / (last - first);
            *column = column.max(4.0 * flight.height_m * part * (1.0 - part));
        }
        if lasts > 0.0
            && middle >= 0.0
            && let Some(column) = highest.get_mut(middle as usize)
        {
            *column = column.max(flight.height_m);
        }
    }
    let mut data = PathData::default();
    data.go(LEFT, row.bands.hands);
    for (place, height) in highest.iter().enumerate() {
        let x = (LEFT + COLUMN * (place as f64)).min(RIGHT);
        data.line(x, layout.y(row, *height));
    }
    data.line(RIGHT, row.bands.hands).close();
    titled("The highest prop at each time").add(path(data, "l"))
}

/// The sections as blocks, with name and pattern.
pub(in super::super) fn blocks(scene: &Scene, row: &Row) -> Group {
    let layout = &scene.layout;
    let top = row.bands.names;
    let mut group = Group::new();
    for section in &scene.sections {
        let (left, right) = (layout.x_inside(row, section.from), layout.x_inside(row, section.to));
        let mut shape = PathData::default();
        shape.rectangle(left, top, right, top + BLOCK);
        let is_pause = section.pattern.is_none();
        let class = if is_pause && !section.unread { "a z" } else { "a" };
        let mut block =
            Group::new().add(Title::new(section.title.as_str())).add(path(shape, class));
        if section.unread {
            block = block.add(sections::unread(left, top, right, top + BLOCK));
        }
        let Block { x, name, below } = Block::of(scene, row, section);
        let name_y = top + Mm(3.8);
        if section.is_open {
            block = block.add(sections::tear(right - Mm(1.6), row.bands.field, top + BLOCK));
        }
        let name_class = match (section.unread, is_pause) {
            (true, _) => "b h",
            (false, true) => "q",
            (false, false) => "b",
        };
        if let Some(name) = name {
            block = block.add(words(name, x, name_y, name_class));
        }
        if let Some(below) = below {
            let class = match (section.unread, is_pause) {
                (true, _) => "h",
                (false, true) => "q",
                (false, false) => "",
            };
            block = block.add(words(below, x, name_y + Mm(3.9), class));
        }
        if let Some((until, _)) = &section.transition {
            let mut mark = PathData::default();
            mark.go(left, top).across(layout.x_inside(row, *until)).down(top + Mm(0.7));
            mark.across(left).close();
            block = block.add(path(mark, "i"));
        }
        group = group.add(block);
    }
    for section in scene.sections.iter().filter(|section| section.torn) {
        let x = layout.x_inside(row, section.from);
        let rent = sections::rent(x, row.bands.field, top + BLOCK);
        let mark = sections::torn_mark(x + Mm(1.8), row.bands.field + Mm(2.9));
        group = group.add(titled(section.title.as_str()).add(rent).add(mark));
    }
    group
}

/// The props of each run as they are seen where it begins, and again where they show their other faces.
pub(in super::super) fn props(scene: &Scene, row: &Row, timeline: &Timeline) -> Group {
    let y = row.bands.bottom + PROPS / 2.0;
    let mut group = Group::new();
    let mut free_from = LEFT;
    let seen = timeline.runs.iter().flat_map(|run| {
        let other = run.other_faces.iter().copied().filter(|&beat| beat > 0);
        [0].into_iter().chain(other).map(move |beat| (run, beat))
    });
    for (run, beat) in seen {
        let x = scene.layout.x_inside(row, run.tempo.at_f64(f64::from(beat))).max(LEFT) + BEAD;
        let step = BEAD * 2.1;
        let colours = run.colours_of(run.face_at(beat));
        let end = x + step * (colours.len() as f64);
        if x < free_from || end > RIGHT + Mm(6.0) {
            continue;
        }
        for (place, &colour) in colours.iter().enumerate() {
            let colour = colour.min(scene.marks.len().saturating_sub(1));
            group = group.add(flights::bead(colour, x + step * (place as f64), y));
        }
        free_from = end + Mm(1.0);
    }
    if free_from > LEFT {
        group = group.add(words("props", LEFT - Mm(1.5), y + Mm(1.0), "q r"));
    }
    group
}

/// Every limit, from its start to its stop, and the most that it allows.
pub(in super::super) fn measures(scene: &Scene, row: &Row, act: &Act) -> Group {
    let Act { routine, .. } = act;
    let layout = &scene.layout;
    let mut group = Group::new();
    let first = row.bands.bottom + PROPS;
    for (place, limit) in routine.limits.iter().take(MOST_LIMITS).enumerate() {
        let y = first + LIMIT * (place as f64 + 1.0) - Mm(1.2);
        let rule = text::clean(&limit.rule);
        let Some(counted) = counted_range(act, limit) else {
            let label = format!("{rule}: what it counts is not known");
            let label = text::shorten(&label, SMALL, false, RIGHT - LEFT).unwrap_or_default();
            group = group.add(words(label, LEFT, y, ""));
            continue;
        };
        // As it is drawn: all that is left open at its shortest.
        let drawn =
            |when: &Moment| enclosed(act, when, 0).map_or(0.0, |time| time.shortest().to_f64());
        let (starts, stops) = (drawn(&limit.starts.value), drawn(&limit.stops.value));
        let (left, right) = (layout.x_inside(row, starts), layout.x_inside(row, stops));
        let mut line = PathData::default();
        // An end that lies outside the row is left open.
        if starts >= row.from {
            line.go(left, y - Mm(1.4)).down(y + Mm(1.4));
        }
        line.go(left, y).across(right);
        if stops <= row.to {
            line.go(right, y - Mm(1.4)).down(y + Mm(1.4));
        }
        let mut label = format!("{rule}: {}", counted.clock_beside(&limit.lines()));
        if let Some(JudgedRange { worst, .. }) = judged_range(act, limit) {
            let by = worst.by.as_ref();
            let by = by.map(|by| format!(" by {}", time::distance_text(by))).unwrap_or_default();
            let at_worst = if counted.is_certain() { "" } else { "at worst " };
            label = format!("{label}, {at_worst}{}{by}", worst.verdict.word());
        }
        if let Some(most) = &limit.at_most {
            label = format!("{label} (at most {})", time::written(&most.value));
        }
        if let Some(mark) = scene.limits.iter().find(|mark| mark.limit == place) {
            group = group.add(longest(scene, row, mark, y, right));
        }
        let x = left.min(RIGHT - Mm(1.2) - text::width(&label, SMALL, false)).max(LEFT);
        let written = text::shorten(&label, SMALL, false, RIGHT - Mm(1.2) - x).unwrap_or_default();
        group = group.add(titled(label.as_str()).add(path(line, "K")).add(words(
            written,
            x + Mm(1.2),
            y - Mm(1.3),
            "h",
        )));
    }
    if routine.limits.len() > MOST_LIMITS {
        let more = format!("and {} more limits", routine.limits.len() - MOST_LIMITS);
        let y = first + LIMIT * (MOST_LIMITS as f64 + 1.0) - Mm(1.2);
        group = group.add(words(more, LEFT, y, "q"));
    }
    group
}

/// Where a limit's clock reaches the longest that is allowed, passed or not, and its grace; the time
/// stops at `right`.
fn longest(scene: &Scene, row: &Row, mark: &LimitMark, y: Mm, right: Mm) -> Group {
    let layout = &scene.layout;
    let mut group = titled(mark.title.as_str());
    if let Some(to) = mark.forgiven_to.filter(|&to| to > row.from && mark.at < row.to) {
        let (from, to) = (layout.x_inside(row, mark.at), layout.x_inside(row, to));
        group = group.add(limits::band(from, y - Mm(1.4), to, y + Mm(1.4)));
    }
    if mark.at < row.from || mark.at > row.to {
        return group;
    }
    let x = layout.x(row, mark.at);
    if x > right {
        let mut rest = PathData::default();
        rest.go(right, y).across(x);
        group = group.add(path(rest, "c"));
    }
    let mut end = PathData::default();
    end.go(x, y - Mm(1.8)).down(y + Mm(1.8));
    group.add(path(end, "K"))
}
