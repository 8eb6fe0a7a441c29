//! The sections of a row: tints of pauses, hatches of transitions, edges, names.

use svg::node::element::{Group, Title};

use super::super::layout::Row;
use super::super::millimetres::{Mm, PathData};
use super::super::paper::LEFT;
use super::super::scene::Scene;
use super::super::section::Section;
use super::super::stretch::{Stretch, StretchOf};
use super::super::text::{self, NAME, SMALL};
use super::{path, words};

/// Stands before the name of a section whose props do not come as it needs them.
const TORN: &str = "TORN";
/// Width of the sign of a transition beside its throws.
const SWATCH: Mm = Mm(3.2);

/// What lies behind everything: pauses, transitions and the dark.
pub(in super::super) fn tints(scene: &Scene, row: &Row) -> Group {
    let mut group = Group::new();
    let bands = &row.bands;
    let mut shade = |from: f64, to: f64, top: Mm, bottom: Mm, class: &str, title: &str| {
        let (from, to) = (from.max(row.shown.0), to.min(row.shown.1));
        if from < to {
            let mut shape = PathData::default();
            let (left, right) = (scene.layout.x(row, from), scene.layout.x(row, to));
            shape.rectangle(left, top, right, bottom);
            let shape = path(shape, class).add(Title::new(title));
            group = std::mem::take(&mut group).add(shape);
        }
    };
    for section in within(scene, row) {
        if section.pattern.is_none() && !section.unread {
            shade(section.from, section.to, bands.field, bands.bottom, "z", &section.title);
        }
        if let Some((until, label)) = &section.transition {
            let title = format!("transition {label}");
            shade(section.from, *until, bands.field, bands.bottom, "x", &title);
        }
    }
    for Stretch { of, from, to } in &scene.stretches {
        if *of == StretchOf::Dark {
            shade(*from, *to, bands.field, bands.bottom, "d", of.words());
        }
    }
    for section in within(scene, row).filter(|section| section.unread) {
        let (from, to) = (section.from.max(row.from), section.to.min(row.to));
        let (left, right) = (scene.layout.x(row, from), scene.layout.x(row, to));
        let cross = unread(left, bands.field, right, bands.bottom);
        group = group.add(super::titled(section.title.as_str()).add(cross));
    }
    for section in within(scene, row).filter(|section| section.is_open) {
        // Where a row ends within it, each part has its own tear.
        let (from, to) = (section.from.max(row.from), section.to.min(row.to));
        let x = (scene.layout.x(row, from) + scene.layout.x(row, to)) / 2.0;
        let tear = tear(x, bands.field, bands.bottom);
        group = group.add(super::titled(section.title.as_str()).add(tear));
    }
    group
}

/// The sign of a section that could not be read: an empty frame, crossed out.
pub(super) fn unread(left: Mm, top: Mm, right: Mm, bottom: Mm) -> Group {
    let mut frame = PathData::default();
    frame.rectangle(left, top, right, bottom);
    frame.go(left, top).line(right, bottom).go(left, bottom).line(right, top);
    Group::new().add(path(frame, "k"))
}

/// The sign of a torn junction: a jagged line.
pub(super) fn rent(x: Mm, top: Mm, bottom: Mm) -> Group {
    const TOOTH: Mm = Mm(2.2);
    const HALF: Mm = Mm(1.1);
    let teeth = ((bottom - top) / TOOTH).round().max(2.0) as u32;
    let step = (bottom - top) / f64::from(teeth);
    let mut line = PathData::default();
    line.go(x, top);
    for tooth in 1..teeth {
        let side = if tooth % 2 == 0 { HALF } else { HALF * -1.0 };
        line.line(x + side, top + step * f64::from(tooth));
    }
    line.line(x, bottom);
    Group::new().add(path(line.clone(), "T")).add(path(line, "X"))
}

/// The word beside it, white on black, standing on the line `y`.
pub(super) fn torn_mark(x: Mm, y: Mm) -> Group {
    let right = x + text::width(TORN, SMALL, true) + Mm(1.4);
    let mut shape = PathData::default();
    shape.rectangle(x, y - Mm(2.9), right, y + Mm(0.7));
    Group::new().add(path(shape, "i")).add(words(TORN, x + Mm(0.7), y - Mm(0.1), "w"))
}

/// The sign of time left out: two jagged lines, white between them.
pub(super) fn tear(x: Mm, top: Mm, bottom: Mm) -> Group {
    const TOOTH: Mm = Mm(1.7);
    const HALF: Mm = Mm(0.7);
    let teeth = ((bottom - top) / TOOTH).round().max(2.0) as u32;
    let step = (bottom - top) / f64::from(teeth);
    let edge = |at: Mm| {
        (0..=teeth).map(move |tooth| {
            let side = if tooth % 2 == 0 { Mm(-0.5) } else { Mm(0.5) };
            (at + side, top + step * f64::from(tooth))
        })
    };
    let line = |at: Mm| {
        let mut data = PathData::default();
        for (place, (x, y)) in edge(at).enumerate() {
            if place == 0 {
                data.go(x, y);
            } else {
                data.line(x, y);
            }
        }
        data
    };
    let (left, right) = (x - HALF, x + HALF);
    let mut gap = line(left);
    for (x, y) in edge(right).collect::<Vec<_>>().into_iter().rev() {
        gap.line(x, y);
    }
    gap.close();
    Group::new().add(path(gap, "sheet")).add(path(line(left), "j")).add(path(line(right), "j"))
}

/// Edges and names.
pub(in super::super) fn names(scene: &Scene, row: &Row) -> Group {
    let mut group = Group::new();
    let mut edges = PathData::default();
    let layout = &scene.layout;
    let at_end = at_rows_end(scene, row);
    for section in within(scene, row) {
        if section.from >= row.from {
            let x = scene.layout.x(row, section.from);
            edges.go(x, row.bands.names - Mm(3.2)).down(row.bands.bottom);
        }
        let is_at_end = section.from >= row.from && section.to > row.to;
        if at_end.is_some() && is_at_end {
            continue;
        }
        let until = layout.x_inside(row, section.to) - Mm(1.0);
        let until = match &at_end {
            Some((_, from)) if section.to < row.to => until.min(*from - Mm(1.5)),
            _ => until,
        };
        group = group.add(heading(scene, row, section, until));
    }
    if let Some((name, from)) = at_end {
        group = group.add(words(name, from, row.bands.names, "n h"));
    }
    for section in within(scene, row).filter(|one| one.torn && one.from >= row.from) {
        let x = scene.layout.x(row, section.from);
        let rent = rent(x, row.bands.names - Mm(3.2), row.bands.bottom);
        group = group.add(super::titled(section.title.as_str()).add(rent));
    }
    if edges.is_empty() { group } else { Group::new().add(path(edges, "Y")).add(group) }
}

/// The sections that a row shows.
fn within<'a>(scene: &'a Scene, row: &'a Row) -> impl Iterator<Item = &'a Section> {
    scene.sections.iter().filter(|section| section.from < row.to && section.to > row.from)
}

/// The name of a section that starts so near a row's end that it has no room behind its edge, with
/// an arrow to it, and where it begins: before the edge. `None` where the names before it leave no
/// room either; the next row says it then.
fn at_rows_end(scene: &Scene, row: &Row) -> Option<(String, Mm)> {
    let layout = &scene.layout;
    let starts = |one: &&Section| one.from >= row.from && one.from < row.to && one.to > row.to;
    let section = within(scene, row).find(starts).filter(|section| !section.torn)?;
    let begins = layout.x(row, section.from);
    let room = layout.x(row, row.to) - begins - Mm(2.0);
    if text::width(&section.name, NAME, true) <= room {
        return None;
    }
    let name = format!("{} →", section.name);
    let from = begins - Mm(1.0) - text::width(&name, NAME, true);
    let before = within(scene, row).filter(|one| one.from < section.from).last();
    let free_from = before.map_or(LEFT, |before| {
        let name = if before.from < row.from { "… " } else { "" }.to_owned() + &before.name;
        layout.x_inside(row, before.from) + text::width(&name, NAME, true) + Mm(3.0)
    });
    (from >= free_from).then_some((name, from))
}

/// Name, pattern and what else fits between a section's start and a place.
fn heading(scene: &Scene, row: &Row, section: &Section, end: Mm) -> Group {
    let layout = &scene.layout;
    let y = row.bands.names;
    let mut x = layout.x_inside(row, section.from) + Mm(1.0);
    let goes_on = section.from < row.from;
    let mut group = super::titled(section.title.as_str());
    if section.torn && !goes_on {
        group = group.add(torn_mark(x + Mm(0.4), y));
        x += text::width(TORN, SMALL, true) + Mm(3.0);
    }
    let begins = x;
    let name = if goes_on { format!("… {}", section.name) } else { section.name.clone() };
    let Some(short) = text::shorten(&name, NAME, true, end - x) else { return group };
    let is_whole = short == name;
    x += text::width(&short, NAME, true) + Mm(1.8);
    group = group.add(words(short, begins, y, "n h"));
    if !is_whole {
        return group;
    }
    let pattern = section.pattern.as_deref().unwrap_or_default();
    let transition = section.transition.as_ref().filter(|_| !goes_on);
    let transition = transition.map_or("", |(_, label)| label.as_str());
    let here = |at: f64| (row.from..row.to).contains(&at);
    let handling = section.handling.as_ref().filter(|handling| here(handling.at));
    let parts = [
        (pattern, NAME, "h N", Beside::Nothing),
        (section.how_often.as_str(), SMALL, "h", Beside::Nothing),
        (transition, SMALL, "h", Beside::Hatch),
        (handling.map_or("", |handling| handling.word), SMALL, "b h", Beside::Swap),
        (section.detail.as_str(), SMALL, "q h", Beside::Nothing),
    ];
    for (part, size, class, beside) in parts.into_iter().filter(|(part, ..)| !part.is_empty()) {
        let may_be_cut = size == NAME;
        let swatch = if beside == Beside::Nothing { Mm(0.0) } else { SWATCH + Mm(1.0) };
        let room = end - x - swatch;
        let Some(written) = text::shorten(part, size, false, room) else { break };
        let is_whole = written == part;
        if !is_whole && !may_be_cut {
            break;
        }
        let (top, bottom) = (y - Mm(2.3), y + Mm(0.3));
        match beside {
            Beside::Nothing => {}
            Beside::Hatch => {
                let mut shape = PathData::default();
                shape.rectangle(x, top, x + SWATCH, bottom);
                group = group.add(path(shape.clone(), "x")).add(path(shape, "Y"));
            }
            Beside::Swap => {
                let title = handling.map_or("", |handling| handling.title.as_str());
                group = group.add(super::titled(title).add(swap(x, top, bottom)));
            }
        }
        let width = text::width(&written, size, class.starts_with('b'));
        group = group.add(words(written, x + swatch, y, class));
        x += swatch + width + Mm(2.2);
        if !is_whole {
            break;
        }
    }
    group
}

/// What stands before a word.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Beside {
    Nothing,
    /// The sign of a transition.
    Hatch,
    /// The sign of props that are moved in the hands or show their other faces.
    Swap,
}

/// Two triangles that point at each other's side: what is here goes there.
fn swap(x: Mm, top: Mm, bottom: Mm) -> Group {
    let (middle, gap) = ((top + bottom) / 2.0, Mm(0.25));
    let mut shape = PathData::default();
    shape.go(x, top).line(x + SWATCH, (top + middle - gap) / 2.0).line(x, middle - gap).close();
    shape.go(x + SWATCH, middle + gap).line(x, (middle + gap + bottom) / 2.0);
    shape.line(x + SWATCH, bottom).close();
    Group::new().add(path(shape, "i"))
}
