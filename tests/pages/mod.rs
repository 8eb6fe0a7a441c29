//! Reads the pages of an HTML document back: its lines of text, its filled boxes, its sizes.
#![allow(dead_code)]

use std::fs;
use std::path::PathBuf;

use roxmltree::{Document, Node};

/// The routines that ship: the path and the text of each.
pub(crate) fn shipped() -> Vec<(PathBuf, String)> {
    let paths = fs::read_dir("routines").unwrap().map(|entry| entry.unwrap().path());
    let routines = paths.filter(|path| path.extension().is_some_and(|ending| ending == "ron"));
    let shipped: Vec<(PathBuf, String)> =
        routines.map(|path| (path.clone(), fs::read_to_string(path).unwrap())).collect();
    assert!(shipped.len() >= 7, "{shipped:?}");
    shipped
}

/// A line of text on a page, in millimetres.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// Its left end and its base line.
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) size: f64,
    /// How wide it was measured.
    pub(crate) wide: f64,
    pub(crate) bold: bool,
    /// Its colour, red, green and blue.
    pub(crate) ink: [u8; 3],
    pub(crate) words: String,
}

/// A filled box on a page, in millimetres.
#[derive(Clone, Debug)]
pub(crate) struct Filled {
    pub(crate) from: (f64, f64),
    pub(crate) to: (f64, f64),
    pub(crate) ink: [u8; 3],
}

/// A page.
#[derive(Clone, Debug)]
pub(crate) struct Page {
    pub(crate) wide: f64,
    pub(crate) high: f64,
    pub(crate) name: String,
    pub(crate) lines: Vec<Line>,
    pub(crate) boxes: Vec<Filled>,
}

impl Line {
    fn top(&self) -> f64 {
        self.y - self.size * 0.73
    }

    fn bottom(&self) -> f64 {
        self.y + self.size * 0.22
    }

    fn right(&self) -> f64 {
        self.x + self.wide
    }
}

fn style<'a>(node: Node<'a, '_>, name: &str) -> Option<&'a str> {
    let all = node.attribute("style")?;
    all.split(';').find_map(|one| one.strip_prefix(name)?.strip_prefix(':'))
}

fn colour(text: &str) -> [u8; 3] {
    let digits = text.trim_start_matches('#');
    [0, 2, 4].map(|at| u8::from_str_radix(&digits[at..at + 2], 16).unwrap())
}

/// How far down the block lies that a mark stands in.
fn shift(node: Node<'_, '_>) -> f64 {
    let shift = node.parent().unwrap().attribute("transform").unwrap_or("translate(0 0)");
    shift.trim_start_matches("translate(0 ").trim_end_matches(')').parse().unwrap()
}

/// The pages; marks of drawings that stand on them by themselves are left out.
pub(crate) fn read(html: &str) -> Vec<Page> {
    let xml = html.strip_prefix("<!DOCTYPE html>\n").expect("the kind of document");
    let document = Document::parse(xml).unwrap_or_else(|error| panic!("{error}: {html}"));
    let pages = document.descendants().filter(|node| {
        node.tag_name().name() == "svg"
            && node.attribute("class").is_some_and(|class| class.starts_with("page "))
    });
    pages.map(page).collect()
}

fn page(page: Node<'_, '_>) -> Page {
    let number = |node: Node<'_, '_>, name: &str| {
        node.attribute(name).unwrap().trim_end_matches("mm").parse::<f64>().unwrap()
    };
    let marks = page.children().filter(|node| node.tag_name().name() == "g");
    let marks: Vec<Node<'_, '_>> = marks.flat_map(|group| group.children()).collect();
    let line = |node: &Node<'_, '_>| Line {
        x: number(*node, "x"),
        y: number(*node, "y") + shift(*node),
        size: style(*node, "font-size").unwrap().trim_end_matches("px").parse().unwrap(),
        wide: number(*node, "textLength"),
        bold: style(*node, "font-weight").is_some(),
        ink: colour(style(*node, "fill").unwrap()),
        words: node.text().unwrap_or_default().trim().to_owned(),
    };
    let filled = |node: &Node<'_, '_>| {
        let ink = colour(style(*node, "fill")?);
        // M left top H right V bottom H left Z, as the drawings write a box.
        let data = node.attribute("d")?;
        let numbers: Vec<f64> = data
            .split(|one: char| !(one.is_ascii_digit() || one == '.' || one == '-'))
            .filter(|one| !one.is_empty())
            .map(|one| one.parse().unwrap())
            .collect();
        let [left, top, right, bottom, ..] = numbers[..] else { panic!("{data}") };
        let down = shift(*node);
        Some(Filled { from: (left, top + down), to: (right, bottom + down), ink })
    };
    Page {
        wide: number(page, "width"),
        high: number(page, "height"),
        name: page
            .children()
            .find(|node| node.tag_name().name() == "title")
            .and_then(|title| title.text())
            .unwrap_or_default()
            .trim()
            .to_owned(),
        lines: marks.iter().filter(|node| node.tag_name().name() == "text").map(line).collect(),
        boxes: marks
            .iter()
            .filter(|node| node.tag_name().name() == "path")
            .filter_map(filled)
            .collect(),
    }
}

/// The relative luminance of a colour [published: WCAG 2.2, relative luminance].
fn luminance(ink: [f64; 3]) -> f64 {
    let linear = |part: f64| {
        if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    };
    let [red, green, blue] = ink.map(linear);
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// The contrast of two colours [published: WCAG 2.2, contrast ratio].
pub(crate) fn contrast(one: [u8; 3], other: [u8; 3]) -> f64 {
    let of = |ink: [u8; 3]| luminance(ink.map(|part| f64::from(part) / 255.0)) + 0.05;
    of(one).max(of(other)) / of(one).min(of(other))
}

/// The same where the light has only one colour, as from a lamp in a booth: its channel counts alone.
fn contrast_in(channel: usize, one: [u8; 3], other: [u8; 3]) -> f64 {
    let of = |ink: [u8; 3]| [ink[channel]; 3];
    contrast(of(one), of(other))
}

/// What is wrong on a page: a line off it, below the least size, over another, or too faint on what
/// lies behind it.
pub(crate) fn faults(page: &Page) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, line) in page.lines.iter().enumerate() {
        if line.words.is_empty() {
            continue;
        }
        if line.size < 3.87 {
            faults.push(format!("smaller than 11 pt: {line:?}"));
        }
        let inside = line.x >= 5.0
            && line.right() <= page.wide - 4.9
            && line.top() >= 5.0
            && line.bottom() <= page.high - 4.9;
        if !inside {
            faults.push(format!("off the page of {} by {}: {line:?}", page.wide, page.high));
        }
        for other in &page.lines[..index] {
            let apart = other.words.is_empty()
                || other.right() <= line.x + 0.2
                || line.right() <= other.x + 0.2
                || other.bottom() <= line.top() + 0.2
                || line.bottom() <= other.top() + 0.2;
            if !apart {
                faults.push(format!("{line:?} over {other:?}"));
            }
        }
        // What lies behind it: the last box that holds its middle; else the paper.
        let middle = (line.x + line.wide / 2.0, line.y - line.size * 0.3);
        let holds = |one: &&Filled| {
            (one.from.0..=one.to.0).contains(&middle.0)
                && (one.from.1..=one.to.1).contains(&middle.1)
        };
        let behind = page.boxes.iter().rev().find(holds);
        let ground = behind.map_or([255; 3], |one| one.ink);
        let least = [0, 2]
            .map(|channel| contrast_in(channel, line.ink, ground))
            .into_iter()
            .fold(contrast(line.ink, ground), f64::min);
        // At least 4.5 [published: WCAG 2.2 SC 1.4.3].
        if least < 4.5 {
            faults.push(format!("contrast {least:.1}: {line:?} on {ground:?}"));
        }
        if let Some(ground) = behind
            && (line.x < ground.from.0 - 0.1 || line.right() > ground.to.0 + 0.1)
        {
            faults.push(format!("out of its box: {line:?} {ground:?}"));
        }
    }
    faults
}
