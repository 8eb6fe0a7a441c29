//! Puts one of our own drawings, an SVG, on a PDF page.
//!
//! It knows what our drawings use and no more: paths of straight lines and quadratic curves, boxes,
//! circles, text, groups that are moved, symbols, and a style of one class at a time. What it does not
//! know it leaves out, so a test holds every element and property of the drawings against it.

use std::collections::BTreeMap;

use krilla::geom::{Path, PathBuilder, Rect, Transform};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use roxmltree::Node;

use crate::appearance::Rgb;

use super::pdf::{Setter, fill, ink};

/// What a drawing's elements and properties are called that this knows.
#[cfg(test)]
pub(super) const KNOWN: [&[&str]; 2] = [
    &[
        "svg", "title", "desc", "style", "defs", "pattern", "symbol", "g", "rect", "path", "text",
        "use", "circle",
    ],
    &[
        "fill",
        "fill-opacity",
        "font-family",
        "font-size",
        "font-weight",
        "paint-order",
        "size",
        "stroke",
        "stroke-dasharray",
        "stroke-linejoin",
        "stroke-width",
        "text-anchor",
        "margin",
    ],
];

/// A drawing that is read: its style, and what is used often.
pub(super) struct Drawing<'a, 'input> {
    root: Node<'a, 'input>,
    rules: Vec<Rule<'a>>,
    symbols: BTreeMap<&'a str, Node<'a, 'input>>,
}

/// A rule of the style: for elements of a class that are not of another, or for all texts.
struct Rule<'a> {
    class: Option<&'a str>,
    but_not: Option<&'a str>,
    properties: Vec<(&'a str, &'a str)>,
}

/// How an element is drawn.
#[derive(Clone)]
struct Look<'a> {
    properties: BTreeMap<&'a str, &'a str>,
}

impl<'a, 'input> Drawing<'a, 'input> {
    /// A drawing whose root this is.
    pub(super) fn of(root: Node<'a, 'input>) -> Drawing<'a, 'input> {
        let style = root.children().find(|node| node.tag_name().name() == "style");
        let symbols = root.descendants().filter(|node| node.tag_name().name() == "symbol");
        Drawing {
            root,
            rules: rules(style.and_then(|node| node.text()).unwrap_or_default()),
            symbols: symbols.filter_map(|node| Some((node.attribute("id")?, node))).collect(),
        }
    }

    /// Where its own upper left corner lies and how wide it is.
    pub(super) fn view(&self) -> Option<[f32; 3]> {
        let numbers: Vec<f32> = self
            .root
            .attribute("viewBox")?
            .split_whitespace()
            .filter_map(|one| one.parse().ok())
            .collect();
        let [left, top, wide, _] = numbers[..] else { return None };
        Some([left, top, wide])
    }

    /// Draws it, one unit a point.
    pub(super) fn draw(&self, surface: &mut Surface<'_>, setter: &Setter<'_>) {
        self.children(self.root, surface, setter);
    }

    fn children(&self, of: Node<'a, 'input>, surface: &mut Surface<'_>, setter: &Setter<'_>) {
        for node in of.children().filter(Node::is_element) {
            self.element(node, surface, setter);
        }
    }

    fn element(&self, node: Node<'a, 'input>, surface: &mut Surface<'_>, setter: &Setter<'_>) {
        let number = |name: &str| node.attribute(name).and_then(|one| one.parse::<f32>().ok());
        let at = |name: &str| number(name).unwrap_or(0.0);
        match node.tag_name().name() {
            "g" => {
                let (x, y) = node.attribute("transform").map_or((0.0, 0.0), moved);
                surface.push_transform(&Transform::from_translate(x, y));
                self.children(node, surface, setter);
                surface.pop();
            }
            "use" => {
                let name = node.attribute("href").unwrap_or_default().trim_start_matches('#');
                if let Some(symbol) = self.symbols.get(name) {
                    surface.push_transform(&Transform::from_translate(at("x"), at("y")));
                    self.children(*symbol, surface, setter);
                    surface.pop();
                }
            }
            "path" => self.shape(node, path(node.attribute("d").unwrap_or_default()), surface),
            "rect" => {
                let (x, y) = (at("x"), at("y"));
                let shape = Rect::from_xywh(x, y, at("width"), at("height")).and_then(|rect| {
                    let mut path = PathBuilder::new();
                    path.push_rect(rect);
                    path.finish()
                });
                self.shape(node, shape, surface);
            }
            "circle" => self.shape(node, circle(at("r")), surface),
            "text" => self.text(node, (at("x"), at("y")), surface, setter),
            _ => {}
        }
    }

    fn look(&self, node: Node<'a, 'input>) -> Look<'a> {
        let classes: Vec<&str> =
            node.attribute("class").unwrap_or_default().split_whitespace().collect();
        let is_text = node.tag_name().name() == "text";
        let mut properties = BTreeMap::new();
        for rule in &self.rules {
            let applies = match rule.class {
                Some(class) => classes.contains(&class),
                None => is_text,
            };
            if applies && rule.but_not.is_none_or(|but| !classes.contains(&but)) {
                properties.extend(rule.properties.iter().copied());
            }
        }
        properties.extend(declarations(node.attribute("style").unwrap_or_default()));
        Look { properties }
    }

    fn shape(&self, node: Node<'a, 'input>, shape: Option<Path>, surface: &mut Surface<'_>) {
        let Some(shape) = shape else { return };
        let look = self.look(node);
        if look.is("fill", "url(#throwbook-hatch)") {
            hatch(&shape, path_bounds(node.attribute("d").unwrap_or_default()), surface);
        } else if let Some(fill) = look.fill() {
            surface.set_stroke(None);
            surface.set_fill(Some(fill));
            surface.draw_path(&shape);
        }
        if let Some(stroke) = look.stroke() {
            surface.set_fill(None);
            surface.set_stroke(Some(stroke));
            surface.draw_path(&shape);
        }
    }

    fn text(
        &self,
        node: Node<'a, 'input>,
        (x, y): (f32, f32),
        surface: &mut Surface<'_>,
        setter: &Setter<'_>,
    ) {
        let look = self.look(node);
        let text = node.text().unwrap_or_default().trim();
        let size = look.number("font-size").unwrap_or(3.0);
        let bold = look.is("font-weight", "700");
        let line = setter.shape(text, bold);
        let wide = size * line.iter().map(|run| run.ems as f32).sum::<f32>();
        let x = match look.get("text-anchor") {
            Some("middle") => x - wide / 2.0,
            Some("end") => x - wide,
            _ => x,
        };
        // White around the letters keeps them clear of what lies behind.
        if let Some(stroke) = look.stroke() {
            surface.set_fill(None);
            surface.set_stroke(Some(stroke));
            setter.line(surface, (x, y), size, &line);
        }
        surface.set_stroke(None);
        surface.set_fill(look.fill());
        setter.line(surface, (x, y), size, &line);
    }
}

impl<'a> Look<'a> {
    fn get(&self, name: &str) -> Option<&'a str> {
        self.properties.get(name).copied()
    }

    fn is(&self, name: &str, value: &str) -> bool {
        self.get(name) == Some(value)
    }

    fn number(&self, name: &str) -> Option<f32> {
        self.get(name)?.trim_end_matches("px").parse().ok()
    }

    /// Black unless something else is said.
    fn fill(&self) -> Option<Fill> {
        let rgb = colour(self.get("fill").unwrap_or("#000"))?;
        let opacity = self.number("fill-opacity").and_then(NormalizedF32::new);
        Some(Fill { opacity: opacity.unwrap_or(NormalizedF32::ONE), ..fill(rgb) })
    }

    fn stroke(&self) -> Option<Stroke> {
        let paint = ink(colour(self.get("stroke")?)?);
        let dashes = self.get("stroke-dasharray").map(|dashes| StrokeDash {
            array: dashes.split_whitespace().filter_map(|one| one.parse().ok()).collect(),
            offset: 0.0,
        });
        let line_join =
            if self.is("stroke-linejoin", "round") { LineJoin::Round } else { LineJoin::Miter };
        let width = self.number("stroke-width").unwrap_or(1.0);
        Some(Stroke { paint, width, line_join, dash: dashes, ..Stroke::default() })
    }
}

/// `#rgb` or `#rrggbb`; `None` for none.
fn colour(written: &str) -> Option<Rgb> {
    let digits = written.strip_prefix('#')?;
    let part = |at: usize| match digits.len() {
        3 => u8::from_str_radix(digits.get(at..=at)?, 16).ok().map(|one| one * 17),
        _ => u8::from_str_radix(digits.get(at * 2..at * 2 + 2)?, 16).ok(),
    };
    Some(Rgb { red: part(0)?, green: part(1)?, blue: part(2)? })
}

/// How far `translate(x y)` moves.
fn moved(transform: &str) -> (f32, f32) {
    let inside = transform.trim_start_matches("translate(").trim_end_matches(')');
    let mut numbers = inside.split_whitespace().filter_map(|one| one.parse().ok());
    (numbers.next().unwrap_or(0.0), numbers.next().unwrap_or(0.0))
}

fn declarations(of: &str) -> impl Iterator<Item = (&str, &str)> {
    of.split(';').filter_map(|one| one.split_once(':')).map(|(name, value)| (name.trim(), value))
}

/// The rules of a style sheet that say how something looks on paper.
fn rules(style: &str) -> Vec<Rule<'_>> {
    let all = style.split('}').filter_map(|one| one.trim().split_once('{'));
    all.filter_map(|(selector, body)| {
        let (selector, but_not) = match selector.split_once(":not(.") {
            Some((selector, but)) => (selector, Some(but.trim_end_matches(')'))),
            None => (selector, None),
        };
        let class = selector.strip_prefix('.');
        let is_plain = class.map_or(selector == "text", |class| !class.contains(':'));
        is_plain.then(|| Rule { class, but_not, properties: declarations(body).collect() })
    })
    .collect()
}

/// A step of a path: its letter and its numbers.
type Step = (char, Vec<f32>);

/// The steps of a path.
fn steps(data: &str) -> impl Iterator<Item = Step> {
    let mut rest = data;
    std::iter::from_fn(move || {
        let command = rest.chars().next()?;
        let after = rest.get(command.len_utf8()..).unwrap_or_default();
        let end = after.find(|one: char| one.is_ascii_alphabetic()).unwrap_or(after.len());
        let (inside, next) = after.split_at(end);
        rest = next;
        let numbers = inside.split([' ', ',']).filter(|one| !one.is_empty());
        Some((command, numbers.filter_map(|one| one.parse().ok()).collect()))
    })
}

/// A path of M, L, H, V, Q and Z, all in places and none in steps from the last.
fn path(data: &str) -> Option<Path> {
    let mut path = PathBuilder::new();
    let (mut x, mut y) = (0.0_f32, 0.0_f32);
    for (command, numbers) in steps(data) {
        match (command, &numbers[..]) {
            ('M', &[to_x, to_y]) => {
                (x, y) = (to_x, to_y);
                path.move_to(x, y);
            }
            ('L', &[to_x, to_y]) => {
                (x, y) = (to_x, to_y);
                path.line_to(x, y);
            }
            ('H', &[to_x]) => {
                x = to_x;
                path.line_to(x, y);
            }
            ('V', &[to_y]) => {
                y = to_y;
                path.line_to(x, y);
            }
            ('Q', &[by_x, by_y, to_x, to_y]) => {
                (x, y) = (to_x, to_y);
                path.quad_to(by_x, by_y, x, y);
            }
            ('Z', []) => path.close(),
            _ => return None,
        }
    }
    path.finish()
}

/// The left, upper, right and lower edge of a path of straight lines.
fn path_bounds(data: &str) -> [f32; 4] {
    let mut bounds = [f32::INFINITY, f32::INFINITY, f32::NEG_INFINITY, f32::NEG_INFINITY];
    let mut widen = |axis: usize, at: f32| {
        bounds[axis] = bounds[axis].min(at);
        bounds[axis + 2] = bounds[axis + 2].max(at);
    };
    for (command, numbers) in steps(data) {
        match (command, &numbers[..]) {
            ('H', &[x]) => widen(0, x),
            ('V', &[y]) => widen(1, y),
            (_, &[.., x, y]) => {
                widen(0, x);
                widen(1, y);
            }
            _ => {}
        }
    }
    bounds
}

/// A circle around the origin.
fn circle(radius: f32) -> Option<Path> {
    // Four cubic curves; the usual distance of their handles.
    let handle = radius * 0.552_284_8;
    let mut path = PathBuilder::new();
    path.move_to(radius, 0.0);
    path.cubic_to(radius, handle, handle, radius, 0.0, radius);
    path.cubic_to(-handle, radius, -radius, handle, -radius, 0.0);
    path.cubic_to(-radius, -handle, -handle, -radius, 0.0, -radius);
    path.cubic_to(handle, -radius, radius, -handle, radius, 0.0);
    path.close();
    path.finish()
}

/// The hatch of transitions: thin lines aslant, 1.6 apart.
fn hatch(shape: &Path, [left, top, right, bottom]: [f32; 4], surface: &mut Surface<'_>) {
    surface.push_clip_path(shape, &FillRule::NonZero);
    let grey = Rgb { red: 0xaa, green: 0xb1, blue: 0xbb };
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke { paint: ink(grey), width: 0.5, ..Stroke::default() }));
    let (high, step) = (bottom - top, 1.6 * std::f32::consts::SQRT_2);
    let mut x = ((left - high) / step).floor() * step;
    while x < right {
        let mut line = PathBuilder::new();
        line.move_to(x, bottom);
        line.line_to(x + high, top);
        if let Some(line) = line.finish() {
            surface.draw_path(&line);
        }
        x += step;
    }
    surface.pop();
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::fs;

    use super::*;

    #[test]
    fn everything_that_our_drawings_use_is_known() {
        let [elements, properties] = KNOWN.map(|all| all.iter().copied().collect::<BTreeSet<_>>());
        for name in ["night-ferry", "kiln-yard", "signal-box", "paper-boats"] {
            let text = fs::read_to_string(format!("routines/{name}.ron")).unwrap();
            let svg = crate::strip::strip(crate::open(&text).act.as_ref().unwrap());
            let document = roxmltree::Document::parse(&svg).unwrap();
            for node in document.descendants().filter(Node::is_element) {
                assert!(elements.contains(node.tag_name().name()), "{node:?}");
                for (name, _) in declarations(node.attribute("style").unwrap_or_default()) {
                    assert!(properties.contains(name), "{name}");
                }
                if let Some(data) = node.attribute("d").filter(|data| !data.is_empty()) {
                    let is_point = data.len() < 12;
                    assert!(path(data).is_some() || is_point, "{data}");
                }
            }
            let drawing = Drawing::of(document.root_element());
            for rule in &drawing.rules {
                for (name, _) in &rule.properties {
                    assert!(properties.contains(name), "{name}");
                }
            }
            let style = document.descendants().find(|node| node.has_tag_name("style"));
            assert!(style.is_none() || !drawing.rules.is_empty());
        }
    }

    #[test]
    fn colours_and_paths_are_read_as_they_are_written() {
        assert_eq!(colour("#fff"), Some(Rgb { red: 255, green: 255, blue: 255 }));
        assert_eq!(colour("#1b212c"), Some(Rgb { red: 0x1b, green: 0x21, blue: 0x2c }));
        assert_eq!(colour("none"), None);
        assert!(path("M1 2H5V7Q3 9 1 2Z").is_some());
        assert_eq!(path_bounds("M1 2H5V7Z"), [1.0, 2.0, 5.0, 7.0]);
        assert!(path("m1 2h5").is_none(), "steps are not known");
        assert_eq!(moved("translate(0 210)"), (0.0, 210.0));
    }
}
