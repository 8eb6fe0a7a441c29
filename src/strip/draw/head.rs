//! Draws the head of each sheet: title, issue, clock, page; on the first one the legend as well.

use svg::node::element::{Group, Rectangle};

use super::super::arm;
use super::super::head::{BESIDE, Head, LEGEND, LINE, Sign};
use super::super::millimetres::{Mm, PathData};
use super::super::paper::{BAR, EDGE, MARGIN, PAGE};
use super::super::stretch::StretchOf;
use super::super::text::{self, NAME, SMALL, TITLE};
use super::{arms, flights, path, ruler, sections, titled, words};

/// The sheet itself, white and so high, and its head.
pub(in super::super) fn draw(on: &Head, page: usize, high: Mm, place: &str) -> Group {
    let top = high * page as f64;
    let sheet = Rectangle::new()
        .set("x", Mm(0.0))
        .set("y", top)
        .set("width", PAGE.0)
        .set("height", high)
        .set("class", "sheet");
    let mut head = titled(place).add(sheet);
    let right = PAGE.0 - MARGIN;
    let top = top + EDGE;
    let beside_place = right - text::width(place, SMALL, false) - Mm(4.0);
    let mut taken = Mm(0.0);
    if let Some(mark) = &on.draft {
        let (mark, left) = draft(mark, beside_place, top - Mm(1.4));
        head = head.add(mark);
        taken = beside_place - left + Mm(4.0);
    }
    if page > 0 {
        let room = beside_place - taken - MARGIN;
        let under_width = text::width(&on.under_title, SMALL, false) + Mm(3.0);
        let title = text::shorten(&on.title, NAME, true, (room - under_width).max(room / 2.0));
        let title = title.unwrap_or_default();
        let x = MARGIN + text::width(&title, NAME, true) + Mm(3.0);
        head = head.add(words(title, MARGIN, top + Mm(3.0), "n"));
        let under = text::shorten(&on.under_title, SMALL, false, MARGIN + room - x);
        if let Some(under) = under {
            head = head.add(words(under, x, top + Mm(3.0), "q"));
        }
        return head.add(words(place, right, top + Mm(3.0), "q r"));
    }
    let room = right - MARGIN - Mm(30.0) - taken;
    let title = text::shorten(&on.title, TITLE, true, room).unwrap_or_default();
    let room = PAGE.0 - MARGIN * 2.0;
    let under = text::shorten(&on.under_title, SMALL, false, room).unwrap_or_default();
    head = head
        .add(words(title, MARGIN, top + Mm(4.8), "t"))
        .add(words(place, right, top + Mm(4.8), "q r"))
        .add(words(under, MARGIN, top + Mm(10.2), "q"));
    let mut y = top + LEGEND;
    for line in &on.legend {
        for (x, sign, entry) in line {
            let beside = *x + sign.width() + BESIDE.0;
            head = head.add(draw_sign(*sign, *x, y)).add(words(entry.as_str(), beside, y, ""));
        }
        y += LINE;
    }
    for note in &on.notes {
        head = head.add(words(note.as_str(), MARGIN, y, "q"));
        y += LINE;
    }
    head
}

/// The mark of a draft, white on black, as large as a title; its left edge.
pub(in super::super) fn draft(mark: &str, right: Mm, top: Mm) -> (Group, Mm) {
    let left = right - text::width(mark, TITLE, true) - Mm(5.0);
    let mut shape = PathData::default();
    shape.rectangle(left, top, right, top + Mm(8.6));
    let mark = words(mark, left + Mm(2.5), top + Mm(6.4), "t D");
    (Group::new().add(path(shape, "i")).add(mark), left)
}

/// Draws it from `x` on, its words standing on the line `y`.
pub(super) fn draw_sign(sign: Sign, x: Mm, y: Mm) -> Group {
    let right = x + sign.width();
    let (top, bottom) = (y - Mm(2.8), y + Mm(0.6));
    let mut data = PathData::default();
    let group = Group::new();
    match sign {
        Sign::Colour(colour, is_light) => {
            let middle = y - Mm(1.0);
            let mut line = PathData::default();
            line.go(x, middle).across(right);
            let edge = if is_light { line.clone() } else { PathData::default() };
            group
                .add(path(edge, &format!("e{colour}")))
                .add(path(line, &format!("f p{colour}")))
                .add(flights::bead(colour, x + Mm(4.0), middle))
        }
        Sign::Flight => {
            data.go(x, bottom).arc((x + right) / 2.0, top * 2.0 - bottom, right, bottom);
            group.add(path(data, "K"))
        }
        Sign::Rest => {
            let middle = y - Mm(1.0);
            data.rectangle(x, middle - BAR / 2.0, right, middle + BAR / 2.0);
            group.add(path(data, "i"))
        }
        Sign::Handed => {
            data.go(x, top).line(right, bottom);
            group.add(path(data, "K"))
        }
        Sign::Value => group.add(words("5", x, y, "b")),
        Sign::Made(made) => group.add(words(arm::short(made), x, y, "q")),
        Sign::Arms(position) => arms::legend(position, x, right, y - Mm(1.0)),
        Sign::Quiet => group.add(words("2", x, y, "q")),
        Sign::Torn => sections::rent((x + right) / 2.0, y - Mm(3.6), y + Mm(1.2)),
        Sign::Unread => sections::unread(x, top, right, bottom),
        Sign::Unknown => {
            group.add(ruler::unknown_from((x + right) / 2.0, y - Mm(3.6), y + Mm(1.2)))
        }
        Sign::Open => {
            data.rectangle(x, top, right, bottom);
            group.add(path(data, "z")).add(sections::tear((x + right) / 2.0, top, bottom))
        }
        Sign::Pause | Sign::Transition => {
            data.rectangle(x, top, right, bottom);
            let mut edge = PathData::default();
            edge.go(x, top).down(bottom).go(right, top).down(bottom);
            let class = if sign == Sign::Pause { "z" } else { "x" };
            group.add(path(data, class)).add(path(edge, "Y"))
        }
        Sign::Cue => {
            let (middle, shaft) = ((top + bottom) / 2.0, right - Mm(1.5));
            data.go(x, bottom + Mm(1.0)).down(top).across(shaft).line(right, middle);
            data.line(shaft, bottom).across(x);
            group.add(path(data, "v"))
        }
        Sign::On(of) => {
            let mark = ruler::on(of, x, right, top);
            if of != StretchOf::Dark {
                return group.add(mark);
            }
            data.rectangle(x, top, right, bottom);
            group.add(path(data, "d")).add(mark)
        }
    }
}
