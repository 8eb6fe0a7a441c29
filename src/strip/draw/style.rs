//! The look: type, line widths and greys, and a class for each prop colour.
//!
//! Class names are short, for a drawing has thousands of lines: `s` small text, `b` bold, `q`
//! quiet (grey), `f` a flight, `p`*n* a line in colour *n*, `o`*n* a shape filled with it, `l`*n*
//! the line along such a shape, `e`*n* the edge beneath a light line.

use std::fmt::Write;

use svg::node::element::{Definitions, Group, Path, Pattern, Style, Symbol, Text};

use super::super::millimetres::Mm;
use super::super::prop_mark::{INK, PropMark};
use super::super::text;

/// Grey of secondary text: contrast 7 with white.
const QUIET: &str = "#4f5866";
/// A flight's line.
const FLIGHT: f64 = 0.55;
/// How much wider a line is for each one that flies on top of it.
const STRAND: f64 = 0.95;
/// How far an edge stands out beneath a line.
const EDGE: f64 = 0.35;

/// The style sheet.
pub(in super::super) fn style(marks: &[PropMark], is_draft: bool) -> Style {
    let (small, name, title) = (text::SMALL, text::NAME, text::TITLE);
    let mut css = format!(
        "@page{{size:297mm 210mm;margin:0}}\n\
         text{{font-family:Inter,'Helvetica Neue',Helvetica,Arial,'Liberation Sans',sans-serif;\
         fill:{INK};font-size:{small}px}}\n\
         .b{{font-weight:700}}.q{{fill:{QUIET}}}.n{{font-size:{name}px;font-weight:700}}.N{{font-size:{name}px}}\
         .t{{font-size:{title}px;font-weight:700}}.m{{text-anchor:middle}}.r{{text-anchor:end}}\
         .w{{fill:#fff;font-weight:700}}\n\
         .h{{paint-order:stroke;stroke:#fff;stroke-width:.9;stroke-linejoin:round}}\n\
         .f{{fill:none;stroke-width:{FLIGHT}}}.f:hover{{stroke-width:1.3}}\n\
         .k{{fill:none;stroke:{INK};stroke-width:.25}}.K{{fill:none;stroke:{INK};stroke-width:.9}}\
         .y{{fill:none;stroke:#c3c8cf;stroke-width:.18}}.Y{{fill:none;stroke:#868e9a;stroke-width:.2}}\
         .z{{fill:#eef0f3}}.d{{fill:{INK};fill-opacity:.16}}.x{{fill:url(#throwbook-hatch)}}.Y{{fill:none}}\
         .c{{fill:none;stroke:{INK};stroke-width:.35;stroke-dasharray:3 1.2}}\
         .i{{fill:{INK}}}.v{{fill:#fff;stroke:{INK};stroke-width:.3}}\
         .j{{fill:none;stroke:{INK};stroke-width:.3}}.sheet{{fill:#fff}}\
         .a{{stroke:#868e9a;stroke-width:.2}}.a:not(.z){{fill:#fff}}.l{{fill:#c3c8cf;stroke:#4f5866;stroke-width:.2;stroke-linejoin:round}}\n"
    );
    for (index, mark) in marks.iter().enumerate() {
        let PropMark { fill, edge, dash, line_on_it, .. } = mark;
        let dashes =
            if dash.is_empty() { String::new() } else { format!(";stroke-dasharray:{dash}") };
        let outline = if mark.is_light() { *edge } else { *fill };
        writeln!(
            css,
            ".p{index}{{stroke:{fill}{dashes}}}.g{index}{{fill:none;stroke:{edge};stroke-width:.3}}\
             .o{index}{{fill:{fill};stroke:{outline};stroke-width:.2}}\
             .l{index}{{fill:none;stroke:{line_on_it};stroke-width:.35{dashes}}}\
             .e{index}{{fill:none;stroke:{edge};stroke-width:{}}}",
            Mm(FLIGHT + EDGE)
        )
        .unwrap_or_else(|_| unreachable!("writing to a string never fails"));
    }
    if is_draft {
        write!(
            css,
            ".D{{fill:#fff}}.u{{fill:none;stroke:{INK};stroke-width:.7;stroke-dasharray:2 1.6}}\
             .T{{fill:none;stroke:#fff;stroke-width:2.4}}.X{{fill:none;stroke:{INK};stroke-width:1}}"
        )
        .unwrap_or_else(|_| unreachable!("writing to a string never fails"));
    }
    Style::new(css)
}

/// The width of the line of a flight that has `above` others drawn on top of it; `None` for the
/// ordinary width.
pub(in super::super) fn strand_width(above: u8) -> Option<Mm> {
    (above > 0).then(|| Mm(FLIGHT + STRAND * f64::from(above)))
}

/// As [`strand_width`], for the edge beneath a light line.
pub(in super::super) fn edge_width(above: u8) -> Mm {
    Mm(FLIGHT + EDGE + STRAND * f64::from(above))
}

/// What is drawn once and used often: the hatch of transitions, the beads of the colours.
pub(in super::super) fn definitions(marks: &[PropMark]) -> Definitions {
    let hatch = Pattern::new()
        .set("id", "throwbook-hatch")
        .set("width", 1.6)
        .set("height", 1.6)
        .set("patternUnits", "userSpaceOnUse")
        .set("patternTransform", "rotate(45)")
        .add(Path::new().set("d", "M0 0V1.6").set("stroke", "#aab1bb").set("stroke-width", 0.5));
    let mut definitions = Definitions::new().add(hatch);
    for (index, mark) in marks.iter().enumerate() {
        definitions = definitions.add(
            Symbol::new()
                .set("id", bead_id(index))
                .set("overflow", "visible")
                .add(bead(index, mark)),
        );
    }
    definitions
}

/// The name under which a colour's bead is used.
pub(in super::super) fn bead_id(colour: usize) -> String {
    format!("throwbook-bead-{colour}")
}

/// A colour's bead, its middle at the origin.
fn bead(index: usize, mark: &PropMark) -> Group {
    let radius = super::super::paper::BEAD;
    let circle = svg::node::element::Circle::new()
        .set("r", radius)
        .set("class", format!("o{index}"))
        .set("style", format!("stroke:{INK};stroke-width:.22"));
    // The letter stands on white, so that it reads in every light.
    let middle = svg::node::element::Circle::new().set("r", radius * 0.74).set("class", "w");
    // Two letters stand smaller, or they would run over the bead.
    let size = match mark.letter.chars().count() {
        1 => String::new(),
        count => format!(";font-size:{}px", Mm(4.0 / count as f64)),
    };
    let letter = Text::new(mark.letter.as_str())
        .set("class", "m b")
        .set("y", Mm(1.0))
        .set("style", format!("fill:{INK}{size}"));
    Group::new().add(circle).add(middle).add(letter)
}
