//! What a limit says of the act: inside, within the grace, over or under, by how much, and what
//! it costs.
//!
//! Verdicts compare unrounded times: 2:59.96 prints 3:00.0 and is inside a maximum of 3:00. After
//! a ramp edges are judged to 1 µs ([`crate::time::EDGE_S`]), steps of a penalty too. Unit:
//! seconds on the contest clock, which reads zero where the rule starts the time.

use std::cmp::Ordering;

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero};

use crate::routine::{Limit, OnTheLine, Penalty, StepsFrom};
use crate::time::{Night, Seconds, Time, exact_decimal};

/// What a limit says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// Within the limit.
    Inside,
    /// Over, but within the grace: it costs nothing.
    Grace,
    /// Over, the grace (if any) used up.
    Over,
    /// Under the shortest that is allowed.
    Under,
}

impl Verdict {
    /// `inside`, `grace`, `over` or `under`, as documents write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Inside => "inside",
            Verdict::Grace => "grace",
            Verdict::Over => "over",
            Verdict::Under => "under",
        }
    }
}

/// One of a limit's two edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// The shortest that is allowed.
    AtLeast,
    /// The longest that is allowed.
    AtMost,
}

/// A verdict with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// What the limit says.
    pub verdict: Verdict,
    /// Inside: the room left to `at_most` (without one, beyond `at_least`; without either,
    /// `None`). Else the distance from the edge, the grace ignored. Never below zero.
    pub by: Option<Seconds>,
    /// What it costs; 0 when inside or within the grace.
    pub penalty_points: f64,
    /// Inside, but closer to this edge than the limit's margin, with so much room.
    pub close: Option<(Edge, Seconds)>,
}

/// Judges a length of time by a limit.
#[must_use]
pub fn judge(limit: &Limit, counted: &Seconds) -> Judgement {
    let at_least = limit.at_least.as_ref().map(|edge| &edge.value);
    let at_most = limit.at_most.as_ref().map(|edge| &edge.value);
    let within = |time: &Seconds, end: &Seconds| match time.partial_cmp(end) {
        Some(Ordering::Less) => true,
        Some(Ordering::Equal) => limit.on_the_line == OnTheLine::Inside,
        _ => false,
    };
    if let Some(at_least) = at_least
        && !within(at_least, counted)
    {
        let short = not_negative(at_least - counted);
        return beyond(Verdict::Under, limit, short.clone(), &short);
    }
    if let Some(at_most) = at_most
        && !within(counted, at_most)
    {
        let over = not_negative(counted - at_most);
        if within(counted, &(at_most + &limit.grace)) {
            return Judgement {
                verdict: Verdict::Grace,
                by: Some(over),
                penalty_points: 0.0,
                close: None,
            };
        }
        let past_grace = not_negative(&over - &limit.grace);
        return beyond(Verdict::Over, limit, over, &past_grace);
    }
    let room_to_most = at_most.map(|at_most| not_negative(at_most - counted));
    let room_from_least = at_least.map(|at_least| not_negative(counted - at_least));
    let mut close = None;
    for (edge, room) in [(Edge::AtMost, &room_to_most), (Edge::AtLeast, &room_from_least)] {
        if let Some(room) = room
            && *room < limit.margin
            && close.as_ref().is_none_or(|(_, closest)| room < closest)
        {
            close = Some((edge, room.clone()));
        }
    }
    Judgement {
        verdict: Verdict::Inside,
        by: room_to_most.or(room_from_least),
        penalty_points: 0.0,
        close,
    }
}

/// What a limit says of a length of time on a night.
#[must_use]
pub fn verdict_on(limit: &Limit, counted: &Time, night: &Night<'_>) -> Verdict {
    let within = |time: &Time, end: &Time| match limit.on_the_line {
        OnTheLine::Inside => night.not_after(time, end),
        OnTheLine::Outside => night.before(time, end),
    };
    let edge = |edge: &Seconds| Time::from(edge.clone());
    if limit.at_least.as_ref().is_some_and(|least| !within(&edge(&least.value), counted)) {
        return Verdict::Under;
    }
    let Some(most) = &limit.at_most else { return Verdict::Inside };
    match within(counted, &edge(&most.value)) {
        true => Verdict::Inside,
        false if within(counted, &edge(&(&most.value + &limit.grace))) => Verdict::Grace,
        false => Verdict::Over,
    }
}

/// The edge that a length of time, inside on a night, is closer to than the margin, and what is left
/// to it; the closer one of two.
#[must_use]
pub fn close_on(limit: &Limit, counted: &Time, night: &Night<'_>) -> Option<(Edge, Time)> {
    if verdict_on(limit, counted, night) != Verdict::Inside {
        return None;
    }
    let margin = Time::from(limit.margin.clone());
    let edge = |edge: &Seconds| Time::from(edge.clone());
    let most = limit.at_most.as_ref().map(|most| (Edge::AtMost, &edge(&most.value) - counted));
    let least = limit.at_least.as_ref().map(|least| (Edge::AtLeast, counted - &edge(&least.value)));
    let close = |room: &(Edge, Time)| night.before(&room.1, &margin);
    match (most.filter(close), least.filter(close)) {
        (Some(most), Some(least)) if night.before(&least.1, &most.1) => Some(least),
        (most, least) => most.or(least),
    }
}

/// Over or under by so much; `past_grace` is what is left of it beyond the grace.
fn beyond(verdict: Verdict, limit: &Limit, by: Seconds, past_grace: &Seconds) -> Judgement {
    let penalty_points =
        limit.penalty.as_ref().map_or(0.0, |penalty| points(penalty, &by, past_grace));
    Judgement { verdict, by: Some(by), penalty_points, close: None }
}

/// What it costs to be beyond the limit by so much.
fn points(penalty: &Penalty, by: &Seconds, past_grace: &Seconds) -> f64 {
    match penalty {
        Penalty::Flat(points) => *points,
        Penalty::Graded(rows) => rows
            .iter()
            .rev()
            .find(|row| by.partial_cmp(&row.over) == Some(Ordering::Greater))
            .map_or(0.0, |row| row.points),
        Penalty::Steps { every, or_part, from, points } => {
            let excess = match from {
                StepsFrom::Limit => by,
                StepsFrom::Grace => past_grace,
            };
            let steps = BigRational::from_integer(steps(excess, every, *or_part));
            // Tenths of a point are multiplied as tenths: three times 0.1 is 0.3.
            exact_decimal(*points).and_then(|points| (points * steps).to_f64()).unwrap_or(f64::NAN)
        }
    }
}

/// How many steps of `every` are in the excess, a part of one counted whole or not at all. An
/// excess that is a whole number of steps to 1 µs is that number.
fn steps(excess: &Seconds, every: &Seconds, or_part: bool) -> BigInt {
    let quotient = match excess.divided_by(every) {
        Some(Seconds::Exact(quotient)) => quotient,
        Some(Seconds::Near(quotient)) => {
            BigRational::from_float(quotient).unwrap_or_else(BigRational::zero)
        }
        // A step is above 0: the reader refuses any other.
        None => return BigInt::zero(),
    };
    let nearest = quotient.round();
    if every * &nearest == *excess {
        nearest.to_integer()
    } else if or_part {
        quotient.ceil().to_integer()
    } else {
        quotient.floor().to_integer()
    }
}

/// A distance: what a ramp's last digits put below zero is none.
fn not_negative(distance: Seconds) -> Seconds {
    if distance.to_f64() < 0.0 { Seconds::zero() } else { distance }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Place, Placed};
    use crate::routine::{Grade, Moment};
    use crate::time::clock;

    fn placed<T>(value: T) -> Placed<T> {
        Placed { value, at: Place::default() }
    }

    fn ms(thousandths: i64) -> Seconds {
        Seconds::fraction(thousandths, 1000)
    }

    /// 2:00 to 3:00, 5 s of grace, the line inside.
    fn limit() -> Limit {
        Limit {
            at: Place::default(),
            rule: "two to three".into(),
            starts: placed(Moment::FirstThrow),
            stops: placed(Moment::LastCatch(None)),
            at_least: Some(placed(ms(120_000))),
            at_most: Some(placed(ms(180_000))),
            margin: ms(3_000),
            grace: ms(5_000),
            on_the_line: OnTheLine::Inside,
            penalty: None,
        }
    }

    #[test]
    fn an_edge_belongs_to_what_the_line_says() {
        use Verdict::{Grace, Inside, Over, Under};
        for (thousandths, on_line_inside, on_line_outside) in [
            (119_999, Under, Under),
            (120_000, Inside, Under),
            (120_001, Inside, Inside),
            (179_999, Inside, Inside),
            (180_000, Inside, Grace),
            (180_001, Grace, Grace),
            (184_999, Grace, Grace),
            (185_000, Grace, Over),
            (185_001, Over, Over),
        ] {
            let mut limit = limit();
            assert_eq!(judge(&limit, &ms(thousandths)).verdict, on_line_inside, "{thousandths}");
            limit.on_the_line = OnTheLine::Outside;
            assert_eq!(judge(&limit, &ms(thousandths)).verdict, on_line_outside, "{thousandths}");
        }
    }

    #[test]
    fn what_rounds_to_the_maximum_is_judged_unrounded() {
        let counted = ms(179_960);
        assert_eq!(clock(&counted), "3:00.0");
        let mut limit = limit();
        limit.on_the_line = OnTheLine::Outside;
        limit.grace = Seconds::zero();
        let judgement = judge(&limit, &counted);
        assert_eq!(judgement.verdict, Verdict::Inside);
        assert_eq!(judgement.by, Some(ms(40)));
        assert_eq!(judge(&limit, &ms(180_040)).verdict, Verdict::Over);
    }

    #[test]
    fn after_a_ramp_an_edge_is_judged_to_a_microsecond() {
        let mut limit = limit();
        limit.grace = Seconds::zero();
        for (counted, verdict) in [
            (180.000_000_000_001_1, Verdict::Inside),
            (180.000_000_9, Verdict::Inside),
            (180.000_001_1, Verdict::Over),
            (119.999_999_5, Verdict::Inside),
        ] {
            let judgement = judge(&limit, &Seconds::Near(counted));
            assert_eq!(judgement.verdict, verdict, "{counted}");
            assert!(judgement.by.unwrap().to_f64() >= 0.0, "{counted}");
        }
        // Exactly on the line to a microsecond, and the line is outside.
        limit.on_the_line = OnTheLine::Outside;
        assert_eq!(judge(&limit, &Seconds::Near(179.999_999_7)).verdict, Verdict::Over);
    }

    #[test]
    fn without_grace_the_line_alone_decides() {
        let mut limit = limit();
        limit.grace = Seconds::zero();
        assert_eq!(judge(&limit, &ms(180_000)).verdict, Verdict::Inside);
        limit.on_the_line = OnTheLine::Outside;
        assert_eq!(judge(&limit, &ms(180_000)).verdict, Verdict::Over);
    }

    #[test]
    fn the_distance_is_the_room_inside_and_the_excess_outside() {
        for (thousandths, by) in [
            (150_000, 30_000),
            (170_000, 10_000),
            (183_000, 3_000),
            (190_000, 10_000),
            (100_000, 20_000),
        ] {
            assert_eq!(judge(&limit(), &ms(thousandths)).by, Some(ms(by)), "{thousandths}");
        }
        let mut limit = limit();
        limit.at_most = None;
        assert_eq!(judge(&limit, &ms(500_000)).by, Some(ms(380_000)));
        limit.at_least = None;
        assert_eq!(judge(&limit, &ms(500_000)).by, None);
    }

    #[test]
    fn a_margin_speaks_of_the_closer_edge_and_only_inside() {
        for (thousandths, close) in [
            (177_000, None),
            (177_001, Some((Edge::AtMost, ms(2_999)))),
            (180_000, Some((Edge::AtMost, ms(0)))),
            (122_000, Some((Edge::AtLeast, ms(2_000)))),
            (150_000, None),
            (181_000, None),
            (119_000, None),
        ] {
            assert_eq!(judge(&limit(), &ms(thousandths)).close, close, "{thousandths}");
        }
    }

    fn stepped(or_part: bool, from: StepsFrom) -> Option<Penalty> {
        Some(Penalty::Steps { every: ms(8_000), or_part, from, points: 0.1 })
    }

    #[test]
    fn steps_count_from_the_limit_or_from_the_end_of_the_grace() {
        // Over by: 5 is the grace's end and costs nothing.
        for (over, limit_part, limit_whole, grace_part, grace_whole) in [
            (5_000, 0.0, 0.0, 0.0, 0.0),
            (5_001, 0.1, 0.0, 0.1, 0.0),
            (8_000, 0.1, 0.1, 0.1, 0.0),
            (8_001, 0.2, 0.1, 0.1, 0.0),
            (13_000, 0.2, 0.1, 0.1, 0.1),
            (13_001, 0.2, 0.1, 0.2, 0.1),
            (24_000, 0.3, 0.3, 0.3, 0.2),
        ] {
            for (penalty, points) in [
                (stepped(true, StepsFrom::Limit), limit_part),
                (stepped(false, StepsFrom::Limit), limit_whole),
                (stepped(true, StepsFrom::Grace), grace_part),
                (stepped(false, StepsFrom::Grace), grace_whole),
            ] {
                let limit = Limit { penalty: penalty.clone(), ..limit() };
                let judgement = judge(&limit, &ms(180_000 + over));
                assert_eq!(judgement.penalty_points, points, "{over} {penalty:?}");
            }
        }
    }

    #[test]
    fn a_step_after_a_ramp_is_whole_to_a_microsecond() {
        for (over, or_part, points) in [
            (16.000_000_000_3, true, 0.2),
            (16.000_002, true, 0.3),
            (15.999_999_999_7, false, 0.2),
            (15.999_998, false, 0.1),
        ] {
            let limit = Limit { penalty: stepped(or_part, StepsFrom::Limit), ..limit() };
            let judgement = judge(&limit, &Seconds::Near(180.0 + over));
            assert_eq!(judgement.penalty_points, points, "{over}");
        }
    }

    #[test]
    fn under_costs_as_over_does_and_has_no_grace() {
        for (short, points) in [(1, 0.1), (8_000, 0.1), (8_001, 0.2)] {
            for from in [StepsFrom::Limit, StepsFrom::Grace] {
                let limit = Limit { penalty: stepped(true, from), ..limit() };
                let judgement = judge(&limit, &ms(120_000 - short));
                assert_eq!(judgement.verdict, Verdict::Under);
                assert_eq!(judgement.penalty_points, points, "{short}");
            }
        }
        let limit = Limit { penalty: Some(Penalty::Flat(2.5)), ..limit() };
        assert_eq!(judge(&limit, &ms(119_000)).penalty_points, 2.5);
        assert_eq!(judge(&limit, &ms(186_000)).penalty_points, 2.5);
        assert_eq!(judge(&limit, &ms(184_000)).penalty_points, 0.0);
    }

    #[test]
    fn a_graded_penalty_counts_from_the_limit_and_its_last_exceeded_row_holds() {
        let grade = |over, points| Grade { over: ms(over), points };
        let rows = vec![grade(0, 1.0), grade(10_000, 4.0), grade(20_000, 9.0)];
        let limit = Limit { penalty: Some(Penalty::Graded(rows)), ..limit() };
        for (over, points) in
            [(5_000, 0.0), (5_001, 1.0), (10_000, 1.0), (10_001, 4.0), (20_000, 4.0), (60_000, 9.0)]
        {
            assert_eq!(judge(&limit, &ms(180_000 + over)).penalty_points, points, "{over}");
        }
    }
}
