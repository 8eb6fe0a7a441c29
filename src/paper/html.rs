//! A document as one HTML file that needs nothing else and prints to its pages.

use std::fmt::Write;

use svg::Document as Svg;
use svg::node::element::{Style, Title};

use crate::strip::millimetres::Mm;
use crate::strip::text::clean;

use super::document::{Document, Page};

/// The typeface, and that nothing is stretched over an edge.
const STYLE: &str = "text{font-family:Inter,'Helvetica Neue',Helvetica,Arial,'Liberation Sans',\
                     sans-serif;white-space:pre}";

/// The pages, each a drawing as large as its paper.
#[must_use]
pub fn html(document: &Document) -> String {
    let mut sizes: Vec<(Mm, Mm)> = Vec::new();
    for page in document.pages() {
        if !sizes.contains(&page.size) {
            sizes.push(page.size);
        }
    }
    let mut css = String::from(
        "body{margin:0}svg.page{display:block;break-after:page;break-inside:avoid}\
         svg.page:last-of-type{break-after:auto}",
    );
    for (index, (wide, high)) in sizes.iter().enumerate() {
        write!(
            css,
            "@page size{index}{{size:{wide}mm {high}mm;margin:0}}.size{index}{{page:size{index}}}"
        )
        .unwrap_or_else(|_| unreachable!("writing to a string never fails"));
    }
    let mut text = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <title>{}</title>\n<style>{css}</style>\n</head>\n<body>\n",
        svg::node::Text::new(clean(&document.title))
    );
    for page in document.pages() {
        let size = sizes.iter().position(|one| *one == page.size).unwrap_or(0);
        text += &format!("{}\n", drawing(page, size));
    }
    text + "</body>\n</html>\n"
}

fn drawing(page: &Page, size: usize) -> Svg {
    let (wide, high) = page.size;
    let drawing = Svg::new()
        .set("class", format!("page size{size}"))
        .set("width", format!("{wide}mm"))
        .set("height", format!("{high}mm"))
        .set("viewBox", format!("0 0 {wide} {high}"))
        .add(Title::new(clean(&page.name)))
        .add(Style::new(STYLE));
    page.blocks.iter().fold(drawing, |drawing, (y, block)| drawing.add(block.draw(*y)))
}
