//! A document as PDF: its text as text, in the typefaces that it was measured in, with the structure
//! that a screen reader follows.
//!
//! Held against PDF/UA-1 (ISO 14289-1) by the crate that writes it. Rules, grounds and what stands on
//! every page are marked as no content; rows become one table even where they run over pages.

use std::num::NonZeroU16;

use krilla::color::rgb;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Paint, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, Node, SpanTag, TableHeaderScope, Tag, TagGroup,
    TagTree,
};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document as Pdf, SerializeSettings};

use crate::appearance::Rgb;
use crate::strip::millimetres::Mm;

use super::block::{Block, Ink, Mark, Role, Words};
use super::document::Document;
use super::drawing::Drawing;
use super::font::{Fonts, Run};

/// Why a document is not written.
const REFUSED: &str = "the PDF cannot be written: a text has a character that no PDF may hold, or a \
                       typeface of --font may not be embedded; print to a file that ends in .html";

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// The document, or a sentence that says why it cannot be written.
///
/// # Errors
///
/// Where the crate that writes PDF refuses the document.
pub fn pdf(document: &Document, fonts: &Fonts) -> Result<Vec<u8>, String> {
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|_| "PDF/UA-1 is not known")?;
    let settings = SerializeSettings { configuration, ..SerializeSettings::default() };
    let mut pdf = Pdf::new_with(settings);
    let loaded = fonts.faces().iter().map(|face| Font::new(face.data.into(), 0)).collect();
    let mut writer = Writer { setter: Setter { fonts, loaded }, tree: Vec::new() };
    let mut outline = Outline::new();
    let mut first_page = 0;
    for part in &document.parts {
        let top = XyzDestination::new(first_page, Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(part.name.clone(), top));
        first_page += part.pages.len();
        for (index, page) in part.pages.iter().enumerate() {
            let (wide, high) = page.size;
            let size = PageSettings::from_wh(points(wide), points(high));
            let mut on = pdf.start_page_with(size.ok_or("a page has no size")?);
            let mut surface = on.surface();
            for (y, block) in &page.blocks {
                writer.block(&mut surface, *y, block, index > 0);
            }
            surface.finish();
            on.finish();
        }
        writer.table_ends();
    }
    pdf.set_outline(outline);
    let metadata = Metadata::new().title(document.title.clone()).language("en".to_owned());
    pdf.set_metadata(metadata);
    let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
    for group in writer.tree {
        tree.push(group);
    }
    pdf.set_tag_tree(tree);
    pdf.finish().map_err(|_| REFUSED.to_owned())
}

fn points(length: Mm) -> f32 {
    (length.0 * POINTS) as f32
}

/// Sets lines of text.
pub(super) struct Setter<'a> {
    fonts: &'a Fonts,
    loaded: Vec<Option<Font>>,
}

/// Writes pages, and keeps the structure of what it wrote.
struct Writer<'a> {
    setter: Setter<'a>,
    tree: Vec<Node>,
}

/// The rows of a table that is still being written: the last of the tree.
fn open_table(tree: &mut [Node]) -> Option<&mut TagGroup> {
    match tree.last_mut() {
        Some(Node::Group(group)) if matches!(group.tag, krilla::tagging::TagKind::Table(_)) => {
            Some(group)
        }
        _ => None,
    }
}

impl Writer<'_> {
    /// A table does not go on in the next sheet.
    fn table_ends(&mut self) {
        if open_table(&mut self.tree).is_some() {
            // An empty group is not written.
            self.tree.push(Node::Group(TagGroup::new(Tag::P)));
        }
    }

    fn block(&mut self, surface: &mut Surface<'_>, top: Mm, block: &Block, is_later_page: bool) {
        // The head of a page and the headings of a table are read once.
        let is_again = is_later_page
            && matches!(block.role, Role::Heading(1) | Role::Headings)
            && (block.role != Role::Headings || open_table(&mut self.tree).is_some());
        let is_hidden = is_again || block.role == Role::Hidden;
        let mut cells: Vec<(usize, Vec<Identifier>)> = Vec::new();
        let mut figure = None;
        let is_picture = matches!(block.role, Role::Picture(_)) && !is_hidden;
        if is_picture {
            figure = Some(surface.start_tagged(ContentTag::Other));
        }
        for mark in block.marks() {
            let is_said = |words: &Words| words.spoken.as_deref() != Some("");
            let is_content = matches!(mark, Mark::Words(words) if !words.text.is_empty() && is_said(words))
                || matches!(mark, Mark::Drawing { .. });
            let tag = match mark {
                Mark::Words(words) if is_content && !is_hidden => {
                    ContentTag::Span(SpanTag::empty().with_alt_text(words.spoken.as_deref()))
                }
                _ if is_content && !is_hidden => ContentTag::Other,
                _ if is_hidden => {
                    ContentTag::Artifact(Artifact::with_kind(ArtifactType::PaginationOther))
                }
                _ => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            };
            if is_picture {
                self.mark(surface, top, mark);
                continue;
            }
            let identifier = surface.start_tagged(tag);
            self.mark(surface, top, mark);
            surface.end_tagged();
            if is_content && !is_hidden {
                let cell = if let Mark::Words(words) = mark { words.cell } else { 0 };
                match cells.iter_mut().find(|(of, _)| *of == cell) {
                    Some((_, identifiers)) => identifiers.push(identifier),
                    None => cells.push((cell, vec![identifier])),
                }
            }
        }
        if let Some(identifier) = figure {
            surface.end_tagged();
            let Role::Picture(says) = &block.role else { return };
            let mut group = TagGroup::new(Tag::Figure(Some(says.clone())));
            group.push(identifier);
            self.tree.push(Node::Group(group));
            return;
        }
        cells.sort_by_key(|(cell, _)| *cell);
        if !cells.is_empty() {
            let title = block.texts().collect::<Vec<_>>().join(" ");
            self.structure(&block.role, title, cells);
        }
    }

    fn structure(&mut self, role: &Role, title: String, cells: Vec<(usize, Vec<Identifier>)>) {
        let words = |tag: krilla::tagging::TagKind, identifiers: Vec<Identifier>| {
            let mut group = TagGroup::new(tag);
            identifiers.into_iter().for_each(|one| group.push(one));
            group
        };
        match role {
            Role::Words | Role::Hidden | Role::Picture(_) => {
                for (_, identifiers) in cells {
                    self.tree.push(Node::Group(words(Tag::P.into(), identifiers)));
                }
            }
            Role::Heading(level) => {
                let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
                let identifiers = cells.into_iter().flat_map(|(_, all)| all).collect();
                self.tree.push(Node::Group(words(Tag::Hn(level, Some(title)).into(), identifiers)));
            }
            Role::Headings | Role::Row => {
                let mut row = TagGroup::new(Tag::TR);
                for (_, identifiers) in cells {
                    let mut cell = match role {
                        Role::Headings => TagGroup::new(Tag::TH(TableHeaderScope::Column)),
                        _ => TagGroup::new(Tag::TD),
                    };
                    cell.push(words(Tag::P.into(), identifiers));
                    row.push(cell);
                }
                if open_table(&mut self.tree).is_none() {
                    self.tree.push(Node::Group(TagGroup::new(Tag::Table)));
                }
                if let Some(table) = open_table(&mut self.tree) {
                    table.push(row);
                }
            }
        }
    }

    fn mark(&mut self, surface: &mut Surface<'_>, top: Mm, mark: &Mark) {
        match mark {
            Mark::Words(words) => self.words(surface, top, words),
            Mark::Stroke { from, to, wide } => {
                surface.set_fill(None);
                surface.set_stroke(Some(stroke_of(*wide)));
                if let Some(path) = line((from.0, from.1 + top), (to.0, to.1 + top)) {
                    surface.draw_path(&path);
                }
            }
            Mark::Filled { from, to, ink } => {
                surface.set_stroke(None);
                surface.set_fill(Some(fill(ink.rgb())));
                if let Some(path) = rectangle((from.0, from.1 + top), (to.0, to.1 + top)) {
                    surface.draw_path(&path);
                }
            }
            Mark::Drawing { from, to, svg } => {
                let Ok(document) = roxmltree::Document::parse(svg) else { return };
                let drawing = Drawing::of(document.root_element());
                let Some([left, above, wide]) = drawing.view() else { return };
                let scale = points(to.0 - from.0) / wide;
                let (x, y) = (points(from.0), points(from.1 + top));
                let at = Transform::from_row(
                    scale,
                    0.0,
                    0.0,
                    scale,
                    x - left * scale,
                    y - above * scale,
                );
                surface.push_transform(&at);
                drawing.draw(surface, &self.setter);
                surface.pop();
            }
        }
    }

    fn words(&self, surface: &mut Surface<'_>, top: Mm, words: &Words) {
        // A sentence that goes on in the next line has its space at the end of this one.
        let text = match words.goes_on {
            true => format!("{} ", words.text),
            false => words.text.clone(),
        };
        surface.set_stroke(None);
        surface.set_fill(Some(fill(words.ink.rgb())));
        let at = (points(words.x), points(words.y + top));
        let line = self.setter.shape(&text, words.of.bold);
        self.setter.line(surface, at, points(words.of.size), &line);
    }
}

impl Setter<'_> {
    /// A line of text, shaped.
    pub(super) fn shape(&self, text: &str, bold: bool) -> Vec<Run> {
        self.fonts.shape(text, bold)
    }

    /// Sets a shaped line from its left end on, in the surface's fill and stroke.
    pub(super) fn line(
        &self,
        surface: &mut Surface<'_>,
        (mut x, y): (f32, f32),
        size: f32,
        line: &[Run],
    ) {
        for run in line {
            let (pad, scale) = run.set();
            self.run(surface, (x + size * pad as f32, y), size * scale as f32, run);
            let wide = size * run.ems as f32;
            if run.is_code {
                let top = y - size * 0.73;
                boxed(surface, [x, top, x + wide, y], size * 0.05);
            }
            x += wide;
        }
    }

    fn run(&self, surface: &mut Surface<'_>, (x, y): (f32, f32), size: f32, run: &Run) {
        let Some(Some(font)) = self.loaded.get(run.face) else { return };
        let glyphs: Vec<KrillaGlyph> = run
            .glyphs
            .iter()
            .map(|glyph| {
                let id = GlyphId::new(u32::from(glyph.id));
                let [advance, right, up] =
                    [glyph.advance, glyph.right, glyph.up].map(|ems| ems as f32);
                KrillaGlyph::new(id, advance, right, up, 0.0, glyph.of.clone(), None)
            })
            .collect();
        let at = Point::from_xy(x, y);
        surface.draw_glyphs(at, &glyphs, font.clone(), &run.text, size, false);
    }
}

/// A thin black box with these left, upper, right and lower edges; the surface's fill and stroke stay.
fn boxed(surface: &mut Surface<'_>, [left, top, right, bottom]: [f32; 4], wide: f32) {
    let Some(rect) = Rect::from_ltrb(left, top, right, bottom) else { return };
    let (filled, stroked) = (surface.get_fill().cloned(), surface.get_stroke().cloned());
    let mut path = PathBuilder::new();
    path.push_rect(rect);
    surface.set_fill(None);
    let paint = ink(Ink::Black.rgb());
    surface.set_stroke(Some(Stroke { paint, width: wide, ..Stroke::default() }));
    if let Some(path) = path.finish() {
        surface.draw_path(&path);
    }
    surface.set_fill(filled);
    surface.set_stroke(stroked);
}

/// A colour to paint with.
pub(super) fn ink(rgb: Rgb) -> Paint {
    rgb::Color::new(rgb.red, rgb.green, rgb.blue).into()
}

/// A colour to fill with.
pub(super) fn fill(rgb: Rgb) -> Fill {
    Fill { paint: ink(rgb), opacity: NormalizedF32::ONE, rule: Default::default() }
}

fn stroke_of(wide: Mm) -> Stroke {
    Stroke { paint: ink(Ink::Black.rgb()), width: points(wide), ..Stroke::default() }
}

fn line(from: (Mm, Mm), to: (Mm, Mm)) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.move_to(points(from.0), points(from.1));
    path.line_to(points(to.0), points(to.1));
    path.finish()
}

fn rectangle(from: (Mm, Mm), to: (Mm, Mm)) -> Option<Path> {
    let mut path = PathBuilder::new();
    let [left, top, right, bottom] = [from.0, from.1, to.0, to.1].map(points);
    path.push_rect(Rect::from_ltrb(left, top, right, bottom)?);
    path.finish()
}
