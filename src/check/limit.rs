//! A limit that the routine breaks, or comes close to.

use crate::diagnostic::{Diagnostic, Place};
use crate::measure::limit_range::{JudgedRange, judged_range};
use crate::measure::limits::{Edge, Judgement, Verdict, close_on, judge, verdict_on};
use crate::routine::Limit;
use crate::time::{Seconds, Time, seconds_text};

use super::{Case, Check, Finds};

pub(super) const OVER: Check = Check {
    code: "limit-over",
    what: "The routine is not longer than its limits allow, each on its own clock.",
    why: "The same act is inside one rule and over another: what counts is where the rule starts \
          and stops the time.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(200)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", on_the_line: Inside)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(190)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", on_the_line: Inside)],
"#
    ),
    finds: Finds::Timed(over),
};

pub(super) const UNDER: Check = Check {
    code: "limit-under",
    what: "The routine is not shorter than its limits allow.",
    why: "A rule with a minimum costs points below it, or the entry.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(100)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_least: "0:40", on_the_line: Inside)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(140)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_least: "0:40", on_the_line: Inside)],
"#
    ),
    finds: Finds::Timed(under),
};

pub(super) const GRACE: Check = Check {
    code: "limit-in-grace",
    what: "The routine does not live on the grace of a limit.",
    why: "A grace forgives a slow night once; an act that needs it every night has none.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(200)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", grace: 5.0, on_the_line: Inside)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(190)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", grace: 5.0, on_the_line: Inside)],
"#
    ),
    finds: Finds::Timed(in_grace),
};

pub(super) const CLOSE: Check = Check {
    code: "limit-close",
    what: "The routine keeps the margin that its user wants from a limit.",
    why: "A run is never as long as on paper: the margin is for the night.",
    raises: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(190)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", margin: 3.0, on_the_line: Inside)],
"#
    ),
    mended: example!(
        r#"        Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(180)),
"#,
        r#"    limits: [Limit(rule: "short class", starts: FirstThrow, stops: LastCatch,
        at_most: "0:58", margin: 3.0, on_the_line: Inside)],
"#
    ),
    finds: Finds::Timed(close),
};

fn over(case: &Case<'_>) -> Vec<Diagnostic> {
    broken(case, Verdict::Over, OVER.code, Edge::AtMost, "over")
}

fn under(case: &Case<'_>) -> Vec<Diagnostic> {
    broken(case, Verdict::Under, UNDER.code, Edge::AtLeast, "under")
}

fn in_grace(case: &Case<'_>) -> Vec<Diagnostic> {
    broken(case, Verdict::Grace, GRACE.code, Edge::AtMost, "over, within the grace,")
}

fn close(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = all(case).filter_map(|(limit, judged)| {
        case.some_night(&limit.at, CLOSE.code, |night| {
            let (edge, room) = close_on(limit, &judged.counted, night)?;
            night.worse_by(&(&Time::zero() - &room));
            let word = match edge {
                Edge::AtLeast => "minimum",
                Edge::AtMost => "maximum",
            };
            let message = format!(
                "{} for \"{}\", {} inside its {word}; the margin is {}",
                judged.counted.range().clock(),
                limit.rule,
                seconds_text(&night.at(&room)),
                seconds_text(&limit.margin)
            );
            Some(
                Diagnostic::warning(CLOSE.code, edge_place(limit, edge), message)
                    .label("close to the edge"),
            )
        })
    });
    found.collect()
}

fn broken(
    case: &Case<'_>,
    verdict: Verdict,
    code: &'static str,
    edge: Edge,
    word: &str,
) -> Vec<Diagnostic> {
    let found = all(case).filter_map(|(limit, judged)| {
        let counted = &judged.counted;
        case.some_night(&limit.at, code, |night| {
            night.worse_by(&match edge {
                Edge::AtMost => counted.clone(),
                Edge::AtLeast => &Time::zero() - counted,
            });
            if verdict_on(limit, counted, night) != verdict {
                return None;
            }
            let judgement = judge(limit, &night.at(counted));
            Some(told(limit, &judged, &judgement, code, (edge, word)))
        })
    });
    found.collect()
}

fn told(
    limit: &Limit,
    judged: &JudgedRange,
    judgement: &Judgement,
    code: &'static str,
    (edge, word): (Edge, &str),
) -> Diagnostic {
    let by = judgement.by.clone().unwrap_or_else(Seconds::zero);
    let counted = judged.counted.range();
    let message = format!(
        "{} for \"{}\", {}{word} by {}",
        counted.clock(),
        limit.rule,
        if counted.is_certain() { "" } else { "at worst " },
        seconds_text(&by)
    );
    let diagnostic = Diagnostic::warning(code, edge_place(limit, edge), message)
        .label("the limit")
        .note_at(
            limit.starts.at.clone(),
            format!("the time starts here, at {} (show clock)", judged.starts.range().clock()),
        )
        .note_at(
            limit.stops.at.clone(),
            format!("and stops here, at {} (show clock)", judged.stops.range().clock()),
        );
    let change = match edge {
        Edge::AtMost => "take off at least",
        Edge::AtLeast => "add at least",
    };
    let mut help = format!("{change} {}", seconds_text(&by));
    if limit.margin > Seconds::zero() {
        help += &format!(", or {} with the margin", seconds_text(&(&by + &limit.margin)));
    }
    let diagnostic = diagnostic.help(help);
    let points = judgement.penalty_points;
    if points > 0.0 { diagnostic.note(format!("it costs {points} points")) } else { diagnostic }
}

/// The limits whose moments are known, with what they say.
fn all<'a>(case: &'a Case<'a>) -> impl Iterator<Item = (&'a Limit, JudgedRange)> {
    let limits = case.routine().limits.iter();
    limits.filter_map(|limit| Some((limit, judged_range(case.act, limit).ok()?)))
}

fn edge_place(limit: &Limit, edge: Edge) -> Place {
    let written = match edge {
        Edge::AtLeast => &limit.at_least,
        Edge::AtMost => &limit.at_most,
    };
    written.as_ref().map_or_else(|| limit.at.clone(), |edge| edge.at.clone())
}
