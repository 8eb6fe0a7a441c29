//! Limits: what a contest or a bill allows, always its user's own record of the rule.

use crate::diagnostic::words::all_of;
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
    /// Events that contests start the time with, which this rule passes over.
    pub passes_over: Vec<StartEvent>,
    /// What is added up of what lies between start and stop.
    pub adds_up: AddsUp,
    /// Whether the encore is counted, where that is written.
    pub encore: Option<Placed<bool>>,
    /// The shortest that is allowed.
    pub at_least: Option<Placed<Seconds>>,
    /// The longest that is allowed.
    pub at_most: Option<Placed<Seconds>>,
    /// The least moves that must begin in its time.
    pub moves: Option<Placed<u32>>,
    /// What its timekeeper signals, elapsed since its start.
    pub time_signals: Vec<TimeSignal>,
    /// Warn when the time is closer to an edge than this; 0 for never.
    pub margin: Seconds,
    /// How far over is forgiven.
    pub grace: Seconds,
    /// How far under is forgiven.
    pub grace_under: Seconds,
    /// Whether a time exactly on an edge is inside; without an edge it means nothing.
    pub on_the_line: OnTheLine,
    /// What it costs to be over or under.
    pub penalty: Option<Penalty>,
}

/// What a timekeeper signals.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeSignal {
    /// What is shown or called, in the rule's words.
    pub says: String,
    /// How long after the limit's start, in seconds; not below zero.
    pub after: Seconds,
}

/// One of a limit's two edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// The shortest that is allowed.
    AtLeast,
    /// The longest that is allowed.
    AtMost,
}

impl Limit {
    /// An edge, where it is written.
    #[must_use]
    pub fn edge(&self, edge: Edge) -> Option<&Placed<Seconds>> {
        match edge {
            Edge::AtLeast => self.at_least.as_ref(),
            Edge::AtMost => self.at_most.as_ref(),
        }
    }

    /// Whether an edge is written; a rule may ask for moves alone.
    #[must_use]
    pub fn has_edge(&self) -> bool {
        self.at_least.is_some() || self.at_most.is_some()
    }

    /// How far beyond an edge is forgiven.
    #[must_use]
    pub fn grace(&self, edge: Edge) -> Seconds {
        match edge {
            Edge::AtLeast => self.grace_under.clone(),
            Edge::AtMost => self.grace.clone(),
        }
    }

    /// Every line at which the verdict changes, in seconds.
    #[must_use]
    pub fn lines(&self) -> Vec<Seconds> {
        let edge = |edge: &Option<Placed<Seconds>>| edge.as_ref().map(|edge| edge.value.clone());
        let (least, most) = (edge(&self.at_least), edge(&self.at_most));
        let forgiven = [
            least.as_ref().map(|least| least - &self.grace_under),
            most.as_ref().map(|most| most + &self.grace),
        ];
        [least, most].into_iter().chain(forgiven).flatten().collect()
    }

    /// Whether the encore is counted where it lies between start and stop: all of it unless the
    /// file says no, what is juggled of it only where the file says so.
    #[must_use]
    pub fn counts_encore(&self) -> bool {
        self.encore.as_ref().map_or(self.adds_up == AddsUp::Everything, |encore| encore.value)
    }
}

/// An event that contests start the time with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StartEvent {
    /// The first track starts.
    TrackStart,
    /// The first throw.
    FirstThrow,
}

/// What is added up of what lies between a limit's start and its stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AddsUp {
    /// All of it.
    Everything,
    /// Every run, from its first beat to its last catch.
    Juggling,
    /// The set-up and the strike.
    SetUpAndStrike,
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
    /// So much for every step.
    Steps {
        /// A step, above 0.
        every: Seconds,
        /// Whether a part of a step counts as a whole one.
        or_part: bool,
        /// Where the first step starts.
        from: StepsFrom,
        /// The price of each.
        each: Price,
        /// The most points that all steps cost together.
        at_most_points: Option<f64>,
    },
    /// So much, however far.
    Flat(Price),
    /// The last row that is reached holds; counted from the limit.
    Graded(Vec<Grade>),
}

/// What is taken from whoever breaks a limit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Price {
    /// Points.
    pub points: f64,
    /// Of the score, in percent; at most 100.
    pub percent: f64,
    /// What becomes of the rating, in the rule's words.
    pub rating: Option<String>,
    /// Disqualified.
    pub out: bool,
}

impl Price {
    /// In words, as in `2 points and 10 % of the score`; `None` where nothing is taken.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        let Price { points, percent, rating, out } = self;
        let parts = [
            out.then(|| "disqualified".to_owned()),
            (*points > 0.0).then(|| points_in_words(*points)),
            (*percent > 0.0).then(|| format!("{percent} % of the score")),
            rating.as_ref().map(|rating| format!("the rating \"{rating}\"")),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        (!parts.is_empty()).then(|| all_of(&parts))
    }
}

/// Points as they are spoken of: `1 point`, `2.5 points`.
#[must_use]
pub fn points_in_words(points: f64) -> String {
    if points == 1.0 { "1 point".to_owned() } else { format!("{points} points") }
}

/// A row of a graded penalty.
#[derive(Clone, Debug, PartialEq)]
pub struct Grade {
    /// How far beyond the limit it begins.
    pub beyond: Seconds,
    /// Whether it holds exactly there too.
    pub from_there: bool,
    /// Its price.
    pub price: Price,
}
