//! The limits of the timing sheet for a terminal: each verdict with its start and stop named.

use crate::diagnostic::Placed;
use crate::measure::limit_range::JudgedRange;
use crate::measure::limits::{Edge, Judgement, Verdict};
use crate::routine::{OnTheLine, Penalty, StepsFrom};
use crate::sheet::limits::LimitLine;
use crate::sheet::stamp::Stamp;
use crate::time::{Seconds, clock, seconds_text};

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
    let LimitLine { rule, starts_at, stops_at, starts, stops, limit, judged } = line;
    let judged = judged.as_ref();
    let at = |words: &str, at: &Stamp| match at.range().earliest() {
        Some(_) => format!("{words} ({} on the show clock)", at.range().clock()),
        None => words.to_owned(),
    };
    let counted = |judged: &JudgedRange| {
        format!("{} on this contest's clock", judged.counted.range().clock())
    };
    let edge = |edge: &Option<Placed<Seconds>>, word: &str| {
        edge.as_ref().map(|edge| format!("{word} {}", clock(&edge.value)))
    };
    let mut allowed: Vec<String> =
        [edge(&limit.at_least, "at least"), edge(&limit.at_most, "at most")]
            .into_iter()
            .flatten()
            .collect();
    if limit.grace > Seconds::zero() {
        allowed.push(format!("grace {}", seconds_text(&limit.grace)));
    }
    allowed.push(match limit.on_the_line {
        OnTheLine::Inside => "on the line is inside".to_owned(),
        OnTheLine::Outside => "on the line is outside".to_owned(),
    });
    let mut rows = vec![
        ("verdict", figure(judged.map(verdicts))),
        ("counted", figure(judged.map(counted))),
        ("allowed", allowed.join("; ")),
        ("starts", at(starts, starts_at)),
        ("stops", at(stops, stops_at)),
    ];
    if limit.margin > Seconds::zero() {
        rows.push(("margin", margin(line)));
    }
    rows.push(("penalty", penalty(line)));
    let mut text = paragraph(width, 0, rule);
    for (label, words) in rows {
        text += &labelled(width, 9, &format!("  {label}"), &words);
    }
    text
}

/// The verdict; where it hangs on what is left open, the worst and the best.
fn verdicts(judged: &JudgedRange) -> String {
    let (worst, best) = (verdict(&judged.worst), verdict(&judged.best));
    if worst == best {
        return worst;
    }
    let points = |judgement: &Judgement| match judgement.penalty_points {
        0.0 => String::new(),
        points => format!(", {}", points_text(points)),
    };
    let (worst_points, best_points) = (points(&judged.worst), points(&judged.best));
    let also = judged
        .other_side
        .as_ref()
        .map_or_else(String::new, |also| format!(", or {}{}", verdict(also), points(also)));
    format!("at worst {worst}{worst_points}{also}; at best {best}{best_points}")
}

fn verdict(judgement: &Judgement) -> String {
    let by = judgement.by.as_ref().map(seconds_text);
    match (judgement.verdict, by) {
        (Verdict::Inside, Some(by)) => format!("INSIDE by {by}"),
        (Verdict::Inside, None) => "INSIDE".to_owned(),
        (Verdict::Grace, by) => {
            format!("GRACE: over by {}, within the grace", by.unwrap_or_default())
        }
        (Verdict::Over, by) => format!("OVER by {}", by.unwrap_or_default()),
        (Verdict::Under, by) => format!("UNDER by {}", by.unwrap_or_default()),
    }
}

fn margin(line: &LimitLine) -> String {
    let margin = seconds_text(&line.limit.margin);
    let Some(judged) = &line.judged else { return margin };
    match (&judged.worst.close, judged.worst.verdict) {
        (Some((edge, room)), _) => {
            let edge = match edge {
                Edge::AtLeast => "the shortest",
                Edge::AtMost => "the longest",
            };
            format!("{margin}, NOT KEPT: {} from {edge} allowed", seconds_text(room))
        }
        (None, Verdict::Inside) => format!("{margin}, kept"),
        (None, _) => format!("{margin}, not kept"),
    }
}

fn penalty(line: &LimitLine) -> String {
    let costs = match &line.limit.penalty {
        None => return "none is written".to_owned(),
        Some(Penalty::Flat(points)) => format!("{} flat", points_text(*points)),
        Some(Penalty::Steps { every, or_part, from, points }) => format!(
            "{} for every {}{}, from {}",
            points_text(*points),
            seconds_text(every),
            if *or_part { " or part of it" } else { "" },
            match from {
                StepsFrom::Limit => "the limit",
                StepsFrom::Grace => "the end of the grace",
            }
        ),
        Some(Penalty::Graded(rows)) => {
            let rows: Vec<String> = rows
                .iter()
                .map(|row| format!("{} past {}", points_text(row.points), seconds_text(&row.over)))
                .collect();
            rows.join(", ")
        }
    };
    let Some(judged) = &line.judged else { return costs };
    let (worst, best) = (judged.worst.penalty_points, judged.best.penalty_points);
    let points = match worst == best {
        true => points_text(worst),
        false => format!("{} at worst, {} at best", points_text(worst), points_text(best)),
    };
    format!("{points} ({costs})")
}

fn points_text(points: f64) -> String {
    if points == 1.0 { "1 point".to_owned() } else { format!("{points} points") }
}
