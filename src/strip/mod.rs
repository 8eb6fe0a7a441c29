//! The timing strip: the whole routine drawn as what the props do, to read on paper and on screen.
//!
//! Time runs along rows that wrap like a page of music. From the top of a row down: the clock
//! ruler (and the bars of the music), cue flags whose staffs run down through everything, the
//! names of the sections, the *flights* (each throw on the arc it flies, true to scale), the two
//! hands as rails on which props rest as bars, the lane of the arms where they cross, and how loud
//! the music is, where it was heard. The longest that a limit allows is a line through the row, its
//! grace a band. Where nothing is thrown for longer than a row, time is folded away, and a tear says
//! how much. A prop is one unbroken thread through all of it: along a rail,
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
mod fold;
mod head;
mod layout;
mod limit_mark;
mod matter;
pub(crate) mod millimetres;
mod music;
pub(crate) mod paper;
mod prop_mark;
mod scene;
mod section;
mod stretch;
#[cfg(test)]
mod tests;
pub(crate) mod text;
mod thread;

use svg::Document;
use svg::node::element::{Description, Group, Rectangle, Title};

use crate::act::Act;
use crate::routine::Routine;

use draw::{
    arms, flags, flights, folds, ghost, hands, limits, loudness, overview, ruler, sections, style,
};
use layout::{Layout, Row};
use matter::Matter;
use millimetres::Mm;
use paper::PAGE;
use scene::Scene;

/// The timing strip of an act as SVG: A4 sheets on their side, one below the other; no row
/// straddles two sheets. The loudness of the music stands below each row where it was heard. An
/// encore has sheets of its own behind the act's, on its own clock.
#[must_use]
pub fn strip(act: &Act) -> String {
    in_rows(act, None)
}

/// As [`strip()`], in rows of so many seconds, at least one; a row of an act that is too long for
/// them holds more, and the head says so.
#[must_use]
pub fn strip_in_rows(act: &Act, seconds: u16) -> String {
    in_rows(act, Some(f64::from(seconds.max(1))))
}

fn in_rows(act: &Act, asked_s: Option<f64>) -> String {
    let scenes = scenes(act, asked_s, PAGE.1);
    let pages = scenes.iter().map(|scene| scene.layout.pages).sum();
    let all = ("Timing strip", Mm(0.0), PAGE.1 * pages as f64);
    let mut document = document(act, &scenes, all);
    let mut before = 0;
    for scene in &scenes {
        let sheets = sheets(scene, before, pages).into_iter().flatten();
        document = match before {
            0 => sheets.fold(document, Document::add),
            _ => {
                let down = format!("translate(0 {})", PAGE.1 * before as f64);
                let below = Group::new().set("transform", down);
                document.add(sheets.fold(below, Group::add))
            }
        };
        before += scene.layout.pages;
    }
    document.to_string()
}

/// The timing strip page by page, each so high and as wide as A4 on its side: an SVG, and what it
/// shows in words.
pub(crate) fn pages(act: &Act, high: Mm) -> Vec<(String, String)> {
    let scenes = scenes(act, None, high);
    let pages = scenes.iter().map(|scene| scene.layout.pages).sum();
    let mut before = 0;
    let mut drawn = Vec::new();
    for (part, scene) in act.with_encore().zip(&scenes) {
        for (page, sheet) in sheets(scene, before, pages).into_iter().enumerate() {
            let top = high * page as f64;
            let document = document(act, &scenes, ("Timing strip", top, high));
            let of = format!("Page {} of {pages} of the timing strip. ", before + page + 1);
            let svg = sheet.into_iter().fold(document, Document::add).to_string();
            drawn.push((svg, of + &description(scene, &part.routine)));
        }
        before += scene.layout.pages;
    }
    drawn
}

/// The act and its encore as they are drawn on sheets so high.
fn scenes(act: &Act, asked_s: Option<f64>, high: Mm) -> Vec<Scene> {
    let lay_out = |matter: &Matter<'_>| Layout::new(matter, high);
    act.with_encore().map(|part| Scene::new(part, act, lay_out, asked_s)).collect()
}

/// The head and the rows of each of a scene's sheets; so many of all `pages` come before them.
fn sheets(scene: &Scene, before: usize, pages: usize) -> Vec<Vec<Group>> {
    let layout = &scene.layout;
    let sheet = |page: usize| {
        let place = format!("page {} of {pages}", before + page + 1);
        let mut drawn = vec![draw::head::draw(&scene.head, page, layout.high, &place)];
        let rows = layout.rows.iter().filter(|row| row.page == page);
        drawn.extend(rows.map(|row| draw_row(scene, row)));
        drawn
    };
    (0..layout.pages).map(sheet).collect()
}

/// The overview of a routine as SVG: all of the act in one row.
#[must_use]
pub fn overview(act: &Act) -> String {
    overview_of(act, None)
}

/// The same with an older act under it, pale, on the same scale of time: where its sections were.
#[must_use]
pub fn overview_over(act: &Act, old: &Act) -> String {
    overview_of(act, Some(old))
}

fn overview_of(act: &Act, old: Option<&Act>) -> String {
    let Act { routine, timeline, .. } = act;
    let spans = old.iter().flat_map(|old| &old.timeline.sections);
    let ends = spans.flat_map(|span| [&span.starts, &span.ends]);
    let also: Vec<f64> = ends.map(|time| time.shortest().to_f64()).collect();
    let lay_out = |matter: &Matter<'_>| Layout::overview(matter, &also);
    let mut scenes = [Scene::new(act, act, lay_out, None)];
    let blocks_end = scenes[0].layout.rows.first().map_or(Mm(0.0), |row| row.bands.bottom);
    if old.is_some() {
        // What comes below the sections makes room.
        let rows = &mut scenes[0].layout.rows;
        rows.iter_mut().for_each(|row| row.bands.bottom += ghost::ROOM);
    }
    let [scene] = &scenes;
    let Some(row) = scene.layout.rows.first() else {
        unreachable!("an overview is laid out in one row")
    };
    let cut = overview::in_full(scene, row);
    let height = overview::height(routine, row, &cut);
    let sheet = Rectangle::new().set("width", PAGE.0).set("height", height).set("class", "sheet");
    let mut document = document(act, &scenes, ("Overview", Mm(0.0), height))
        .add(sheet)
        .add(overview::head(scene, &scene::title(routine), &scene::under_title(routine)))
        .add(ruler::fine_lines(scene, row))
        .add(overview::skyline(scene, row))
        .add(flights::heights(scene, row))
        .add(overview::blocks(scene, row));
    if let Some(old) = old {
        document = document.add(ghost::ghost(scene, row, blocks_end, old, act));
    }
    if let Some(bars) = ruler::bars(scene, row) {
        document = document.add(bars);
    }
    document
        .add(ruler::ruler(scene, row))
        .add(flags::staffs(row))
        .add(flags::flags(scene, row))
        .add(overview::props(scene, row, timeline))
        .add(overview::measures(scene, row, act))
        .add(overview::full_texts(routine, row, &cut))
        .to_string()
}

/// The letter of each of the routine's colours, as the strip writes it on their beads.
#[must_use]
pub fn letters(act: &Act) -> Vec<String> {
    scene::marks(act).into_iter().map(|mark| mark.letter).collect()
}

/// A drawing with nothing on it yet, of an act and, where it has a scene too, of its encore: what it
/// is, where it begins and how high it is.
fn document(act: &Act, scenes: &[Scene], (what, top, height): (&str, Mm, Mm)) -> Document {
    let parts = act.with_encore().zip(scenes);
    let words: Vec<String> = parts.map(|(part, scene)| description(scene, &part.routine)).collect();
    // Where one of them has colours that nobody knows, it has one mark more.
    let marks = scenes.iter().map(|scene| &scene.marks).max_by_key(|marks| marks.len());
    let marks = marks.map_or(&[][..], Vec::as_slice);
    let draft = scenes.iter().find_map(|scene| scene.head.draft.as_ref());
    let is_draft = draft.is_some();
    let draft = draft.map(|mark| format!("{mark}. ")).unwrap_or_default();
    Document::new()
        .set("width", format!("{}mm", PAGE.0))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 {top} {} {height}", PAGE.0))
        .set("role", "graphics-document")
        .add(Title::new(format!("{draft}{what} of {}", scene::title(&act.routine))))
        .add(Description::new().add(svg::node::Text::new(words.join(" The encore: "))))
        .add(style::style(marks, is_draft))
        .add(style::definitions(marks))
}

/// One row, from what lies behind to what lies in front.
fn draw_row(scene: &Scene, row: &Row) -> Group {
    let (from, to) = (ruler::label(row.from), ruler::label(row.to));
    let mut group = draw::titled(format!("Row from {from} to {to}"))
        .add(sections::tints(scene, row))
        .add(ruler::fine_lines(scene, row))
        .add(flights::heights(scene, row))
        .add(flags::staffs(row));
    if let Some(lines) = limits::lines(scene, row) {
        group = group.add(lines);
    }
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
    if let Some(labels) = limits::labels(scene, row) {
        group = group.add(labels);
    }
    if let Some(lane) = arms::lane(scene, row) {
        group = group.add(lane);
    }
    if let Some(folds) = folds::folds(scene, row) {
        group = group.add(folds);
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
