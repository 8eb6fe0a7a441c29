//! The flights of a row: every throw on the arc it flies, true to scale, with its bead on top.
//!
//! A height that is a parabola in time is one quadratic curve, exactly; what a row cuts off is
//! cut off exactly too and goes on in the next row.

use svg::node::element::{Group, Path, Title, Use};

use super::super::layout::{Layout, Row};
use super::super::matter::Detail;
use super::super::millimetres::{Mm, PathData};
use super::super::paper::{BEAD, LEFT, RIGHT};
use super::super::scene::Scene;
use super::super::text;
use super::super::thread::Flight;
use super::{path, style, titled, words};

/// Lines of height stand at least so far apart.
const LINES: Mm = Mm(5.5);
/// Steps from one line of height to the next, in metres. Of flights too high for the last, as a
/// slip of the pen in a tempo makes them, only the top is told.
const STEPS_M: [f64; 8] = [0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 50.0, 100.0];
/// A height above it is told as being above it.
const HIGHEST_TOLD_M: f64 = 1e6;
/// Places along a flight where its bead may lie when the top is taken.
const ELSEWHERE: [f64; 6] = [0.38, 0.62, 0.3, 0.7, 0.24, 0.76];

/// The scale of height: fine lines with metres, the height of the hands, the clear height.
pub(in super::super) fn heights(scene: &Scene, row: &Row) -> Group {
    let layout = &scene.layout;
    let bands = &row.bands;
    let (left, right) = (layout.x(row, row.shown.0), layout.x(row, row.shown.1));
    let mut group = Group::new();
    if row.flights.iter().any(|&flight| !scene.threads.flights[flight].handed) {
        let mut lines = PathData::default();
        for (height, label) in lines_of_height(scene, row) {
            let y = layout.y(row, height);
            lines.go(left, y).across(right);
            group = group.add(words(label, layout.labels(row), y + Mm(1.0), "q r"));
        }
        if !lines.is_empty() {
            group = Group::new().add(path(lines, "y")).add(group);
        }
        if let Some(ceiling) = layout.ceiling.filter(|_| row.shows_ceiling) {
            let y = layout.y(row, ceiling);
            let mut line = PathData::default();
            line.go(left, y).across(right);
            let label = scene.ceiling_label.as_str();
            let width = text::width(label, text::SMALL, true) + Mm(2.0);
            let (at_left, at_right) = (
                highest_between(scene, row, left, left + width),
                highest_between(scene, row, right - width, right),
            );
            let (x, class) =
                if at_left < at_right { (left + Mm(1.0), "b h") } else { (right, "r b h") };
            group = group.add(path(line, "c")).add(words(label, x, y + Mm(2.8), class));
        }
    }
    let mut line = PathData::default();
    line.go(left, bands.hands).across(right);
    group.add(path(line, "Y"))
}

/// The heights at which a row has a line, in metres, and their labels.
fn lines_of_height(scene: &Scene, row: &Row) -> Vec<(f64, String)> {
    let Layout { metre, .. } = scene.layout;
    let room = row.bands.hands - row.bands.field - Mm(1.0);
    let Some(&step) = STEPS_M.iter().find(|&&step| metre * step >= LINES) else {
        let flights = row.flights.iter().map(|&flight| &scene.threads.flights[flight]);
        let highest = flights.filter(|flight| !flight.handed).map(|flight| flight.height_m);
        let highest = highest.fold(0.0, f64::max);
        let label = match highest {
            ..HIGHEST_TOLD_M => format!("{highest:.0} m"),
            _ => format!("above {:.0} km", HIGHEST_TOLD_M / 1000.0),
        };
        return vec![(highest, label)];
    };
    let heights = super::ruler::multiples(step, step, room / metre);
    heights.map(|height| (height, format!("{height} m"))).collect()
}

/// How high the flights of a row go that are in the air between two places, in metres.
fn highest_between(scene: &Scene, row: &Row, left: Mm, right: Mm) -> f64 {
    let flights = row.flights.iter().map(|&flight| &scene.threads.flights[flight]);
    let there = flights.filter(|flight| {
        let layout = &scene.layout;
        layout.x(row, flight.leaves) < right && layout.x(row, flight.lands) > left
    });
    there.map(|flight| flight.height_m).fold(0.0, f64::max)
}

/// The flights, section by section.
pub(in super::super) fn flights(scene: &Scene, row: &Row) -> Group {
    let mut group = Group::new();
    let mut rest = row.flights.as_slice();
    while let Some(&first) = rest.first() {
        let section = scene.threads.flights[first].section;
        let count = rest
            .iter()
            .take_while(|&&flight| scene.threads.flights[flight].section == section)
            .count();
        let (mine, others) = rest.split_at(count);
        rest = others;
        let title = scene.sections.get(section).map_or("", |section| section.title.as_str());
        let mut arcs = titled(format!("Flights of {title}"));
        arcs = edges(scene, row, mine, arcs);
        arcs = if scene.layout.detail == Detail::Words {
            lines_with_words(scene, row, mine, arcs)
        } else {
            lines(scene, row, mine, arcs)
        };
        group = group.add(arcs);
    }
    group
}

/// What stands out beneath light lines.
fn edges(scene: &Scene, row: &Row, flights: &[usize], mut group: Group) -> Group {
    for (colour, _) in scene.marks.iter().enumerate().filter(|(_, mark)| mark.is_light()) {
        let mut single = PathData::default();
        let mut wide: Vec<(u8, PathData)> = Vec::new();
        for flight in flights.iter().map(|&flight| &scene.threads.flights[flight]) {
            if flight.colour != colour || flight.handed {
                continue;
            }
            match strands_above(flight) {
                0 => add_arc(&mut single, scene, row, flight),
                above => {
                    let mut data = PathData::default();
                    add_arc(&mut data, scene, row, flight);
                    wide.push((above, data));
                }
            }
        }
        let class = format!("e{colour}");
        for (above, data) in wide {
            let width = format!("stroke-width:{}", style::edge_width(above));
            group = group.add(path(data, &class).set("style", width));
        }
        if !single.is_empty() {
            group = group.add(path(single, &class));
        }
    }
    group
}

/// One line for each flight, each saying what it is.
fn lines_with_words(scene: &Scene, row: &Row, flights: &[usize], mut group: Group) -> Group {
    for flight in flights.iter().map(|&flight| &scene.threads.flights[flight]) {
        if flight.handed {
            continue;
        }
        let mut data = PathData::default();
        add_arc(&mut data, scene, row, flight);
        group = group.add(line(data, flight).add(Title::new(describe(scene, flight))));
    }
    group
}

/// One line for each colour.
fn lines(scene: &Scene, row: &Row, flights: &[usize], mut group: Group) -> Group {
    let mut by_colour: Vec<PathData> = vec![PathData::default(); scene.marks.len()];
    for flight in flights.iter().map(|&flight| &scene.threads.flights[flight]) {
        if flight.handed {
            continue;
        }
        match by_colour.get_mut(flight.colour) {
            Some(data) if strands_above(flight) == 0 => add_arc(data, scene, row, flight),
            _ => {
                let mut data = PathData::default();
                add_arc(&mut data, scene, row, flight);
                group = group.add(line(data, flight));
            }
        }
    }
    for (colour, data) in by_colour.into_iter().enumerate().filter(|(_, data)| !data.is_empty()) {
        group = group.add(path(data, &format!("f p{colour}")));
    }
    group
}

fn line(data: PathData, flight: &Flight) -> Path {
    let line = path(data, &format!("f p{}", flight.colour));
    match style::strand_width(strands_above(flight)) {
        Some(width) => line.set("style", format!("stroke-width:{width}")),
        None => line,
    }
}

fn strands_above(flight: &Flight) -> u8 {
    flight.strand.1.saturating_sub(flight.strand.0 + 1)
}

/// `5 coral, right to left, 1.03 m`.
fn describe(scene: &Scene, flight: &Flight) -> String {
    let name = scene.marks.get(flight.colour).map_or("", |mark| mark.name.as_str());
    let Flight { throw, from, to, made, height_m, .. } = flight;
    let how = made.map_or_else(String::new, |made| format!(", {}", made.words()));
    format!("{throw} {name}{how}, {from} to {to}, {height_m:.2} m")
}

/// The part of a flight's arc that lies in a row.
fn add_arc(data: &mut PathData, scene: &Scene, row: &Row, flight: &Flight) {
    let layout = &scene.layout;
    let lasts = flight.lands - flight.leaves;
    if lasts <= 0.0 {
        return;
    }
    let part = |time: f64| ((time - flight.leaves) / lasts).clamp(0.0, 1.0);
    let (first, last) = (part(row.from), part(row.to));
    // A parabola's height at a, and where the tangents at a and b meet: 4h(a(1 − a)) and
    // 2h(a(1 − b) + b(1 − a)).
    let meet =
        |a: f64, b: f64| layout.y(row, 2.0 * flight.height_m * (a * (1.0 - b) + b * (1.0 - a)));
    let at = |part: f64| layout.x(row, flight.leaves + lasts * part);
    data.go(at(first), meet(first, first));
    data.arc(at((first + last) / 2.0), meet(first, last), at(last), meet(last, last));
}

/// The beads at the top of the flights: the letter of the colour.
pub(in super::super) fn beads(scene: &Scene, row: &Row) -> Group {
    let mut group = Group::new();
    if scene.layout.detail == Detail::Lines {
        return group;
    }
    let mut taken: Vec<(Mm, Mm)> = Vec::new();
    for flight in row.flights.iter().map(|&flight| &scene.threads.flights[flight]) {
        if flight.handed || scene.layout.metre * flight.height_m < BEAD {
            continue;
        }
        let lasts = flight.lands - flight.leaves;
        let (place, all) = (f64::from(flight.strand.0), f64::from(flight.strand.1));
        let apart = (BEAD * 2.15 / (scene.layout.second * lasts)).min(0.7 / all);
        let top = 0.5 + (place - (all - 1.0) / 2.0) * apart;
        let free = std::iter::once(top).chain(ELSEWHERE).find_map(|part| {
            let time = flight.leaves + lasts * part;
            let height = 4.0 * flight.height_m * part * (1.0 - part);
            let spot = (scene.layout.x(row, time), scene.layout.y(row, height));
            let inside = (row.from..row.to).contains(&time)
                && spot.0 - BEAD >= LEFT - Mm(1.0)
                && spot.0 + BEAD <= RIGHT + Mm(1.0)
                && spot.1 + BEAD <= row.bands.hands + Mm(0.4);
            let clear = taken.iter().rev().take(24).all(|&(x, y)| {
                let (dx, dy) = ((x - spot.0) / BEAD, (y - spot.1) / BEAD);
                dx * dx + dy * dy >= 4.0
            });
            (inside && clear).then_some(spot)
        });
        if let Some((x, y)) = free {
            taken.push((x, y));
            group = group.add(bead(flight.colour, x, y));
        }
    }
    group
}

/// The bead of a colour.
pub(in super::super) fn bead(colour: usize, x: Mm, y: Mm) -> Use {
    Use::new().set("href", format!("#{}", style::bead_id(colour))).set("x", x).set("y", y)
}
