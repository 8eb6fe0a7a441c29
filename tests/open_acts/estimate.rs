//! Roughly when things come in an act that is being made up, so that most of what is made up
//! compiles. Nothing is judged by it. Unit: thousandths of a second from the act's beginning.

/// A time: what it is with every open length at its shortest, what it owes to each of them, and by
/// how much it may come later all the same.
#[derive(Clone, Debug, Default)]
pub(crate) struct Estimate {
    pub(crate) least: i64,
    pub(crate) owes: Vec<i64>,
    pub(crate) slack: i64,
}

impl Estimate {
    pub(crate) fn plus(&self, later: i64) -> Estimate {
        Estimate { least: self.least + later, ..self.clone() }
    }

    pub(crate) fn plus_slack(&self, slack: i64) -> Estimate {
        Estimate { slack: self.slack + slack, ..self.clone() }
    }

    pub(crate) fn plus_open(&self, open: usize) -> Estimate {
        let mut sum = self.clone();
        sum.owes.resize(sum.owes.len().max(open + 1), 0);
        sum.owes[open] += 1;
        sum
    }

    /// How much later than another one it comes.
    pub(crate) fn after(&self, other: &Estimate) -> Estimate {
        let size = self.owes.len().max(other.owes.len());
        let owes = |of: &Estimate, open: usize| of.owes.get(open).copied().unwrap_or(0);
        Estimate {
            least: self.least - other.least,
            owes: (0..size).map(|open| owes(self, open) - owes(other, open)).collect(),
            slack: self.slack + other.slack,
        }
    }

    /// The earliest and the latest that it may be, where the open lengths have these extents.
    pub(crate) fn range(&self, opens: &[(i64, i64)]) -> (i64, i64) {
        let shares = self.owes.iter().zip(opens);
        let (mut earliest, mut latest) = (self.least, self.least + self.slack);
        for (owes, (least, most)) in shares {
            let share = owes * (most - least);
            if share < 0 { earliest += share } else { latest += share }
        }
        (earliest, latest)
    }
}
