//! The limits of the timing sheet for a terminal: each verdict with its start and stop named.

use crate::diagnostic::words::first_few;
use crate::measure::limit_range::JudgedRange;
use crate::measure::limits::{Judgement, Verdict};
use crate::measure::moves_in_time::Cut;
use crate::routine::{AddsUp, Edge, Limit, OnTheLine, Penalty, Price, StepsFrom, points_in_words};
use crate::sheet::limits::LimitLine;
use crate::sheet::stamp::Stamp;
use crate::sheet::words::plain;
use crate::time::{Seconds, distance_text, seconds_as_written, written};

use super::heading_text::figure;
use super::table::{labelled, paragraph};

/// The limits' block of the timing sheet; empty where there are none.
pub(super) fn limits(lines: &[LimitLine], width: u16) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let mut text = "LIMITS · each counted on its own contest clock\n".to_owned();
    for (index, line) in lines.iter().enumerate() {
        if index > 0 {
            text.push('\n');
        }
        text += &limit(line, width);
    }
    text
}

fn limit(line: &LimitLine, width: u16) -> String {
    let LimitLine {
        rule,
        starts_at,
        stops_at,
        starts,
        stops,
        limit,
        has_encore,
        cut,
        moves,
        counted,
        judged,
    } = line;
    let at = |words: &str, at: &Stamp| match at.range().earliest() {
        Some(_) => format!("{words} ({} on the show clock)", at.range().clock()),
        None => words.to_owned(),
    };
    let counted = counted.as_ref().map(|counted| {
        let counted = counted.clock_beside(&limit.lines());
        format!("{counted} on this contest's clock{}", adds_up(limit, *has_encore))
    });
    let mut rows = Vec::new();
    if limit.has_edge() {
        rows.push(("verdict", figure(judged.as_ref().map(verdicts))));
    }
    rows.push(("counted", figure(counted)));
    if limit.has_edge() {
        rows.push(("allowed", allowed(limit)));
    }
    rows.push(("starts", at(starts, starts_at)));
    rows.push(("stops", at(stops, stops_at)));
    if limit.margin > Seconds::zero() {
        rows.push(("margin", margin(line)));
    }
    if let Some(moves) = moves {
        rows.push(("moves", moves.words()));
    }
    if !cut.is_empty() {
        rows.push(("cut", self::cut(cut, limit)));
    }
    if limit.has_edge() {
        rows.push(("penalty", penalty(line)));
    }
    let mut text = paragraph(width, 0, rule);
    for (label, words) in rows {
        text += &labelled(width, 9, &format!("  {label}"), &words);
    }
    text
}

/// The moves that begin after the longest that is allowed.
fn cut(cut: &[Cut], limit: &Limit) -> String {
    let words = |one: &Cut| format!("{} begins at {}", one.name, one.when(limit));
    first_few(cut.iter().map(words).collect()).join(", ")
}

/// What is added up, where that is not everything.
fn adds_up(limit: &Limit, has_encore: bool) -> String {
    let runs = match limit.adds_up {
        AddsUp::Everything => "",
        AddsUp::Juggling => ", which runs while something is juggled",
        AddsUp::SetUpAndStrike => ", which runs in the set-up and in the strike",
    };
    let encore = match (limit.adds_up, limit.counts_encore()) {
        (AddsUp::Everything | AddsUp::Juggling, false) if has_encore => ", the encore left out",
        (AddsUp::Juggling, true) => ", in the encore too",
        _ => "",
    };
    format!("{runs}{encore}")
}

fn allowed(limit: &Limit) -> String {
    let edge = |edge: Edge, word: &str, side: &str| {
        let line = limit.edge(edge)?;
        let grace = limit.grace(edge);
        let forgiven = match grace > Seconds::zero() {
            true => format!(", {} {side} is forgiven", seconds_as_written(&grace)),
            false => String::new(),
        };
        Some(format!("{word} {}{forgiven}", written(&line.value)))
    };
    let edges = [edge(Edge::AtLeast, "at least", "less"), edge(Edge::AtMost, "at most", "more")];
    let mut allowed: Vec<String> = edges.into_iter().flatten().collect();
    allowed.push(match limit.on_the_line {
        OnTheLine::Inside => "on the line is inside".to_owned(),
        OnTheLine::Outside => "on the line is outside".to_owned(),
    });
    allowed.join("; ")
}

/// The verdict; where it hangs on what is left open, the worst and the best.
pub(super) fn verdicts(judged: &JudgedRange) -> String {
    let (worst, best) = (verdict(&judged.worst), verdict(&judged.best));
    let price = |judgement: &Judgement| match judgement.price.words() {
        Some(price) => format!(", {}", plain(&price)),
        None => String::new(),
    };
    let (worst_price, best_price) = (price(&judged.worst), price(&judged.best));
    if worst == best && worst_price == best_price {
        return worst;
    }
    let also = judged
        .other_side
        .as_ref()
        .map_or_else(String::new, |also| format!(", or {}{}", verdict(also), price(also)));
    format!("at worst {worst}{worst_price}{also}; at best {best}{best_price}")
}

fn verdict(judgement: &Judgement) -> String {
    let on_the_line = judgement.by.as_ref().is_some_and(|by| *by == Seconds::zero());
    let by = judgement.by.as_ref().map(distance_text).unwrap_or_default();
    match (judgement.verdict, judgement.beyond) {
        (Verdict::Inside, _) if on_the_line => "INSIDE, exactly on the line".to_owned(),
        (Verdict::Inside, _) => format!("INSIDE by {by}"),
        (Verdict::Grace, _) if on_the_line => {
            "GRACE: exactly on the line, which is outside, within the grace".to_owned()
        }
        (Verdict::Grace, Some(Edge::AtLeast)) => format!("GRACE: under by {by}, within the grace"),
        (Verdict::Grace, _) => format!("GRACE: over by {by}, within the grace"),
        (Verdict::Over, _) if on_the_line => {
            "OVER: exactly on the line, which is outside".to_owned()
        }
        (Verdict::Under, _) if on_the_line => {
            "UNDER: exactly on the line, which is outside".to_owned()
        }
        (Verdict::Over, _) => format!("OVER by {by}"),
        (Verdict::Under, _) => format!("UNDER by {by}"),
    }
}

fn margin(line: &LimitLine) -> String {
    let margin = seconds_as_written(&line.limit.margin);
    let Some(judged) = &line.judged else { return margin };
    match (&judged.worst.close, judged.worst.verdict) {
        (Some((edge, room)), _) => {
            let edge = match edge {
                Edge::AtLeast => "the shortest",
                Edge::AtMost => "the longest",
            };
            format!("{margin}, NOT KEPT: {} from {edge} allowed", distance_text(room))
        }
        (None, Verdict::Inside) => format!("{margin}, kept"),
        (None, _) => format!("{margin}, not kept"),
    }
}

fn penalty(line: &LimitLine) -> String {
    let costs = match &line.limit.penalty {
        None => return "none given".to_owned(),
        Some(Penalty::Flat(flat)) => format!("{} flat", price_or_none(flat)),
        Some(Penalty::Steps { every, or_part, from, each, at_most_points }) => format!(
            "{} for every {}{}, from {}{}",
            price_or_none(each),
            seconds_as_written(every),
            if *or_part { " or part of it" } else { "" },
            match from {
                StepsFrom::Limit => "the limit",
                StepsFrom::Grace => "the end of the grace",
            },
            match at_most_points {
                Some(most) => format!(", at most {}", points_in_words(*most)),
                None => String::new(),
            }
        ),
        Some(Penalty::Graded(rows)) => {
            let row = |row: &crate::routine::Grade| {
                let word = if row.from_there { "from" } else { "past" };
                format!("{} {word} {}", price_or_none(&row.price), seconds_as_written(&row.beyond))
            };
            rows.iter().map(row).collect::<Vec<_>>().join(", ")
        }
    };
    let Some(judged) = &line.judged else { return costs };
    let (worst, best) = (price_or_none(&judged.worst.price), price_or_none(&judged.best.price));
    let price = match worst == best {
        true => worst,
        false => format!("{worst} at worst, {best} at best"),
    };
    format!("{price} ({costs})")
}

fn price_or_none(of: &Price) -> String {
    of.words().map_or_else(|| "0 points".to_owned(), |words| plain(&words))
}
