//! What a limit says of a length of time: inside, within a grace, over or under, by how much, and
//! what it costs.
//!
//! Verdicts compare unrounded times: 2:59.96 prints 3:00.0 and is inside a maximum of 3:00. After
//! a ramp edges are judged to 1 µs ([`crate::time::EDGE_S`]), steps of a penalty too. Unit:
//! seconds on the contest clock, which reads zero where the rule starts the time.

use std::cmp::Ordering;

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, ToPrimitive, Zero};

use crate::routine::{Edge, Limit, OnTheLine, Penalty, Price, StepsFrom};
use crate::time::{Night, Seconds, Time, exact_decimal};

/// What a limit says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// Within the limit.
    Inside,
    /// Over or under, but within the grace: it costs nothing.
    Grace,
    /// Over, the grace (if any) used up.
    Over,
    /// Under the shortest that is allowed, the grace (if any) used up.
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

    /// The edge that is broken, the grace used up.
    #[must_use]
    pub fn breaks(self) -> Option<Edge> {
        match self {
            Verdict::Over => Some(Edge::AtMost),
            Verdict::Under => Some(Edge::AtLeast),
            Verdict::Inside | Verdict::Grace => None,
        }
    }
}

/// A verdict with its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// What the limit says.
    pub verdict: Verdict,
    /// The edge beyond which it lies; `None` inside.
    pub beyond: Option<Edge>,
    /// Inside: the room left to `at_most` (without one, beyond `at_least`; without either,
    /// `None`). Else the distance from the edge, the grace ignored. Never below zero.
    pub by: Option<Seconds>,
    /// What it costs; nothing when inside or within the grace.
    pub price: Price,
    /// Inside, but closer to this edge than the limit's margin, with so much room.
    pub close: Option<(Edge, Seconds)>,
}

/// A length of time, or what lies just below it (`Less`) or just above it (`Greater`).
#[derive(Clone, Debug)]
pub(super) struct Counted<'a> {
    pub(super) at: &'a Seconds,
    pub(super) beside: Ordering,
}

impl Counted<'_> {
    /// How it compares with a time that is exact.
    fn compared(&self, with: &Seconds) -> Ordering {
        self.at.partial_cmp(with).unwrap_or(Ordering::Equal).then(self.beside)
    }
}

/// Judges a length of time by a limit.
#[must_use]
pub fn judge(limit: &Limit, counted: &Seconds) -> Judgement {
    judged(limit, &Counted { at: counted, beside: Ordering::Equal })
}

/// Judges a length of time, or what lies just beside it.
pub(super) fn judged(limit: &Limit, counted: &Counted<'_>) -> Judgement {
    // How far beyond an edge something lies is measured outwards.
    let outwards = |edge: Edge, line: &Seconds| match edge {
        Edge::AtMost => counted.compared(line),
        Edge::AtLeast => counted.compared(line).reverse(),
    };
    let is_within = |place: Ordering| match place {
        Ordering::Less => true,
        Ordering::Equal => limit.on_the_line == OnTheLine::Inside,
        Ordering::Greater => false,
    };
    for edge in [Edge::AtLeast, Edge::AtMost] {
        let Some(line) = limit.edge(edge).map(|edge| &edge.value) else { continue };
        if is_within(outwards(edge, line)) {
            continue;
        }
        let (grace, by) = (limit.grace(edge), distance(line, counted.at));
        let forgiven = match edge {
            Edge::AtMost => line + &grace,
            Edge::AtLeast => line - &grace,
        };
        let past_grace = outwards(edge, &forgiven);
        if is_within(past_grace) {
            let price = Price::default();
            let verdict = Verdict::Grace;
            return Judgement { verdict, beyond: Some(edge), by: Some(by), price, close: None };
        }
        // What lies exactly on a line that is outside costs what the smallest excess costs.
        let beside = match edge {
            _ if past_grace == Ordering::Equal => Ordering::Greater,
            Edge::AtMost => counted.beside,
            Edge::AtLeast => counted.beside.reverse(),
        };
        let price = limit.penalty.as_ref().map(|penalty| price(penalty, &by, beside, &grace));
        return Judgement {
            verdict: if edge == Edge::AtMost { Verdict::Over } else { Verdict::Under },
            beyond: Some(edge),
            by: Some(by),
            price: price.unwrap_or_default(),
            close: None,
        };
    }
    let room = |edge: Edge| Some(distance(&limit.edge(edge)?.value, counted.at));
    let mut close: Option<(Edge, Seconds)> = None;
    for edge in [Edge::AtMost, Edge::AtLeast] {
        if let Some(room) = room(edge)
            && room < limit.margin
            && close.as_ref().is_none_or(|(_, closest)| room < *closest)
        {
            close = Some((edge, room));
        }
    }
    Judgement {
        verdict: Verdict::Inside,
        beyond: None,
        by: room(Edge::AtMost).or_else(|| room(Edge::AtLeast)),
        price: Price::default(),
        close,
    }
}

/// How far a line is from what is counted. What a ramp's last digits put below zero is none.
fn distance(line: &Seconds, counted: &Seconds) -> Seconds {
    let apart = if line < counted { counted - line } else { line - counted };
    if apart.to_f64() < 0.0 { Seconds::zero() } else { apart }
}

/// What a limit says of a length of time on a night, and beyond which edge.
#[must_use]
pub fn verdict_on(limit: &Limit, counted: &Time, night: &Night<'_>) -> (Verdict, Option<Edge>) {
    let is_within = |inner: &Time, outer: &Time| match limit.on_the_line {
        OnTheLine::Inside => night.not_after(inner, outer),
        OnTheLine::Outside => night.before(inner, outer),
    };
    let line = |line: Seconds| Time::from(line);
    if let Some(least) = &limit.at_least
        && !is_within(&line(least.value.clone()), counted)
    {
        let forgiven = line(&least.value - &limit.grace_under);
        let verdict = if is_within(&forgiven, counted) { Verdict::Grace } else { Verdict::Under };
        return (verdict, Some(Edge::AtLeast));
    }
    if let Some(most) = &limit.at_most
        && !is_within(counted, &line(most.value.clone()))
    {
        let forgiven = line(&most.value + &limit.grace);
        let verdict = if is_within(counted, &forgiven) { Verdict::Grace } else { Verdict::Over };
        return (verdict, Some(Edge::AtMost));
    }
    (Verdict::Inside, None)
}

/// The edge that a length of time, inside on a night, is closer to than the margin, and what is left
/// to it; the closer one of two.
#[must_use]
pub fn close_on(limit: &Limit, counted: &Time, night: &Night<'_>) -> Option<(Edge, Time)> {
    if verdict_on(limit, counted, night).0 != Verdict::Inside {
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

/// What it costs to be beyond the limit by so much, or by just less or just more.
fn price(penalty: &Penalty, by: &Seconds, beside: Ordering, grace: &Seconds) -> Price {
    match penalty {
        Penalty::Flat(price) => price.clone(),
        Penalty::Graded(rows) => {
            let is_reached = |place: Ordering, from_there: bool| match place {
                Ordering::Greater => true,
                Ordering::Equal => from_there,
                Ordering::Less => false,
            };
            let mut rows = rows.iter().rev();
            let row = rows.find(|row| {
                let place = by.partial_cmp(&row.beyond).unwrap_or(Ordering::Equal).then(beside);
                is_reached(place, row.from_there)
            });
            row.map(|row| row.price.clone()).unwrap_or_default()
        }
        Penalty::Steps { every, or_part, from, each, at_most_points } => {
            let excess = match from {
                StepsFrom::Limit => by.clone(),
                StepsFrom::Grace => by - grace,
            };
            let steps = BigRational::from_integer(steps(&excess, beside, every, *or_part));
            // Tenths of a point are multiplied as tenths: three times 0.1 is 0.3.
            let times = |price: f64| {
                exact_decimal(price).and_then(|price| (price * &steps).to_f64()).unwrap_or(f64::NAN)
            };
            let points = times(each.points);
            Price {
                points: at_most_points.map_or(points, |most| points.min(most)),
                percent: times(each.percent).min(100.0),
                ..each.clone()
            }
        }
    }
}

/// How many steps of `every` are in the excess, a part of one counted whole or not at all. An
/// excess that is a whole number of steps to 1 µs is that number.
fn steps(excess: &Seconds, beside: Ordering, every: &Seconds, or_part: bool) -> BigInt {
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
        let nearest = nearest.to_integer();
        match beside {
            Ordering::Greater if or_part => nearest + BigInt::one(),
            Ordering::Less if !or_part => nearest - BigInt::one(),
            _ => nearest,
        }
    } else if or_part {
        quotient.ceil().to_integer()
    } else {
        quotient.floor().to_integer()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Place, Placed};
    use crate::routine::{AddsUp, Grade, Moment};
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
            passes_over: Vec::new(),
            adds_up: AddsUp::Everything,
            encore: None,
            moves: None,
            time_signals: Vec::new(),
            at_least: Some(placed(ms(120_000))),
            at_most: Some(placed(ms(180_000))),
            margin: ms(3_000),
            grace: ms(5_000),
            grace_under: Seconds::zero(),
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

    fn price(points: f64) -> Price {
        Price { points, ..Price::default() }
    }

    fn stepped(or_part: bool, from: StepsFrom) -> Option<Penalty> {
        let (each, at_most_points) = (price(0.1), None);
        Some(Penalty::Steps { every: ms(8_000), or_part, from, each, at_most_points })
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
                assert_eq!(judgement.price.points, points, "{over} {penalty:?}");
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
            assert_eq!(judgement.price.points, points, "{over}");
        }
    }

    #[test]
    fn under_costs_as_over_does_and_has_no_grace() {
        for (short, points) in [(1, 0.1), (8_000, 0.1), (8_001, 0.2)] {
            for from in [StepsFrom::Limit, StepsFrom::Grace] {
                let limit = Limit { penalty: stepped(true, from), ..limit() };
                let judgement = judge(&limit, &ms(120_000 - short));
                assert_eq!(judgement.verdict, Verdict::Under);
                assert_eq!(judgement.price.points, points, "{short}");
            }
        }
        let limit = Limit { penalty: Some(Penalty::Flat(price(2.5))), ..limit() };
        assert_eq!(judge(&limit, &ms(119_000)).price.points, 2.5);
        assert_eq!(judge(&limit, &ms(186_000)).price.points, 2.5);
        assert_eq!(judge(&limit, &ms(184_000)).price.points, 0.0);
    }

    #[test]
    fn a_graded_penalty_counts_from_the_limit_and_its_last_exceeded_row_holds() {
        let grade =
            |over, points| Grade { beyond: ms(over), from_there: false, price: price(points) };
        let rows = vec![grade(0, 1.0), grade(10_000, 4.0), grade(20_000, 9.0)];
        let limit = Limit { penalty: Some(Penalty::Graded(rows)), ..limit() };
        for (over, points) in
            [(5_000, 0.0), (5_001, 1.0), (10_000, 1.0), (10_001, 4.0), (20_000, 4.0), (60_000, 9.0)]
        {
            assert_eq!(judge(&limit, &ms(180_000 + over)).price.points, points, "{over}");
        }
    }
}
