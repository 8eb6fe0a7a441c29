//! Limits: what a contest or a bill allows, always its user's own record of the rule.

use crate::diagnostic::{Place, Placed};
use crate::time::Seconds;

use super::Moment;

/// A length that the act must keep.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// The whole entry.
    pub at: Place,
    /// The rule, as its user calls it.
    pub rule: String,
    /// Where the rule starts the time.
    pub starts: Placed<Moment>,
    /// Where it stops it.
    pub stops: Placed<Moment>,
    /// The shortest that is allowed.
    pub at_least: Option<Placed<Seconds>>,
    /// The longest that is allowed.
    pub at_most: Option<Placed<Seconds>>,
    /// Warn when the time is closer to an edge than this; 0 for never.
    pub margin: Seconds,
    /// How far over is forgiven; widens `at_most` only.
    pub grace: Seconds,
    /// Whether a time exactly on an edge is inside.
    pub on_the_line: OnTheLine,
    /// What it costs to be over or under.
    pub penalty: Option<Penalty>,
}

/// Whether an edge belongs to what is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnTheLine {
    /// A time exactly on the edge is inside.
    Inside,
    /// A time exactly on the edge is outside.
    Outside,
}

/// Where penalty steps are counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepsFrom {
    /// From the limit itself.
    Limit,
    /// From the end of the grace.
    Grace,
}

/// What it costs to be over or under.
#[derive(Clone, Debug, PartialEq)]
pub enum Penalty {
    /// So many points for every step.
    Steps {
        /// A step, above 0.
        every: Seconds,
        /// Whether a part of a step counts as a whole one.
        or_part: bool,
        /// Where the first step starts.
        from: StepsFrom,
        /// Points for each.
        points: f64,
    },
    /// So many points, however far.
    Flat(f64),
    /// The last row whose `over` is exceeded holds; counted from the limit.
    Graded(Vec<Grade>),
}

/// A row of a graded penalty.
#[derive(Clone, Debug, PartialEq)]
pub struct Grade {
    /// How far beyond the limit it begins.
    pub over: Seconds,
    /// Points.
    pub points: f64,
}
