//! A limit that the routine breaks, or comes close to.

use crate::diagnostic::words::{all_of, first_few};
use crate::diagnostic::{Diagnostic, Place};
use crate::measure::contest_clock::ContestClock;
use crate::measure::limit_range::judged_range;
use crate::measure::limits::{Judgement, Verdict, close_on, judge, verdict_on};
use crate::measure::moves_in_time::{Cut, cut};
use crate::routine::{Edge, Length, Limit, OnTheLine};
use crate::time::{Seconds, Time, TimeRange, at_least_text, distance_text, seconds_as_written};

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
    what: "The routine does not need the grace of a limit.",
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

/// The most sections that a help names.
const MOST_SECTIONS: usize = 3;

/// A tempo that nobody notices to be faster: 3 % (common practice, no source).
const FASTER: f64 = 1.03;

fn over(case: &Case<'_>) -> Vec<Diagnostic> {
    broken(case, Verdict::Over, OVER.code)
}

fn under(case: &Case<'_>) -> Vec<Diagnostic> {
    broken(case, Verdict::Under, UNDER.code)
}

fn in_grace(case: &Case<'_>) -> Vec<Diagnostic> {
    broken(case, Verdict::Grace, GRACE.code)
}

fn close(case: &Case<'_>) -> Vec<Diagnostic> {
    let found = clocks(case).filter_map(|clock| {
        let limit = clock.limit();
        case.some_night(&limit.at, CLOSE.code, |night| {
            let (edge, room) = close_on(limit, &clock.counted(night), night)?;
            night.worse_by(&(&Time::zero() - &room));
            let word = match edge {
                Edge::AtLeast => "minimum",
                Edge::AtMost => "maximum",
            };
            let message = format!(
                "{} for \"{}\", {} inside its {word}; the margin is {}",
                counted_text(&clock),
                limit.rule,
                distance_text(&night.at(&room)),
                seconds_as_written(&limit.margin)
            );
            let fault = Diagnostic::warning(CLOSE.code, edge_place(limit, edge), message);
            Some(fault.label("close to the edge"))
        })
    });
    found.collect()
}

fn broken(case: &Case<'_>, verdict: Verdict, code: &'static str) -> Vec<Diagnostic> {
    let found = clocks(case).flat_map(|clock| {
        [Edge::AtMost, Edge::AtLeast].map(|edge| beyond(case, &clock, (verdict, edge), code))
    });
    found.flatten().collect()
}

/// A limit that is broken beyond one of its edges on some night.
fn beyond(
    case: &Case<'_>,
    clock: &ContestClock<'_>,
    (verdict, edge): (Verdict, Edge),
    code: &'static str,
) -> Option<Diagnostic> {
    let limit = clock.limit();
    let is_written =
        limit.edge(edge).is_some() && verdict.breaks().is_none_or(|breaks| breaks == edge);
    if !is_written {
        return None;
    }
    let judged = judged_range(case.act, limit);
    case.some_night(&limit.at, code, |night| {
        let counted = clock.counted(night);
        night.worse_by(&match edge {
            Edge::AtMost => counted.clone(),
            Edge::AtLeast => &Time::zero() - &counted,
        });
        if verdict_on(limit, &counted, night) != (verdict, Some(edge)) {
            return None;
        }
        let mut judgement = judge(limit, &night.at(&counted));
        // What it costs may be dearer on another night: the sheet says the same.
        if let Some(worst) = judged.as_ref().and_then(|judged| judged.worst_beyond(edge))
            && verdict.breaks().is_some()
        {
            judgement.price = worst.price.clone();
        }
        let diagnostic = told(clock, &judgement, code, edge);
        let diagnostic = match where_the_seconds_are(case, clock).filter(|_| edge == Edge::AtMost) {
            Some(help) => diagnostic.help(help),
            None => diagnostic,
        };
        Some(match cut_words(case, limit).filter(|_| edge == Edge::AtMost) {
            Some(cut) => diagnostic.note(cut),
            None => diagnostic,
        })
    })
}

fn told(
    clock: &ContestClock<'_>,
    judgement: &Judgement,
    code: &'static str,
    edge: Edge,
) -> Diagnostic {
    let limit = clock.limit();
    let by = judgement.by.clone().unwrap_or_else(Seconds::zero);
    let counted = counted_range(clock);
    let word = match (edge, judgement.verdict) {
        (Edge::AtMost, Verdict::Grace) => "over, within the grace,",
        (Edge::AtMost, _) => "over",
        (Edge::AtLeast, Verdict::Grace) => "under, within the grace,",
        (Edge::AtLeast, _) => "under",
    };
    let how_far = match by == Seconds::zero() {
        true => format!("{word} exactly on the line, which is outside"),
        false => format!("{word} by {}", distance_text(&by)),
    };
    let message = format!(
        "{} for \"{}\", {}{how_far}",
        counted.clock_beside(&limit.lines()),
        limit.rule,
        if counted.is_certain() { "" } else { "at worst " },
    );
    let at = |range: TimeRange| range.clock();
    let starts = at(ContestClock::range(|night| Some(clock.starts(night))));
    let stops = at(ContestClock::range(|night| Some(clock.stops(night))));
    let diagnostic = Diagnostic::warning(code, edge_place(limit, edge), message)
        .label("the limit")
        .note_at(limit.starts.at.clone(), format!("the time starts here, at {starts} (show clock)"))
        .note_at(limit.stops.at.clone(), format!("and stops here, at {stops} (show clock)"));
    let change = match edge {
        Edge::AtMost => "take off",
        Edge::AtLeast => "add",
    };
    let mut help = format!("{change} {}", enough(limit, &by));
    if limit.margin > Seconds::zero() {
        help += &format!(", or {} with the margin", at_least_text(&(&by + &limit.margin)));
    }
    let diagnostic = diagnostic.help(help);
    match judgement.price.words() {
        Some(price) => diagnostic.note(format!("it costs {price}")),
        None => diagnostic,
    }
}

/// The sections that are longest while the limit's time runs, and what a faster tempo takes off
/// those whose length is counted in throws; all that is open at its shortest.
fn where_the_seconds_are(case: &Case<'_>, clock: &ContestClock<'_>) -> Option<String> {
    let [starts, stops] = [
        ContestClock::range(|night| Some(clock.starts(night))),
        ContestClock::range(|night| Some(clock.stops(night))),
    ];
    let (starts, stops) = (starts.earliest()?.to_f64(), stops.earliest()?.to_f64());
    let mut longest: Vec<(f64, &str, bool)> = Vec::new();
    for (_, section, span) in case.act.sections() {
        let [from, to] = [&span.starts, &span.ends].map(|time| time.shortest().to_f64());
        let counts = to.min(stops) - from.max(starts);
        let is_counted = section.juggle().is_some_and(|juggle| {
            matches!(juggle.lasts.value, Length::Beats(_) | Length::Cycles(_))
        });
        if counts > 0.0 {
            longest.push((counts, section.name.value.as_str(), is_counted));
        }
    }
    longest.sort_by(|(one, ..), (other, ..)| other.total_cmp(one));
    longest.truncate(MOST_SECTIONS);
    let named = longest.iter().map(|(lasts, name, _)| format!("\"{name}\" {lasts:.1} s"));
    let mut help = format!("most of the time goes to {}", all_of(&named.collect::<Vec<_>>()));
    let counted = longest.iter().filter(|(.., is_counted)| *is_counted);
    let (names, seconds): (Vec<_>, Vec<f64>) =
        counted.map(|(lasts, name, _)| (format!("\"{name}\""), *lasts)).unzip();
    if !names.is_empty() {
        let off = seconds.into_iter().sum::<f64>() * (1.0 - 1.0 / FASTER);
        help += &format!("; {} thrown 3 % faster take off {off:.1} s", all_of(&names));
    }
    (!longest.is_empty()).then_some(help)
}

/// The moves that begin after the longest that is allowed.
fn cut_words(case: &Case<'_>, limit: &Limit) -> Option<String> {
    let words = |one: &Cut| format!("\"{}\" at {}", one.name, one.when(limit));
    let cut = first_few(cut(case.act, limit).iter().map(words).collect());
    (!cut.is_empty()).then(|| format!("after that begins {} (contest clock)", all_of(&cut)))
}

/// How much is enough, as in `at least 0.04 s`; where the line is outside, to come off it too.
fn enough(limit: &Limit, by: &Seconds) -> String {
    let enough = at_least_text(by);
    let to_the_line = *by > Seconds::zero() && enough == seconds_as_written(by);
    match limit.on_the_line {
        OnTheLine::Outside if to_the_line => format!("more than {enough}"),
        _ => format!("at least {enough}"),
    }
}

/// The clocks of the limits whose moments are known and which stop after they start.
fn clocks<'a>(case: &'a Case<'a>) -> impl Iterator<Item = ContestClock<'a>> {
    let clocks = case.routine().limits.iter().filter_map(|limit| ContestClock::of(case.act, limit));
    clocks.filter(|clock| !clock.may_stop_first())
}

fn counted_range(clock: &ContestClock<'_>) -> TimeRange {
    ContestClock::range(|night| Some(clock.counted(night)))
}

fn counted_text(clock: &ContestClock<'_>) -> String {
    counted_range(clock).clock_beside(&clock.limit().lines())
}

fn edge_place(limit: &Limit, edge: Edge) -> Place {
    limit.edge(edge).map_or_else(|| limit.at.clone(), |edge| edge.at.clone())
}
