//! The timing strip: the whole routine drawn as what the props do, to read on paper and on screen.
//!
//! Time runs along rows that wrap like a page of music. From the top of a row down: the clock
//! ruler (and the bars of the music), cue flags whose staffs run down through everything, the
//! names of the sections, the *flights* (each throw on the arc it flies, true to scale), the two
//! hands as rails on which props rest as bars, the lane of the arms where they cross, and how loud
//! the music is, where it was heard. A prop is one unbroken thread through all of it: along a rail,
//! up through the air, down onto a rail.
//!
//! [`strip()`] and [`overview()`] are pure: `scene` gathers what is drawn, `layout` says where it
//! lies, `draw` draws it. Equal routines give equal bytes. Lengths are millimetres on paper.

mod arm;
mod at_rest;
#[cfg(test)]
mod by_hand;
mod certainty;
mod draw;
mod flag;
mod head;
mod layout;
mod millimetres;
mod music;
mod paper;
mod prop_mark;
mod scene;
mod section;
#[cfg(test)]
mod tests;
mod text;
mod thread;

use svg::Document;
use svg::node::element::{Description, Group, Rectangle, Title};

use crate::act::Act;
use crate::routine::Routine;

use draw::{arms, flags, flights, hands, loudness, overview, ruler, sections, style};
use layout::{Layout, Row};
use millimetres::Mm;
use paper::PAGE;
use scene::Scene;

/// The timing strip of an act as SVG: A4 sheets on their side, one below the other; no row
/// straddles two sheets. The loudness of the music stands below each row where it was heard.
#[must_use]
pub fn strip(act: &Act) -> String {
    let routine = &act.routine;
    let scene = Scene::new(act, Layout::new);
    let layout = &scene.layout;
    let height = PAGE.1 * layout.pages as f64;
    let mut document = document(&scene, routine, "Timing strip", height);
    for page in 0..layout.pages {
        document = document.add(draw::head::draw(&scene.head, page, layout.pages));
        for row in layout.rows.iter().filter(|row| row.page == page) {
            document = document.add(draw_row(&scene, row));
        }
    }
    document.to_string()
}

/// The overview of a routine as SVG: all of it in one row.
#[must_use]
pub fn overview(act: &Act) -> String {
    let Act { routine, timeline, .. } = act;
    let scene = Scene::new(act, Layout::overview);
    let Some(row) = scene.layout.rows.first() else {
        unreachable!("an overview is laid out in one row")
    };
    let height = overview::height(routine, row);
    let sheet = Rectangle::new().set("width", PAGE.0).set("height", height).set("class", "sheet");
    let mut document = document(&scene, routine, "Overview", height)
        .add(sheet)
        .add(overview::head(&scene, &scene::title(routine), &scene::under_title(routine)))
        .add(ruler::fine_lines(&scene, row))
        .add(overview::skyline(&scene, row))
        .add(flights::heights(&scene, row))
        .add(overview::blocks(&scene, row));
    if let Some(bars) = ruler::bars(&scene, row) {
        document = document.add(bars);
    }
    document
        .add(ruler::ruler(&scene, row))
        .add(flags::staffs(row))
        .add(flags::flags(&scene, row))
        .add(overview::props(&scene, row, timeline))
        .add(overview::measures(&scene, row, act))
        .to_string()
}

/// The letter of each of the routine's colours, as the strip writes it on their beads.
#[must_use]
pub fn letters(act: &Act) -> Vec<String> {
    let Act { routine, .. } = act;
    let marks = prop_mark::marks(&routine.colours, &scene::used(act));
    marks.into_iter().map(|mark| mark.letter).collect()
}

/// A drawing with nothing on it yet, as high as said.
fn document(scene: &Scene, routine: &Routine, what: &str, height: Mm) -> Document {
    Document::new()
        .set("width", format!("{}mm", PAGE.0))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {} {height}", PAGE.0))
        .set("role", "graphics-document")
        .add(Title::new(format!("{what} of {}", scene::title(routine))))
        .add(Description::new().add(svg::node::Text::new(description(scene, routine))))
        .add(style::style(&scene.marks))
        .add(style::definitions(&scene.marks))
}

/// One row, from what lies behind to what lies in front.
fn draw_row(scene: &Scene, row: &Row) -> Group {
    let (from, to) = (ruler::label(row.from), ruler::label(row.to));
    let mut group = draw::titled(format!("Row from {from} to {to}"))
        .add(sections::tints(scene, row))
        .add(ruler::fine_lines(scene, row))
        .add(flights::heights(scene, row))
        .add(flags::staffs(row));
    if let Some(bars) = ruler::bars(scene, row) {
        group = group.add(bars);
    }
    if let Some(loudness) = loudness::silhouette(scene, row) {
        group = group.add(loudness);
    }
    group = group
        .add(ruler::ruler(scene, row))
        .add(hands::threads(scene, row))
        .add(flights::flights(scene, row))
        .add(hands::rails(scene, row))
        .add(flights::beads(scene, row))
        .add(hands::gathered(scene, row))
        .add(hands::values(scene, row));
    if let Some(lane) = arms::lane(scene, row) {
        group = group.add(lane);
    }
    group.add(sections::names(scene, row)).add(flags::flags(scene, row))
}

/// The whole drawing in words, for those who hear it.
fn description(scene: &Scene, routine: &Routine) -> String {
    let sections: Vec<&str> = scene.sections.iter().map(|section| section.title.as_str()).collect();
    let arms = match scene.arms.is_empty() {
        true => "",
        false => " Below the hands lie the arms, open or crossed on each beat.",
    };
    format!(
        "{}. Every throw is an arc over time, above the right and the left hand.{arms} Sections: \
         {}.",
        scene::under_title(routine),
        sections.join("; ")
    )
}
