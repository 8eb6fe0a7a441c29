//! A small linear programme in exact fractions: is there a point that meets every demand, and one
//! that meets them with the most room?
//!
//! The simplex method with Bland's rule, which never goes round in a circle (G. Dantzig 1951;
//! R. Bland, "New finite pivoting rules for the simplex method", Math. of Operations Research 2
//! (1977) 103–107). Problems here have a handful of unknowns and demands.

use num_rational::BigRational;
use num_traits::{One, Signed, Zero};

/// `row · x <= bound`.
pub(super) struct AtMost {
    pub(super) row: Vec<BigRational>,
    pub(super) bound: BigRational,
}

/// The point with no negative part that meets every demand and makes `worth · x` greatest; `None`
/// where no point meets them. The demands must bound what `worth` counts.
pub(super) fn greatest(worth: &[BigRational], demands: &[AtMost]) -> Option<Vec<BigRational>> {
    let unknowns = worth.len();
    let mut table = Table::new(unknowns, demands);
    if !table.reach_the_demands() {
        return None;
    }
    table.aim_at(worth);
    table.climb();
    Some(table.point(unknowns))
}

/// A simplex dictionary: each basic variable as its bound less a row times the free ones.
struct Table {
    /// Rows of free variables' factors, the bound last.
    rows: Vec<Vec<BigRational>>,
    /// What is to be made greatest, in the free variables, its value last.
    aim: Vec<BigRational>,
    /// Which variable each row gives, and which each column stands for.
    basic: Vec<usize>,
    free: Vec<usize>,
}

impl Table {
    fn new(unknowns: usize, demands: &[AtMost]) -> Table {
        let rows = demands.iter().map(|demand| {
            let mut row = demand.row.clone();
            row.push(demand.bound.clone());
            row
        });
        Table {
            rows: rows.collect(),
            aim: vec![BigRational::zero(); unknowns + 1],
            basic: (unknowns..unknowns + demands.len()).collect(),
            free: (0..unknowns).collect(),
        }
    }

    /// Moves to a point that meets every demand, by way of one more unknown that relaxes them all
    /// and is then made as small as can be.
    fn reach_the_demands(&mut self) -> bool {
        let worst = (0..self.rows.len()).min_by(|&a, &b| self.bound(a).cmp(self.bound(b)));
        let Some(worst) = worst.filter(|&row| self.bound(row).is_negative()) else { return true };
        let slack = self.basic.len() + self.free.len();
        let last = self.free.len();
        self.free.push(slack);
        for row in &mut self.rows {
            row.insert(last, -BigRational::one());
        }
        self.aim = vec![BigRational::zero(); last + 2];
        self.aim[last] = -BigRational::one();
        self.swap(worst, last);
        self.climb();
        if self.aim.last().is_some_and(Signed::is_negative) {
            return false;
        }
        // It is zero now; where it is still given by a row, it trades places with any column.
        if let Some(row) = self.basic.iter().position(|&one| one == slack)
            && let Some(column) = (0..self.free.len()).find(|&at| !self.rows[row][at].is_zero())
        {
            self.swap(row, column);
        }
        if let Some(column) = self.free.iter().position(|&one| one == slack) {
            self.free.remove(column);
            for row in &mut self.rows {
                row.remove(column);
            }
        } else if let Some(row) = self.basic.iter().position(|&one| one == slack) {
            self.basic.remove(row);
            self.rows.remove(row);
        }
        true
    }

    fn bound(&self, row: usize) -> &BigRational {
        let last = self.free.len();
        &self.rows[row][last]
    }

    /// Writes what is to be made greatest in the variables that are free now.
    fn aim_at(&mut self, worth: &[BigRational]) {
        let width = self.free.len();
        self.aim = vec![BigRational::zero(); width + 1];
        for (unknown, worth) in worth.iter().enumerate() {
            if let Some(column) = self.free.iter().position(|&one| one == unknown) {
                self.aim[column] += worth;
            } else if let Some(row) = self.basic.iter().position(|&one| one == unknown) {
                for column in 0..width {
                    let part = worth * &self.rows[row][column];
                    self.aim[column] -= part;
                }
                self.aim[width] += worth * &self.rows[row][width];
            }
        }
    }

    /// Goes up until nothing makes it greater.
    fn climb(&mut self) {
        loop {
            let width = self.free.len();
            let up = (0..width).filter(|&column| self.aim[column].is_positive());
            let Some(column) = up.min_by_key(|&column| self.free[column]) else { return };
            let tight = (0..self.rows.len()).filter(|&row| self.rows[row][column].is_positive());
            let room = |row: usize| &self.rows[row][width] / &self.rows[row][column];
            let first = tight
                .min_by(|&a, &b| room(a).cmp(&room(b)).then(self.basic[a].cmp(&self.basic[b])));
            let Some(row) = first else { return };
            self.swap(row, column);
        }
    }

    /// A row's variable and a column's change places.
    fn swap(&mut self, row: usize, column: usize) {
        let factor = self.rows[row][column].clone();
        let mut given: Vec<BigRational> =
            self.rows[row].iter().map(|entry| entry / &factor).collect();
        given[column] = BigRational::one() / &factor;
        for (index, other) in self.rows.iter_mut().enumerate() {
            if index != row {
                replace(other, column, &given);
            }
        }
        // The aim counts up where rows count down.
        let width = self.free.len();
        let lead = self.aim[column].clone();
        if !lead.is_zero() {
            for (at, (aim, given)) in self.aim.iter_mut().zip(&given).take(width).enumerate() {
                let part = &lead * given;
                if at == column {
                    *aim = -part;
                } else {
                    *aim -= part;
                }
            }
            self.aim[width] += &lead * &given[width];
        }
        self.rows[row] = given;
        std::mem::swap(&mut self.basic[row], &mut self.free[column]);
    }

    fn point(&self, unknowns: usize) -> Vec<BigRational> {
        let value = |unknown: usize| {
            let row = self.basic.iter().position(|&one| one == unknown);
            row.map_or_else(BigRational::zero, |row| self.bound(row).clone())
        };
        (0..unknowns).map(value).collect()
    }
}

/// Puts a row that gives the variable of `column` into another.
fn replace(row: &mut [BigRational], column: usize, given: &[BigRational]) {
    let lead = row[column].clone();
    if lead.is_zero() {
        return;
    }
    for (at, (entry, part)) in row.iter_mut().zip(given).enumerate() {
        if at == column {
            *entry = -(&lead * part);
        } else {
            *entry -= &lead * part;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn q(number: i64) -> BigRational {
        BigRational::from_integer(number.into())
    }

    fn at_most(row: &[i64], bound: i64) -> AtMost {
        AtMost { row: row.iter().map(|&one| q(one)).collect(), bound: q(bound) }
    }

    #[test]
    fn the_greatest_point_of_a_worked_problem_is_found() {
        // 3x + 5y under x <= 4, 2y <= 12, 3x + 2y <= 18 is greatest at (2, 6): a classroom
        // example, worked by hand.
        let demands = [at_most(&[1, 0], 4), at_most(&[0, 2], 12), at_most(&[3, 2], 18)];
        assert_eq!(greatest(&[q(3), q(5)], &demands), Some(vec![q(2), q(6)]));
    }

    #[test]
    fn demands_that_exclude_each_other_have_no_point() {
        assert_eq!(greatest(&[q(1)], &[at_most(&[1], 1), at_most(&[-1], -2)]), None);
        let between = [at_most(&[1], 3), at_most(&[-1], -2)];
        assert_eq!(greatest(&[q(-1)], &between), Some(vec![q(2)]));
    }

    #[test]
    fn a_point_that_only_one_demand_fixes_is_found_too() {
        // x + y = 1, x - y = 0.
        let half = BigRational::new(1.into(), 2.into());
        let demands = [
            at_most(&[1, 1], 1),
            at_most(&[-1, -1], -1),
            at_most(&[1, -1], 0),
            at_most(&[-1, 1], 0),
        ];
        assert_eq!(greatest(&[q(0), q(0)], &demands), Some(vec![half.clone(), half]));
    }
}
