//! Every way that a night can go, where an act leaves lengths open.
//!
//! What is asked of an act is asked of a [`Night`]: whether one time comes before another, what a
//! time is. Where both answers can come true, the question is followed once with each, and the
//! lengths with which they do are kept as demands on what lies open; so a fault is found wherever
//! it lies between the shortest and the longest, not only at the ends. What is found is then looked
//! at again on one night with plain lengths, which the message can name.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use num_rational::BigRational;
use num_traits::{One, Signed, Zero};

use super::Seconds;
use super::demand::{Demand, furthest, point};
use super::open::{Lengths, Open, Time};

/// A length that an act leaves open.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenLength {
    /// What messages call it, as in `"applause"` or `the hold "drone"`.
    pub name: String,
    /// The least that it lasts, in seconds.
    pub shortest: Seconds,
    /// The most that it lasts, in seconds.
    pub longest: Seconds,
}

/// The most ways for a night to go that a search follows before it gives up.
const MOST_PATHS: usize = 2_000;

/// The most questions that a search weighs against the demands of a night before it gives up.
const MOST_WEIGHED: usize = 500;

/// The most questions that a search asks on all its nights, before it gives up.
const MOST_FOLLOWED: usize = 100_000;

/// So many lengths that met some demands are kept.
const MOST_KEPT: usize = 12;

/// The most lengths whose ends are all tried together for a plain example.
const MOST_TRIED: usize = 8;

/// One night, as far as it has been asked about.
pub struct Night<'n> {
    /// The lengths of this night; `None` while every night is followed.
    lengths: Option<&'n Lengths>,
    /// What the search knows so far.
    known: &'n Known,
    /// The answers where the ends of a time do not decide, in the order of the questions.
    answers: RefCell<Vec<Answer>>,
    answered: Cell<usize>,
    /// What must hold for the answers given.
    demands: RefCell<Vec<Demand>>,
    /// Between which shares these keep each length of which one of them speaks alone.
    kept_between: RefCell<BTreeMap<Open, [End; 2]>>,
    /// Whether each of them does.
    all_by_ends: Cell<bool>,
    /// The open lengths that what was found speaks of.
    spoken_of: RefCell<BTreeSet<Open>>,
    /// How bad what was found is, where that can be told.
    worst: RefCell<Option<Time>>,
}

/// An end of the shares that a length may have, and whether it may be that very share.
type End = (BigRational, bool);

/// The answer to a question, kept so that the next way to go asks nothing twice.
#[derive(Clone, Copy)]
enum Answer {
    /// No other can come true with the answers before it.
    Only(bool),
    /// Both can: this time yes.
    Yes,
    /// Both can: yes has been followed, this time no.
    No,
}

/// What a search has found out, on all its nights.
#[derive(Default)]
struct Known {
    /// How many questions were weighed against demands.
    weighed: Cell<usize>,
    /// How many were asked where others had been answered.
    followed: Cell<usize>,
    /// Lengths that met some demands: they often meet the next ones too.
    met: RefCell<Vec<Lengths>>,
}

/// What was found, and the lengths with which it comes true: by their place in the list, in
/// seconds. Those that do not matter are left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Found<T> {
    /// What was found on that night.
    pub found: T,
    /// The lengths of that night.
    pub with: Vec<(usize, Seconds)>,
}

/// More ways to go than are followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooManyWays;

impl fmt::Display for TooManyWays {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the open lengths leave more ways to go than are followed")
    }
}

impl std::error::Error for TooManyWays {}

impl Night<'_> {
    /// A night of these lengths, or a way to go that begins with these answers.
    fn of<'n>(lengths: Option<&'n Lengths>, answers: Vec<Answer>, known: &'n Known) -> Night<'n> {
        Night {
            lengths,
            known,
            answers: RefCell::new(answers),
            answered: Cell::new(0),
            demands: RefCell::default(),
            kept_between: RefCell::default(),
            all_by_ends: Cell::new(true),
            spoken_of: RefCell::default(),
            worst: RefCell::default(),
        }
    }

    /// Whether one time comes before another, judged to 1 µs after a ramp.
    pub fn before(&self, one: &Time, other: &Time) -> bool {
        self.holds(&(other - one), true)
    }

    /// Whether one time comes before another or at the same instant.
    pub fn not_after(&self, one: &Time, other: &Time) -> bool {
        self.holds(&(other - one), false)
    }

    /// Whether one time comes before another whatever is asked later; no question is asked for it.
    #[must_use]
    pub fn surely_before(&self, one: &Time, other: &Time) -> bool {
        let apart = other - one;
        let least = match self.lengths {
            Some(lengths) => apart.on(lengths),
            None if apart.is_unknown() => apart.shortest().clone(),
            None => self.end_of(&apart, false).0,
        };
        least > Seconds::zero()
    }

    /// What a time is on this night, to be spoken of.
    pub fn at(&self, time: &Time) -> Seconds {
        self.spoken_of.borrow_mut().extend(time.owes().iter().map(|(open, _)| *open));
        match self.lengths {
            Some(lengths) => time.on(lengths),
            None => time.shortest().clone(),
        }
    }

    /// Says how bad it is what was found: the worst night is named.
    pub fn worse_by(&self, how_bad: &Time) {
        *self.worst.borrow_mut() = Some(how_bad.clone());
    }

    /// The least and the most that a time comes to on the nights that go this way.
    fn ends_of(&self, time: &Time) -> (Seconds, Seconds) {
        let demands = self.demands.borrow();
        if demands.is_empty() || time.owes().is_empty() {
            return (time.least(), time.most());
        }
        let end = |most| furthest(&demands, time, most).map(|lengths| time.on(&lengths));
        (end(false).unwrap_or_else(|| time.least()), end(true).unwrap_or_else(|| time.most()))
    }

    fn holds(&self, form: &Time, above: bool) -> bool {
        let judge = |value: &Seconds| match above {
            true => *value > Seconds::zero(),
            false => *value >= Seconds::zero(),
        };
        if let Some(lengths) = self.lengths {
            return judge(&form.on(lengths));
        }
        if form.certain().is_some() || form.is_unknown() {
            return judge(form.shortest());
        }
        if judge(&form.least()) {
            return true;
        }
        if !judge(&form.most()) {
            return false;
        }
        self.known.followed.set(self.known.followed.get() + usize::from(self.answered.get() > 0));
        let (least, can_be_least) = self.end_of(form, false);
        if judge(&least) || (!can_be_least && least == Seconds::zero()) {
            return true;
        }
        let (most, can_be_most) = self.end_of(form, true);
        if !judge(&most) || (!can_be_most && most == Seconds::zero()) {
            return false;
        }
        let yes = Demand { form: form.clone(), above };
        let no = Demand { form: &Time::zero() - form, above: !above };
        let number = self.answered.replace(self.answered.get() + 1);
        let known = self.answers.borrow().get(number).copied();
        // Past the bound the night is not followed any further: the search ends with it.
        if known.is_none() && self.known.is_exhausted() {
            return false;
        }
        let answer = known.unwrap_or_else(|| {
            let answer = match self.is_told_by_ends(form) {
                // They do not decide, so both can be.
                true => Answer::Yes,
                false => match (self.can_be(&yes), self.can_be(&no)) {
                    (true, true) => Answer::Yes,
                    (can_be, _) => Answer::Only(can_be),
                },
            };
            self.answers.borrow_mut().push(answer);
            answer
        });
        let demand = match answer {
            Answer::Only(holds) => return holds,
            Answer::Yes => yes,
            Answer::No => no,
        };
        self.keep_between(&demand);
        self.demands.borrow_mut().push(demand);
        matches!(answer, Answer::Yes)
    }

    /// The least or the most that a time comes to, as far as demands tell that speak of one length
    /// alone, and whether it may be just that.
    fn end_of(&self, time: &Time, most: bool) -> (Seconds, bool) {
        let kept = self.kept_between.borrow();
        let mut end = (time.shortest().clone(), true);
        for (open, share) in time.owes() {
            let longest = share.is_positive() == most;
            match kept.get(open).map(|ends| &ends[usize::from(longest)]) {
                Some((at, can_be)) => {
                    end = (&end.0 + &Seconds::from(share * at), end.1 && *can_be);
                }
                None if longest => end.0 = &end.0 + &Seconds::from(share.clone()),
                None => {}
            }
        }
        end
    }

    /// Whether the ends of the lengths tell all that there is to know of a time.
    fn is_told_by_ends(&self, time: &Time) -> bool {
        self.all_by_ends.get() && matches!(time.shortest(), Seconds::Exact(_))
    }

    /// Notes what a demand says of the only length that it hangs on.
    fn keep_between(&self, Demand { form, above }: &Demand) {
        let (Seconds::Exact(shortest), [(open, share)]) = (form.shortest(), form.owes()) else {
            self.all_by_ends.set(false);
            return;
        };
        let edge = (-shortest / share, !above);
        let mut kept = self.kept_between.borrow_mut();
        let whole = || [(BigRational::zero(), true), (BigRational::one(), true)];
        let [from, to] = kept.entry(*open).or_insert_with(whole);
        // Of two at one share the one that it may not be.
        match share.is_positive() {
            true if edge.0 > from.0 || (edge.0 == from.0 && *above) => *from = edge,
            false if edge.0 < to.0 || (edge.0 == to.0 && *above) => *to = edge,
            _ => {}
        }
    }

    /// Whether a demand can be met together with what has been answered.
    fn can_be(&self, demand: &Demand) -> bool {
        let demands = self.demands.borrow();
        demands.is_empty() || self.known.can_be_met(&demands, demand)
    }
}

/// Looks for something on every night that the open lengths allow.
///
/// # Errors
/// When there are more ways to go than are followed.
pub fn some_night<T>(
    open: &[OpenLength],
    look: impl Fn(&Night<'_>) -> Option<T>,
) -> Result<Option<Found<T>>, TooManyWays> {
    let known = Known::default();
    let found = first_way(&known, &look)?;
    Ok(found.map(|(found, night)| named(open, night, found, &look)))
}

/// The least and the most that a time comes to on any night, `None` where it has no value on any.
/// The time may be another on every way that a night can go, such as the first of two, as long as
/// it makes no leap from one to the next.
///
/// # Errors
/// When there are more ways to go than are followed.
pub fn reach(
    of: impl Fn(&Night<'_>) -> Option<Time>,
) -> Result<Option<(Seconds, Seconds)>, TooManyWays> {
    let known = Known::default();
    let ends: RefCell<Option<(Seconds, Seconds)>> = RefCell::default();
    first_way(&known, |night| {
        let (least, most) = night.ends_of(&of(night)?);
        let mut ends = ends.borrow_mut();
        *ends = Some(match ends.take() {
            Some((from, to)) => {
                (if least < from { least } else { from }, if most > to { most } else { to })
            }
            None => (least, most),
        });
        None::<()>
    })?;
    Ok(ends.into_inner())
}

/// The first way to go on which something is found.
fn first_way<'k, T>(
    known: &'k Known,
    look: impl Fn(&Night<'_>) -> Option<T>,
) -> Result<Option<(T, Night<'k>)>, TooManyWays> {
    let mut answers: Vec<Answer> = Vec::new();
    for _ in 0..MOST_PATHS {
        let night = Night::of(None, answers, known);
        let found = look(&night);
        if known.is_exhausted() {
            return Err(TooManyWays);
        }
        if let Some(found) = found {
            return Ok(Some((found, night)));
        }
        answers = night.answers.into_inner();
        // The last question that was answered yes and may be answered no is answered no.
        while answers.pop_if(|answer| !matches!(answer, Answer::Yes)).is_some() {}
        match answers.last_mut() {
            Some(last) => *last = Answer::No,
            None => return Ok(None),
        }
    }
    Err(TooManyWays)
}

impl Known {
    /// Whether the search has weighed as much as it may.
    fn is_exhausted(&self) -> bool {
        self.weighed.get() >= MOST_WEIGHED || self.followed.get() >= MOST_FOLLOWED
    }

    /// Whether some lengths meet all these demands.
    fn can_be_met(&self, demands: &[Demand], one_more: &Demand) -> bool {
        let all = || demands.iter().chain([one_more]);
        let meets = |lengths: &Lengths| all().all(|demand| demand.is_met(lengths));
        let mut met = self.met.borrow_mut();
        // Known lengths, as they are and with those of the last demand at the end that suits it.
        let suited = met.iter().flat_map(|lengths| {
            let mut suited = lengths.clone();
            for (open, share) in one_more.form.owes() {
                let end =
                    if share.is_positive() { BigRational::one() } else { BigRational::zero() };
                suited.insert(*open, end);
            }
            [lengths.clone(), suited]
        });
        if let Some(found) = suited.into_iter().find(|lengths| meets(lengths)) {
            met.retain(|lengths| *lengths != found);
            met.insert(0, found);
            return true;
        }
        self.weighed.set(self.weighed.get() + 1);
        let Some(found) = point(all()) else { return false };
        met.insert(0, found);
        met.truncate(MOST_KEPT);
        true
    }
}

/// The same on a night that can be named.
fn named<T>(
    open: &[OpenLength],
    night: Night<'_>,
    found: T,
    look: impl Fn(&Night<'_>) -> Option<T>,
) -> Found<T> {
    let demands = night.demands.into_inner();
    let mut matter = night.spoken_of.into_inner();
    matter.extend(demands.iter().flat_map(|demand| demand.form.owes()).map(|(open, _)| *open));
    let matter: Vec<(usize, Open)> = matter
        .into_iter()
        .filter_map(|one| match one {
            Open::Length(index) => Some((usize::from(index), one)),
            Open::Enclosed(_) | Open::Unknown(_) | Open::Within(..) => None,
        })
        .collect();
    if matter.is_empty() {
        return Found { found, with: Vec::new() };
    }
    for lengths in candidates(open, &matter, &demands, night.worst.into_inner().as_ref()) {
        let known = Known::default();
        let night = Night::of(Some(&lengths), Vec::new(), &known);
        if let Some(found) = look(&night) {
            let lasts = |&(index, one): &(usize, Open)| {
                let open = open.get(index)?;
                let share = lengths.get(&one).cloned().unwrap_or_else(BigRational::zero);
                Some((index, &open.shortest + &(&(&open.longest - &open.shortest) * &share)))
            };
            return Found { found, with: matter.iter().filter_map(lasts).collect() };
        }
    }
    Found { found, with: Vec::new() }
}

/// Nights that meet the demands, the plainest first: every length at one of its ends, the worst
/// such night before the others; then in tenths, hundredths and thousandths of a second; then as
/// exactly as it takes.
fn candidates(
    open: &[OpenLength],
    matter: &[(usize, Open)],
    demands: &[Demand],
    worst: Option<&Time>,
) -> Vec<Lengths> {
    let meets = |lengths: &Lengths| demands.iter().all(|demand| demand.is_met(lengths));
    let tried = &matter[..matter.len().min(MOST_TRIED)];
    let mut ends: Vec<Lengths> = (0..1_u32 << tried.len())
        .map(|longest| {
            let at_end = tried.iter().enumerate().filter(|(bit, _)| longest >> bit & 1 == 1);
            at_end.map(|(_, &(_, one))| (one, BigRational::one())).collect()
        })
        .filter(meets)
        .collect();
    if let Some(worst) = worst {
        let bad = |lengths: &Lengths| worst.on(lengths);
        ends.sort_by(|a, b| bad(b).partial_cmp(&bad(a)).unwrap_or(std::cmp::Ordering::Equal));
    }
    // Not on the edge of what was asked where there is room beside it.
    let inside: Vec<Demand> =
        demands.iter().map(|demand| Demand { above: true, ..demand.clone() }).collect();
    let exact = point(inside.iter()).or_else(|| point(demands.iter()));
    let Some(exact) = exact else { return ends };
    for parts in [10, 100, 1000] {
        let rounded = exact.iter().filter_map(|(one, share)| {
            let Open::Length(index) = one else { return None };
            let length = open.get(usize::from(*index))?;
            let extent = (&length.longest - &length.shortest).exact();
            let lasts = length.shortest.exact() + share * &extent;
            let parts = BigRational::from_integer(parts.into());
            let lasts = (lasts * &parts).round() / parts;
            let share = (lasts - length.shortest.exact()) / extent;
            Some((*one, share.clamp(BigRational::zero(), BigRational::one())))
        });
        ends.push(rounded.collect());
    }
    ends.push(exact);
    ends.retain(meets);
    ends
}

#[cfg(test)]
mod tests {
    use super::*;

    fn s(seconds: i64) -> Seconds {
        Seconds::fraction(seconds, 1)
    }

    fn open(name: &str, shortest: i64, longest: i64) -> OpenLength {
        OpenLength { name: name.to_owned(), shortest: s(shortest), longest: s(longest) }
    }

    fn lasts(open: &[OpenLength], index: u16) -> Time {
        let one = &open[usize::from(index)];
        Time::between(Open::Length(index), &one.shortest, &one.longest)
    }

    #[test]
    fn what_lies_between_the_ends_is_found_and_the_night_is_named() {
        let open = [open("applause", 4, 12)];
        let applause = lasts(&open, 0);
        // Less than a second from 0:08: neither at 4 s nor at 12 s.
        let eight = Time::from(s(8));
        let close = |night: &Night<'_>| {
            let near = night.before(&applause, &(&eight + &s(1)))
                && night.before(&(&eight - &s(1)), &applause);
            near.then(|| night.at(&applause))
        };
        let found = some_night(&open, close).unwrap().unwrap();
        assert_eq!(found.with, [(0, found.found.clone())]);
        assert!(found.found > s(7) && found.found < s(9));
    }

    #[test]
    fn what_no_night_brings_is_not_found_though_each_part_of_it_is() {
        let open = [open("applause", 4, 12), open("talk", 1, 9)];
        let (applause, talk) = (lasts(&open, 0), lasts(&open, 1));
        let both = &applause + &talk;
        // A short applause and a long sum, but not so short a talk.
        let look = |night: &Night<'_>| {
            let found = night.before(&applause, &Time::from(s(6)))
                && night.before(&talk, &Time::from(s(6)))
                && night.before(&Time::from(s(12)), &both);
            found.then_some(())
        };
        assert_eq!(some_night(&open, look), Ok(None));
    }

    #[test]
    fn the_worst_night_is_named_where_that_can_be_told() {
        let open = [open("applause", 4, 12), open("talk", 1, 9)];
        let late = &lasts(&open, 0) - &lasts(&open, 1);
        let look = |night: &Night<'_>| {
            night.worse_by(&late);
            night.before(&Time::zero(), &late).then(|| night.at(&late))
        };
        let found = some_night(&open, look).unwrap().unwrap();
        assert_eq!((found.found, found.with), (s(11), vec![(0, s(12)), (1, s(1))]));
    }

    #[test]
    fn the_first_and_the_last_of_two_open_times_reach_from_their_least_to_their_most() {
        let open = [open("applause", 4, 12), open("talk", 1, 9)];
        let (applause, talk) = (lasts(&open, 0), lasts(&open, 1));
        let first = |night: &Night<'_>| {
            if night.before(&applause, &talk) { applause.clone() } else { talk.clone() }
        };
        let last = |night: &Night<'_>| {
            if night.before(&applause, &talk) { talk.clone() } else { applause.clone() }
        };
        assert_eq!(reach(|night| Some(first(night))), Ok(Some((s(1), s(9)))));
        assert_eq!(reach(|night| Some(last(night))), Ok(Some((s(4), s(12)))));
        // From the first to the last: nothing on a night when both come together.
        let apart = |night: &Night<'_>| Some(&last(night) - &first(night));
        assert_eq!(reach(apart), Ok(Some((s(0), s(11)))));
        // The first of both leaves at least three of twelve seconds.
        let rest = |night: &Night<'_>| Some(&Time::from(s(12)) - &first(night));
        assert_eq!(reach(rest), Ok(Some((s(3), s(11)))));
        assert_eq!(reach(|_| None), Ok(None));
    }

    #[test]
    fn an_act_that_leaves_nothing_open_has_one_night() {
        let look = |night: &Night<'_>| {
            night.before(&Time::zero(), &Time::from(s(1))).then(|| night.at(&Time::from(s(1))))
        };
        let found = some_night(&[], look).unwrap().unwrap();
        assert_eq!((found.found, found.with), (s(1), Vec::new()));
    }
}
