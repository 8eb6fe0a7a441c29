//! What must hold of the lengths of a night, and the lengths that meet it.

use std::collections::{BTreeMap, BTreeSet};

use num_rational::BigRational;
use num_traits::{One, Signed, Zero};

use super::linear::{AtMost, greatest};
use super::open::{Lengths, Open, Time};
use super::{EDGE_S, Seconds, exact_decimal};

/// A time that is at least zero, or above it.
#[derive(Clone)]
pub(super) struct Demand {
    pub(super) form: Time,
    pub(super) above: bool,
}

impl Demand {
    pub(super) fn is_met(&self, lengths: &Lengths) -> bool {
        let value = self.form.on(lengths);
        if self.above { value > Seconds::zero() } else { value >= Seconds::zero() }
    }

    /// What must be at least zero, or above it. After a ramp, what is closer to zero than is judged
    /// counts as zero.
    fn exact(&self) -> (BigRational, bool) {
        let bound = self.form.shortest().exact();
        let edge = || exact_decimal(EDGE_S).unwrap_or_else(BigRational::zero);
        match (self.form.shortest(), self.above) {
            (Seconds::Exact(_), above) => (bound, above),
            (Seconds::Near(_), true) => (bound - edge(), false),
            (Seconds::Near(_), false) => (bound + edge(), true),
        }
    }
}

/// Lengths that meet every demand, with as much room as there is; `None` where none do.
pub(super) fn point<'d>(demands: impl Iterator<Item = &'d Demand>) -> Option<Lengths> {
    let demands: Vec<(&Demand, (BigRational, bool))> =
        demands.map(|demand| (demand, demand.exact())).collect();
    let programme = Programme::of(demands.iter().flat_map(|(demand, _)| demand.form.owes()));
    let room = programme.opens.len();
    let mut rows = programme.at_most_one(room + 1);
    for (demand, (bound, above)) in &demands {
        let mut row = programme.row(&demand.form, room + 1);
        row[room] = if *above { BigRational::one() } else { BigRational::zero() };
        rows.push(AtMost { row, bound: bound.clone() });
    }
    let mut worth = vec![BigRational::zero(); room + 1];
    worth[room] = BigRational::one();
    let found = greatest(&worth, &rows)?;
    let strict = demands.iter().any(|(_, (_, above))| *above);
    let enough = !strict || found.get(room).is_some_and(Signed::is_positive);
    enough.then(|| programme.opens.into_iter().zip(found).collect())
}

/// The lengths that meet every demand, or just do not, with which a time is the least or the most;
/// `None` where none do.
pub(super) fn furthest(demands: &[Demand], time: &Time, most: bool) -> Option<Lengths> {
    let forms = demands.iter().map(|demand| &demand.form).chain([time]);
    let programme = Programme::of(forms.flat_map(Time::owes));
    let width = programme.opens.len();
    let mut rows = programme.at_most_one(width);
    for demand in demands {
        let row = programme.row(&demand.form, width);
        rows.push(AtMost { row, bound: demand.exact().0 });
    }
    let mut worth = programme.row(time, width);
    if most {
        worth.iter_mut().for_each(|share| *share = -share.clone());
    }
    let found = greatest(&worth, &rows)?;
    Some(programme.opens.into_iter().zip(found).collect())
}

/// The open lengths that a linear programme asks for.
struct Programme {
    opens: BTreeSet<Open>,
}

impl Programme {
    fn of<'t>(owes: impl Iterator<Item = &'t (Open, BigRational)>) -> Programme {
        Programme { opens: owes.map(|(open, _)| *open).collect() }
    }

    /// No unknown is above 1.
    fn at_most_one(&self, width: usize) -> Vec<AtMost> {
        let unit = |at: usize| {
            let mut row = vec![BigRational::zero(); width];
            row[at] = BigRational::one();
            AtMost { row, bound: BigRational::one() }
        };
        (0..width).map(unit).collect()
    }

    /// What a time loses with each open length.
    fn row(&self, time: &Time, width: usize) -> Vec<BigRational> {
        let owes: BTreeMap<Open, &BigRational> =
            time.owes().iter().map(|(open, share)| (*open, share)).collect();
        let loses = |open: &Open| owes.get(open).map_or_else(BigRational::zero, |share| -*share);
        let mut row: Vec<BigRational> = self.opens.iter().map(loses).collect();
        row.resize(width, BigRational::zero());
        row
    }
}
