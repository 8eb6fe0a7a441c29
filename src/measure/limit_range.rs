//! A limit where what it counts is a range: the worst that can come of it, and the best.
//!
//! A verdict only gets worse away from what is allowed, on either side, but a penalty may fall with
//! the overrun. So the whole range is gone through: its ends, and every line within it at which a
//! verdict or a price changes, with what lies just below and just above.

use std::cmp::Ordering;

use crate::act::Act;
use crate::routine::{Edge, Limit, Penalty, Price};
use crate::time::{Seconds, TimeRange};

use super::contest_clock::ContestClock;
use super::limits::{Counted, Judgement, Verdict, judged};

/// A limit held against the act, whatever its open lengths come to.
#[derive(Clone, Debug, PartialEq)]
pub struct JudgedRange {
    /// What it counts.
    pub counted: TimeRange,
    /// The worst that can come of it. Points and percent are the most of all, also where they fall
    /// with the overrun.
    pub worst: Judgement,
    /// The best that can come of it.
    pub best: Judgement,
    /// The worst beyond its other edge, where it may be both under and over.
    pub other_side: Option<Judgement>,
}

impl JudgedRange {
    /// The worst beyond an edge, the grace used up.
    #[must_use]
    pub fn worst_beyond(&self, edge: Edge) -> Option<&Judgement> {
        let sides = [Some(&self.worst), self.other_side.as_ref()];
        sides.into_iter().flatten().find(|side| side.verdict.breaks() == Some(edge))
    }
}

/// What a limit counts; `None` where a moment of it never comes, where it stops before it starts, and
/// where what it counts is not known.
#[must_use]
pub fn counted_range(act: &Act, limit: &Limit) -> Option<TimeRange> {
    let clock = ContestClock::of(act, limit).filter(|clock| !clock.may_stop_first())?;
    Some(ContestClock::range(|night| Some(clock.counted(night)))).filter(TimeRange::is_known)
}

/// Holds a limit against the act; `None` where [`counted_range`] is, and where it has no edge: a rule
/// for moves alone is neither kept nor broken by a length of time.
#[must_use]
pub fn judged_range(act: &Act, limit: &Limit) -> Option<JudgedRange> {
    let counted = counted_range(act, limit).filter(|_| limit.has_edge())?;
    let (least, most) = (counted.earliest()?, counted.latest()?);
    let (worst, best, other_side) = judge_range(limit, least, most);
    Some(JudgedRange { counted, worst, best, other_side })
}

/// The worst and the best that a limit says of a length of time within a range, and the worst beyond
/// its other edge.
fn judge_range(
    limit: &Limit,
    least: &Seconds,
    most: &Seconds,
) -> (Judgement, Judgement, Option<Judgement>) {
    let all = all_judged(limit, least, most);
    let Some(worst) = all.iter().max_by(|a, b| worse(a, b)) else {
        unreachable!("the ends of the range are judged")
    };
    let best = all.iter().min_by(|a, b| worse(a, b)).unwrap_or(worst);
    // In order outwards from the edge.
    let broken = |edge| {
        let mut broken: Vec<&Judgement> =
            all.iter().filter(|one| one.verdict.breaks() == Some(edge)).collect();
        if edge == Edge::AtLeast {
            broken.reverse();
        }
        broken
    };
    let other_side = match worst.verdict.breaks() {
        Some(Edge::AtMost) => at_worst(&broken(Edge::AtLeast)),
        Some(Edge::AtLeast) => at_worst(&broken(Edge::AtMost)),
        None => None,
    };
    let worst_of_all = worst.verdict.breaks().and_then(|edge| at_worst(&broken(edge)));
    let mut worst_of_all = worst_of_all.unwrap_or_else(|| worst.clone());
    let best =
        best.verdict.breaks().and_then(|edge| at_best(&broken(edge))).unwrap_or(best.clone());
    if worst_of_all.verdict == Verdict::Inside {
        // The one that has the most room to one edge may have the least to the other.
        let close = all.iter().filter_map(|one| one.close.as_ref());
        worst_of_all.close =
            close.min_by(|a, b| a.1.partial_cmp(&b.1).unwrap_or(Ordering::Equal)).cloned();
    }
    (worst_of_all, best, other_side)
}

/// Every judgement that a length within the range can have, from the least to the most: the ends and
/// the lines between judged with what lies beside them.
fn all_judged(limit: &Limit, least: &Seconds, most: &Seconds) -> Vec<Judgement> {
    let mut lines = vec![least.clone(), most.clone()];
    for edge in [Edge::AtLeast, Edge::AtMost] {
        let Some(line) = limit.edge(edge).map(|edge| &edge.value) else { continue };
        let beyond = |by: &Seconds| match edge {
            Edge::AtMost => line + by,
            Edge::AtLeast => line - by,
        };
        lines.extend([line.clone(), beyond(&limit.grace(edge))]);
        if let Some(Penalty::Graded(rows)) = &limit.penalty {
            lines.extend(rows.iter().map(|row| beyond(&row.beyond)));
        }
    }
    lines.retain(|line| least <= line && line <= most);
    lines.sort_by_cached_key(Seconds::exact);
    let mut all = Vec::new();
    for line in &lines {
        let mut add = |beside| all.push(judged(limit, &Counted { at: line, beside }));
        if least < line {
            add(Ordering::Less);
        }
        add(Ordering::Equal);
        if line < most {
            add(Ordering::Greater);
        }
    }
    all
}

/// The furthest of judgements beyond one edge, with the worst of every price, be they of several
/// nights. A rating has no worst: the furthest row that names one holds.
fn at_worst(outwards: &[&Judgement]) -> Option<Judgement> {
    let prices = || outwards.iter().map(|one| &one.price);
    let price = Price {
        points: prices().map(|price| price.points).fold(0.0, f64::max),
        percent: prices().map(|price| price.percent).fold(0.0, f64::max),
        rating: prices().rev().find_map(|price| price.rating.clone()),
        out: prices().any(|price| price.out),
    };
    Some(Judgement { price, ..(*outwards.last()?).clone() })
}

/// The least far and the cheapest of judgements beyond one edge, be they of two nights.
fn at_best(outwards: &[&Judgement]) -> Option<Judgement> {
    let cheapest = outwards.iter().min_by(|a, b| dearer(a, b))?;
    let percent = outwards.iter().map(|one| one.price.percent).fold(f64::INFINITY, f64::min);
    let price = Price { percent, ..cheapest.price.clone() };
    Some(Judgement { price, ..(*outwards.first()?).clone() })
}

/// How far from the edge.
fn by(a: &Judgement, b: &Judgement) -> Ordering {
    match (&a.by, &b.by) {
        (Some(a), Some(b)) => a.partial_cmp(b).unwrap_or(Ordering::Equal),
        _ => Ordering::Equal,
    }
}

/// How one price compares with another: out is the dearest, then a rating, then points, then percent.
fn dearer(a: &Judgement, b: &Judgement) -> Ordering {
    let (a, b) = (&a.price, &b.price);
    let price = a.out.cmp(&b.out).then(a.rating.is_some().cmp(&b.rating.is_some()));
    price.then(a.points.total_cmp(&b.points)).then(a.percent.total_cmp(&b.percent))
}

/// How one judgement compares with another: the worse is the greater.
fn worse(a: &Judgement, b: &Judgement) -> Ordering {
    let rank = |judgement: &Judgement| match judgement.verdict {
        Verdict::Inside => 0,
        Verdict::Grace => 1,
        Verdict::Over | Verdict::Under => 2,
    };
    // Inside, more is better.
    let by = if rank(a) == 0 { by(b, a) } else { by(a, b) };
    rank(a).cmp(&rank(b)).then(dearer(a, b)).then(by)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::examples::{lantern_quay, ms, placed};
    use crate::measure::limits::judge;
    use crate::routine::{OnTheLine, Penalty};

    fn limit() -> Limit {
        Limit {
            at_least: Some(placed(ms(40_000))),
            at_most: Some(placed(ms(60_000))),
            margin: ms(3_000),
            grace: ms(5_000),
            on_the_line: OnTheLine::Inside,
            penalty: Some(Penalty::Flat(Price { points: 2.0, ..Price::default() })),
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
                (judgement.verdict, judgement.by.unwrap(), judgement.price.points)
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
                    let (worst, best, _) = judge_range(&limit, &counted.0, &counted.1);
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
        let (worst, _, _) = judge_range(&limit(), &counted.0, &counted.1);
        assert_eq!(worst.verdict, Verdict::Inside);
        assert_eq!(worst.close.unwrap().1, ms(1_000));
    }
}
