//! The two hands as rails: a bar for each prop at rest, the values of the throws, what is
//! handed across.

use svg::node::element::{Group, Text, Title};

use crate::hand::Hand;
use crate::sheet::loading::hand_in_words;

use super::super::layout::{Layout, Row};
use super::super::matter::Detail;
use super::super::millimetres::{Mm, PathData};
use super::super::paper::{BAR, BEAD, LEFT};
use super::super::prop_mark::PropMark;
use super::super::scene::Scene;
use super::super::text::{self, SMALL};
use super::super::thread::Gathered;
use super::{flights, path, words};

/// From the line of an event to what is written beside it.
const BESIDE: Mm = Mm(0.6);

/// What joins the flights to the rails and the rails to each other; drawn behind the bars.
pub(in super::super) fn threads(scene: &Scene, row: &Row) -> Group {
    let layout = &scene.layout;
    let mut stems: Vec<PathData> = vec![PathData::default(); scene.marks.len()];
    let mut slants: Vec<PathData> = vec![PathData::default(); scene.marks.len()];
    for flight in row.flights.iter().map(|&flight| &scene.threads.flights[flight]) {
        let Some(stem) = stems.get_mut(flight.colour) else { continue };
        let level = |hand: Hand, rest: Option<usize>| {
            let lane =
                rest.and_then(|rest| scene.threads.rests.get(rest)).map_or(0, |rest| rest.lane);
            layout.on_rail(row, hand, lane)
        };
        let (leaves, lands) = (level(flight.from, flight.before), level(flight.to, flight.after));
        if flight.handed {
            let lasts = flight.lands - flight.leaves;
            if lasts <= 0.0 {
                continue;
            }
            let part = |time: f64| ((time - flight.leaves) / lasts).clamp(0.0, 1.0);
            let (first, last) = (part(row.from), part(row.to));
            let at = |part: f64| layout.x(row, flight.leaves + lasts * part);
            let y = |part: f64| leaves + (lands - leaves) * part;
            slants[flight.colour].go(at(first), y(first)).line(at(last), y(last));
            continue;
        }
        if layout.detail == Detail::Lines {
            continue;
        }
        for (time, level) in [(flight.leaves, leaves), (flight.lands, lands)] {
            if (row.from..=row.to).contains(&time) {
                stem.go(layout.x(row, time), row.bands.hands).down(level);
            }
        }
    }
    let mut group = Group::new();
    for (colour, data) in stems.into_iter().enumerate().filter(|(_, data)| !data.is_empty()) {
        group = group.add(path(data, &format!("g{colour}")));
    }
    for (colour, data) in slants.into_iter().enumerate().filter(|(_, data)| !data.is_empty()) {
        group = group
            .add(path(data.clone(), &format!("e{colour}")))
            .add(path(data, &format!("f p{colour}")));
    }
    group
}

/// The rails and the props that rest on them.
pub(in super::super) fn rails(scene: &Scene, row: &Row) -> Group {
    let layout = &scene.layout;
    let (left, right) = (layout.x(row, row.shown.0), layout.x(row, row.shown.1));
    let mut group = Group::new();
    for hand in [Hand::Right, Hand::Left] {
        let y = row.bands.rails[hand.index()];
        let mut rail = PathData::default();
        rail.go(left, y).across(right);
        let mut bars: Vec<PathData> = vec![PathData::default(); scene.marks.len()];
        let mut lines = bars.clone();
        let mut letters = Group::new();
        for rest in row.rests.iter().map(|&rest| &scene.threads.rests[rest]) {
            if rest.hand != hand || rest.until <= rest.from {
                continue;
            }
            if let Some(data) = bars.get_mut(rest.colour) {
                let middle = layout.on_rail(row, hand, rest.lane);
                let height = BAR.min(layout.pitch * 0.85);
                let (from, until) =
                    (layout.x_inside(row, rest.from), layout.x_inside(row, rest.until));
                data.rectangle(from, middle - height / 2.0, until, middle + height / 2.0);
                if layout.detail != Detail::Lines {
                    lines[rest.colour].go(from, middle).across(until);
                    let letter = bar_letter(layout, &scene.marks[rest.colour], from, until, middle);
                    letters = letter.into_iter().fold(letters, Group::add);
                }
            }
        }
        let mut lane = super::titled(format!("{hand} hand")).add(path(rail, "k"));
        for (colour, data) in bars.into_iter().enumerate().filter(|(_, data)| !data.is_empty()) {
            let name = scene.marks[colour].name.as_str();
            lane = lane.add(path(data, &format!("o{colour}")).add(Title::new(name)));
        }
        for (colour, data) in lines.into_iter().enumerate().filter(|(_, data)| !data.is_empty()) {
            lane = lane.add(path(data, &format!("l{colour}")));
        }
        lane = lane.add(letters);
        let letter = match hand {
            Hand::Left => "L",
            Hand::Right => "R",
        };
        group = group.add(lane).add(words(letter, layout.labels(row), y - Mm(0.1), "n r"));
    }
    group
}

/// A letter on a bar is this high where the bars stand far enough apart, and nowhere lower than the
/// second.
const BAR_LETTER: (Mm, Mm) = (Mm(2.0), Mm(1.5));

/// The letter of a prop amid its bar, where it has room.
fn bar_letter(layout: &Layout, mark: &PropMark, from: Mm, until: Mm, middle: Mm) -> Option<Text> {
    let size = BAR_LETTER.0.min(layout.pitch * 1.2);
    let width = text::width(&mark.letter, size, true);
    // Enough of the bar stays to show its line.
    if size < BAR_LETTER.1 || until - from < width + Mm(3.0) {
        return None;
    }
    let letter = words(mark.letter.as_str(), (from + until) / 2.0, middle + size * 0.36, "m b h");
    Some(letter.set("style", format!("font-size:{size}px")))
}

/// The value of every throw at its release, where there is room, and how it is made.
pub(in super::super) fn values(scene: &Scene, row: &Row) -> Group {
    let mut group = Group::new();
    if scene.layout.detail == Detail::Lines {
        return group;
    }
    let (mut free_from, mut free_below) = ([LEFT; 2], [LEFT; 2]);
    let releases = &scene.threads.releases;
    let first = releases.partition_point(|release| release.at < row.from);
    for release in releases[first..].iter().take_while(|release| release.at < row.to) {
        let x = scene.layout.x(row, release.at) + BESIDE;
        let free = &mut free_from[release.hand.index()];
        if x < *free {
            continue;
        }
        *free = x + text::width(&release.written, SMALL, true) + Mm(0.5);
        let class = if release.quiet { "q h" } else { "b h" };
        let y = row.bands.values[release.hand.index()];
        group = group.add(words(release.written.as_str(), x, y, class));
        let Some(how) = release.how() else { continue };
        let width = text::width(&how, SMALL, false);
        if let Some(lines) = row.bands.ways {
            let free = &mut free_below[release.hand.index()];
            if x >= *free {
                *free = x + width + Mm(0.5);
                group = group.add(words(how, x, lines[release.hand.index()], "q h"));
            }
        } else {
            group = group.add(words(how, *free, y, "q h"));
            *free += width;
        }
    }
    group
}

/// The letters of the props that lie gathered, first to leave first, and where there is room their
/// names.
pub(in super::super) fn gathered(scene: &Scene, row: &Row) -> Group {
    let mut group = Group::new();
    for gathered in &scene.threads.gathered {
        let Some((mut x, until)) = beads_of(&scene.layout, row, gathered) else { continue };
        let words_at = row.bands.values[gathered.hand.index()];
        let names: Vec<&str> = gathered
            .colours
            .iter()
            .filter_map(|&colour| Some(scene.marks.get(colour)?.name.as_str()))
            .collect();
        let said = hand_in_words(&names);
        let mut of_hand = super::titled(format!("{} hand: {said}", gathered.hand));
        for &colour in &gathered.colours {
            of_hand = of_hand.add(flights::bead(colour, x, words_at - Mm(1.0)));
            x += BEAD_STEP;
        }
        if x + text::width(&said, SMALL, false) < until {
            of_hand = of_hand.add(words(said, x - BEAD + Mm(0.8), words_at, "q h"));
        }
        group = group.add(of_hand);
    }
    group
}

/// From one bead to the next.
const BEAD_STEP: Mm = Mm(BEAD.0 * 2.1);

/// Where the beads of what lies gathered begin in a row, and where they must end; `None` where the
/// row has no room for them.
fn beads_of(layout: &Layout, row: &Row, gathered: &Gathered) -> Option<(Mm, Mm)> {
    let (from, until) = (gathered.from.max(row.shown.0), gathered.until.min(row.shown.1));
    // No tear goes through its words.
    let fold = row.folds.iter().map(|fold| fold.from).find(|&fold| fold > from);
    let until = fold.map_or(until, |fold| until.min(fold));
    let first = layout.x(row, from) + BEAD + Mm(0.8);
    let until_x = layout.x(row, until);
    let fits = from < until && first + BEAD_STEP * (gathered.colours.len() as f64) <= until_x;
    fits.then_some((first, until_x))
}

/// Whether some row has room for what lies gathered.
pub(in super::super) fn is_told(layout: &Layout, gathered: &Gathered) -> bool {
    layout.rows.iter().any(|row| beads_of(layout, row, gathered).is_some())
}
