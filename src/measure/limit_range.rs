//! A limit where what it counts is a range: the worst that can come of it, and the best.
//!
//! A verdict only gets worse away from what is allowed, on either side. So the worst lies at one
//! end of the range, and the best at an end or, where the whole of what is allowed lies within the
//! range, at its shorter edge, which leaves the most room to the longer.

use std::cmp::Ordering;

use crate::act::Act;
use crate::routine::{Limit, OnTheLine};
use crate::time::{Seconds, Time};
use crate::timeline::Unresolved;

use super::limits::{Judgement, Verdict, judge};

/// A limit held against the act, whatever its open lengths come to.
#[derive(Clone, Debug, PartialEq)]
pub struct JudgedRange {
    /// Where the rule starts the time, on the show clock.
    pub starts: Time,
    /// Where it stops it, on the show clock.
    pub stops: Time,
    /// What it counts; below zero where it stops before it starts.
    pub counted: Time,
    /// The worst that can come of it.
    pub worst: Judgement,
    /// The best that can come of it.
    pub best: Judgement,
    /// The worst beyond its other edge, where it may be both under and over.
    pub other_side: Option<Judgement>,
}

/// Holds a limit against the act.
///
/// # Errors
/// Why its start or its stop never comes, or is not known.
pub fn judged_range(act: &Act, limit: &Limit) -> Result<JudgedRange, Unresolved> {
    let starts = act.moment(&limit.starts.value)?;
    let stops = act.moment(&limit.stops.value)?;
    // Taken as one time: what moves both ends alike moves nothing.
    let counted = &stops - &starts;
    if counted.is_unknown() {
        return Err(Unresolved::NotYet);
    }
    let (worst, best) = judge_range(limit, &counted.least(), &counted.most());
    let ends = [judge(limit, &counted.least()), judge(limit, &counted.most())];
    let beyond = |one: &Judgement| matches!(one.verdict, Verdict::Over | Verdict::Under);
    let both = ends.iter().all(beyond) && ends[0].verdict != ends[1].verdict;
    let other_side = ends.into_iter().find(|one| both && one.verdict != worst.verdict);
    Ok(JudgedRange { starts, stops, counted, worst, best, other_side })
}

/// The worst and the best that a limit says of a length of time within a range.
#[must_use]
pub fn judge_range(limit: &Limit, least: &Seconds, most: &Seconds) -> (Judgement, Judgement) {
    let (shortest, longest) = (judge(limit, least), judge(limit, most));
    let mut ends = [shortest, longest];
    ends.sort_by(worse);
    let [mut best, mut worst] = ends;
    let inside = limit.at_least.as_ref().map(|edge| &edge.value).filter(|edge| {
        let before_most = limit.at_most.as_ref().is_none_or(|most| **edge < most.value);
        least <= *edge && *edge < most && before_most
    });
    if let Some(edge) = inside {
        // What lies just beyond the edge is inside, wherever the line belongs.
        let limit = Limit { on_the_line: OnTheLine::Inside, ..limit.clone() };
        let at_edge = judge(&limit, edge);
        if worse(&best, &at_edge) == Ordering::Greater {
            best = at_edge;
        }
    }
    if worst.verdict == Verdict::Inside {
        // The one that has the most room to one edge may have the least to the other.
        let close = [&best.close, &worst.close].into_iter().flatten();
        worst.close =
            close.min_by(|a, b| a.1.partial_cmp(&b.1).unwrap_or(Ordering::Equal)).cloned();
    }
    (worst, best)
}

/// How one judgement compares with another: the worse is the greater.
fn worse(a: &Judgement, b: &Judgement) -> Ordering {
    let rank = |judgement: &Judgement| match judgement.verdict {
        Verdict::Inside => 0,
        Verdict::Grace => 1,
        Verdict::Over | Verdict::Under => 2,
    };
    let by = match (&a.by, &b.by) {
        (Some(a), Some(b)) => a.partial_cmp(b).unwrap_or(Ordering::Equal),
        _ => Ordering::Equal,
    };
    // Inside, more is better.
    let by = if rank(a) == 0 { by.reverse() } else { by };
    rank(a).cmp(&rank(b)).then(a.penalty_points.total_cmp(&b.penalty_points)).then(by)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{lantern_quay, ms, placed};
    use crate::routine::Penalty;

    fn limit() -> Limit {
        Limit {
            at_least: Some(placed(ms(40_000))),
            at_most: Some(placed(ms(60_000))),
            margin: ms(3_000),
            grace: ms(5_000),
            on_the_line: OnTheLine::Inside,
            penalty: Some(Penalty::Flat(2.0)),
            ..lantern_quay().limits[0].clone()
        }
    }

    #[test]
    fn a_range_has_a_worst_and_a_best_case() {
        use Verdict::{Grace, Inside, Over, Under};
        // Range of what is counted, worst and best with how much.
        for (from, to, worst, best) in [
            (45, 50, (Inside, 10, 0.0), (Inside, 15, 0.0)),
            (50, 63, (Grace, 3, 0.0), (Inside, 10, 0.0)),
            (50, 70, (Over, 10, 2.0), (Inside, 10, 0.0)),
            (62, 70, (Over, 10, 2.0), (Grace, 2, 0.0)),
            (66, 70, (Over, 10, 2.0), (Over, 6, 2.0)),
            (30, 38, (Under, 10, 2.0), (Under, 2, 2.0)),
            (30, 45, (Under, 10, 2.0), (Inside, 20, 0.0)),
            (30, 75, (Over, 15, 2.0), (Inside, 20, 0.0)),
            (35, 62, (Under, 5, 2.0), (Inside, 20, 0.0)),
        ] {
            let counted = (ms(from * 1000), ms(to * 1000));
            let judged = judge_range(&limit(), &counted.0, &counted.1);
            let figures = |judgement: Judgement| {
                (judgement.verdict, judgement.by.unwrap(), judgement.penalty_points)
            };
            let expected =
                |(verdict, by, points): (Verdict, i64, f64)| (verdict, ms(by * 1000), points);
            assert_eq!(figures(judged.0), expected(worst), "worst of {from} to {to}");
            assert_eq!(figures(judged.1), expected(best), "best of {from} to {to}");
        }
    }

    #[test]
    fn nothing_within_the_range_is_worse_than_the_worst_or_better_than_the_best() {
        for on_the_line in [OnTheLine::Inside, OnTheLine::Outside] {
            let limit = Limit { on_the_line, ..limit() };
            for from in 35..70 {
                for to in from..70 {
                    let counted = (ms(from * 1000), ms(to * 1000));
                    let (worst, best) = judge_range(&limit, &counted.0, &counted.1);
                    for between in from * 2..=to * 2 {
                        let judged = judge(&limit, &ms(between * 500));
                        assert_ne!(worse(&judged, &worst), Ordering::Greater, "{from} {to}");
                        assert_ne!(worse(&best, &judged), Ordering::Greater, "{from} {to}");
                    }
                }
            }
        }
    }

    #[test]
    fn a_margin_is_judged_at_both_ends() {
        let counted = (ms(41_000), ms(50_000));
        let (worst, _) = judge_range(&limit(), &counted.0, &counted.1);
        assert_eq!(worst.verdict, Verdict::Inside);
        assert_eq!(worst.close.unwrap().1, ms(1_000));
    }
}
